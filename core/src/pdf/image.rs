//! One picture of a PDF: which coding it has, and what is made of it. It knows nothing of pages.

use super::faults::PdfFault;
use super::image_stream::ImageStream;
use super::objects::Value;
use super::pixels::{PixelKind, grey_picture};
use super::stream::{codings, inflated};
use crate::scan::{MOST_PIXELS, Picture, check_size};
use fax::decoder::{DecodeStatus, Group4Decoder};
use std::borrow::Cow;
use std::convert::Infallible;

/// What a page shows.
#[derive(Clone, Debug, PartialEq)]
pub enum PagePicture {
    /// A whole JPEG file, for whoever has a decoder.
    Jpeg(Vec<u8>),
    /// Grey levels.
    Grey(Picture),
}

/// The picture, decoded but for JPEG.
///
/// # Errors
/// What is wrong with it.
pub fn picture_of(image: &ImageStream) -> Result<PagePicture, PdfFault> {
    check_size(image.width, image.height)?;
    let mut codings = codings(&image.dictionary);
    let last = codings.pop();
    // A JPEG or fax picture may be deflated once more around it.
    let outer: Cow<[u8]> = match codings.as_slice() {
        [] => Cow::Borrowed(image.raw),
        [(name, None)] if name == "FlateDecode" => Cow::Owned(inflated(image.raw, MOST_PIXELS as usize)?),
        [(name, _), ..] => return Err(PdfFault::Coding(name.clone())),
    };
    match last {
        Some((name, _)) if name == "DCTDecode" => jpeg(&outer, image),
        Some((name, parameters)) if name == "CCITTFaxDecode" => fax_picture(&outer, image, parameters.as_ref()),
        Some((name, parameters)) if name == "FlateDecode" => plain(&outer, image, true, parameters.as_ref()),
        None => plain(&outer, image, false, None),
        Some((name, _)) => Err(PdfFault::Coding(name)),
    }
}

fn jpeg(bytes: &[u8], image: &ImageStream) -> Result<PagePicture, PdfFault> {
    if is_turned(image) {
        return Err(PdfFault::Pixels);
    }
    if bytes.starts_with(&[0xff, 0xd8]) { Ok(PagePicture::Jpeg(bytes.to_vec())) } else { Err(PdfFault::Damaged) }
}

fn plain(
    bytes: &[u8],
    image: &ImageStream,
    is_deflated: bool,
    parameters: Option<&Value>,
) -> Result<PagePicture, PdfFault> {
    let kind = PixelKind::of(image, is_turned(image)).ok_or(PdfFault::Pixels)?;
    grey_picture(bytes, image, &kind, is_deflated, parameters).map(PagePicture::Grey)
}

/// Whether 0 is light and 1 is dark.
fn is_turned(image: &ImageStream) -> bool {
    let Some(Value::List(ends)) = image.dictionary.get("Decode") else { return false };
    matches!(ends.as_slice(), [Value::Number(low), Value::Number(high), ..] if low > high)
}

/// A fax picture of group 4.
fn fax_picture(bytes: &[u8], image: &ImageStream, parameters: Option<&Value>) -> Result<PagePicture, PdfFault> {
    let number =
        |key: &str, missing: f64| parameters.and_then(|list| list.get(key)).and_then(Value::number).unwrap_or(missing);
    let is_set = |key: &str| parameters.and_then(|list| list.get(key)).is_some_and(Value::is_true);
    if number("K", 0.0) >= 0.0 || is_set("EncodedByteAlign") {
        return Err(PdfFault::Coding("CCITTFaxDecode of group 3 or in whole bytes".to_owned()));
    }
    if number("Columns", 1728.0) != image.width as f64 {
        return Err(PdfFault::Damaged);
    }
    let (width, height) = (image.width as usize, image.height as usize);
    // White is 0 in a fax and becomes 1, which is light, but where the picture says otherwise.
    let is_negative = is_set("BlackIs1") != is_turned(image);
    let (white, black) = if is_negative { (0, 255) } else { (255, 0) };
    let mut luma = Vec::new();
    let input = bytes.iter().map(|byte| Ok::<u8, Infallible>(*byte));
    let mut decoder = Group4Decoder::new(input, width as u32).map_err(|_| PdfFault::Damaged)?;
    for line in 0..height {
        match decoder.advance() {
            Ok(DecodeStatus::Incomplete) => luma.resize((line + 1) * width, white),
            Ok(DecodeStatus::End) | Err(_) => return Err(PdfFault::Damaged),
        }
        blacken(&mut luma[line * width..], decoder.transition(), black);
    }
    Ok(PagePicture::Grey(Picture::new(width, height, luma)?))
}

/// Fills from every first change of colour to the next; the last piece may go on to the end of the line.
fn blacken(line: &mut [u8], changes: &[u32], black: u8) {
    let width = line.len();
    for pair in changes.chunks(2) {
        let start = (pair[0] as usize).min(width);
        let end = pair.get(1).map_or(width, |end| *end as usize).clamp(start, width);
        line[start..end].fill(black);
    }
}
