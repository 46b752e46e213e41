//! Objects and pages of a PDF, found in its bytes from the first to the last. It knows nothing of pixels.

use super::content::drawn_names;
use super::faults::PdfFault;
use super::image::{ImageStream, PagePicture, picture_of};
use super::objects::{Reader, Value, is_space};
use super::stream::{codings, inflated};
use crate::scan::SHORTEST_SIDE_PX;
use memchr::memmem;
use std::collections::{HashMap, HashSet};
use std::ops::Range;

/// More pages than this are not opened at once.
pub const MOST_PAGES: usize = 500;
const MOST_OBJECTS: usize = 100_000;
/// A file is no larger: 500 pages as JPEG with 300 dpi take less.
const MOST_BYTES: usize = 400_000_000;
/// A stream of objects may inflate to so many bytes, and the content of a page.
const MOST_OF_OBJECTS: usize = 8_000_000;
const MOST_OF_CONTENT: usize = 4_000_000;
/// So many values are kept in all, and so many bytes beside twice the file's are looked through for them.
const MOST_VALUES_IN_ALL: usize = 1_000_000;
const MOST_BESIDE: usize = 64_000_000;
/// Pages lie in lists in lists, forms in forms, so deep at most.
const DEEPEST: usize = 32;
const DEEPEST_FORM: usize = 4;

/// An opened PDF; its pages are made into pictures one at a time.
pub struct ScannedPdf<'a> {
    bytes: &'a [u8],
    objects: HashMap<u32, Object>,
    pages: Vec<Page>,
}

struct Object {
    value: Value,
    stream: Option<Range<usize>>,
}

struct Page {
    contents: Option<Value>,
    resources: Option<Value>,
}

/// What may still be spent on finding objects: it bounds time and memory whatever the bytes say.
struct Budget {
    bytes: usize,
    values: usize,
}

impl Budget {
    fn spend(&mut self, bytes: usize, values: usize) -> Result<(), PdfFault> {
        self.bytes = self.bytes.checked_sub(bytes).ok_or(PdfFault::TooMuch)?;
        self.values = self.values.checked_sub(values).ok_or(PdfFault::TooMuch)?;
        Ok(())
    }

    /// The value at a place.
    fn value(&mut self, reader: &mut Reader) -> Result<Option<Value>, PdfFault> {
        let (at, values) = (reader.at, reader.values);
        let value = reader.value();
        self.spend(reader.at - at, reader.values - values)?;
        Ok(value)
    }
}

impl<'a> ScannedPdf<'a> {
    /// Finds the pages. Memory is that of the objects but their streams: no picture is opened.
    ///
    /// # Errors
    /// Locked, without pages, or larger than any scanner makes.
    pub fn open(bytes: &'a [u8]) -> Result<Self, PdfFault> {
        let mut pdf = ScannedPdf { bytes, objects: HashMap::new(), pages: Vec::new() };
        if bytes.len() > MOST_BYTES {
            return Err(PdfFault::TooMuch);
        }
        let mut budget = Budget { bytes: 2 * bytes.len() + MOST_BESIDE, values: MOST_VALUES_IN_ALL };
        let mut roots = Vec::new();
        let mut at = 0;
        while let Some(found) = memmem::find(&bytes[at..], b"obj") {
            let word = at + found;
            at = word + 3;
            if let Some(number) = number_before(bytes, word) {
                at = pdf.take_object(number, at, &mut roots, &mut budget)?;
            }
        }
        pdf.take_trailers(&mut roots, &mut budget)?;
        pdf.pages = pdf.found_pages(&roots)?;
        if pdf.pages.is_empty() { Err(PdfFault::NoPages) } else { Ok(pdf) }
    }

    /// How many pages there are.
    pub fn len(&self) -> usize {
        self.pages.len()
    }

    pub fn is_empty(&self) -> bool {
        self.pages.is_empty()
    }

    /// The picture of a page, by index.
    ///
    /// # Errors
    /// Why it has none, and what to do.
    pub fn picture(&self, page: usize) -> Result<PagePicture, PdfFault> {
        let page = self.pages.get(page).ok_or(PdfFault::NoPages)?;
        let mut found = Vec::new();
        self.collect_images(
            page.resources.as_ref(),
            &self.content_of(page),
            DEEPEST_FORM,
            &mut HashSet::new(),
            &mut found,
        );
        match found.as_slice() {
            [] => Err(PdfFault::NoPicture),
            [image] => picture_of(image),
            _ => Err(PdfFault::SeveralPictures),
        }
    }

