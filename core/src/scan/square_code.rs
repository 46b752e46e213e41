//! The text of a square code from its modules, with what was misread mended (ISO/IEC 18004, sides 21 to 33, level Q),
//! for pages that are none of the plan's. It knows nothing of pictures or of what a text means.

use super::reed_solomon::mend;

/// Blocks, and bytes of data and of correction in each, by version from 1 on, at level Q.
const BLOCKS: [(usize, usize, usize); 4] = [(1, 13, 13), (1, 22, 22), (2, 17, 18), (2, 24, 26)];
/// Level Q in the two bits that say the level, the code that guards the five bits, and what lies over them.
const LEVEL_Q: u32 = 0b11;
const GUARD: u32 = 0b101_0011_0111;
const OVER_FORMAT: u32 = 0b101_0100_0001_0010;
/// So many of the 30 modules of the format may be wrong.
const WRONG_IN_FORMAT: u32 = 6;
const LETTERS: &[u8; 45] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

/// The text, where it can be told for sure.
pub fn text_of(dark: &[bool], side: usize) -> Option<String> {
    let version = side.checked_sub(17).filter(|rest| rest % 4 == 0)? / 4;
    let (blocks, data, guard) = *BLOCKS.get(version.checked_sub(1)?)?;
    let mask = mask_of(dark, side)?;
    let bytes = bytes_of(dark, side, mask);
    let mut text = Vec::new();
    for block in 0..blocks {
        let byte = |place: usize| bytes.get(place * blocks + block).copied();
        let read: Option<Vec<u8>> = (0..data + guard).map(byte).collect();
        text.extend_from_slice(&mend(read?, guard)?[..data]);
    }
    said(&text)
}

/// Which of the eight masks lies over the data: the one whose format is nearest.
fn mask_of(dark: &[bool], side: usize) -> Option<u32> {
    let at = |(x, y): (usize, usize)| u32::from(dark[y * side + x]);
    let wrong = |mask: &u32| -> u32 {
        let format = format_of(LEVEL_Q << 3 | mask);
        let copies = (0..15).map(|bit| [first_copy(bit), second_copy(bit, side)].map(|place| (at(place), bit)));
        copies.flatten().filter(|(module, bit)| *module != format >> bit & 1).count() as u32
    };
    let mask = (0..8).min_by_key(wrong)?;
    (wrong(&mask) <= WRONG_IN_FORMAT).then_some(mask)
}

fn format_of(five_bits: u32) -> u32 {
    let shifted = five_bits << 10;
    let rest =
        (0..5).rev().fold(shifted, |rest, bit| if rest >> (bit + 10) & 1 == 1 { rest ^ GUARD << bit } else { rest });
    (shifted | rest) ^ OVER_FORMAT
}

/// Column and row of a bit of the format beside the upper left corner, from the lowest bit on.
fn first_copy(bit: usize) -> (usize, usize) {
    match bit {
        0..=5 => (8, bit),
        6 => (8, 7),
        7 => (8, 8),
        8 => (7, 8),
        _ => (14 - bit, 8),
    }
}

/// The same beside the other two corners.
fn second_copy(bit: usize, side: usize) -> (usize, usize) {
    if bit < 8 { (side - 1 - bit, 8) } else { (8, side - 15 + bit) }
}

fn is_masked(mask: u32, x: usize, y: usize) -> bool {
    let rest = match mask {
        0 => (x + y) % 2,
        1 => y % 2,
        2 => x % 3,
        3 => (x + y) % 3,
        4 => (y / 2 + x / 3) % 2,
        5 => x * y % 2 + x * y % 3,
        6 => (x * y % 2 + x * y % 3) % 2,
        _ => ((x + y) % 2 + x * y % 3) % 2,
    };
    rest == 0
}

/// Whether a module belongs to corners, dotted lines, the small square or the format.
fn is_fixed(x: usize, y: usize, side: usize) -> bool {
    let corner = (y < 9 && (x < 9 || x + 8 >= side)) || (x < 9 && y + 8 >= side);
    let in_small_square = |at: usize| (side - 9..side - 4).contains(&at);
    corner || x == 6 || y == 6 || (side > 21 && in_small_square(x) && in_small_square(y))
}

