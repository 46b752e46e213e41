//! How names are spelled and compared. It knows not what they name.

/// A name without blanks at its ends and with single blanks inside.
pub(in crate::read) fn tidy(text: &str) -> String {
    text.split(|c: char| c.is_whitespace() || matches!(c, '\u{feff}' | '\u{200b}'))
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
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
    let letters = long.get(at).is_some_and(|c| c.is_alphabetic()) && (put_in || short[at].is_alphabetic());
    (put_in || changed) && letters && word_around(long, at) >= 3
}

fn word_around(text: &[char], at: usize) -> usize {
    let before = text[..at].iter().rev().take_while(|c| c.is_alphanumeric()).count();
    let after = text[at..].iter().take_while(|c| c.is_alphanumeric()).count();
    before + after
}
