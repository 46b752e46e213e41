//! One picture and the pages of a plan to what each page says, in steps of some milliseconds. It knows nothing of files
//! or of other pictures.

use super::dots::minus;
use super::identify::{Identity, identify};
use super::judge::RowReading;
use super::known_pages::KnownPages;
use super::landmarks::{Ring, Triple, rings, triples};
use super::light::Light;
use super::page::{Background, PageReading};
use super::picture::Picture;
use super::plane::{Place, distance};
use super::row_ink::RowInk;
use super::shapes::Shapes;
use super::small_strip::SmallStrip;
use super::work_copy::WorkCopy;
use crate::defined::Defined;
use crate::run::{Reached, Run};
use std::sync::Arc;

/// Lines of the copy that one step looks through.
const LINES_A_STEP: usize = 200;
/// More rings than this are no page but a pattern: looking for codes among them would take long.
const MOST_RINGS: usize = 60;
/// Two codes of one page nearer than this many times their size are one code found twice.
const SAME_CODE: f64 = 1.5;

/// What stands on one page of a picture.
#[derive(Clone, Debug, PartialEq)]
pub struct PageFound {
    /// Index into `KnownPages::pages`.
    pub page: Option<usize>,
    /// One a row; none where the page failed.
    pub rows: Vec<RowReading>,
    /// Why it failed, and what to do.
    pub fault: Option<String>,
    /// A small picture a row; none where the page failed.
    pub strips: Vec<SmallStrip>,
    /// How the page lies in the picture.
    pub turned: Turned,
    corner: Place,
}

#[cfg(test)]
impl PageFound {
    /// A page as a picture of it would give it, for tests of what follows.
    pub(crate) fn made_up(page: usize, rows: Vec<RowReading>, turned: Turned) -> Self {
        let blank = SmallStrip { levels: vec![0; SmallStrip::WIDTH_PX * SmallStrip::HEIGHT_PX] };
        let strips = vec![blank; rows.len()];
        PageFound { page: Some(page), rows, fault: None, strips, turned, corner: (0.0, 0.0) }
    }

    /// A page that could not be read.
    pub(crate) fn made_up_fault(why: &str) -> Self {
        let (rows, strips) = (Vec::new(), Vec::new());
        let fault = Some(why.to_owned());
        PageFound { page: None, rows, fault, strips, turned: Turned::Upright, corner: (0.0, 0.0) }
    }
}

/// How a page lies in a picture. It is read however it lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Turned {
    #[default]
    Upright,
    Sideways,
    UpsideDown,
}

impl Turned {
    /// By the way from the upper left corner of a code to its upper right one, in pixels to the right and down.
    fn of_way((right, down): Place) -> Self {
        if down.abs() > right.abs() {
            Turned::Sideways
        } else if right < 0.0 {
            Turned::UpsideDown
        } else {
            Turned::Upright
        }
    }
}

/// A picture while it is read.
pub struct PictureRun {
    pages: Arc<KnownPages>,
    picture: Picture,
    stage: Stage,
    done: usize,
    expected: usize,
    light: Option<Light>,
    copy: WorkCopy,
    shapes: Shapes,
    rings: Vec<Ring>,
    codes: Vec<Triple>,
    found: Vec<PageFound>,
}

enum Stage {
    Light,
    Copy,
    /// From this line of the copy on.
    Shapes(usize),
    Rings,
    /// Index of the code.
    Code(usize),
    Strips(usize, usize, Box<PageReading>),
    Ink(usize, usize, Box<PageReading>, Background, Vec<RowInk>),
    Done,
}

impl PictureRun {
    pub fn new(pages: Arc<KnownPages>, picture: Picture) -> Self {
        let copy = WorkCopy::new(&picture);
        let expected = 3 + 2 * copy.steps() + 60;
        PictureRun {
            pages,
            picture,
            stage: Stage::Light,
            done: 0,
            expected,
            light: None,
            copy,
            shapes: Shapes::default(),
            rings: Vec::new(),
            codes: Vec::new(),
            found: Vec::new(),
        }
    }

    fn next(&mut self, stage: Stage) -> Stage {
        let Some(light) = &self.light else {
            self.light = Some(Light::of(&self.picture));
            return Stage::Copy;
        };
        match stage {
            Stage::Light => Stage::Copy,
            Stage::Copy => {
                self.copy.step(&self.picture, light);
                if self.copy.is_done() { Stage::Shapes(0) } else { Stage::Copy }
            }
            Stage::Shapes(line) => self.look_through(line),
            Stage::Rings => self.find_codes(),
            Stage::Code(code) => self.start_page(code),
            Stage::Strips(code, page, mut reading) => {
                reading.step(&self.picture);
                if reading.is_cut() {
                    let background = reading.background();
                    return Stage::Ink(code, page, reading, background, Vec::new());
                }
                Stage::Strips(code, page, reading)
            }
            Stage::Ink(code, page, reading, background, mut rows) => {
                rows.push(reading.ink_of(rows.len(), &background));
                if rows.len() < reading.rows() {
                    return Stage::Ink(code, page, reading, background, rows);
                }
                let judged = reading.judged(&rows, &background);
                self.note(code, Some(page), Ok((judged, reading.small_strips())));
                Stage::Code(code + 1)
            }
            Stage::Done => Stage::Done,
        }
    }

