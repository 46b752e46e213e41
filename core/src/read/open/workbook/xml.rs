//! A document of tags and text, one piece after the other. What is no XML ends the document, and it says so.
//!
//! The crate quick-xml takes the document apart, without its feature for encodings: parts of workbooks are UTF-8.
//! Here is the limit of depth, because the crate remembers every element that is open. Prefixes of names are cut off.
//! Of entities only the five named ones and numbered ones are replaced; those that a document declares itself are not
//! followed, so nothing expands.

use quick_xml::Reader;
use quick_xml::escape::unescape;
use quick_xml::events::{BytesEnd, BytesStart, Event};
use std::borrow::Cow;

/// One piece of a document.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Piece<'x> {
    Start(Tag<'x>),
    /// Follows at once where an element is empty.
    End(EndTag<'x>),
    Text(Cow<'x, str>),
}

/// A start tag.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Tag<'x>(BytesStart<'x>);

/// An end tag.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct EndTag<'x>(BytesEnd<'x>);

/// Walks through a document.
pub(super) struct Pieces<'x> {
    reader: Reader<&'x [u8]>,
    depth: usize,
    /// Why there is no further piece, where there is none.
    end: Option<DocumentEnd>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum DocumentEnd {
    Reached,
    Broken,
}

/// A document that ends before its elements do, or is no XML.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Broken;

/// How deep elements may lie in each other. Sheets of cells need about ten.
const DEEPEST: usize = 1000;

/// Signs of the longest entity that is replaced, `&#1114111;`.
const LONGEST_ENTITY: usize = 10;

impl<'x> Pieces<'x> {
    pub fn of(text: &'x str) -> Self {
        let mut reader = Reader::from_str(text.trim_start_matches('\u{feff}'));
        let config = reader.config_mut();
        config.expand_empty_elements = true;
        config.allow_dangling_amp = true;
        Pieces { reader, depth: 0, end: None }
    }

    /// The text inside the element that has just started, down to its end.
    pub fn text_inside(&mut self, name: &str) -> String {
        let mut all = String::new();
        let mut depth = 0_usize;
        for piece in self.by_ref() {
            match piece {
                Piece::Text(text) => all.push_str(&text),
                Piece::Start(tag) => depth += usize::from(tag.name() == name),
                Piece::End(tag) if tag.name() == name && depth == 0 => break,
                Piece::End(tag) => depth -= usize::from(tag.name() == name),
            }
        }
        all
    }

    /// Walks over what is left, and says whether every element of the document was closed.
    pub fn finish(&mut self) -> Result<(), Broken> {
        self.by_ref().for_each(drop);
        let is_whole = self.end == Some(DocumentEnd::Reached) && self.depth == 0;
        is_whole.then_some(()).ok_or(Broken)
    }

    fn event(&mut self) -> Result<Event<'x>, DocumentEnd> {
        let event = self.reader.read_event().map_err(|_| DocumentEnd::Broken)?;
        match event {
            Event::Eof => return Err(DocumentEnd::Reached),
            Event::Start(_) if self.depth == DEEPEST => return Err(DocumentEnd::Broken),
            Event::Start(_) => self.depth += 1,
            Event::End(_) => self.depth -= 1,
            _ => {}
        }
        Ok(event)
    }
}

impl<'x> Iterator for Pieces<'x> {
    type Item = Piece<'x>;

    fn next(&mut self) -> Option<Piece<'x>> {
        while self.end.is_none() {
            match self.event() {
                Ok(Event::Start(tag)) => return Some(Piece::Start(Tag(tag))),
                Ok(Event::End(tag)) => return Some(Piece::End(EndTag(tag))),
                Ok(Event::Text(text)) => return Some(Piece::Text(text.into_inner())),
                Ok(Event::CData(text)) => return Some(Piece::Text(text.into_inner())),
                Ok(Event::GeneralRef(name)) => {
                    let entity = format!("&{};", &*name);
                    return Some(Piece::Text(Cow::Owned(decoded(&entity).into_owned())));
                }
                Ok(_) => {}
                Err(end) => self.end = Some(end),
            }
        }
        None
    }
}

impl Tag<'_> {
    /// Name without its prefix.
    pub fn name(&self) -> &str {
        self.0.local_name().into_inner()
    }

    /// The value of an attribute, by its name without prefix.
    pub fn get(&self, wanted: &str) -> Option<Cow<'_, str>> {
        let mut attributes = self.0.attributes();
        let mut attributes = attributes.with_checks(false).map_while(Result::ok);
        let attribute = attributes.find(|one| one.key.local_name().into_inner() == wanted)?;
        Some(match attribute.value {
            Cow::Borrowed(value) => decoded(value),
            Cow::Owned(value) => Cow::Owned(decoded(&value).into_owned()),
        })
    }

    /// The value of an attribute as a number.
    pub fn number<N: std::str::FromStr>(&self, wanted: &str) -> Option<N> {
        self.get(wanted)?.trim().parse().ok()
    }
}

impl EndTag<'_> {
    /// Name of the element without its prefix.
    pub fn name(&self) -> &str {
        self.0.local_name().into_inner()
    }
}

/// Text with its entities replaced; an unknown one stays as it is written.
fn decoded(text: &str) -> Cow<'_, str> {
    if !text.contains('&') {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    for part in text.split_inclusive(';') {
        let (plain, entity) = part.split_at(part.rfind('&').unwrap_or(part.len()));
        let sign =
            Some(entity).filter(|entity| entity.len() <= LONGEST_ENTITY).and_then(|entity| unescape(entity).ok());
        out.push_str(plain);
        out.push_str(sign.as_deref().unwrap_or(entity));
    }
    Cow::Owned(out)
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
        let [Piece::Start(tag), Piece::End(end)] = pieces.as_slice() else { panic!("{pieces:?}") };
        assert_eq!(end.name(), "row");
        assert_eq!((tag.name(), tag.number::<u32>("r")), ("row", Some(3)));
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

    fn is_whole(xml: &str) -> bool {
        Pieces::of(xml).finish().is_ok()
    }

    #[test]
    fn what_is_not_closed_in_order_is_not_whole() {
        for xml in ["", "<a/>", "<?xml version=\"1.0\"?><!-- <b> --><a><b c='>'/>&amp; &d; & <![CDATA[<]]></a> "] {
            assert!(is_whole(xml), "{xml}");
        }
        for xml in
            ["<a>", "<a><b></a>", "<a></b></a>", "<a/></a>", "<a", "<a b='></a>", "<a><!-- </a>", "<a><![CDATA[</a>"]
        {
            assert!(!is_whole(xml), "{xml}");
        }
        // Nothing follows what is broken.
        assert_eq!(texts("<a>one</b>two</a>"), ["one"]);
    }

    #[test]
    fn elements_lie_in_each_other_down_to_a_limit() {
        let nested = |depth: usize| "<a>".repeat(depth) + &"</a>".repeat(depth);
        assert!(is_whole(&nested(DEEPEST)));
        assert!(!is_whole(&nested(DEEPEST + 1)));
        assert_eq!(Pieces::of(&"<a>".repeat(1_000_000)).count(), DEEPEST);
    }

    #[test]
    fn entities_of_the_document_itself_do_not_grow() {
        let declared = "<!DOCTYPE a [<!ENTITY b \"bbbbbbbbbb\"><!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;\">]>";
        assert_eq!(texts(&format!("{declared}<a>&c;&lt;&c;</a>")).concat(), "&c;<&c;");
        let long = format!("&{};", "c".repeat(1000));
        assert_eq!(texts(&format!("<a>x{long}&</a>")).concat(), format!("x{long}&"));
    }
}
