//! Heads of the tidy table, which `write::tidy` writes and the reader knows again. It knows neither.

/// Heads of the columns, in order. `label` stands there only where a study is about labels, and `source_sheet` only where
/// scores came from a workbook.
pub const TIDY_COLUMNS: [&str; 14] = [
    "assessor",
    "sample",
    "replicate",
    "session",
    "position",
    "label",
    "attribute",
    "score",
    "excluded",
    "reason",
    "source_file",
    "source_sheet",
    "source_row",
    "source_column",
];

/// Whether these heads, in this order, are those of a tidy table.
pub fn are_tidy_columns(heads: &[String]) -> bool {
    let optional = ["label", "source_sheet"];
    let has = |head: &str| heads.iter().any(|one| one == head);
    let expected = TIDY_COLUMNS.iter().filter(|head| !optional.contains(*head) || has(head));
    heads.iter().map(String::as_str).eq(expected.copied())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_heads_of_a_tidy_table_are_those() {
        let heads: Vec<String> = TIDY_COLUMNS.iter().map(|head| (*head).to_owned()).collect();
        let without = |left_out: &str| heads.iter().filter(|head| *head != left_out).cloned().collect::<Vec<_>>();
        assert!(are_tidy_columns(&heads));
        assert!(are_tidy_columns(&without("label")) && are_tidy_columns(&without("source_sheet")));
        assert!(!are_tidy_columns(&without("score")) && !are_tidy_columns(&without("replicate")));
        assert!(!are_tidy_columns(&[]));
    }
}