    /// Takes the object whose number stood before a place; answers with where to look on.
    fn take_object(
        &mut self,
        number: u32,
        at: usize,
        roots: &mut Vec<Value>,
        budget: &mut Budget,
    ) -> Result<usize, PdfFault> {
        let mut reader = Reader::new(self.bytes, at);
        let Some(value) = budget.value(&mut reader)? else { return Ok(at) };
        let stream = self.stream_after(&value, &mut reader);
        let next = stream.as_ref().map_or(reader.at, |stream| stream.end).max(at);
        if value.get("Type").is_some_and(|kind| kind.is_name("XRef")) {
            note_trailer(&value, roots)?;
        }
        if let (true, Some(stream)) = (value.get("Type").is_some_and(|kind| kind.is_name("ObjStm")), &stream) {
            self.take_inner_objects(&value, stream.clone(), budget)?;
        }
        self.objects.insert(number, Object { value, stream });
        if self.objects.len() > MOST_OBJECTS { Err(PdfFault::TooMuch) } else { Ok(next) }
    }

    /// Where the stream behind a dictionary lies: as long as it says where its end stands there, else up to its end's word.
    fn stream_after(&self, value: &Value, reader: &mut Reader) -> Option<Range<usize>> {
        reader.skip_space();
        let rest = &self.bytes[reader.at..];
        if !matches!(value, Value::Dictionary(_)) || !rest.starts_with(b"stream") {
            return None;
        }
        let line_end = match rest.get(6..8) {
            Some(b"\r\n") => 2,
            _ => usize::from(matches!(rest.get(6), Some(b'\n' | b'\r'))),
        };
        let start = reader.at + 6 + line_end;
        let told = value.get("Length").and_then(|length| self.resolved(length)).and_then(Value::count);
        let is_end = |end: &usize| {
            let rest = self.bytes.get(*end..).unwrap_or_default();
            let space = rest.iter().take(4).take_while(|byte| is_space(**byte)).count();
            rest[space..].starts_with(b"endstream")
        };
        if let Some(end) = told.and_then(|length| start.checked_add(length)).filter(is_end) {
            return Some(start..end);
        }
        let end = memmem::find(&self.bytes[start..], b"endstream").map_or(self.bytes.len(), |found| start + found);
        Some(start..end)
    }

    /// Objects packed into a stream.
    fn take_inner_objects(&mut self, value: &Value, stream: Range<usize>, budget: &mut Budget) -> Result<(), PdfFault> {
        let raw = &self.bytes[stream];
        let unpacked = match codings(value).as_slice() {
            [] => raw.to_vec(),
            [(name, _)] if name == "FlateDecode" => match inflated(raw, MOST_OF_OBJECTS) {
                Err(PdfFault::Damaged) => return Ok(()),
                other => other?,
            },
            _ => return Ok(()),
        };
        budget.spend(unpacked.len(), 0)?;
        let [count, first] = ["N", "First"].map(|key| value.get(key).and_then(Value::count).unwrap_or(0));
        let mut head = Reader::new(&unpacked, 0);
        for _ in 0..count.min(MOST_OBJECTS) {
            let pair = (head.value().and_then(|number| number.count()), head.value().and_then(|place| place.count()));
            let (Some(number), Some(place)) = pair else { break };
            if let Some(value) = budget.value(&mut Reader::new(&unpacked, (first + place).min(unpacked.len())))? {
                self.objects.insert(number as u32, Object { value, stream: None });
            }
            if self.objects.len() > MOST_OBJECTS {
                return Err(PdfFault::TooMuch);
            }
        }
        Ok(())
    }

    fn take_trailers(&self, roots: &mut Vec<Value>, budget: &mut Budget) -> Result<(), PdfFault> {
        for at in memmem::find_iter(self.bytes, b"trailer") {
            if let Some(value) = budget.value(&mut Reader::new(self.bytes, at + 7))? {
                note_trailer(&value, roots)?;
            }
        }
        Ok(())
    }

