//! The four encodings that score files arrive in, decoded to text. It does not choose between them.
//!
//! A general library would bring tables for every script of the world into the page, a quarter of its size; the test
//! below holds these few lines to that library (encoding_rs), byte for byte.

use std::borrow::Cow;

/// An encoding of text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum TextEncoding {
    Utf8,
    Utf16LittleEndian,
    Utf16BigEndian,
    Windows1252,
}

/// What Windows-1252 has at 0x80 to 0x9F (WHATWG Encoding Standard, index windows-1252).
const WINDOWS_1252_HIGH: [char; 32] = [
    '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', //
    '\u{90}', '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
];

impl TextEncoding {
    /// The name by which the encoding is registered.
    pub fn name(self) -> &'static str {
        match self {
            TextEncoding::Utf8 => "UTF-8",
            TextEncoding::Utf16LittleEndian => "UTF-16LE",
            TextEncoding::Utf16BigEndian => "UTF-16BE",
            TextEncoding::Windows1252 => "Windows-1252",
        }
    }

    /// The encoding that a byte order mark announces, with the length of the mark in bytes.
    pub fn of_mark(bytes: &[u8]) -> Option<(Self, usize)> {
        match bytes {
            [0xEF, 0xBB, 0xBF, ..] => Some((TextEncoding::Utf8, 3)),
            [0xFF, 0xFE, ..] => Some((TextEncoding::Utf16LittleEndian, 2)),
            [0xFE, 0xFF, ..] => Some((TextEncoding::Utf16BigEndian, 2)),
            _ => None,
        }
    }

    /// The text; what cannot be decoded stands as U+FFFD.
    pub fn decode(self, bytes: &[u8]) -> Cow<'_, str> {
        match self {
            TextEncoding::Utf8 => String::from_utf8_lossy(bytes),
            TextEncoding::Utf16LittleEndian => Cow::Owned(utf16(bytes, u16::from_le_bytes)),
            TextEncoding::Utf16BigEndian => Cow::Owned(utf16(bytes, u16::from_be_bytes)),
            TextEncoding::Windows1252 => Cow::Owned(bytes.iter().map(|byte| windows_1252(*byte)).collect()),
        }
    }
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> String {
    let (pairs, rest) = bytes.as_chunks::<2>();
    let signs = char::decode_utf16(pairs.iter().map(|pair| unit(*pair)));
    let mut text: String = signs.map(|sign| sign.unwrap_or(char::REPLACEMENT_CHARACTER)).collect();
    // The first half of a sign at the very end and a byte too few count as one fault, as in the WHATWG standard.
    let half_a_sign = pairs.last().is_some_and(|pair| (0xD800..0xDC00).contains(&unit(*pair)));
    if !rest.is_empty() && !half_a_sign {
        text.push(char::REPLACEMENT_CHARACTER);
    }
    text
}

fn windows_1252(byte: u8) -> char {
    match byte {
        0x80..=0x9F => WINDOWS_1252_HIGH[usize::from(byte) - 0x80],
        _ => char::from(byte),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::random::Random;

    #[test]
    fn every_encoding_agrees_with_a_general_library_on_any_bytes() {
        // encoding_rs 0.8, decode_without_bom_handling, as the independent second opinion.
        let pairs = [
            (TextEncoding::Utf8, encoding_rs::UTF_8),
            (TextEncoding::Utf16LittleEndian, encoding_rs::UTF_16LE),
            (TextEncoding::Utf16BigEndian, encoding_rs::UTF_16BE),
            (TextEncoding::Windows1252, encoding_rs::WINDOWS_1252),
        ];
        let mut random = Random::seeded(1252);
        for round in 0..400_usize {
            let all: Vec<u8> = (0..=255).collect();
            let drawn: Vec<u8> = (0..round % 97).map(|_| random.below(256) as u8).collect();
            for bytes in [&all, &drawn] {
                for (ours, theirs) in pairs {
                    let (expected, _) = theirs.decode_without_bom_handling(bytes);
                    assert_eq!(ours.decode(bytes), expected, "{} on {bytes:?}", ours.name());
                }
            }
        }
    }
}
