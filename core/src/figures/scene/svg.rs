//! Scene -> SVG text, by plotters' SVG backend and the same painter as the screen.

use super::paint::{PaintSettings, paint};
use super::primitives::Scene;
use plotters::prelude::SVGBackend;
use std::fmt::Write;

/// The backend's coordinates are whole numbers: ten of them a CSS pixel keep a tenth of a pixel.
const UNITS_PER_PX: f64 = 10.0;

/// A scene as a self-contained SVG file with its title and summary. The same scene gives the same bytes.
pub fn to_svg(scene: &Scene) -> String {
    let size = |length_px: f64| (length_px * UNITS_PER_PX).round().max(1.0) as u32;
    let (width, height) = (size(scene.width_px), size(scene.height_px));
    let mut drawn = String::new();
    {
        let mut backend = SVGBackend::with_string(&mut drawn, (width, height));
        // Writing into a string does not fail, and the backend draws text by itself.
        let painted = paint(scene, &mut backend, PaintSettings::svg(UNITS_PER_PX));
        debug_assert!(painted.is_ok(), "the SVG backend has no errors of its own");
    }
    // The backend's own first line gives the size in its fine units and has no place for a title.
    let body = drawn.split_once('\n').map_or("", |(_, rest)| rest);
    let mut svg = String::with_capacity(body.len() + 600);
    let _ = writeln!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}\" height=\"{}\" viewBox=\"0 0 {width} {height}\" \
         role=\"img\" aria-label=\"{}\">",
        f64::from(width) / UNITS_PER_PX,
        f64::from(height) / UNITS_PER_PX,
        escape(&scene.title),
    );
    let _ = writeln!(svg, "<title>{}</title>", escape(&scene.title));
    let _ = writeln!(svg, "<desc>{}</desc>", escape(&scene.summary));
    svg + body
}

/// Text as XML and HTML hold it, in elements and in quoted attributes; characters that XML 1.0 forbids are left out.
pub fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '&' => escaped.push_str("&amp;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&apos;"),
            '\t' | '\n' | '\r' => escaped.push(' '),
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => {}
            other => escaped.push(other),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::scene::primitives::{Label, Point, Stroke};
    use crate::figures::scene::theme::Theme;

    fn scene() -> Scene {
        let theme = Theme::light();
        let mut scene = Scene::new(120.0, "Salt & <pepper>", theme.background);
        scene.height_px = 60.5;
        scene.summary = "A line and a \"word\".".to_owned();
        scene.line(Point::new(10.0, 10.0), Point::new(110.0, 10.0), Stroke::solid(theme.ink, 1.0));
        scene.text(Label::new(Point::new(10.0, 30.0), "a < b & c", 12.0, theme.ink));
        scene
    }

    #[test]
    fn an_svg_carries_its_size_title_and_summary() {
        let svg = to_svg(&scene());
        assert!(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"120\" height=\"60.5\""), "{svg}");
        assert!(svg.contains("viewBox=\"0 0 1200 605\""));
        assert!(svg.contains("<title>Salt &amp; &lt;pepper&gt;</title>"));
        assert!(svg.contains("<desc>A line and a &quot;word&quot;.</desc>"));
        assert!(svg.contains("a &lt; b &amp; c"));
        assert!(svg.trim_end().ends_with("</svg>"));
        assert!(svg.contains("sans-serif"));
    }

    #[test]
    fn the_same_scene_gives_the_same_bytes() {
        assert_eq!(to_svg(&scene()), to_svg(&scene()));
    }

    #[test]
    fn characters_that_xml_forbids_are_left_out() {
        assert_eq!(escape("a\u{0}b\u{b}c\nd"), "abc d");
    }
}
