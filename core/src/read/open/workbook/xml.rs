//! A document of tags and text, one piece after the other. It checks no grammar: what is no XML ends the document.
//!
//! Only what the parts of a workbook use: elements, attributes, text, CDATA, the five named entities and numbered
//! ones. Prefixes of names are cut off. Entities that a document declares itself are not followed, so nothing expands.

use std::borrow::Cow;

/// One piece of a document.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::read) enum Piece<'x> {
    Start(Tag<'x>),
    /// The name of the element that ends; follows at once where an element is empty.
    End(&'x str),
    Text(Cow<'x, str>),
}

/// A start tag.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) struct Tag<'x> {
    /// Name without its prefix.
    pub name: &'x str,
    attributes: &'x str,
}

/// Walks through a document.
pub(in crate::read) struct Pieces<'x> {
    text: &'x str,
    /// Name of an empty element whose end is still to be told.
    ends: Option<&'x str>,
}

impl<'x> Pieces<'x> {
    pub fn of(text: &'x str) -> Self {
        Pieces { text: text.trim_start_matches('\u{feff}'), ends: None }
    }

    /// The text inside the element that has just started, down to its end.
    pub fn text_inside(&mut self, name: &str) -> String {
        let mut all = String::new();
        let mut depth = 0_usize;
        for piece in self.by_ref() {
            match piece {
                Piece::Text(text) => all.push_str(&text),
                Piece::Start(tag) => depth += usize::from(tag.name == name),
                Piece::End(ended) if ended == name && depth == 0 => break,
                Piece::End(ended) => depth -= usize::from(ended == name),
            }
        }
        all
    }

    /// Passes over a comment, a processing instruction or a declaration; says whether there was one.
    fn pass_aside(&mut self) -> Option<bool> {
        let rest = self.text;
        for (opening, closing) in [("<!--", "-->"), ("<?", "?>")] {
            if rest.starts_with(opening) {
                self.text = rest.split_once(closing)?.1;
                return Some(true);
            }
        }
        let is_declaration = rest.starts_with("<!") && !rest.starts_with(CDATA);
        if is_declaration {
            self.text = &rest[end_of_tag(rest)? + 1..];
        }
        Some(is_declaration)
    }

    fn tag(&mut self) -> Option<Piece<'x>> {
        let rest = self.text;
        if let Some(inside) = rest.strip_prefix(CDATA) {
            let (text, after) = inside.split_once("]]>")?;
            self.text = after;
            return Some(Piece::Text(Cow::Borrowed(text)));
        }
        let end = end_of_tag(rest)?;
        let inside = &rest[1..end];
        self.text = &rest[end + 1..];
        if let Some(name) = inside.strip_prefix('/') {
            return Some(Piece::End(without_prefix(name.trim())));
        }
        let (inside, is_empty) = inside.strip_suffix('/').map_or((inside, false), |inside| (inside, true));
        let name_end = inside.find(|c: char| c.is_ascii_whitespace()).unwrap_or(inside.len());
        let name = without_prefix(&inside[..name_end]);
        self.ends = is_empty.then_some(name);
        Some(Piece::Start(Tag { name, attributes: &inside[name_end..] }))
    }
}

const CDATA: &str = "<![CDATA[";

impl<'x> Iterator for Pieces<'x> {
    type Item = Piece<'x>;

    fn next(&mut self) -> Option<Piece<'x>> {
        if let Some(name) = self.ends.take() {
            return Some(Piece::End(name));
        }
        loop {
            match self.text.find('<')? {
                0 if self.pass_aside()? => {}
                0 => return self.tag(),
                at => {
                    let (text, rest) = self.text.split_at(at);
                    self.text = rest;
                    return Some(Piece::Text(decoded(text)));
                }
            }
        }
    }
}

