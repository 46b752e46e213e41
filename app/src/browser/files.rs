//! Files that the user picked or dropped, as bytes.

use leptos::task::spawn_local;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;
use web_sys::{File, HtmlInputElement};

/// A file as it arrived: its name, and its bytes or nothing where the browser could not read it.
pub struct Arrived {
    pub name: String,
    pub bytes: Option<Vec<u8>>,
}

/// The first file that was picked with an input; the input is emptied, so that the same file can be picked again.
pub fn picked(input: &HtmlInputElement) -> Option<File> {
    let file = input.files().and_then(|files| files.get(0));
    // What was picked is kept alive by `file`.
    input.set_value("");
    file
}

/// Reads a file and hands it over when it is there.
pub fn read(file: File, then: impl FnOnce(Arrived) + 'static) {
    spawn_local(async move {
        let name = file.name();
        let bytes = bytes_of(&file).await.ok();
        then(Arrived { name, bytes });
    });
}

async fn bytes_of(file: &File) -> Result<Vec<u8>, JsValue> {
    let buffer = JsFuture::from(file.array_buffer()).await?;
    Ok(js_sys::Uint8Array::new(&buffer).to_vec())
}
