//! A word list that was pasted: one word a line, or one line of words. It knows nothing of files.

use super::attribute_checks::folded;
use super::attributes::{AttributeList, ListedAttribute};

/// What was made of a pasted text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pasted {
    /// Lines that the list gains, in the order pasted.
    pub new: Vec<ListedAttribute>,
    /// Names that stood in the list already, or twice in the text.
    pub known: Vec<String>,
}

impl AttributeList {
    /// The words of a text that the list lacks. Each line is a word, with definition, left end, right end and reference
    /// behind it where tabs or semicolons part them; a text of a single line may part its words by commas. Bullets and
    /// numbers in front are left out.
    pub fn pasted(&self, text: &str) -> Pasted {
        let mut found = Pasted::default();
        for cells in lines_of(text) {
            let name = &cells[0];
            let is_known = |lines: &[ListedAttribute]| lines.iter().any(|line| folded(&line.name) == folded(name));
            if is_known(&self.attributes) || is_known(&found.new) {
                found.known.push(name.clone());
                continue;
            }
            let cell = |index: usize| cells.get(index).cloned().unwrap_or_default();
            let order = self.attributes.len() + found.new.len() + 1;
            found.new.push(ListedAttribute {
                name: name.clone(),
                definition: cell(1),
                low_end: cell(2),
                high_end: cell(3),
                reference: cell(4),
                order: order as u32,
                ..ListedAttribute::default()
            });
        }
        found
    }
}

/// The cells of each line that has a word.
fn lines_of(text: &str) -> Vec<Vec<String>> {
    let lines: Vec<&str> = text.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
    let lines = match lines.as_slice() {
        [one] if !one.contains(['\t', ';']) => one.split(',').collect(),
        _ => lines,
    };
    let cells = |line: &str| -> Vec<String> {
        without_bullet(line).split(['\t', ';']).map(|cell| cell.trim().to_owned()).collect()
    };
    lines.into_iter().map(cells).filter(|cells| !cells[0].is_empty()).collect()
}

/// A line without "- ", "* ", "3. " or "3) " in front.
fn without_bullet(line: &str) -> &str {
    let line = line.trim();
    let rest = line.trim_start_matches(|letter: char| letter.is_ascii_digit());
    let numbered = (rest.len() < line.len()).then(|| rest.strip_prefix(". ").or_else(|| rest.strip_prefix(") ")));
    let bulleted = ["- ", "* ", "\u{2022} "].into_iter().find_map(|bullet| line.strip_prefix(bullet));
    numbered.flatten().or(bulleted).unwrap_or(line).trim()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(pasted: &Pasted) -> Vec<&str> {
        pasted.new.iter().map(|line| line.name.as_str()).collect()
    }

    #[test]
    fn one_word_a_line_or_one_line_of_words() {
        let list = AttributeList::default();
        for text in
            ["ripe\ngreen\n\n sour \n", "ripe, green, sour", "- ripe\n- green\n- sour", "1. ripe\n2. green\n3) sour"]
        {
            assert_eq!(names(&list.pasted(text)), ["ripe", "green", "sour"], "{text}");
        }
        assert_eq!(list.pasted(" \n"), Pasted::default());
    }

    #[test]
    fn what_stands_behind_a_word_goes_with_it_and_known_words_are_told() {
        let mut list = AttributeList::default();
        list.attributes = list.pasted("ripe").new;
        let pasted = list.pasted("Ripe\nsour\tsharp in the mouth\tnone\tvery\tcitric acid, 1 g/l\nsour");
        assert_eq!(pasted.known, ["Ripe", "sour"]);
        let sour = &pasted.new[0];
        assert_eq!((sour.definition.as_str(), sour.high_end.as_str(), sour.order), ("sharp in the mouth", "very", 2));
        assert_eq!(sour.reference, "citric acid, 1 g/l");
    }
}
