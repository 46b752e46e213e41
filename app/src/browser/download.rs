//! Saving: text or bytes as a file in the user's download folder. Nothing is sent: the file is made in the page.

use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Blob, BlobPropertyBag, HtmlAnchorElement, Url};

pub fn save_text(file_name: &str, kind: &str, text: &str) {
    let parts = js_sys::Array::of1(&JsValue::from_str(text));
    let options = BlobPropertyBag::new();
    options.set_type(kind);
    if let Ok(blob) = Blob::new_with_str_sequence_and_options(&parts, &options) {
        let _ = save_blob(file_name, &blob);
    }
}

pub fn save_bytes(file_name: &str, kind: &str, bytes: &[u8]) {
    let parts = js_sys::Array::of1(&js_sys::Uint8Array::from(bytes));
    let options = BlobPropertyBag::new();
    options.set_type(kind);
    if let Ok(blob) = Blob::new_with_u8_array_sequence_and_options(&parts, &options) {
        let _ = save_blob(file_name, &blob);
    }
}

/// Saves a blob under a name. Errors are the browser's.
pub fn save_blob(file_name: &str, blob: &Blob) -> Result<(), JsValue> {
    let address = Url::create_object_url_with_blob(blob)?;
    let document = leptos::prelude::document();
    let link: HtmlAnchorElement = document.create_element("a")?.dyn_into()?;
    link.set_href(&address);
    link.set_download(file_name);
    if let Some(body) = document.body() {
        body.append_child(&link)?;
        link.click();
        link.remove();
    }
    // The browser needs the address until the download has begun.
    let later = wasm_bindgen::closure::Closure::once_into_js(move || {
        let _ = Url::revoke_object_url(&address);
    });
    leptos::prelude::window()
        .set_timeout_with_callback_and_timeout_and_arguments_0(later.unchecked_ref(), 10_000)
        .map(|_| ())
}
