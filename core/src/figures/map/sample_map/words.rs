//! The words and numbers around the map: notes, summary, what is read out, table.

use super::Drawing;
use crate::figures::scene::primitives::FigureTable;
use crate::stats::map::product_map::MapAttribute;
use crate::text::{lists, numbers};

impl Drawing<'_> {
    /// Sentences that belong above the figure.
    pub fn notes(&self) -> Vec<String> {
        let mut note = "Samples that lie close together are alike on these two axes.".to_owned();
        if self.ellipses.iter().any(Option::is_some) {
            let level = numbers::shown_percent(self.options.ellipse_level);
            note.push_str(&format!(
                " Ellipses: hold a sample's true place in {level} of panels like this one; measured in simulation: 94 to 96 %."
            ));
        }
        if self.options.attributes && self.map.axes.len() > 1 {
            note.push_str(" Grey lines: attributes by their correlation with the axes, on a scale of their own.");
        }
        vec![note]
    }

    /// Sentences that belong below the figure.
    pub fn footnotes(&self) -> Vec<String> {
        let mut notes = self.map.cautions.clone();
        let pale = self.map.attributes.iter().filter(|attribute| !self.is_named(attribute)).count();
        if self.options.attributes && self.map.axes.len() > 1 && pale > 0 {
            let words = lists::counted(pale, "attribute has", "attributes have");
            notes.push(format!("{words} less than half of the variance on these axes: drawn pale, without a name."));
        }
        if self.unnamed > 0 {
            let words = lists::counted(self.unnamed, "name has", "names have");
            notes.push(format!("{words} no room in this figure; point at the mark or read the table."));
        }
        notes
    }

    /// What the figure shows, in one sentence.
    pub fn summary(&self) -> String {
        let shares: f64 = [self.options.x_axis, self.options.y_axis]
            .iter()
            .filter_map(|&axis| self.map.axes.get(axis))
            .map(|axis| axis.share)
            .sum();
        let axes = self.map.axes.len().min(2);
        format!(
            "Map of {} on {}, which {} {:.0} % of the differences between their profiles.",
            lists::counted(self.map.samples.len(), "sample", "samples"),
            lists::counted(axes, "axis", "axes"),
            if axes == 1 { "shows" } else { "show" },
            100.0 * shares
        )
    }

    /// What is read out for a sample.
    pub fn lines_of_sample(&self, sample: &str, position: &[f64]) -> Vec<String> {
        let at = self.coordinates(position);
        let is_target = self.analysis.target.as_deref() == Some(sample);
        vec![
            format!("{sample}{}", if is_target { " (target)" } else { "" }),
            format!("axis {}: {}", self.options.x_axis + 1, numbers::shown_signed(at.x, 1)),
            format!("axis {}: {}", self.options.y_axis + 1, numbers::shown_signed(at.y, 1)),
        ]
    }

    /// What is read out for an attribute.
    pub fn lines_of_attribute(&self, attribute: &MapAttribute) -> Vec<String> {
        let at = self.coordinates(&attribute.correlations);
        vec![
            attribute.attribute.clone(),
            format!("correlation with axis {}: {}", self.options.x_axis + 1, numbers::shown_signed(at.x, 2)),
            format!("correlation with axis {}: {}", self.options.y_axis + 1, numbers::shown_signed(at.y, 2)),
        ]
    }

    /// The numbers behind the figure.
    pub fn table(&self) -> FigureTable {
        let axis = |axis: usize| format!("Axis {}", axis + 1);
        let (x, y) = (axis(self.options.x_axis), axis(self.options.y_axis));
        let mut table = FigureTable::with_columns(&[("Sample or attribute", false), (&x, true), (&y, true)]);
        for sample in &self.map.samples {
            let at = self.coordinates(&sample.position);
            table.rows.push(vec![
                sample.sample.clone(),
                numbers::shown_signed(at.x, 2),
                numbers::shown_signed(at.y, 2),
            ]);
        }
        for attribute in &self.map.attributes {
            let at = self.coordinates(&attribute.correlations);
            let name = format!("{} (correlation)", attribute.attribute);
            table.rows.push(vec![name, numbers::shown_signed(at.x, 3), numbers::shown_signed(at.y, 3)]);
        }
        table
    }
}
