//! Undoes what a PDF did to the lines of a picture before deflating it: the filters of PNG (W3C PNG, 9.2) and the
//! differences of TIFF. It knows nothing of pixels' meaning.

/// How the lines of a picture are to be undone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Predictor {
    None,
    /// A byte before each line says which of the five filters.
    Png,
    /// Each byte is the difference to that of the pixel before.
    Tiff,
}

impl Predictor {
    /// By its number in a PDF, for samples of so many bits; nothing where it isn't read.
    pub fn of(number: usize, bits: usize) -> Option<Self> {
        match number {
            0 | 1 => Some(Predictor::None),
            2 => (bits == 8).then_some(Predictor::Tiff),
            10..=15 => Some(Predictor::Png),
            _ => None,
        }
    }

    /// Bytes before each line.
    pub fn lead(self) -> usize {
        usize::from(self == Predictor::Png)
    }

    /// Undoes one line; `line` begins with the lead. Nothing where the filter doesn't exist.
    pub fn undo(self, line: &mut [u8], above: &[u8], pixel_bytes: usize) -> Option<()> {
        match self {
            Predictor::None => (),
            Predictor::Tiff => {
                (pixel_bytes..line.len()).for_each(|at| line[at] = line[at].wrapping_add(line[at - pixel_bytes]));
            }
            Predictor::Png => {
                let (kind, line) = line.split_first_mut()?;
                undo_png(*kind, line, above, pixel_bytes)?;
            }
        }
        Some(())
    }
}

fn undo_png(kind: u8, line: &mut [u8], above: &[u8], pixel_bytes: usize) -> Option<()> {
    if kind > 4 {
        return None;
    }
    for at in 0..line.len() {
        let left = at.checked_sub(pixel_bytes).map_or(0, |place| line[place]);
        let corner = at.checked_sub(pixel_bytes).map_or(0, |place| above[place]);
        let guess = match kind {
            0 => 0,
            1 => left,
            2 => above[at],
            3 => ((u16::from(left) + u16::from(above[at])) / 2) as u8,
            _ => nearest_of(left, above[at], corner),
        };
        line[at] = line[at].wrapping_add(guess);
    }
    Some(())
}

/// Paeth's guess: of left, above and corner the one nearest to left + above - corner.
fn nearest_of(left: u8, above: u8, corner: u8) -> u8 {
    let (a, b, c) = (i16::from(left), i16::from(above), i16::from(corner));
    let whole = a + b - c;
    let [to_left, to_above, to_corner] = [a, b, c].map(|value| (whole - value).abs());
    if to_left <= to_above && to_left <= to_corner {
        left
    } else if to_above <= to_corner {
        above
    } else {
        corner
    }
}
