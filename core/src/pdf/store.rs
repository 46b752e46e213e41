//! Objects of a PDF, found in its bytes from the first to the last, and what they refer to. It knows nothing of pages.

use super::faults::PdfFault;
use super::objects::{Reader, Value, is_space};
use super::stream::{codings, inflated};
use memchr::memmem;
use std::collections::HashMap;
use std::ops::Range;

const MOST_OBJECTS: usize = 100_000;
/// A file is no larger: 500 pages as JPEG with 300 dpi take less.
const MOST_BYTES: usize = 400_000_000;
/// A stream of objects may inflate to so many bytes.
const MOST_OF_OBJECTS: usize = 8_000_000;
/// So many values are kept in all, and so many bytes beside twice the file's are looked through for them.
const MOST_VALUES_IN_ALL: usize = 1_000_000;
const MOST_BESIDE: usize = 64_000_000;
/// References lead to references so often at most.
const DEEPEST: usize = 32;

/// All objects by number.
pub struct ObjectStore<'a> {
    pub bytes: &'a [u8],
    pub objects: HashMap<u32, Object>,
    /// What the tables of contents say is the root, the last one last.
    pub roots: Vec<Value>,
}

/// One object.
pub struct Object {
    pub value: Value,
    stream: Option<Range<usize>>,
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

impl<'a> ObjectStore<'a> {
    /// Finds all objects; their streams stay where they are.
    ///
    /// # Errors
    /// Locked, or more than any scanner makes.
    pub fn of(bytes: &'a [u8]) -> Result<Self, PdfFault> {
        if bytes.len() > MOST_BYTES {
            return Err(PdfFault::TooMuch);
        }
        let mut budget = Budget { bytes: 2 * bytes.len() + MOST_BESIDE, values: MOST_VALUES_IN_ALL };
        let mut store = ObjectStore { bytes, objects: HashMap::new(), roots: Vec::new() };
        let mut at = 0;
        while let Some(found) = memmem::find(&bytes[at..], b"obj") {
            let word = at + found;
            at = word + 3;
            if let Some(number) = number_before(bytes, word) {
                at = store.take_object(number, at, &mut budget)?;
            }
        }
        store.take_trailers(&mut budget)?;
        Ok(store)
    }

    /// Takes the object whose number stood before a place; answers with where to look on.
    fn take_object(&mut self, number: u32, at: usize, budget: &mut Budget) -> Result<usize, PdfFault> {
        let mut reader = Reader::new(self.bytes, at);
        let Some(value) = budget.value(&mut reader)? else { return Ok(at) };
        let stream = self.stream_after(&value, &mut reader);
        let next = stream.as_ref().map_or(reader.at, |stream| stream.end).max(at);
        if value.get("Type").is_some_and(|kind| kind.is_name("XRef")) {
            self.note_trailer(&value)?;
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

    fn note_trailer(&mut self, value: &Value) -> Result<(), PdfFault> {
        if value.get("Encrypt").is_some() {
            return Err(PdfFault::Locked);
        }
        self.roots.extend(value.get("Root").cloned());
        Ok(())
    }

    fn take_trailers(&mut self, budget: &mut Budget) -> Result<(), PdfFault> {
        for at in memmem::find_iter(self.bytes, b"trailer") {
            if let Some(value) = budget.value(&mut Reader::new(self.bytes, at + 7))? {
                self.note_trailer(&value)?;
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

    /// What stands under a key of a dictionary, or what that refers to.
    pub fn entry<'v>(&'v self, value: &'v Value, key: &str) -> Option<&'v Value> {
        value.get(key).and_then(|value| self.resolved(value))
    }
    /// A stream's bytes, plain or inflated; nothing where it isn't there or is coded otherwise.
    pub fn opened(&self, value: &Value, most: usize) -> Option<Vec<u8>> {
        let (dictionary, raw) = self.stream_of(value)?;
        match codings(dictionary).as_slice() {
            [] => Some(raw[..raw.len().min(most)].to_vec()),
            [(name, _)] if name == "FlateDecode" => inflated(raw, most).ok(),
            _ => None,
        }
    }

    /// The dictionary of a stream that is referred to, and its bytes as they stand in the file.
    pub fn stream_of(&self, value: &Value) -> Option<(&Value, &'a [u8])> {
        let Value::Reference(number) = value else { return None };
        let object = self.objects.get(number)?;
        Some((&object.value, self.bytes.get(object.stream.clone()?)?))
    }

    /// A picture's dictionary with its references replaced by what they refer to, some levels deep: colour spaces and
    /// palettes stand apart at times.
    pub fn deep(&self, value: &Value, depth: usize) -> Value {
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
