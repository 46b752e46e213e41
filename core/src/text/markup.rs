//! Text as XML and HTML hold it. It knows no elements.

/// Text for elements and for quoted attributes. Characters that XML 1.0 forbids are left out; tabs and line ends become
/// blanks.
pub fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '&' => escaped.push_str("&amp;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&apos;"),
            '\t' | '\n' | '\r' => escaped.push(' '),
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => {}
            other => escaped.push(other),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_would_be_markup_is_text() {
        assert_eq!(escape("<a href=\"x\" title='y'>&"), "&lt;a href=&quot;x&quot; title=&apos;y&apos;&gt;&amp;");
    }

    #[test]
    fn characters_that_xml_forbids_are_left_out() {
        assert_eq!(escape("a\u{0}b\u{b}c\nd"), "abc d");
    }
}
