//! Names on the map: which there are, and where each finds a place clear of the others.

use super::{Drawing, LABEL_SIZE_PX};
use crate::figures::scene::layout::{Named, place_beside};
use crate::figures::scene::primitives::{Label, Point, Rectangle, Scene, Stroke};
use crate::figures::scene::text::{shorten, text_height_px, text_width_px};
use crate::stats::map::product_map::MapAttribute;

/// A name on the map, as long as there is room for.
struct MapName {
    text: String,
    /// What it names: a sample's point or the end of an attribute's line.
    at: Point,
    /// Samples are set in bold and choose their places first.
    is_sample: bool,
}

impl Drawing<'_> {
    /// Samples first, then attributes from the best shown on; what finds no free place stays without a name.
    pub fn names(&mut self, scene: &mut Scene, taken: &[Rectangle]) {
        let names: Vec<MapName> = self.sample_names().chain(self.attribute_names()).collect();
        let named: Vec<Named> = names.iter().map(|name| self.room_for(name)).collect();
        let placed = place_beside(&named, taken, self.plot);
        self.unnamed = placed.iter().filter(|area| area.is_none()).count();
        for (name, area) in names.iter().zip(&placed) {
            if let Some(area) = area {
                self.name(scene, name, *area);
            }
        }
    }

    fn short(&self, name: &str, is_sample: bool) -> String {
        shorten(name, self.plot.width * 0.4, LABEL_SIZE_PX, is_sample)
    }

    fn sample_names(&self) -> impl Iterator<Item = MapName> {
        self.map.samples.iter().map(move |sample| MapName {
            text: self.short(&sample.sample, true),
            at: self.place(self.coordinates(&sample.position)),
            is_sample: true,
        })
    }

    fn attribute_names(&self) -> impl Iterator<Item = MapName> {
        let is_shown = self.options.attributes && self.map.axes.len() > 1;
        let mut named: Vec<&MapAttribute> =
            self.map.attributes.iter().filter(|attribute| is_shown && self.is_named(attribute)).collect();
        let length = |attribute: &MapAttribute| {
            let at = self.coordinates(&attribute.correlations);
            at.x * at.x + at.y * at.y
        };
        named.sort_by(|a, b| length(b).total_cmp(&length(a)));
        named.into_iter().map(move |one| MapName {
            text: self.short(&one.attribute, false),
            at: self.end_of(one),
            is_sample: false,
        })
    }

    fn room_for(&self, name: &MapName) -> Named {
        Named {
            at: name.at,
            reach_px: if name.is_sample { 6.5 } else { 3.0 },
            width_px: text_width_px(&name.text, LABEL_SIZE_PX, name.is_sample),
            height_px: text_height_px(LABEL_SIZE_PX),
            // An attribute's line comes from the origin, so its name stands on the far side.
            away: if name.is_sample { Point::new(0.0, 0.0) } else { self.offset_from_origin(name.at) },
        }
    }

    fn name(&self, scene: &mut Scene, name: &MapName, area: Rectangle) {
        let at = name.at;
        if area.distance_to(at) > 14.0 {
            let near = Point::new(at.x.clamp(area.left, area.right()), at.y.clamp(area.top, area.bottom()));
            scene.line(at, near, Stroke::solid(self.theme.axis, 0.8));
        }
        let color = if name.is_sample { self.theme.ink } else { self.theme.quiet_ink };
        scene.rectangle(area, self.theme.background.with_alpha(0.7));
        let middle = Point::new(area.left, area.top + area.height / 2.0);
        scene.text(Label::new(middle, &name.text, LABEL_SIZE_PX, color).bold(name.is_sample));
    }
}
