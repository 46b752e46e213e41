//! Canvases: drawing a scene at the device's own pixels, following the width of their place, saving as an image.

use likeness_core::figures::{PaintSettings, Scene, paint};
use plotters_canvas::CanvasBackend;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Blob, Element, HtmlCanvasElement, ResizeObserver};

/// Draws a scene so that each of its CSS pixels takes `pixel_ratio` pixels of the canvas.
pub fn draw(canvas: &HtmlCanvasElement, scene: &Scene, pixel_ratio: f64) {
    canvas.set_width((scene.width_px * pixel_ratio).round().max(1.0) as u32);
    canvas.set_height((scene.height_px * pixel_ratio).round().max(1.0) as u32);
    let style = canvas.style();
    let _ = style.set_property("width", &format!("{}px", scene.width_px));
    let _ = style.set_property("height", &format!("{}px", scene.height_px));
    if let Some(mut backend) = CanvasBackend::with_canvas_object(canvas.clone()) {
        // A canvas has no errors to report; a figure that failed to draw still has its table of numbers.
        let _ = paint(scene, &mut backend, PaintSettings::canvas(pixel_ratio));
    }
}

/// The scene as a PNG of `pixel_ratio` pixels a CSS pixel.
pub fn png(scene: &Scene, pixel_ratio: f64, then: impl FnOnce(Blob) + 'static) {
    let made = gloo::utils::document().create_element("canvas").ok();
    let Some(canvas) = made.and_then(|element| element.dyn_into::<HtmlCanvasElement>().ok()) else { return };
    draw(&canvas, scene, pixel_ratio);
    let ready = Closure::once_into_js(move |blob: Option<Blob>| {
        if let Some(blob) = blob {
            then(blob);
        }
    });
    let _ = canvas.to_blob(ready.unchecked_ref());
}

/// Calls with the width of an element, in CSS pixels, now and whenever it changes.
pub fn watch_width(element: &Element, mut changed: impl FnMut(f64) + 'static) -> Option<ResizeObserver> {
    let watched = element.clone();
    let callback = Closure::<dyn FnMut()>::new(move || changed(watched.get_bounding_client_rect().width()));
    let observer = ResizeObserver::new(callback.as_ref().unchecked_ref()).ok()?;
    observer.observe(element);
    // The observer is dropped with its element; the closure is small and lives as long as the page.
    callback.forget();
    Some(observer)
}
