//! Saving: text or bytes as a file in the user's download folder. Nothing is sent: the file is made in the page.

use super::timers;
use gloo::file::{Blob, ObjectUrl};
use gloo::utils::document;
use std::time::Duration;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::HtmlAnchorElement;

/// The browser needs the address of a file until the download has begun.
const ADDRESS_LASTS: Duration = Duration::from_secs(10);

pub fn save_text(file_name: &str, kind: &str, text: &str) {
    let _ = save(file_name, Blob::new_with_options(text, Some(kind)));
}

pub fn save_bytes(file_name: &str, kind: &str, bytes: &[u8]) {
    let _ = save(file_name, Blob::new_with_options(bytes, Some(kind)));
}

/// Saves a blob under a name. Errors are the browser's.
pub fn save_blob(file_name: &str, blob: &web_sys::Blob) -> Result<(), JsValue> {
    save(file_name, Blob::from(blob.clone()))
}

fn save(file_name: &str, blob: Blob) -> Result<(), JsValue> {
    let address = ObjectUrl::from(blob);
    let link: HtmlAnchorElement = document().create_element("a")?.dyn_into()?;
    link.set_href(&address);
    link.set_download(file_name);
    if let Some(body) = document().body() {
        body.append_child(&link)?;
        link.click();
        link.remove();
    }
    timers::after(ADDRESS_LASTS, move || drop(address));
    Ok(())
}
