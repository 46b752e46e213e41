//! How names are spelled and compared. It knows not what they name.

use crate::text::csv::plain_cell;

/// A name without blanks at its ends and with single blanks inside. Control characters, which nobody types, are blanks; an
/// apostrophe that keeps a spreadsheet from taking the name for a formula is no part of it.
pub(in crate::read) fn tidy(text: &str) -> String {
    let name = text
        .split(|c: char| c.is_whitespace() || c.is_control() || matches!(c, '\u{feff}' | '\u{200b}'))
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join(" ");
    plain_cell(&name).to_owned()
}

/// The form in which names are compared.
pub(in crate::read) fn folded(text: &str) -> String {
    tidy(text).to_lowercase()
}

/// Whether two names differ by one letter put in, left out or changed (never a digit), in a word of three signs
/// or more: likely slips of the pen, such as Ana and Anna.
pub(in crate::read) fn differ_by_one_letter(a: &str, b: &str) -> bool {
    let same_start = a.bytes().zip(b.bytes()).take_while(|(x, y)| x == y).count();
    let same_end = a.bytes().rev().zip(b.bytes().rev()).take_while(|(x, y)| x == y).count();
    if same_start + same_end + 4 < a.len().max(b.len()) {
        return false;
    }
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let (short, long) = if a.len() <= b.len() { (&a, &b) } else { (&b, &a) };
    let at = short.iter().zip(long.iter()).take_while(|(x, y)| x == y).count();
    let put_in = long.len() == short.len() + 1 && long[at + 1..] == short[at..];
    let changed = long.len() == short.len() && at < long.len() && long[at + 1..] == short[at + 1..];
    let is_letter = |letter: Option<&char>| letter.is_some_and(|letter| letter.is_alphabetic());
    let letters = is_letter(long.get(at)) && (put_in || is_letter(short.get(at)));
    (put_in || changed) && letters && word_around(long, at) >= 3
}

fn word_around(text: &[char], at: usize) -> usize {
    let before = text[..at].iter().rev().take_while(|c| c.is_alphanumeric()).count();
    let after = text[at..].iter().take_while(|c| c.is_alphanumeric()).count();
    before + after
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lose_what_nobody_typed() {
        assert_eq!(tidy("  Anna\u{0}  B.\u{feff} "), "Anna B.");
        assert_eq!((tidy("'=x"), tidy("''=x"), tidy("'t Hart")), ("=x".into(), "'=x".into(), "'t Hart".into()));
    }

    #[test]
    fn one_letter_in_a_word_of_three_is_a_likely_slip() {
        assert!(differ_by_one_letter("Ana", "Anna") && differ_by_one_letter("Anna", "Anne"));
        // Names that begin alike and differ by more than a letter once ended the program.
        assert!(
            !differ_by_one_letter("A", "ABC")
                && !differ_by_one_letter("A", "A Nan")
                && !differ_by_one_letter("", "Abc")
        );
        assert!(!differ_by_one_letter("R1", "R2") && !differ_by_one_letter("Al", "Ala B"));
    }
}
