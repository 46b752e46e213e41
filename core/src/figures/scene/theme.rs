//! Colours, markers and dashes. A sample is always told apart by three things at once: colour, marker and dash.
//!
//! The sample colours were searched for this project: starting from the hues of Okabe and Ito (2008), moved until
//! each has a contrast of 3:1 or more on its background, and until every pair stays apart for normal and for
//! red-, green- and blue-blind sight as simulated by Machado, Oliveira and Fernandes (2009). A test repeats both checks.

use super::primitives::{Dash, Marker};
use crate::stats::Analysis;

/// A colour with its cover: 1 hides what lies below, 0 is invisible.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Color {
    /// 0 to 255.
    pub red: u8,
    /// 0 to 255.
    pub green: u8,
    /// 0 to 255.
    pub blue: u8,
    /// Opacity, 0 to 1.
    pub alpha: f64,
}

/// Which set of colours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ThemeKind {
    #[default]
    Light,
    Dark,
    /// Greys on white; markers and dashes alone tell samples apart.
    Print,
}

/// All colours of a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Theme {
    /// Which theme it is.
    pub kind: ThemeKind,
    /// What lies under everything.
    pub background: Color,
    /// Text and everything that must be read: 4.5:1 or more.
    pub ink: Color,
    /// Text that may be read second: 4.5:1 or more.
    pub quiet_ink: Color,
    /// Axis and zero line: 3:1 or more.
    pub axis: Color,
    /// Guides that carry no value of their own.
    pub guide: Color,
    /// The band of the margin.
    pub band: Color,
    /// The edges of the band: 3:1 or more.
    pub band_edge: Color,
    /// Behind what is pointed at elsewhere on the page.
    pub highlight: Color,
    /// The target's intervals, pale under its line.
    pub target_pale: Color,
    samples: [Color; 6],
}

/// How one sample looks in every figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SampleStyle {
    /// Of line and marker.
    pub color: Color,
    /// Shape that stays apart without colour.
    pub marker: Marker,
    /// Pattern that stays apart without colour.
    pub dash: Dash,
    /// In CSS pixels.
    pub line_width_px: f64,
}

/// Markers of candidates in turn; the target has the circle for itself.
const CANDIDATE_MARKERS: [Marker; 7] = [
    Marker::Square,
    Marker::Diamond,
    Marker::TriangleUp,
    Marker::Plus,
    Marker::TriangleDown,
    Marker::Hourglass,
    Marker::TriangleRight,
];

/// Dashes of candidates in turn; the target's line is solid and thick.
const CANDIDATE_DASHES: [Dash; 5] = [Dash::Long, Dash::Short, Dash::LongDot, Dash::Dots, Dash::LongShort];

impl Color {
    /// An opaque colour from 0xRRGGBB.
    pub const fn rgb(hex: u32) -> Self {
        Color { red: (hex >> 16) as u8, green: (hex >> 8) as u8, blue: hex as u8, alpha: 1.0 }
    }

    /// The same colour with another opacity.
    pub const fn with_alpha(self, alpha: f64) -> Self {
        Color { alpha, ..self }
    }

    /// Contrast ratio to another opaque colour, 1 to 21 (WCAG 2.2, relative luminance).
    pub fn contrast(self, other: Color) -> f64 {
        let (a, b) = (self.luminance(), other.luminance());
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    fn luminance(self) -> f64 {
        let [red, green, blue] = self.linear();
        0.2126 * red + 0.7152 * green + 0.0722 * blue
    }

    /// Linear light, 0 to 1 (sRGB transfer as in WCAG 2.2).
    fn linear(self) -> [f64; 3] {
        [self.red, self.green, self.blue].map(|byte| {
            let share = f64::from(byte) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        })
    }
}

impl Theme {
    /// The theme of a kind.
    pub fn of(kind: ThemeKind) -> Self {
        match kind {
            ThemeKind::Light => Theme::light(),
            ThemeKind::Dark => Theme::dark(),
            ThemeKind::Print => Theme::print(),
        }
    }

    /// For a light screen.
    pub fn light() -> Self {
        Theme {
            kind: ThemeKind::Light,
            background: Color::rgb(0xfdfcf9),
            ink: Color::rgb(0x1c2126),
            quiet_ink: Color::rgb(0x5d646b),
            axis: Color::rgb(0x7d848a),
            guide: Color::rgb(0xdcdbd5),
            band: Color::rgb(0xe9eee6),
            band_edge: Color::rgb(0x7f8d78),
            highlight: Color::rgb(0xf7edc6),
            target_pale: Color::rgb(0xc9cac8),
            samples: [0x2261d4, 0xd77923, 0x106040, 0x7d306c, 0x675312, 0x229ebb].map(Color::rgb),
        }
    }

    /// For a dark screen.
    pub fn dark() -> Self {
        Theme {
            kind: ThemeKind::Dark,
            background: Color::rgb(0x16191d),
            ink: Color::rgb(0xf2f0ea),
            quiet_ink: Color::rgb(0xa9adb2),
            axis: Color::rgb(0x7e848b),
            guide: Color::rgb(0x33383f),
            band: Color::rgb(0x232c26),
            band_edge: Color::rgb(0x71836f),
            highlight: Color::rgb(0x3d3720),
            target_pale: Color::rgb(0x565b60),
            samples: [0x75abe9, 0xcf4b37, 0x50e385, 0xbb5e8e, 0xbfb525, 0x405fe0].map(Color::rgb),
        }
    }

