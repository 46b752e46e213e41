//! Differences to the target: one row an attribute, points with intervals on an axis in the scale's unit, the margin
//! shaded. This is the figure that judges: what the verdict stands on can be read off it.
//!
//! The broad interval is the one that must lie inside the margin for a match (1 - 2 alpha), the thin one the one that
//! must leave out zero for a difference to be shown (1 - alpha): 90 % and 95 % at the usual alpha of 5 %.

mod data;
mod drawing;
mod frame;
mod options;
mod rows;

use crate::figures::parts;
use crate::figures::parts::EDGE_PX;
use crate::figures::scene::primitives::Scene;
use crate::figures::scene::text::text_width_px;
use crate::figures::scene::theme::Theme;
use crate::stats::Analysis;
use data::Band;
pub(in crate::figures) use data::DifferencesData;
use drawing::{Drawing, NAME_SIZE_PX, PANEL_GAP_PX};
use frame::BandFrame;
pub use options::{DifferenceOrder, DifferencesOptions};
use rows::RowLayout;

/// The differences of candidates to the target. Without a target, candidates or attributes the figure says so.
pub fn differences(analysis: &Analysis, options: &DifferencesOptions) -> Scene {
    let theme = Theme::of(options.theme);
    let width_px = parts::drawable_width(options.width_px);
    let (candidates, unit) = (options.candidates.as_deref(), options.unit.as_ref());
    let data = match DifferencesData::gather(analysis, candidates, unit, options.intervals) {
        Ok(data) => data,
        Err(because) => return parts::empty_figure(width_px, "Differences to the target", &theme, &because),
    };
    let mut scene = Scene::new(width_px, data.title(), theme.background);
    scene.summary = data.summary();
    scene.table = data.table();
    let drawing = Drawing { data: &data, options, theme: &theme, analysis };
    drawing.draw(&mut scene);
    scene
}

/// A panel narrower than this says too little; fewer then stand side by side.
const NARROWEST_PANEL_PX: f64 = 170.0;
/// Below this width a row's words stand above its axis instead of beside it.
const STACKED_BELOW_PX: f64 = 540.0;

impl Drawing<'_> {
    fn draw(&self, scene: &mut Scene) {
        let is_stacked = scene.width_px < STACKED_BELOW_PX;
        let mut notes = self.data.notes(self.options);
        notes.extend(self.order_note(is_stacked));
        let mut top = parts::heading(scene, self.theme, self.options.heading, &notes);
        let names_px = if is_stacked { 0.0 } else { self.names_px(scene.width_px) };
        let room = scene.width_px - 2.0 * EDGE_PX - names_px;
        let abreast = ((room + PANEL_GAP_PX) / (NARROWEST_PANEL_PX + PANEL_GAP_PX)).floor().max(1.0) as usize;
        let abreast = if is_stacked { 1 } else { abreast.min(self.data.candidates.len()) };
        // Bands of equal size look better than a full one and a remainder.
        let bands = self.data.candidates.len().div_ceil(abreast);
        let abreast = self.data.candidates.len().div_ceil(bands);
        for start in (0..self.data.candidates.len()).step_by(abreast) {
            let end = (start + abreast).min(self.data.candidates.len());
            let band = self.data.band(start..end, self.options);
            top = self.band(scene, band, top, names_px, is_stacked) + 10.0;
        }
        if self.data.candidates.len() > 1 && !is_stacked {
            top = parts::verdict_key(scene, self.theme, top);
        }
        scene.height_px = parts::footnotes(scene, self.theme, top, &self.data.footnotes()).ceil();
    }

    /// Whose differences order the rows, where several candidates share them.
    fn order_note(&self, is_stacked: bool) -> Option<String> {
        let is_shared = self.data.candidates.len() > 1 && self.options.order != DifferenceOrder::Ballot;
        let named = self.options.order_by.as_ref().filter(|name| self.data.candidates.contains(name));
        let by = match named {
            Some(name) => name,
            None if is_stacked => return None,
            None => "the candidate at the left",
        };
        is_shared.then(|| format!("Rows are in the order of {by}."))
    }

    fn names_px(&self, width_px: f64) -> f64 {
        let widths = self.data.rows.iter().map(|row| text_width_px(&row.attribute, NAME_SIZE_PX, true));
        widths.fold(0.0, f64::max).min(width_px * 0.26).ceil() + 12.0
    }

    /// One set of candidates that share their rows. Returns where the figure may go on.
    fn band(&self, scene: &mut Scene, band: Band, top: f64, names_px: f64, is_stacked: bool) -> f64 {
        let layout = RowLayout::new(scene.width_px, names_px, band.candidates.len(), is_stacked, self.data);
        BandFrame::lay_out(self, band, layout).draw(scene, top)
    }
}
