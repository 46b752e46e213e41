//! Grey levels from the pixels of a PDF's picture, line by line, so that no more memory is spent than the grey picture
//! takes. It knows nothing of pages.

use super::faults::PdfFault;
use super::image_stream::ImageStream;
use super::objects::Value;
use super::predictor::Predictor;
use super::stream::{codings, inflated, inflating};
use crate::scan::{Picture, luma_of};
use std::io::Read;

/// A palette has 256 colours of three bytes at most.
const MOST_OF_PALETTE: usize = 4096;

/// What a pixel is made of.
pub struct PixelKind {
    /// Bits a sample: 1, 2, 4, 8 or 16.
    bits: usize,
    /// Samples a pixel: 1 or 3.
    samples: usize,
    /// Grey by value of the one sample, of up to eight bits.
    greys: Vec<u8>,
    is_turned: bool,
}

impl PixelKind {
    /// Nothing where pixels of this kind aren't read.
    pub fn of(image: &ImageStream, is_turned: bool) -> Option<Self> {
        let is_mask = image.dictionary.get("ImageMask").is_some_and(Value::is_true);
        let bits = if is_mask { 1 } else { image.dictionary.get("BitsPerComponent")?.count()? };
        if ![1, 2, 4, 8, 16].contains(&bits) {
            return None;
        }
        let most = (1_usize << bits.min(8)) - 1;
        let even = || (0..=most).map(|value| (value * 255 / most) as u8).collect::<Vec<u8>>();
        let space = image.dictionary.get("ColorSpace");
        let (samples, greys) = match (is_mask, space) {
            (true, _) => (1, even()),
            (false, Some(space)) => match palette(space, image)? {
                Some(palette) if bits <= 8 && !is_turned => (1, palette),
                Some(_) => return None,
                None => (samples_of(space)?, even()),
            },
            (false, None) => return None,
        };
        Some(PixelKind { bits, samples, greys, is_turned })
    }

    fn line_bytes(&self, width: usize) -> usize {
        (width * self.samples * self.bits).div_ceil(8)
    }

    fn sample(&self, line: &[u8], place: usize) -> u8 {
        match self.bits {
            8 => line[place],
            16 => line[2 * place],
            bits => {
                let bit = place * bits;
                (line[bit / 8] >> (8 - bits - bit % 8)) & ((1_u16 << bits) - 1) as u8
            }
        }
    }

    fn grey(&self, line: &[u8], pixel: usize) -> u8 {
        let level = |sample: usize| self.greys.get(usize::from(self.sample(line, sample))).copied().unwrap_or(255);
        let grey = match self.samples {
            3 => luma_of(level(3 * pixel), level(3 * pixel + 1), level(3 * pixel + 2)),
            _ => level(pixel),
        };
        if self.is_turned { 255 - grey } else { grey }
    }
}

/// How many samples a colour space has where it is grey or red, green, blue.
fn samples_of(space: &Value) -> Option<usize> {
    let of_name = |name: &str| match name {
        "DeviceGray" | "CalGray" | "G" => Some(1),
        "DeviceRGB" | "CalRGB" | "RGB" => Some(3),
        _ => None,
    };
    match space {
        Value::Name(name) => of_name(name),
        Value::List(parts) => match parts.as_slice() {
            [Value::Name(name), profile, ..] if name == "ICCBased" => {
                profile.get("N").and_then(Value::count).filter(|samples| [1, 3].contains(samples))
            }
            [Value::Name(name), ..] => of_name(name),
            _ => None,
        },
        _ => None,
    }
}

/// Grey of each colour of a palette; nothing within where the space has none, nothing at all where it can't be read.
fn palette(space: &Value, image: &ImageStream) -> Option<Option<Vec<u8>>> {
    let Value::List(parts) = space else { return Some(None) };
    let [Value::Name(name), base, _, colors] = parts.as_slice() else { return Some(None) };
    if name != "Indexed" && name != "I" {
        return Some(None);
    }
    let bytes = match (colors, colors.get("Stream")) {
        (Value::Text(bytes), _) => bytes.clone(),
        (_, Some(Value::Place(place))) => {
            let raw = image.file.get(place.clone())?;
            if codings(colors).is_empty() { raw.to_vec() } else { inflated(raw, MOST_OF_PALETTE).ok()? }
        }
        _ => return None,
    };
    let greys = match samples_of(base)? {
        3 => bytes.chunks_exact(3).map(|color| luma_of(color[0], color[1], color[2])).collect(),
        _ => bytes,
    };
    Some(Some(greys))
}

/// The grey picture of plain or deflated pixels.
pub fn grey_picture(
    bytes: &[u8],
    image: &ImageStream,
    kind: &PixelKind,
    is_deflated: bool,
    parameters: Option<&Value>,
) -> Result<Picture, PdfFault> {
    let (width, height) = (image.width as usize, image.height as usize);
    let number = parameters.and_then(|list| list.get("Predictor")).and_then(Value::count).unwrap_or(1);
    let predictor = Predictor::of(number, kind.bits).ok_or(PdfFault::Pixels)?;
    let mut source: Box<dyn Read + '_> = if is_deflated { Box::new(inflating(bytes)) } else { Box::new(bytes) };
    let length = kind.line_bytes(width);
    let pixel_bytes = (kind.samples * kind.bits).div_ceil(8);
    let mut line = vec![0; predictor.lead() + length];
    let mut above = vec![0; length];
    let mut luma = Vec::new();
    for _ in 0..height {
        source.read_exact(&mut line).map_err(|_| PdfFault::Damaged)?;
        predictor.undo(&mut line, &above, pixel_bytes).ok_or(PdfFault::Damaged)?;
        above.copy_from_slice(&line[predictor.lead()..]);
        luma.extend((0..width).map(|pixel| kind.grey(&above, pixel)));
    }
    Ok(Picture::new(width, height, luma)?)
}
