//! A picture as it stands in a PDF, before it is decoded. It knows no coding.

use super::objects::Value;

/// A picture as it stands in the file.
pub struct ImageStream<'a> {
    pub width: u64,
    pub height: u64,
    /// Its dictionary with the values that count.
    pub dictionary: Value,
    pub raw: &'a [u8],
    /// The file, in which texts and palettes lie.
    pub file: &'a [u8],
}

impl<'a> ImageStream<'a> {
    pub fn of(dictionary: Value, raw: &'a [u8], file: &'a [u8]) -> Self {
        let side = |key: &str| dictionary.get(key).and_then(Value::count).unwrap_or(0) as u64;
        ImageStream { width: side("Width"), height: side("Height"), dictionary, raw, file }
    }
}
