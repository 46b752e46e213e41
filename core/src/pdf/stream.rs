//! Inflates the streams of a PDF, never further than was asked for. It knows nothing of what is in them.

use super::faults::PdfFault;
use super::objects::Value;
use flate2::bufread::ZlibDecoder;
use std::io::Read;

/// Names of the codings of a stream, first to last, each with its parameters.
pub fn codings(dictionary: &Value) -> Vec<(String, Option<Value>)> {
    let listed = |value: Option<&Value>| match value {
        Some(Value::List(values)) => values.clone(),
        Some(value) => vec![value.clone()],
        None => Vec::new(),
    };
    let names = listed(dictionary.get("Filter").or_else(|| dictionary.get("F")));
    let parameters = listed(dictionary.get("DecodeParms").or_else(|| dictionary.get("DP")));
    let named = |(place, name): (usize, &Value)| {
        let of_it = parameters.get(place).filter(|value| matches!(value, Value::Dictionary(_))).cloned();
        Some((full_name(name.name()?).to_owned(), of_it))
    };
    names.iter().enumerate().filter_map(named).collect()
}

/// Short names are those of pictures within a page's content.
fn full_name(name: &str) -> &str {
    match name {
        "Fl" => "FlateDecode",
        "DCT" => "DCTDecode",
        "CCF" => "CCITTFaxDecode",
        other => other,
    }
}

/// The inflated bytes as they come.
pub fn inflating(bytes: &[u8]) -> impl Read + '_ {
    ZlibDecoder::new(bytes)
}

/// All inflated bytes, refused where they are more than `most`.
///
/// # Errors
/// Damaged, or too much.
pub fn inflated(bytes: &[u8], most: usize) -> Result<Vec<u8>, PdfFault> {
    let mut found = Vec::new();
    inflating(bytes).take(most as u64 + 1).read_to_end(&mut found).map_err(|_| PdfFault::Damaged)?;
    if found.len() > most { Err(PdfFault::TooMuch) } else { Ok(found) }
}
