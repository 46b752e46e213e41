//! The entry on the map: samples and attributes together on few axes, with ellipses from assessors drawn again.

use super::entry::{Frame, JsonPart, JsonPlace, Statistic};
use super::{About, Cost, Given, RestsOn, Topic, help};
use crate::defined::Defined;
use crate::figures::{SampleMapOptions, Scene, sample_map};
use crate::run::{Reached, Run};
use crate::stats::map::ellipses::{EllipseRun, MapEllipses};
use crate::stats::map::product_map::{MapOptions, ProductMap, product_map};
use crate::table::Table;
use crate::tables;
use crate::text::plain_json::plain_json;
use serde::Serialize;

/// The map with its ellipses.
pub struct Map;

/// What the map shows. Its ellipses may not be defined where the map is.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MapFound {
    pub map: ProductMap,
    pub ellipses: Defined<MapEllipses>,
}

/// The ellipses under way; the map itself is made at once.
pub struct MapRun {
    map: ProductMap,
    ellipses: Defined<EllipseRun>,
}

impl MapRun {
    /// # Errors
    /// There is no map.
    pub fn start(given: &Given, options: MapOptions) -> Defined<Self> {
        let map = product_map(&given.study, options)?;
        let ellipses = EllipseRun::start(&given.study, &map, given.draws, given.study.settings.seed);
        Ok(MapRun { map, ellipses })
    }
}

impl Run for MapRun {
    type Found = MapFound;

    fn step(&mut self) {
        if let Ok(ellipses) = &mut self.ellipses {
            ellipses.step();
        }
    }

    fn reached(&self) -> Reached {
        self.ellipses.as_ref().map_or(Reached { done: 1, wanted: 1 }, Run::reached)
    }

    fn is_done(&self) -> bool {
        self.ellipses.as_ref().map_or(true, Run::is_done)
    }

    fn finish(self) -> Defined<MapFound> {
        Ok(MapFound { map: self.map, ellipses: self.ellipses.and_then(Run::finish) })
    }
}

impl Statistic for Map {
    type Found = MapFound;
    type Run = MapRun;

    const ABOUT: About = About {
        id: "map",
        topic: Topic::Map,
        title: "Map of samples and attributes",
        doing: "Drawing panels again for the map:",
        needs: &[],
        ask: "Draw panels again",
        not_defined: "A map is not defined",
        cost: Cost::Draws,
        rests_on: RestsOn::Tasted,
        names_assessors: true,
        help: &[&help::MAP],
    };
    const JSON: Option<JsonPlace> = Some(JsonPlace::Top("map"));

    fn start(given: &Given) -> Defined<MapRun> {
        MapRun::start(given, MapOptions::of(&given.study))
    }

    fn conclusion(given: &Given, found: &MapFound) -> Option<String> {
        Some(tables::map::answer(&given.analysis, &found.map, found.ellipses.as_ref().ok()))
    }

    fn tables(_given: &Given, found: &MapFound) -> Vec<Table> {
        vec![tables::map::axes(&found.map, found.ellipses.as_ref().ok()), tables::map::attributes(&found.map, 0, 1)]
    }

    fn figure_count(_given: &Given, _found: &MapFound) -> usize {
        1
    }

    fn figure(given: &Given, found: &MapFound, frame: &Frame, place: usize) -> Option<Scene> {
        let Frame { width_px, theme, heading } = *frame;
        let options = SampleMapOptions { width_px, theme, heading, ..Default::default() };
        (place == 0).then(|| sample_map(&given.analysis, &found.map, found.ellipses.as_ref().ok(), &options))
    }

    fn notes(_given: &Given, found: &MapFound) -> Vec<String> {
        let ellipses = match &found.ellipses {
            Ok(ellipses) => format!("{} draws. {}", ellipses.draws, ellipses.model),
            Err(reason) => format!("No ellipses, because {}.", reason.because),
        };
        let mut notes = vec![ellipses];
        notes.extend(found.map.cautions.iter().cloned());
        notes
    }

    fn json(_given: &Given, found: Defined<&MapFound>) -> Vec<JsonPart> {
        let map = found.as_ref().map(|found| &found.map).map_err(Clone::clone);
        let ellipses = found.and_then(|found| found.ellipses.as_ref().map_err(Clone::clone));
        vec![
            JsonPart { place: JsonPlace::Top("map"), value: plain_json(&map) },
            JsonPart { place: JsonPlace::Top("map_ellipses"), value: plain_json(&ellipses) },
        ]
    }
}
