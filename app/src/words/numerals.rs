//! The decimal mark that a reader asks for. Results are written with a point; here the point becomes a comma, except in
//! names that a person gave.

/// A text with decimal commas where `comma` asks for them; what stands in `names` is left as it is.
pub fn with_mark(text: &str, comma: bool, names: &[String]) -> String {
    if !comma || !text.contains('.') {
        return text.to_owned();
    }
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while !rest.is_empty() {
        let (start, name) = first_name(rest, names);
        out.push_str(&with_commas(&rest[..start]));
        out.push_str(name);
        rest = &rest[start + name.len()..];
    }
    out
}

/// Where the first name with a point in it starts, and the name: the longest where several start there.
fn first_name<'t>(text: &'t str, names: &[String]) -> (usize, &'t str) {
    let dotted = names.iter().filter(|name| name.contains('.'));
    let found = dotted.filter_map(|name| text.find(name.as_str()).map(|start| (start, name.len())));
    match found.min_by_key(|(start, length)| (*start, usize::MAX - length)) {
        Some((start, length)) => (start, &text[start..start + length]),
        None => (text.len(), ""),
    }
}

/// Every point between two digits becomes a comma.
fn with_commas(text: &str) -> String {
    let letters: Vec<char> = text.chars().collect();
    let is_digit = |index: Option<usize>| index.and_then(|index| letters.get(index)).is_some_and(char::is_ascii_digit);
    let mark = |(index, letter): (usize, &char)| {
        let between = *letter == '.' && is_digit(index.checked_sub(1)) && is_digit(Some(index + 1));
        if between { ',' } else { *letter }
    };
    letters.iter().enumerate().map(mark).collect()
}

#[cfg(test)]
mod tests {
    use super::with_mark;

    #[test]
    fn only_points_between_digits_become_commas_and_never_those_of_names() {
        let names = ["Batch 1.5".to_owned(), "Batch 1.55".to_owned(), "sweet".to_owned()];
        let cases = [
            ("12.3", "12,3"),
            ("\u{2212}0.042", "\u{2212}0,042"),
            ("4.5 to 12.0 mm.", "4,5 to 12,0 mm."),
            ("Batch 1.5 is off by 3.2 mm", "Batch 1.5 is off by 3,2 mm"),
            ("Batch 1.55 is off by 3.2 mm", "Batch 1.55 is off by 3,2 mm"),
            ("sweet: 0.5, Batch 1.5: 0.7", "sweet: 0,5, Batch 1.5: 0,7"),
            ("No number.", "No number."),
            ("", ""),
        ];
        for (text, expected) in cases {
            assert_eq!(with_mark(text, true, &names), expected);
            assert_eq!(with_mark(text, false, &names), text);
        }
    }
}
