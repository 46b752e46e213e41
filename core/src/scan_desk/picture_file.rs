//! What a file seems to be, and how large a picture it holds, told from its first bytes: so that a picture that is too
//! large is refused before it is decoded. It decodes nothing.
//!
//! Sources: PNG (ISO/IEC 15948, chunks IHDR and acTL), JPEG (ITU-T T.81, markers SOF0 to SOF15), WebP (its container
//! specification: VP8, VP8L, VP8X), and the first bytes that the other kinds are known by.

use crate::scan::check_size;

/// No file of a page is larger: a picture of 64 million pixels takes less.
pub const MOST_BYTES: u64 = 100_000_000;

/// What can be done with a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PictureFile {
    /// A still picture that a browser decodes, of a size that is taken.
    Picture { width: u64, height: u64 },
    /// A PDF, whose pages are taken out first.
    Pdf,
}

/// What a file is.
///
/// # Errors
/// Why it isn't taken, and what to do, in a sentence or two.
pub fn picture_file(bytes: &[u8]) -> Result<PictureFile, String> {
    let size = match bytes {
        [] => return Err("The file is empty.".to_owned()),
        [b'%', b'P', b'D', b'F', ..] => return Ok(PictureFile::Pdf),
        [0xff, 0xd8, 0xff, ..] => jpeg_size(bytes),
        [0x89, b'P', b'N', b'G', ..] => png_size(bytes)?,
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => webp_size(bytes)?,
        other => return Err(other_kind(other)),
    };
    let (width, height) = size.ok_or("The picture doesn't say its size: the file is damaged. Save it anew.")?;
    check_size(width, height).map_err(|fault| fault.to_string())?;
    Ok(PictureFile::Picture { width, height })
}

fn other_kind(bytes: &[u8]) -> String {
    let name = match bytes {
        [b'I', b'I', 42, 0, ..] | [b'M', b'M', 0, 42, ..] => "a TIFF picture",
        [b'G', b'I', b'F', b'8', ..] => "a GIF picture",
        [b'B', b'M', ..] => "a BMP picture",
        [_, _, _, _, b'f', b't', b'y', b'p', ..] => "a HEIC or AVIF picture, or a film",
        _ => return "The file is no picture that is known here. Save it as JPEG or PNG.".to_owned(),
    };
    format!("The file is {name}, which isn't read here. Save or export it as JPEG or PNG and choose that file.")
}

fn whole_number(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0, |number, byte| number << 8 | u64::from(*byte))
}

fn reversed_number(bytes: &[u8]) -> u64 {
    bytes.iter().rev().fold(0, |number, byte| number << 8 | u64::from(*byte))
}

/// A size; nothing where the bytes end before it.
type Size = Option<(u64, u64)>;

/// # Errors
/// A film.
fn png_size(bytes: &[u8]) -> Result<Size, String> {
    let mut at = 8;
    let mut size = None;
    while let (Some(length), Some(kind)) = (bytes.get(at..at + 4), bytes.get(at + 4..at + 8)) {
        match kind {
            b"IHDR" => {
                size = bytes.get(at + 8..at + 16).map(|side| (whole_number(&side[..4]), whole_number(&side[4..])))
            }
            b"acTL" => return Err(film()),
            b"IDAT" => break,
            _ => {}
        }
        at = at.saturating_add(12 + whole_number(length) as usize);
    }
    Ok(size)
}

fn film() -> String {
    "The picture is a film. Save the page as a still picture.".to_owned()
}

/// Walks the segments up to the one that starts a frame.
fn jpeg_size(bytes: &[u8]) -> Size {
    let mut at = 2;
    loop {
        // Any number of fill bytes may stand before a marker.
        while bytes.get(at) == Some(&0xff) && bytes.get(at + 1) == Some(&0xff) {
            at += 1;
        }
        let [0xff, marker] = *bytes.get(at..at + 2)? else { return None };
        let starts_frame = (0xc0..=0xcf).contains(&marker) && !matches!(marker, 0xc4 | 0xc8 | 0xcc);
        if starts_frame {
            let sides = bytes.get(at + 5..at + 9)?;
            return Some((whole_number(&sides[2..]), whole_number(&sides[..2])));
        }
        let stands_alone = matches!(marker, 0x01 | 0xd0..=0xd8);
        let length = if stands_alone { 0 } else { whole_number(bytes.get(at + 2..at + 4)?) as usize };
        at += 2 + length;
    }
}

/// # Errors
/// A film.
fn webp_size(bytes: &[u8]) -> Result<Size, String> {
    Ok(match bytes.get(12..16) {
        Some(b"VP8 ") => bytes
            .get(26..30)
            .map(|sides| (reversed_number(&sides[..2]) & 0x3fff, reversed_number(&sides[2..]) & 0x3fff)),
        Some(b"VP8L") => bytes.get(21..25).map(|sides| {
            let bits = reversed_number(sides);
            ((bits & 0x3fff) + 1, (bits >> 14 & 0x3fff) + 1)
        }),
        Some(b"VP8X") if bytes.get(20).is_some_and(|flags| flags & 2 != 0) => return Err(film()),
        Some(b"VP8X") => {
            bytes.get(24..30).map(|sides| (reversed_number(&sides[..3]) + 1, reversed_number(&sides[3..]) + 1))
        }
        _ => None,
    })
}