    fn look_through(&mut self, line: usize) -> Stage {
        let end = (line + LINES_A_STEP).min(self.copy.height());
        (line..end).for_each(|y| self.shapes.add_line(&self.copy.dark_pieces(y)));
        if end < self.copy.height() { Stage::Shapes(end) } else { Stage::Rings }
    }

    /// Rings that look like corners of a code first; where they don't make one, those that look like targets too.
    fn find_codes(&mut self) -> Stage {
        let shapes = std::mem::take(&mut self.shapes).measured();
        self.rings = rings(&shapes, self.copy.factor);
        if self.rings.len() > MOST_RINGS {
            self.rings.retain(|ring| ring.is_finder);
            self.rings.truncate(MOST_RINGS);
        }
        let finders: Vec<usize> = (0..self.rings.len()).filter(|index| self.rings[*index].is_finder).collect();
        self.codes = triples(&self.rings, &finders);
        let used: Vec<usize> = self.codes.iter().flatten().copied().collect();
        if used.is_empty() || used.len() < finders.len() {
            let spare: Vec<usize> = (0..self.rings.len()).filter(|index| !used.contains(index)).collect();
            self.codes.extend(triples(&self.rings, &spare));
        }
        Stage::Code(0)
    }

    fn start_page(&mut self, code: usize) -> Stage {
        let (Some(light), Some(triple)) = (&self.light, self.codes.get(code).copied()) else { return Stage::Done };
        let corners = triple.map(|index| &self.rings[index]);
        let in_codes: Vec<usize> = self.codes.iter().flatten().copied().collect();
        let others: Vec<&Ring> =
            (0..self.rings.len()).filter(|index| !in_codes.contains(index)).map(|index| &self.rings[index]).collect();
        let identity = identify(&self.picture, light, &self.pages, corners, &others);
        let fault = match identity {
            Identity::Page(page) => {
                let known = &self.pages.pages[page];
                match PageReading::start(&self.picture, light, known, corners, &others) {
                    Ok(reading) => return Stage::Strips(code, page, Box::new(reading)),
                    Err(why) => (Some(page), why),
                }
            }
            Identity::OtherPage => (None, OTHER_PAGE.to_owned()),
            Identity::Unreadable => (None, UNREADABLE.to_owned()),
        };
        self.note(code, fault.0, Err(fault.1));
        Stage::Code(code + 1)
    }

    fn note(&mut self, code: usize, page: Option<usize>, rows: Result<(Vec<RowReading>, Vec<SmallStrip>), String>) {
        let triple = self.codes[code];
        let corner = self.rings[triple[0]].place;
        let size = self.rings[triple[0]].size_px;
        let is_same = |other: &PageFound| other.page == page && distance(other.corner, corner) < SAME_CODE * size;
        let looks_like_code = triple.iter().all(|index| self.rings[*index].is_finder);
        if self.found.iter().any(is_same) || (page.is_none() && !looks_like_code) {
            return;
        }
        let turned = Turned::of_way(minus(self.rings[triple[1]].place, corner));
        let ((rows, strips), fault) = match rows {
            Ok(read) => (read, None),
            Err(why) => ((Vec::new(), Vec::new()), Some(why)),
        };
        self.found.push(PageFound { page, rows, fault, strips, turned, corner });
    }
}

const OTHER_PAGE: &str = "The square code is readable and belongs to no page that this plan prints: it is a page of another \
                          plan, or the plan was laid out anew after printing. Open the plan that it was printed from.";
const UNREADABLE: &str = "The square code can't be read: it is blurred, soiled or covered. Scan the page again, or type \
                          its scores.";
const NO_CODE: &str = "No ballot page was found: no square code is in the picture, or it is too small, blurred or covered. \
                       Photograph one whole page, or type its scores.";

impl Run for PictureRun {
    type Found = Vec<PageFound>;

    fn step(&mut self) {
        let stage = std::mem::replace(&mut self.stage, Stage::Done);
        if !matches!(stage, Stage::Done) {
            self.stage = self.next(stage);
            self.done += 1;
        }
    }

    fn reached(&self) -> Reached {
        let is_done = matches!(self.stage, Stage::Done);
        Reached { done: self.done, wanted: if is_done { self.done } else { self.expected.max(self.done + 1) } }
    }

    /// What stands on each page of the picture; one failed page where none was found.
    fn finish(mut self) -> Defined<Vec<PageFound>> {
        while !self.is_done() {
            self.step();
        }
        if self.found.is_empty() {
            let fault = Some(NO_CODE.to_owned());
            let (rows, strips, turned) = (Vec::new(), Vec::new(), Turned::Upright);
            self.found.push(PageFound { page: None, rows, fault, strips, turned, corner: (0.0, 0.0) });
        }
        Ok(self.found)
    }
}
