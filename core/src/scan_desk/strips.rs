//! The small strips that are kept for a person: packed as text for a browser's store, and as a picture that a page can
//! show. It knows nothing of why a strip is kept.

use crate::scan::SmallStrip;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Strips by page code and row number.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptStrips {
    /// Packed, by `place_name`.
    strips: BTreeMap<String, String>,
}

/// Digits of base 64 (RFC 4648).
const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
/// Equal samples that one digit stands for at most.
const LONGEST_RUN: u8 = 8;
/// Bytes of a bitmap file before its pixels: its own head, the head of the bitmap, sixteen colours.
const BITMAP_HEAD: usize = 14 + 40 + 16 * 4;

impl KeptStrips {
    pub fn keep(&mut self, code_text: &str, row: u32, strip: &SmallStrip) {
        self.strips.insert(place_name(code_text, row), packed(strip));
    }

    pub fn drop_strip(&mut self, code_text: &str, row: u32) {
        self.strips.remove(&place_name(code_text, row));
    }

    pub fn has(&self, code_text: &str, row: u32) -> bool {
        self.strips.contains_key(&place_name(code_text, row))
    }

    /// The strip as the address of a picture; nothing where it was not kept.
    pub fn address(&self, code_text: &str, row: u32) -> Option<String> {
        let strip = unpacked(self.strips.get(&place_name(code_text, row))?)?;
        Some(format!("data:image/bmp;base64,{}", base_64(&bitmap(&strip))))
    }

    pub fn len(&self) -> usize {
        self.strips.len()
    }

    pub fn is_empty(&self) -> bool {
        self.strips.is_empty()
    }
}

fn place_name(code_text: &str, row: u32) -> String {
    format!("{code_text}/{row}")
}

/// One digit of base 64 a run of equal samples: three bits of shade, three of length.
fn packed(strip: &SmallStrip) -> String {
    let mut text = String::new();
    let mut levels = strip.levels.iter().peekable();
    while let Some(level) = levels.next() {
        let mut more = 0;
        while more + 1 < LONGEST_RUN && levels.next_if_eq(&level).is_some() {
            more += 1;
        }
        text.push(char::from(DIGITS[usize::from(level * LONGEST_RUN + more)]));
    }
    text
}

/// Nothing where the text is no packed strip.
fn unpacked(text: &str) -> Option<SmallStrip> {
    let mut levels = Vec::with_capacity(SmallStrip::WIDTH_PX * SmallStrip::HEIGHT_PX);
    for digit in text.bytes() {
        let value = DIGITS.iter().position(|known| *known == digit)? as u8;
        levels.extend(std::iter::repeat_n(value / LONGEST_RUN, usize::from(value % LONGEST_RUN) + 1));
    }
    (levels.len() == SmallStrip::WIDTH_PX * SmallStrip::HEIGHT_PX).then_some(SmallStrip { levels })
}

/// A bitmap file with sixteen shades: the plainest form that every browser shows.
fn bitmap(strip: &SmallStrip) -> Vec<u8> {
    let (width, height) = (SmallStrip::WIDTH_PX, SmallStrip::HEIGHT_PX);
    // Two pixels a byte, each line filled up to four bytes.
    let line_bytes = width.div_ceil(8) * 4;
    let size = BITMAP_HEAD + line_bytes * height;
    let mut bytes = b"BM".to_vec();
    let mut put = |number: usize, length: usize| bytes.extend_from_slice(&(number as u32).to_le_bytes()[..length]);
    [size, 0, BITMAP_HEAD].into_iter().for_each(|number| put(number, 4));
    [40, width, height].into_iter().for_each(|number| put(number, 4));
    [1, 4].into_iter().for_each(|number| put(number, 2));
    [0, line_bytes * height, 0, 0, 16, 0].into_iter().for_each(|number| put(number, 4));
    for shade in 0..16_u8 {
        let grey = 255 - (shade.min(SmallStrip::LEVELS - 1) as usize * 255) / usize::from(SmallStrip::LEVELS - 1);
        put(grey << 16 | grey << 8 | grey, 4);
    }
    // The lowest line stands first.
    for line in strip.levels.chunks(width).rev() {
        let pairs = line.chunks(2).map(|pair| pair[0] << 4 | pair.get(1).copied().unwrap_or(0));
        bytes.extend(pairs.chain(std::iter::repeat(0)).take(line_bytes));
    }
    bytes
}

fn base_64(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let joined = (0..3).fold(0_u32, |joined, at| joined << 8 | u32::from(three.get(at).copied().unwrap_or(0)));
        for digit in 0..4 {
            let value = DIGITS[(joined >> (18 - 6 * digit) & 63) as usize];
            text.push(if digit > three.len() { '=' } else { char::from(value) });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base_64_is_that_of_the_standard() {
        // RFC 4648, section 10.
        let cases =
            [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg=="), ("foobar", "Zm9vYmFy")];
        for (plain, coded) in cases {
            assert_eq!(base_64(plain.as_bytes()), coded);
        }
    }

    #[test]
    fn a_strip_comes_back_and_broken_text_gives_none() {
        let levels: Vec<u8> = (0..SmallStrip::WIDTH_PX * SmallStrip::HEIGHT_PX).map(|at| (at / 7 % 8) as u8).collect();
        let strip = SmallStrip { levels };
        let text = packed(&strip);
        assert_eq!(unpacked(&text), Some(strip.clone()));
        assert_eq!((unpacked(&text[1..]), unpacked("?")), (None, None));
        let mut kept = KeptStrips::default();
        kept.keep("LK1:A", 3, &strip);
        let address = kept.address("LK1:A", 3).expect("it was kept");
        assert!(address.starts_with("data:image/bmp;base64,Qk"), "{}", &address[..40]);
        assert_eq!(kept.address("LK1:A", 4), None);
    }
}