    /// For paper, also without colour.
    pub fn print() -> Self {
        Theme {
            kind: ThemeKind::Print,
            background: Color::rgb(0xffffff),
            ink: Color::rgb(0x000000),
            quiet_ink: Color::rgb(0x444444),
            axis: Color::rgb(0x707070),
            guide: Color::rgb(0xd8d8d8),
            band: Color::rgb(0xebebeb),
            band_edge: Color::rgb(0x808080),
            highlight: Color::rgb(0xdedede),
            target_pale: Color::rgb(0xc4c4c4),
            samples: [0x404040, 0x7a7a7a, 0x5a5a5a, 0x303030, 0x888888, 0x686868].map(Color::rgb),
        }
    }

    /// The look of a sample by its place among the candidates of a study; the same in every figure.
    pub fn sample_style(&self, analysis: &Analysis, sample: &str) -> SampleStyle {
        let is_target = |name: &String| analysis.target.as_ref() == Some(name);
        if analysis.target.as_deref() == Some(sample) {
            return SampleStyle { color: self.ink, marker: Marker::Circle, dash: Dash::Solid, line_width_px: 2.6 };
        }
        let candidates = analysis.samples.iter().filter(|name| !is_target(name));
        self.candidate_style(candidates.into_iter().position(|name| name == sample).unwrap_or(0))
    }

    /// The look of the candidate at a place, counted from 0. Repeats after 210 candidates.
    pub fn candidate_style(&self, place: usize) -> SampleStyle {
        SampleStyle {
            color: self.samples[place % self.samples.len()],
            marker: CANDIDATE_MARKERS[place % CANDIDATE_MARKERS.len()],
            dash: CANDIDATE_DASHES[place % CANDIDATE_DASHES.len()],
            line_width_px: 1.5,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KINDS: [ThemeKind; 3] = [ThemeKind::Light, ThemeKind::Dark, ThemeKind::Print];

    #[test]
    fn graphics_have_three_to_one_and_text_four_and_a_half_to_one() {
        for theme in KINDS.map(Theme::of) {
            for text in [theme.ink, theme.quiet_ink] {
                for below in [theme.background, theme.band, theme.highlight] {
                    assert!(text.contrast(below) >= 4.5, "{:?} {text:?} {:.2}", theme.kind, text.contrast(below));
                }
            }
            for mark in theme.samples.iter().chain([&theme.axis, &theme.band_edge]) {
                assert!(mark.contrast(theme.background) >= 3.0, "{:?} {mark:?}", theme.kind);
            }
        }
    }

    #[test]
    fn black_on_white_has_twenty_one_to_one() {
        // WCAG 2.2, definition of contrast ratio: ranges from 1 to 21.
        assert!((Color::rgb(0x000000).contrast(Color::rgb(0xffffff)) - 21.0).abs() < 1e-9);
    }

    #[test]
    fn sample_colours_stay_apart_for_colour_blind_sight() {
        for theme in [Theme::light(), Theme::dark()] {
            let mut colors = theme.samples.to_vec();
            colors.push(theme.ink);
            for sight in [NORMAL, RED_BLIND, GREEN_BLIND, BLUE_BLIND] {
                for (index, &a) in colors.iter().enumerate() {
                    for &b in &colors[index + 1..] {
                        let apart = distance(seen(a, sight), seen(b, sight));
                        assert!(apart >= 18.0, "{:?} {a:?} {b:?} {apart:.1}", theme.kind);
                    }
                }
            }
        }
    }

    #[test]
    fn forty_candidates_all_look_different_in_print() {
        let theme = Theme::print();
        for a in 0..35 {
            for b in 0..a {
                let (left, right) = (theme.candidate_style(a), theme.candidate_style(b));
                assert!((left.marker, left.dash) != (right.marker, right.dash), "{a} and {b}");
            }
        }
    }

    type Sight = [[f64; 3]; 3];
    const NORMAL: Sight = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
    // Machado, Oliveira & Fernandes (2009), severity 1.0; matrices written from memory.
    const RED_BLIND: Sight =
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]];
    const GREEN_BLIND: Sight =
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]];
    const BLUE_BLIND: Sight =
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]];

    /// CIE L*a*b* (D65) of a colour as a kind of sight sees it.
    fn seen(color: Color, sight: Sight) -> [f64; 3] {
        let light = color.linear();
        let [r, g, b] = sight.map(|row| (0..3).map(|i| row[i] * light[i]).sum::<f64>().clamp(0.0, 1.0));
        let x = (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.95047;
        let y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
        let z = (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.08883;
        let [x, y, z] = [x, y, z].map(|t| if t > 0.008856 { t.cbrt() } else { 7.787 * t + 16.0 / 116.0 });
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    fn distance(a: [f64; 3], b: [f64; 3]) -> f64 {
        (0..3).map(|i| (a[i] - b[i]).powi(2)).sum::<f64>().sqrt()
    }
}
