//! What happens if the program breaks all the same: a message in the page, in place of a page that does nothing.

use crate::words;

/// Shows a message box with the reason when anything panics.
pub fn show_panics() {
    std::panic::set_hook(Box::new(|reason| {
        let _ = show(&reason.to_string());
    }));
}

fn show(reason: &str) -> Option<()> {
    let document = web_sys::window()?.document()?;
    let place = document.create_element("div").ok()?;
    place.set_class_name("panic");
    let _ = place.set_attribute("role", "alert");
    let _ = place.set_attribute("data-test", "panic");
    for (tag, text) in [("strong", words::PANIC_TITLE), ("p", words::PANIC_TEXT), ("code", reason)] {
        let line = document.create_element(tag).ok()?;
        line.set_text_content(Some(text));
        place.append_child(&line).ok()?;
    }
    document.body()?.prepend_with_node_1(&place).ok()
}