impl<'x> Tag<'x> {
    /// The value of an attribute, by its name without prefix.
    pub fn get(&self, wanted: &str) -> Option<Cow<'x, str>> {
        let mut rest = self.attributes;
        loop {
            let (name, after) = rest.split_once('=')?;
            let after = after.trim_start();
            let quote = after.chars().next().filter(|quote| matches!(quote, '"' | '\''))?;
            let (value, next) = after[1..].split_once(quote)?;
            if without_prefix(name.trim()) == wanted {
                return Some(decoded(value));
            }
            rest = next;
        }
    }

    /// The value of an attribute as a number.
    pub fn number<N: std::str::FromStr>(&self, wanted: &str) -> Option<N> {
        self.get(wanted)?.trim().parse().ok()
    }
}

/// Where the tag at the start of a text closes; a `>` inside quotes closes nothing.
fn end_of_tag(text: &str) -> Option<usize> {
    let mut quote = None;
    text.bytes().enumerate().find_map(|(at, byte)| {
        match (quote, byte) {
            (None, b'"' | b'\'') => quote = Some(byte),
            (Some(open), _) if open == byte => quote = None,
            (None, b'>') => return Some(at),
            _ => {}
        }
        None
    })
}

fn without_prefix(name: &str) -> &str {
    name.rsplit_once(':').map_or(name, |(_, name)| name)
}

/// Text with its entities replaced; an unknown one stays as it is written.
fn decoded(text: &str) -> Cow<'_, str> {
    if !text.contains('&') {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('&') {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let entity = rest[1..].split_once(';').map(|(name, _)| name).filter(|name| name.len() <= 8);
        match entity.and_then(|name| Some((name.len() + 2, sign_of(name)?))) {
            Some((length, sign)) => {
                out.push(sign);
                rest = &rest[length..];
            }
            None => {
                out.push('&');
                rest = &rest[1..];
            }
        }
    }
    out.push_str(rest);
    Cow::Owned(out)
}

fn sign_of(entity: &str) -> Option<char> {
    match entity {
        "lt" => Some('<'),
        "gt" => Some('>'),
        "amp" => Some('&'),
        "quot" => Some('"'),
        "apos" => Some('\''),
        _ => {
            let number = entity.strip_prefix('#')?;
            let code = match number.strip_prefix(['x', 'X']) {
                Some(hexadecimal) => u32::from_str_radix(hexadecimal, 16),
                None => number.parse(),
            };
            code.ok().and_then(char::from_u32)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(xml: &str) -> Vec<String> {
        let texts = Pieces::of(xml).filter_map(|piece| match piece {
            Piece::Text(text) => Some(text.into_owned()),
            _ => None,
        });
        texts.collect()
    }

    #[test]
    fn names_lose_their_prefix_and_values_their_entities() {
        let xml = "<?xml version=\"1.0\"?><x:row x:r='3' t=\"a &lt;&#x41;&amp;&#66;&nope;>\"/>";
        let pieces: Vec<Piece<'_>> = Pieces::of(xml).collect();
        let [Piece::Start(tag), Piece::End("row")] = pieces.as_slice() else { panic!("{pieces:?}") };
        assert_eq!((tag.name, tag.number::<u32>("r")), ("row", Some(3)));
        assert_eq!(tag.get("t").as_deref(), Some("a <A&B&nope;>"));
        assert_eq!(tag.get("r2"), None);
    }

    #[test]
    fn text_comments_and_cdata() {
        assert_eq!(texts("<a>one<!-- <b>no</b> -->two<![CDATA[<3>]]></a>"), ["one", "two", "<3>"]);
        let mut pieces = Pieces::of("<si><t>a</t><r><t>b</t></r></si><si/>");
        pieces.next();
        assert_eq!(pieces.text_inside("si"), "ab");
    }

    #[test]
    fn a_million_comments_are_passed_over_without_a_stack() {
        assert_eq!(texts(&format!("{}<a>one</a>", "<!---->".repeat(1_000_000))), ["one"]);
    }

    #[test]
    fn what_is_cut_off_ends_quietly() {
        for xml in
            ["<", "<a", "<a b=\"", "<a>text", "<!--", "<![CDATA[x", "&", "</", "<a b>", "<a =\"\">", "\u{feff}<é"]
        {
            assert!(Pieces::of(xml).count() <= 2, "{xml}");
        }
    }
}
