//! The words about licences, and the notice of what the page is made of, as `cargo xtask licences` wrote it.

const NOTICE: &str = include_str!("../../../public/licences.txt");

pub const TITLE: &str = "Licences";
pub const INTRO: &str = "Likeness is free software under the MIT licence. Its page is made of these open-source crates, each under a licence of its own.";

/// One line a crate: name and version, and the licence as an SPDX expression.
pub fn crates() -> impl Iterator<Item = (&'static str, &'static str)> {
    NOTICE.lines().skip_while(|line| !line.is_empty()).filter_map(|line| line.split_once(": "))
}

pub fn count() -> String {
    format!("{} crates", crates().count())
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_notice_names_what_the_page_stands_on() {
        let crates: Vec<_> = super::crates().collect();
        for name in ["leptos 0.8", "serde_json 1.", "wasm-bindgen 0.2"] {
            assert!(crates.iter().any(|(of, licence)| of.starts_with(name) && licence.contains("MIT")), "{name}");
        }
    }
}
