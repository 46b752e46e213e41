//! Words that don't belong on a trained panel's list, and how far two spellings are apart. Nothing about lists.

/// Lower case, trimmed, one space between words.
pub(in crate::plan) fn folded(text: &str) -> String {
    text.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>().join(" ")
}

/// The first word of a text that asks for liking.
pub(in crate::plan) fn hedonic_word(text: &str) -> Option<&'static str> {
    let text = folded(text);
    let mut words = text.split(|character: char| !character.is_alphanumeric());
    words.find_map(|word| HEDONIC_WORDS.iter().find(|hedonic| **hedonic == word).copied())
}

/// How many letters have to be put in, taken out or changed (Levenshtein 1966).
pub(in crate::plan) fn edit_distance(left: &str, right: &str) -> usize {
    let right: Vec<char> = right.chars().collect();
    let mut line: Vec<usize> = (0..=right.len()).collect();
    for (row, from) in left.chars().enumerate() {
        let mut diagonal = row;
        line[0] = row + 1;
        for (column, to) in right.iter().enumerate() {
            let changed = diagonal + usize::from(from != *to);
            diagonal = line[column + 1];
            line[column + 1] = changed.min(line[column] + 1).min(diagonal + 1);
        }
    }
    line[right.len()]
}

/// Words of liking in plain English, from common knowledge.
const HEDONIC_WORDS: &[&str] = &[
    "acceptable",
    "acceptance",
    "appealing",
    "appetising",
    "appetizing",
    "attractive",
    "awful",
    "bad",
    "best",
    "better",
    "delicious",
    "disgusting",
    "dislike",
    "enjoyable",
    "enjoyment",
    "excellent",
    "favourite",
    "favorite",
    "good",
    "horrible",
    "like",
    "liked",
    "liking",
    "lovely",
    "nasty",
    "nice",
    "perfect",
    "pleasant",
    "pleasantness",
    "pleasing",
    "pleasure",
    "poor",
    "preference",
    "preferred",
    "quality",
    "tasty",
    "terrible",
    "unacceptable",
    "unpleasant",
    "wonderful",
    "worse",
    "worst",
    "yummy",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_are_those_of_a_hand_count() {
        for (left, right, distance) in
            [("kitten", "sitting", 3), ("", "abc", 3), ("mûre", "mure", 1), ("same", "same", 0)]
        {
            assert_eq!(edit_distance(left, right), distance);
            assert_eq!(edit_distance(right, left), distance);
        }
    }

    #[test]
    fn liking_is_found_as_a_word_and_not_inside_one() {
        assert_eq!(hedonic_word("Pleasant  fruit"), Some("pleasant"));
        assert_eq!(hedonic_word("(nice)"), Some("nice"));
        assert_eq!(hedonic_word("goodness-like"), Some("like"));
        assert_eq!(hedonic_word("spiced"), None);
    }
}
