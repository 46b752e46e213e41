//! A grey picture in memory, its size checked before memory is spent. It knows nothing of files, of how a picture was
//! decoded, or of what is on it.

use std::fmt;

/// A picture with more pixels than this is refused: the largest phones take 50 million, and a page needs 3.
pub const MOST_PIXELS: u64 = 64_000_000;
/// A picture narrower than this can't hold a readable page: a line would be finer than half a pixel.
pub const SHORTEST_SIDE_PX: u64 = 500;
/// No side may be longer: it stands against strips that were glued together.
pub const LONGEST_SIDE_PX: u64 = 20_000;

/// Grey levels row by row, 0 black to 255 white.
#[derive(Clone, PartialEq, Eq)]
pub struct Picture {
    width: usize,
    height: usize,
    luma: Vec<u8>,
}

impl fmt::Debug for Picture {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "a picture of {} by {} pixels", self.width, self.height)
    }
}

/// Why a picture isn't taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PictureFault {
    TooLarge {
        width: u64,
        height: u64,
    },
    TooSmall {
        width: u64,
        height: u64,
    },
    /// The bytes don't fill the size that was told.
    WrongLength {
        wanted: usize,
        got: usize,
    },
}

impl fmt::Display for PictureFault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PictureFault::TooLarge { width, height } => write!(
                out,
                "The picture is {width} by {height} pixels, and {} million are the most. Scan with 300 dpi.",
                MOST_PIXELS / 1_000_000
            ),
            PictureFault::TooSmall { width, height } => write!(
                out,
                "The picture is {width} by {height} pixels: too small to hold a page that can be read. Scan with 200 dpi or more."
            ),
            PictureFault::WrongLength { wanted, got } => {
                write!(out, "The picture should hold {wanted} bytes and holds {got}: it is damaged.")
            }
        }
    }
}

/// Whether a picture of this size is taken; to be asked before it is decoded.
///
/// # Errors
/// Too many pixels, or too few.
pub fn check_size(width: u64, height: u64) -> Result<(), PictureFault> {
    if width.min(height) < SHORTEST_SIDE_PX {
        return Err(PictureFault::TooSmall { width, height });
    }
    if width.max(height) > LONGEST_SIDE_PX || width.saturating_mul(height) > MOST_PIXELS {
        return Err(PictureFault::TooLarge { width, height });
    }
    Ok(())
}

/// Grey of a colour: ITU-R BT.601, as the luma of JPEG.
pub fn luma_of(red: u8, green: u8, blue: u8) -> u8 {
    ((u32::from(red) * 19_595 + u32::from(green) * 38_470 + u32::from(blue) * 7_471 + 32_768) >> 16) as u8
}

impl Picture {
    /// A picture of `width * height` grey levels.
    ///
    /// # Errors
    /// A size that isn't taken, or bytes that don't fill it.
    pub fn new(width: usize, height: usize, luma: Vec<u8>) -> Result<Self, PictureFault> {
        check_size(width as u64, height as u64)?;
        if luma.len() == width * height {
            return Ok(Picture { width, height, luma });
        }
        Err(PictureFault::WrongLength { wanted: width * height, got: luma.len() })
    }

    /// In pixels.
    pub fn width(&self) -> usize {
        self.width
    }

    /// In pixels.
    pub fn height(&self) -> usize {
        self.height
    }

    /// All grey levels, row by row.
    pub fn levels(&self) -> &[u8] {
        &self.luma
    }

    /// Grey levels of a line, from the top.
    pub fn line(&self, y: usize) -> &[u8] {
        &self.luma[y * self.width..(y + 1) * self.width]
    }

    pub(super) fn longest_side(&self) -> usize {
        self.width.max(self.height)
    }

    /// Whether a place lies in the picture.
    pub(super) fn holds(&self, x: f32, y: f32) -> bool {
        x >= 0.0 && y >= 0.0 && x <= (self.width - 1) as f32 && y <= (self.height - 1) as f32
    }

    /// Grey at a place between pixels, whose centres are whole numbers; beyond the edge stands what is at the edge.
    pub(super) fn grey_at(&self, x: f32, y: f32) -> f32 {
        let x = x.clamp(0.0, (self.width - 1) as f32);
        let y = y.clamp(0.0, (self.height - 1) as f32);
        let (left, top) = (x as usize, y as usize);
        let (right, below) = ((left + 1).min(self.width - 1), (top + 1).min(self.height - 1));
        let (fx, fy) = (x - left as f32, y - top as f32);
        let at = |x: usize, y: usize| f32::from(self.luma[y * self.width + x]);
        let upper = at(left, top) + (at(right, top) - at(left, top)) * fx;
        let lower = at(left, below) + (at(right, below) - at(left, below)) * fx;
        upper + (lower - upper) * fy
    }
}
