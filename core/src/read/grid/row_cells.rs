//! The cells of one row of a table, and a cell as a word that is quickly compared. It knows nothing of what they mean.

/// The cells of one row, borrowing the list of their ends.
#[derive(Clone, Copy)]
pub(in crate::read) struct RowCells<'t> {
    /// Number of the row in the table, from 0.
    pub row: usize,
    pub(in crate::read) bytes: &'t [u8],
    pub(in crate::read) start: u32,
    pub(in crate::read) ends: &'t [u32],
}

/// A cell with its first sixteen bytes as one number, so that names are compared without a call.
#[derive(Clone, Copy)]
pub(in crate::read) struct Word<'t> {
    pub text: &'t [u8],
    pub first_bytes: u128,
}

impl<'t> RowCells<'t> {
    /// How many cells the row has.
    #[inline]
    pub fn width(self) -> usize {
        self.ends.len()
    }

    /// A cell as it stands, blanks and all; empty where the row is too short.
    #[inline]
    pub fn raw(self, column: usize) -> &'t [u8] {
        let Some(end) = self.ends.get(column) else { return &[] };
        let start = if column == 0 { self.start } else { self.ends[column - 1] + 1 };
        &self.bytes[start as usize..*end as usize]
    }

    /// A cell without the blanks around it.
    #[inline]
    pub fn cell(self, column: usize) -> &'t [u8] {
        trimmed(self.raw(column))
    }

    /// A cell as it stands, ready to be compared with names.
    #[inline]
    pub fn word(self, column: usize) -> Word<'t> {
        let text = self.raw(column);
        let start = self.ends.get(column).map_or(0, |end| *end as usize) - text.len();
        let window = self.bytes.get(start..start + 16).and_then(|window| <[u8; 16]>::try_from(window).ok());
        match window {
            Some(window) if text.len() >= 16 => Word { text, first_bytes: u128::from_le_bytes(window) },
            Some(window) => {
                let mask = (1_u128 << (8 * text.len())) - 1;
                Word { text, first_bytes: u128::from_le_bytes(window) & mask }
            }
            None => Word::of(text),
        }
    }
}

impl<'t> Word<'t> {
    /// A text that stands in no table.
    pub fn of(text: &'t [u8]) -> Self {
        let mut first = [0; 16];
        let length = text.len().min(16);
        first[..length].copy_from_slice(&text[..length]);
        Word { text, first_bytes: u128::from_le_bytes(first) }
    }
}

/// A cell without blanks around it. No-break spaces, zero-width spaces and byte order marks count as blanks.
#[inline]
pub(in crate::read) fn trimmed(cell: &[u8]) -> &[u8] {
    let plain = |byte: &u8| *byte > b' ' && *byte < 0x80;
    match (cell.first(), cell.last()) {
        (Some(first), Some(last)) if plain(first) && plain(last) => cell,
        _ => trimmed_with_care(cell),
    }
}

fn trimmed_with_care(cell: &[u8]) -> &[u8] {
    let blank = |c: char| c.is_whitespace() || matches!(c, '\u{feff}' | '\u{200b}' | '\0');
    std::str::from_utf8(cell).map_or(cell.trim_ascii(), |text| text.trim_matches(blank).as_bytes())
}
