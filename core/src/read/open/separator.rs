//! Which character parts the cells: the one under which the lines of the whole file agree best.

use crate::read::grid::table::Table;
use std::borrow::Cow;

const SEPARATORS: [u8; 4] = [b',', b';', b'\t', b'|'];

/// Bytes surveyed at from either end of a long file.
const SAMPLED_BYTES: usize = 60_000;

/// The separator under which the most lines of the text have the same number of cells; `None` where no candidate
/// gives two columns.
pub(in crate::read) fn guess(text: &str) -> Option<u8> {
    let sample = sampled(text);
    let fits: Vec<Fit> = SEPARATORS.iter().filter_map(|separator| Fit::of(&sample, *separator)).collect();
    let best_share = fits.iter().map(|fit| fit.share).fold(0.0, f64::max);
    // A decimal comma makes columns as well, but always fewer than the separator beside it.
    let close = fits.iter().filter(|fit| fit.share >= best_share - 0.1);
    close.max_by_key(|fit| fit.width).map(|fit| fit.separator)
}

/// The separator that a first line such as `sep=;` states (common practice of spreadsheets), with the text below it.
pub(in crate::read) fn stated(text: &str) -> Option<(u8, &str)> {
    let (first, rest) = text.split_once('\n')?;
    match first.trim_end().to_ascii_lowercase().strip_prefix("sep=")?.as_bytes() {
        [separator] if separator.is_ascii() => Some((*separator, rest)),
        _ => None,
    }
}

struct Fit {
    separator: u8,
    /// Share of the rows that have the commonest width.
    share: f64,
    width: usize,
}

impl Fit {
    fn of(sample: &str, separator: u8) -> Option<Fit> {
        let table = Table::parse(sample, separator, 0);
        let width = table.commonest_width();
        let alike = (0..table.row_count()).filter(|row| table.width(*row) == width).count();
        (width >= 2).then(|| Fit { separator, share: alike as f64 / table.row_count() as f64, width })
    }
}

/// The whole text, or the beginning and the end of a long one, cut at line ends.
fn sampled(text: &str) -> Cow<'_, str> {
    if text.len() <= 2 * SAMPLED_BYTES {
        return Cow::Borrowed(text);
    }
    let bytes = text.as_bytes();
    let is_end = |byte: &u8| matches!(byte, b'\n' | b'\r');
    let head_end = bytes[..SAMPLED_BYTES].iter().rposition(is_end).unwrap_or(0);
    let tail_from = bytes.len() - SAMPLED_BYTES;
    let tail_start = bytes[tail_from..].iter().position(is_end).map_or(bytes.len(), |at| tail_from + at + 1);
    Cow::Owned(format!("{}\n{}", &text[..head_end], &text[tail_start..]))
}
