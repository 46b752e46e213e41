//! PNG, JPEG and PDF files as grey pictures, refused before memory is spent where they are no picture of a page. The page
//! has the browser's decoder instead.

use likeness_core::pdf::{PagePicture, ScannedPdf};
use likeness_core::scan::{Picture, check_size, luma_of};
use std::io::Cursor;
use std::path::Path;
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

/// No file of a page is larger: 64 million pixels as PNG take less, and so do the pages of a scanner.
const MOST_BYTES: u64 = 200_000_000;

/// Hands on every picture of a file, one at a time: the number of the page where the file is a PDF, and the picture or
/// what is wrong with it and what to do, as a sentence or two.
pub fn each_picture_in(path: &Path, mut take: impl FnMut(Option<usize>, Result<Picture, String>)) {
    let bytes = match bytes_of(path) {
        Ok(bytes) => bytes,
        Err(why) => return take(None, Err(why)),
    };
    match bytes.as_slice() {
        [] => take(None, Err("The file is empty.".to_owned())),
        [0xff, 0xd8, 0xff, ..] => take(None, from_jpeg(&bytes)),
        [0x89, b'P', b'N', b'G', ..] => take(None, from_png(&bytes)),
        [b'%', b'P', b'D', b'F', ..] => match ScannedPdf::open(&bytes) {
            Ok(pdf) => (0..pdf.len()).for_each(|page| take(Some(page + 1), from_page(&pdf, page))),
            Err(fault) => take(None, Err(fault.to_string())),
        },
        other => take(None, Err(other_kind(other))),
    }
}

fn from_page(pdf: &ScannedPdf, page: usize) -> Result<Picture, String> {
    match pdf.picture(page).map_err(|fault| fault.to_string())? {
        PagePicture::Jpeg(bytes) => from_jpeg(&bytes),
        PagePicture::Grey(picture) => Ok(picture),
    }
}

fn bytes_of(path: &Path) -> Result<Vec<u8>, String> {
    let unreadable = |error: std::io::Error| format!("The file cannot be opened ({error}).");
    let length = std::fs::metadata(path).map_err(unreadable)?.len();
    if length > MOST_BYTES {
        return Err(format!("The file holds {} MB: no picture of one page is so large.", length / 1_000_000));
    }
    std::fs::read(path).map_err(unreadable)
}

/// What a file that isn't decoded here seems to be, and what to do.
fn other_kind(bytes: &[u8]) -> String {
    let name = match bytes {
        [b'I', b'I', 42, 0, ..] | [b'M', b'M', 0, 42, ..] => "a TIFF picture",
        [b'G', b'I', b'F', b'8', ..] => "a GIF picture",
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => "a WebP picture",
        [_, _, _, _, b'f', b't', b'y', b'p', ..] => "a HEIC picture or a film",
        _ => return "The file is no picture that is known here. Save it as JPEG or PNG.".to_owned(),
    };
    format!("The file is {name}, which isn't read here. Save its pages as JPEG or PNG.")
}

fn from_jpeg(bytes: &[u8]) -> Result<Picture, String> {
    let damaged = |error: zune_jpeg::errors::DecodeErrors| format!("The JPEG picture is damaged ({error}).");
    let options = DecoderOptions::default()
        .jpeg_set_out_colorspace(ColorSpace::Luma)
        .set_max_width(usize::from(u16::MAX))
        .set_max_height(usize::from(u16::MAX));
    let mut decoder = JpegDecoder::new_with_options(Cursor::new(bytes), options);
    decoder.decode_headers().map_err(damaged)?;
    let (width, height) = decoder.dimensions().ok_or("The JPEG picture doesn't say its size: it is damaged.")?;
    check_size(width as u64, height as u64).map_err(|fault| fault.to_string())?;
    let luma = decoder.decode().map_err(damaged)?;
    Picture::new(width, height, luma).map_err(|fault| fault.to_string())
}

fn from_png(bytes: &[u8]) -> Result<Picture, String> {
    let damaged = |error: png::DecodingError| format!("The PNG picture is damaged ({error}).");
    let mut decoder = png::Decoder::new(Cursor::new(bytes));
    decoder.set_transformations(png::Transformations::EXPAND | png::Transformations::STRIP_16);
    let mut reader = decoder.read_info().map_err(damaged)?;
    let info = reader.info();
    if info.animation_control.is_some() {
        return Err("The PNG picture is a film: save the page as a still picture.".to_owned());
    }
    let (width, height) = (info.width, info.height);
    check_size(u64::from(width), u64::from(height)).map_err(|fault| fault.to_string())?;
    let size = reader.output_buffer_size().ok_or("The PNG picture is too large.")?;
    let mut pixels = vec![0; size];
    let frame = reader.next_frame(&mut pixels).map_err(damaged)?;
    let luma = pixels.chunks_exact(frame.color_type.samples()).take(width as usize * height as usize).map(grey);
    Picture::new(width as usize, height as usize, luma.collect()).map_err(|fault| fault.to_string())
}

/// Grey of one pixel: grey, grey with alpha, colour, colour with alpha; what is clear is paper.
fn grey(pixel: &[u8]) -> u8 {
    let over_paper = |grey: u8, alpha: u8| 255 - ((u32::from(255 - grey) * u32::from(alpha) + 127) / 255) as u8;
    match *pixel {
        [grey] => grey,
        [grey, alpha] => over_paper(grey, alpha),
        [red, green, blue] => luma_of(red, green, blue),
        [red, green, blue, alpha] => over_paper(luma_of(red, green, blue), alpha),
        _ => 255,
    }
}
