//! Pictures decoded by the browser's own decoder and brought to grey, a band at a time so that the page stays alive. It
//! knows nothing of what is on a picture.

use super::timers;
use gloo::file::Blob;
use js_sys::{Object, Promise, Reflect};
use std::time::Duration;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement, ImageBitmap};

/// Lines that are brought over at once: some milliseconds of a large picture.
const BAND: u32 = 96;

/// A picture as grey levels, row by row.
pub struct Grey {
    pub width: usize,
    pub height: usize,
    pub levels: Vec<u8>,
}

/// Decodes a file, with `grey_of` for red, green and blue; `None` where the browser can't. What is clear is white. The
/// browser turns the picture as its file says.
pub async fn decoded(file: &web_sys::Blob, grey_of: fn(u8, u8, u8) -> u8) -> Option<Grey> {
    let decoding: Promise = gloo::utils::window().create_image_bitmap_with_blob(file).ok()?;
    let bitmap: ImageBitmap = JsFuture::from(decoding).await.ok()?.dyn_into().ok()?;
    let grey = brought_over(&bitmap, grey_of).await;
    // The pixels would stay until the browser next cleans up.
    bitmap.close();
    grey
}

/// Decodes the bytes of a JPEG picture, as `decoded` does a file.
pub async fn decoded_jpeg(bytes: &[u8], grey_of: fn(u8, u8, u8) -> u8) -> Option<Grey> {
    decoded(Blob::new_with_options(bytes, Some("image/jpeg")).as_ref(), grey_of).await
}

async fn brought_over(bitmap: &ImageBitmap, grey_of: fn(u8, u8, u8) -> u8) -> Option<Grey> {
    let (width, height) = (bitmap.width(), bitmap.height());
    let context = band_context(width)?;
    let mut levels = Vec::with_capacity(width as usize * height as usize);
    for top in (0..height).step_by(BAND as usize) {
        let lines = BAND.min(height - top);
        context.fill_rect(0.0, 0.0, f64::from(width), f64::from(lines));
        context.draw_image_with_image_bitmap(bitmap, 0.0, -f64::from(top)).ok()?;
        let band = context.get_image_data(0.0, 0.0, f64::from(width), f64::from(lines)).ok()?;
        levels.extend(band.data().0.chunks_exact(4).map(|pixel| grey_of(pixel[0], pixel[1], pixel[2])));
        timers::turn(Duration::ZERO).await;
    }
    Some(Grey { width: width as usize, height: height as usize, levels })
}

/// A canvas of one band that is never shown. It is read far more often than painted, so it should lie in plain memory.
fn band_context(width: u32) -> Option<CanvasRenderingContext2d> {
    let canvas: HtmlCanvasElement = gloo::utils::document().create_element("canvas").ok()?.dyn_into().ok()?;
    canvas.set_width(width);
    canvas.set_height(BAND);
    let how = Object::new();
    Reflect::set(&how, &"willReadFrequently".into(), &JsValue::TRUE).ok()?;
    let context = canvas.get_context_with_context_options("2d", &how).ok()??;
    let context: CanvasRenderingContext2d = context.dyn_into().ok()?;
    context.set_fill_style_str("white");
    Some(context)
}
