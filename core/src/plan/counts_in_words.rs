//! Counts in words, as people write them.

/// "1 sample", "2 samples".
pub(in crate::plan) fn counted(count: usize, of_one: &str) -> String {
    if count == 1 { format!("1 {of_one}") } else { format!("{count} {of_one}s") }
}

/// "once", "twice", "3 times".
pub(in crate::plan) fn times(count: usize) -> String {
    match count {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        _ => format!("{count} times"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_is_not_many() {
        assert_eq!((counted(0, "cup"), counted(1, "cup")), ("0 cups".to_owned(), "1 cup".to_owned()));
        assert_eq!([times(0), times(1), times(2), times(3)], ["0 times", "once", "twice", "3 times"]);
    }
}