/// The bytes in the order of the code: two columns at a time from the right, up and down in turn.
fn bytes_of(dark: &[bool], side: usize, mask: u32) -> Vec<u8> {
    let rights = (1..side).rev().filter(|x| if *x > 6 { x % 2 == 0 } else { x % 2 == 1 });
    let places = rights.enumerate().flat_map(|(turn, right)| {
        (0..side).flat_map(move |step| {
            let y = if turn % 2 == 0 { side - 1 - step } else { step };
            [(right, y), (right - 1, y)]
        })
    });
    let bits: Vec<bool> = places
        .filter(|(x, y)| !is_fixed(*x, *y, side))
        .map(|(x, y)| dark[y * side + x] != is_masked(mask, x, y))
        .collect();
    bits.chunks_exact(8).map(|byte| byte.iter().fold(0, |byte, bit| byte << 1 | u8::from(*bit))).collect()
}

struct Bits<'a> {
    bytes: &'a [u8],
    taken: usize,
}

impl Bits<'_> {
    fn take(&mut self, count: usize) -> Option<usize> {
        let mut value = 0;
        for _ in 0..count {
            let byte = self.bytes.get(self.taken / 8)?;
            value = value << 1 | usize::from(byte >> (7 - self.taken % 8) & 1);
            self.taken += 1;
        }
        Some(value)
    }

    /// Signs of one alphabet, so many at a time in so many bits; fewer at the end.
    fn signs(&mut self, count: usize, base: usize, widths: &[usize]) -> Option<Vec<usize>> {
        let mut signs = Vec::new();
        while signs.len() < count {
            let together = widths.len().min(count - signs.len());
            let mut value = self.take(widths[together - 1])?;
            let start = signs.len();
            for _ in 0..together {
                signs.insert(start, value % base);
                value /= base;
            }
        }
        Some(signs)
    }
}

/// The text in the data: pieces of digits, of capital letters and of bytes.
fn said(data: &[u8]) -> Option<String> {
    let mut bits = Bits { bytes: data, taken: 0 };
    let mut text = String::new();
    while let Some(kind) = bits.take(4).filter(|kind| *kind != 0) {
        let (counts, base, widths): (usize, usize, &[usize]) = match kind {
            0b0001 => (10, 10, &[4, 7, 10]),
            0b0010 => (9, 45, &[6, 11]),
            0b0100 => (8, 256, &[8]),
            _ => return None,
        };
        let count = bits.take(counts)?;
        let signs = bits.signs(count, base, widths)?;
        let letter = |sign: usize| if base == 256 { Some(sign as u8) } else { LETTERS.get(sign).copied() };
        let letters: Option<Vec<u8>> = signs.into_iter().map(letter).collect();
        text.push_str(std::str::from_utf8(&letters?).ok()?);
    }
    Some(text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use qrcode::{Color, EcLevel, QrCode};

    /// The encoder of the crate qrcode, which knows nothing of this file, tells what must come out.
    fn drawn(text: &str) -> (Vec<bool>, usize) {
        let code = QrCode::with_error_correction_level(text, EcLevel::Q).expect("a short text");
        (code.to_colors().into_iter().map(|color| color == Color::Dark).collect(), code.width())
    }

    #[test]
    fn codes_of_every_side_are_read_and_mended() {
        for text in [
            "LK1:A:1:1:278",
            "LK1:3FA9C1:2:12:278:3:1:2:0F3",
            "LK3:3FA9C1:2:12:278:3:1:2:L:22:7K2QX:90AB",
            "LK3:3FA9C1:12:112:27833333333333333:13:1:2:L:22:7K2QX:90AB",
            "https://mango.example/a-b",
        ] {
            let (mut dark, side) = drawn(text);
            assert_eq!(text_of(&dark, side).as_deref(), Some(text), "{side}");
            // Four modules of four bytes: every code of level Q mends six wrong bytes a block at least.
            [side * 12 + 3, side * 13 + 20, side * 16 + 12, side * (side - 1) + side - 1]
                .iter()
                .for_each(|place| dark[*place] = !dark[*place]);
            assert_eq!(text_of(&dark, side).as_deref(), Some(text), "{side} soiled");
            (side * 9..side * (side - 8)).step_by(3).for_each(|place| dark[place] = !dark[place]);
            assert_eq!(text_of(&dark, side), None, "{side} ruined");
        }
        assert_eq!(text_of(&[], 0), None);
        assert_eq!(text_of(&[false; 57 * 57], 57), None);
    }
}