    /// A value or what it refers to.
    pub fn resolved<'v>(&'v self, value: &'v Value) -> Option<&'v Value> {
        let mut value = value;
        for _ in 0..DEEPEST {
            let Value::Reference(to) = value else { return Some(value) };
            value = &self.objects.get(to)?.value;
        }
        None
    }

    fn entry<'v>(&'v self, value: &'v Value, key: &str) -> Option<&'v Value> {
        value.get(key).and_then(|value| self.resolved(value))
    }

    /// The pages in their order; where no list of them is sound, every object that says it is one, by number.
    fn found_pages(&self, roots: &[Value]) -> Result<Vec<Page>, PdfFault> {
        let mut pages = Vec::new();
        let catalogs =
            self.objects.values().filter(|object| object.value.get("Type").is_some_and(|kind| kind.is_name("Catalog")));
        let by_trailer = roots.iter().rev().filter_map(|root| self.resolved(root));
        let tree = by_trailer.chain(catalogs.map(|object| &object.value)).find_map(|root| root.get("Pages"));
        if let Some(tree) = tree {
            self.walk(tree, None, DEEPEST, &mut HashSet::new(), &mut pages)?;
        }
        if pages.is_empty() {
            let is_page = |object: &&Object| object.value.get("Type").is_some_and(|kind| kind.is_name("Page"));
            let mut numbers: Vec<&u32> = self.objects.keys().collect();
            numbers.sort_unstable();
            let objects = numbers.into_iter().filter_map(|number| self.objects.get(number)).filter(is_page);
            pages = objects.take(MOST_PAGES + 1).map(|object| self.page(&object.value, None)).collect();
        }
        if pages.len() > MOST_PAGES { Err(PdfFault::TooMuch) } else { Ok(pages) }
    }

    fn page(&self, dictionary: &Value, inherited: Option<&Value>) -> Page {
        let resources = dictionary.get("Resources").or(inherited).cloned();
        Page { contents: dictionary.get("Contents").cloned(), resources }
    }

    fn walk(
        &self,
        node: &Value,
        inherited: Option<&Value>,
        depth: usize,
        seen: &mut HashSet<u32>,
        pages: &mut Vec<Page>,
    ) -> Result<(), PdfFault> {
        let is_new = match node {
            Value::Reference(to) => seen.insert(*to),
            _ => true,
        };
        let Some(value) = self.resolved(node).filter(|_| is_new && depth > 0) else { return Ok(()) };
        let inherited = value.get("Resources").or(inherited);
        match self.entry(value, "Kids") {
            Some(Value::List(kids)) => {
                kids.iter().try_for_each(|kid| self.walk(kid, inherited, depth - 1, seen, pages))
            }
            _ if pages.len() >= MOST_PAGES => Err(PdfFault::TooMuch),
            _ => {
                pages.push(self.page(value, inherited));
                Ok(())
            }
        }
    }

    /// The content of a page, as far as it can be opened.
    fn content_of(&self, page: &Page) -> Vec<u8> {
        let contents = page.contents.as_ref();
        let parts: Vec<&Value> = match contents.and_then(|value| self.resolved(value)) {
            Some(Value::List(parts)) => parts.iter().collect(),
            _ => contents.into_iter().collect(),
        };
        let mut content = Vec::new();
        for part in parts {
            let Some(opened) = self.opened(part, MOST_OF_CONTENT - content.len()) else { return Vec::new() };
            content.extend(opened);
            content.push(b'\n');
            content.truncate(MOST_OF_CONTENT);
        }
        content
    }

    /// A stream's bytes, plain or inflated; nothing where it isn't there or is coded otherwise.
    fn opened(&self, value: &Value, most: usize) -> Option<Vec<u8>> {
        let (dictionary, raw) = self.stream_of(value)?;
        match codings(dictionary).as_slice() {
            [] => Some(raw[..raw.len().min(most)].to_vec()),
            [(name, _)] if name == "FlateDecode" => inflated(raw, most).ok(),
            _ => None,
        }
    }

    fn stream_of(&self, value: &Value) -> Option<(&Value, &'a [u8])> {
        let Value::Reference(number) = value else { return None };
        let object = self.objects.get(number)?;
        Some((&object.value, self.bytes.get(object.stream.clone()?)?))
    }

