//! One element of the page: read it, click it, type into it, give it files, drop or paste on it.

use super::wire::Wire;
use super::{Browser, PATIENCE};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};
use std::path::Path;

/// The key under which WebDriver carries an element (W3C WebDriver, section 12.2, "web element identifier").
const ELEMENT_KEY: &str = "element-6066-11e4-a52e-4f735466cecf";

/// An element that was on the page when it was found.
#[derive(Clone)]
pub struct Element<'a> {
    wire: &'a Wire,
    id: String,
}

/// A file that a test drops on the page; it need not exist on disk.
pub struct DroppedFile {
    pub name: String,
    pub bytes: Vec<u8>,
}

impl DroppedFile {
    /// The file at this path.
    ///
    /// # Panics
    /// When it can't be read.
    #[must_use]
    pub fn from_disk(path: &Path) -> DroppedFile {
        let bytes = std::fs::read(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        DroppedFile { name, bytes }
    }
}

impl<'a> Element<'a> {
    pub(super) fn new(wire: &'a Wire, value: &Value) -> Element<'a> {
        let id = value.get(ELEMENT_KEY).and_then(Value::as_str);
        Element { wire, id: id.unwrap_or_else(|| panic!("not an element: {value}")).to_string() }
    }

    /// Clicks in its middle, as a mouse does: it must be visible and not covered. It is brought to the middle of the
    /// window first, away from what stays at the top.
    pub fn click(&self) {
        self.script("this_element.scrollIntoView({ block: 'center', behavior: 'instant' })", &[]);
        self.wire.post(&self.path("/click"), &json!({}));
    }

    /// Types text with key presses. Special keys are WebDriver's characters, such as '\u{e007}' for Enter.
    pub fn type_text(&self, text: &str) {
        self.wire.post(&self.path("/value"), &json!({ "text": text }));
    }

    /// Empties a field.
    pub fn clear(&self) {
        self.wire.post(&self.path("/clear"), &json!({}));
    }

    /// Gives files on disk to an `<input type=file>`, as choosing them in its window does.
    pub fn set_files(&self, paths: &[&Path]) {
        let full = |path: &&Path| path.canonicalize().unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let names: Vec<String> = paths.iter().map(|path| full(path).to_string_lossy().into_owned()).collect();
        self.type_text(&names.join("\n"));
    }

    /// Chooses the option of a `<select>` that reads like this.
    pub fn choose(&self, option: &str) {
        let chosen = self.script(CHOOSE, &[json!(option)]);
        assert_eq!(chosen, json!(true), "the list has no option \"{option}\": {}", self.text());
    }

    /// The text as a person sees it.
    #[must_use]
    pub fn text(&self) -> String {
        self.wire.get(&self.path("/text")).as_str().unwrap_or_default().to_string()
    }

    /// An attribute as it stands in the page's markup.
    #[must_use]
    pub fn attribute(&self, name: &str) -> Option<String> {
        let value = self.script("return this_element.getAttribute(arguments[0])", &[json!(name)]);
        value.as_str().map(str::to_string)
    }

    /// What a field holds now.
    #[must_use]
    pub fn value(&self) -> String {
        self.script("return String(this_element.value)", &[]).as_str().unwrap_or_default().to_string()
    }

    /// Whether it is shown.
    #[must_use]
    pub fn is_shown(&self) -> bool {
        self.wire.get(&self.path("/displayed")) == json!(true)
    }

    /// Runs JavaScript with this element as `this_element`.
    pub fn script(&self, body: &str, arguments: &[Value]) -> Value {
        let script = format!(
            "const given = [...arguments]; const element = given.shift(); \
             return (async function (this_element, arguments) {{ {body} }})(element, given);"
        );
        let mut given = vec![json!({ ELEMENT_KEY: self.id })];
        given.extend_from_slice(arguments);
        self.wire.post("/execute/sync", &json!({ "script": script, "args": given }))
    }

    /// Drops files on it, with the events that a person's drag makes.
    pub fn drop_files(&self, files: &[DroppedFile]) {
        let files: Vec<Value> =
            files.iter().map(|file| json!({ "name": file.name, "base64": STANDARD.encode(&file.bytes) })).collect();
        self.script(DROP, &[json!(files)]);
    }

    /// Pastes text on it, with the event that Ctrl-V makes.
    pub fn paste(&self, text: &str) {
        self.script(PASTE, &[json!(text)]);
    }

    fn path(&self, end: &str) -> String {
        format!("/element/{}{end}", self.id)
    }
}

impl Browser {
    /// Drops files on the middle of the page, once it has started and looked at what it kept: it takes none before.
    pub fn drop_files(&self, files: &[DroppedFile]) {
        let takes_files = "[data-test=learn-open], [data-test=booth], #files";
        self.wait_until("the start of the page", PATIENCE, || !self.has("#start-notice") && self.has(takes_files));
        self.find("body").drop_files(files);
    }

    /// Pastes text on the page, where the focus is.
    pub fn paste(&self, text: &str) {
        self.find("body").paste(text);
    }

    /// Presses keys where the focus is, as a keyboard does. Special keys are WebDriver's characters ('\u{e004}' is Tab).
    pub fn press(&self, keys: &str) {
        let mut actions = Vec::new();
        for key in keys.chars() {
            actions.push(json!({ "type": "keyDown", "value": key.to_string() }));
            actions.push(json!({ "type": "keyUp", "value": key.to_string() }));
        }
        self.act("key", &actions);
    }

    /// Presses one key while another is held, such as '\u{e009}' (Control) with 'z'.
    pub fn press_with(&self, held: char, key: char) {
        let step = |kind: &str, key: char| json!({ "type": kind, "value": key.to_string() });
        self.act("key", &[step("keyDown", held), step("keyDown", key), step("keyUp", key), step("keyUp", held)]);
    }

    fn act(&self, kind: &str, actions: &[Value]) {
        self.wire.post("/actions", &json!({ "actions": [{ "type": kind, "id": kind, "actions": actions }] }));
    }
}

const CHOOSE: &str = "
    const option = [...this_element.options].find((option) => option.text.trim() === arguments[0]);
    if (!option) return false;
    this_element.value = option.value;
    this_element.dispatchEvent(new Event('input', { bubbles: true }));
    this_element.dispatchEvent(new Event('change', { bubbles: true }));
    return true;";

const DROP: &str = "
    const transfer = new DataTransfer();
    for (const file of arguments[0]) {
      const bytes = Uint8Array.from(atob(file.base64), (letter) => letter.charCodeAt(0));
      transfer.items.add(new File([bytes], file.name));
    }
    const box = this_element.getBoundingClientRect();
    const place = { clientX: box.x + box.width / 2, clientY: box.y + box.height / 2 };
    for (const name of ['dragenter', 'dragover', 'drop'])
      this_element.dispatchEvent(
        new DragEvent(name, { dataTransfer: transfer, bubbles: true, cancelable: true, ...place }));";

const PASTE: &str = "
    const transfer = new DataTransfer();
    transfer.setData('text/plain', arguments[0]);
    const focused = document.activeElement;
    const target = this_element === document.body && focused ? focused : this_element;
    target.dispatchEvent(new ClipboardEvent('paste', { clipboardData: transfer, bubbles: true, cancelable: true }));";
