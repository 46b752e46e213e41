//! Bytes to text: what kind of file it is and in which encoding. It knows nothing of tables.

use super::encodings::TextEncoding;
use std::borrow::Cow;

/// A file as text.
pub(in crate::read) struct Decoded<'a> {
    pub text: Cow<'a, str>,
    /// "UTF-8", "UTF-16LE", "UTF-16BE" or "Windows-1252".
    pub encoding: &'static str,
    /// Whether the bytes themselves said which encoding it is (a byte order mark, or they are valid UTF-8).
    pub sure: bool,
    /// Signs that could not be decoded and stand as U+FFFD in the text.
    pub damaged_signs: usize,
}

/// Why the bytes are no text table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum NotText {
    Empty,
    /// The kind of file that its first bytes announce.
    Known(FileKind),
    /// Binary of no kind that is known here.
    Unknown,
}

/// Kinds of files that arrive under the wrong name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum FileKind {
    /// Excel 2007 and later, and everything else in a zip container.
    Workbook,
    OpenDocument,
    Zip,
    /// Excel 97 to 2003, Word and the like.
    OldOffice,
    /// An encrypted package in the container of the old programs: a workbook with a password.
    LockedOffice,
    Pdf,
    Image,
    Html,
    Rtf,
    Compressed,
}

impl FileKind {
    /// Whether the file is a zip container, in which a workbook may be.
    pub fn is_archive(self) -> bool {
        matches!(self, FileKind::Workbook | FileKind::OpenDocument | FileKind::Zip)
    }
}

/// Magic numbers as published for each format.
const MAGIC: [(&[u8], FileKind); 14] = [
    (b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1", FileKind::OldOffice),
    (b"%PDF", FileKind::Pdf),
    (b"\x89PNG", FileKind::Image),
    (b"\xFF\xD8\xFF", FileKind::Image),
    (b"GIF8", FileKind::Image),
    (b"BM\x00\x00", FileKind::Image),
    (b"II*\x00", FileKind::Image),
    (b"MM\x00*", FileKind::Image),
    (b"{\\rtf", FileKind::Rtf),
    (b"\x1F\x8B", FileKind::Compressed),
    (b"7z\xBC\xAF\x27\x1C", FileKind::Compressed),
    (b"Rar!", FileKind::Compressed),
    (b"<!DOCTYPE html", FileKind::Html),
    (b"<html", FileKind::Html),
];

/// A byte order mark decides; else a pattern of NULs means UTF-16; else strict UTF-8; else Windows-1252.
pub(in crate::read) fn decode(bytes: &[u8]) -> Result<Decoded<'_>, NotText> {
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return Err(NotText::Empty);
    }
    if let Some(kind) = known_kind(bytes) {
        return Err(NotText::Known(kind));
    }
    if let Some((encoding, mark_length)) = TextEncoding::of_mark(bytes) {
        return Ok(by(encoding, &bytes[mark_length..], true));
    }
    if let Some(encoding) = utf16_by_nuls(bytes) {
        return Ok(by(encoding, bytes, false));
    }
    if bytes.iter().take(4096).filter(|byte| **byte == 0).count() > 0 {
        return Err(NotText::Unknown);
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => {
            Ok(Decoded { text: Cow::Borrowed(text), encoding: TextEncoding::Utf8.name(), sure: true, damaged_signs: 0 })
        }
        Err(_) if looks_binary(bytes) => Err(NotText::Unknown),
        Err(_) => Ok(by(TextEncoding::Windows1252, bytes, false)),
    }
}

fn by(encoding: TextEncoding, bytes: &[u8], sure: bool) -> Decoded<'_> {
    let text = encoding.decode(bytes);
    let damaged_signs = text.matches('\u{fffd}').count();
    Decoded { text, encoding: encoding.name(), sure, damaged_signs }
}

fn known_kind(bytes: &[u8]) -> Option<FileKind> {
    if bytes.starts_with(b"PK\x03\x04") {
        let head = &bytes[..bytes.len().min(4096)];
        let has = |word: &[u8]| head.windows(word.len()).any(|window| window == word);
        return Some(match () {
            () if has(b"opendocument") => FileKind::OpenDocument,
            () if has(b"[Content_Types].xml") || has(b"xl/") => FileKind::Workbook,
            () => FileKind::Zip,
        });
    }
    let start = bytes.trim_ascii_start();
    let announces =
        |magic: &[u8]| bytes.starts_with(magic) || (magic[0] == b'<' && starts_with_ignoring_case(start, magic));
    if bytes.starts_with(MAGIC[0].0) && holds_encrypted_package(bytes) {
        return Some(FileKind::LockedOffice);
    }
    let riff_image = bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP");
    let known = MAGIC.iter().find(|(magic, _)| announces(magic)).map(|(_, kind)| *kind);
    known.or(riff_image.then_some(FileKind::Image))
}

/// The name of the stream in which an encrypted package stands (MS-OFFCRYPTO), in UTF-16 as the directory has it.
fn holds_encrypted_package(bytes: &[u8]) -> bool {
    let name: Vec<u8> = "EncryptedPackage".encode_utf16().flat_map(u16::to_le_bytes).collect();
    memchr::memmem::find(bytes, &name).is_some()
}

fn starts_with_ignoring_case(bytes: &[u8], start: &[u8]) -> bool {
    bytes.get(..start.len()).is_some_and(|head| head.eq_ignore_ascii_case(start))
}

/// Text of mostly Latin letters in UTF-16 has a NUL in every second byte.
fn utf16_by_nuls(bytes: &[u8]) -> Option<TextEncoding> {
    let head = &bytes[..bytes.len().min(4096) & !1];
    let pairs = head.len() / 2;
    let nuls = |offset: usize| head.iter().skip(offset).step_by(2).filter(|byte| **byte == 0).count();
    let (first, second) = (nuls(0), nuls(1));
    match () {
        () if pairs >= 2 && second * 10 >= pairs * 7 && first * 10 <= pairs => Some(TextEncoding::Utf16LittleEndian),
        () if pairs >= 2 && first * 10 >= pairs * 7 && second * 10 <= pairs => Some(TextEncoding::Utf16BigEndian),
        () => None,
    }
}

/// More than one byte in twenty is a control sign that no text table holds.
fn looks_binary(bytes: &[u8]) -> bool {
    let head = &bytes[..bytes.len().min(4096)];
    let odd = head.iter().filter(|byte| **byte < 0x20 && !matches!(**byte, b'\t' | b'\n' | b'\r')).count();
    odd * 20 > head.len()
}