    /// The pictures of the size of a page that some content draws, through forms as well, until there are too many. Where
    /// the content can't be read every picture counts that the page could draw.
    fn collect_images(
        &self,
        resources: Option<&Value>,
        content: &[u8],
        depth: usize,
        seen: &mut HashSet<u32>,
        found: &mut Vec<ImageStream<'a>>,
    ) {
        let drawn = drawn_names(content);
        let objects =
            resources.and_then(|resources| self.resolved(resources)).and_then(|value| self.entry(value, "XObject"));
        let Some(Value::Dictionary(entries)) = objects else { return };
        for (_, value) in entries.iter().filter(|(name, _)| drawn.is_empty() || drawn.contains(name)) {
            let (Value::Reference(number), Some((dictionary, raw))) = (value, self.stream_of(value)) else { continue };
            if depth == 0 || found.len() > 1 || !seen.insert(*number) {
                continue;
            }
            if !self.entry(dictionary, "Subtype").is_some_and(|kind| kind.is_name("Image")) {
                let own = dictionary.get("Resources").or(resources);
                let content = self.opened(value, MOST_OF_CONTENT).unwrap_or_default();
                self.collect_images(own, &content, depth - 1, seen, found);
            } else if self.is_page(dictionary) {
                found.push(ImageStream::of(self.deep(value, 3), raw, self.bytes));
            }
        }
    }

    /// Whether a picture has the size of a page.
    fn is_page(&self, dictionary: &Value) -> bool {
        let side = |key: &str| self.entry(dictionary, key).and_then(Value::count).unwrap_or(0) as u64;
        side("Width").min(side("Height")) >= SHORTEST_SIDE_PX
    }

    /// A picture's dictionary with its references replaced by what they refer to, some levels deep: colour spaces and
    /// palettes stand apart at times.
    fn deep(&self, value: &Value, depth: usize) -> Value {
        let (value, number) = match (self.resolved(value), value) {
            (Some(found), Value::Reference(number)) => (found, Some(*number)),
            (Some(found), _) => (found, None),
            (None, _) => return Value::Word("null".to_owned()),
        };
        match value {
            Value::List(values) if depth > 0 => {
                Value::List(values.iter().take(64).map(|value| self.deep(value, depth - 1)).collect())
            }
            Value::Dictionary(entries) if depth > 0 => {
                let mut entries: Vec<(String, Value)> = entries
                    .iter()
                    .filter(|(name, _)| IMAGE_KEYS.contains(&name.as_str()))
                    .map(|(name, value)| (name.clone(), self.deep(value, depth - 1)))
                    .collect();
                if let Some(stream) = number.and_then(|number| self.objects.get(&number)?.stream.clone()) {
                    entries.push(("Stream".to_owned(), Value::Place(stream)));
                }
                Value::Dictionary(entries)
            }
            Value::List(_) | Value::Dictionary(_) => Value::Word("null".to_owned()),
            plain => plain.clone(),
        }
    }
}

/// What a picture is made of; everything else of its dictionary is left.
const IMAGE_KEYS: [&str; 20] = [
    "Width",
    "Height",
    "BitsPerComponent",
    "ColorSpace",
    "Decode",
    "DecodeParms",
    "Filter",
    "ImageMask",
    "N",
    "K",
    "Columns",
    "Rows",
    "BlackIs1",
    "EncodedByteAlign",
    "Predictor",
    "Colors",
    "Length",
    "EndOfLine",
    "SMask",
    "Alternate",
];

/// The number of an object whose word stands at a place: digits, space, digits, space.
fn number_before(bytes: &[u8], word: usize) -> Option<u32> {
    let before = &bytes[word.saturating_sub(24)..word];
    let is_part = |byte: &&u8| byte.is_ascii_digit() || is_space(**byte);
    let length = before.iter().rev().take_while(is_part).count();
    let text = std::str::from_utf8(&before[before.len() - length..]).ok()?;
    let mut numbers =
        text.split(|letter: char| letter.is_ascii() && is_space(letter as u8)).rev().filter(|part| !part.is_empty());
    let (_generation, number) = (numbers.next()?, numbers.next()?);
    number.parse().ok()
}

fn note_trailer(value: &Value, roots: &mut Vec<Value>) -> Result<(), PdfFault> {
    if value.get("Encrypt").is_some() {
        return Err(PdfFault::Locked);
    }
    roots.extend(value.get("Root").cloned());
    Ok(())
}
