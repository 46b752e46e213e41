//! Files that the user picked or dropped, as bytes.

pub use gloo::file::File;
use gloo::file::FileList;
use gloo::file::futures::read_as_bytes;
use leptos::task::spawn_local;
use web_sys::HtmlInputElement;

/// A file as it arrived: its name, and its bytes or nothing where the browser could not read it.
pub struct Arrived {
    pub name: String,
    pub bytes: Option<Vec<u8>>,
}

/// The files that were picked with an input; the input is emptied, so that the same files can be picked again.
pub fn picked(input: &HtmlInputElement) -> Vec<File> {
    let files = all_in(input.files());
    // What was picked is kept alive by `files`.
    input.set_value("");
    files
}

/// The files of a list, in its order.
pub fn all_in(list: Option<web_sys::FileList>) -> Vec<File> {
    list.map(|list| FileList::from(list).to_vec()).unwrap_or_default()
}

/// The bytes of one file; nothing where the browser could not read it.
pub async fn bytes_of(file: &File) -> Option<Vec<u8>> {
    read_as_bytes(file).await.ok()
}

/// Reads files one after the other and hands all of them over when the last is there.
pub fn read_all(files: Vec<File>, then: impl FnOnce(Vec<Arrived>) + 'static) {
    spawn_local(async move {
        let mut arrived = Vec::new();
        for file in files {
            arrived.push(Arrived { name: file.name(), bytes: bytes_of(&file).await });
        }
        then(arrived);
    });
}
