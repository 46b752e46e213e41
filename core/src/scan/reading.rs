//! One picture and the pages of a plan to what each page says, in steps of some milliseconds. It knows nothing of files
//! or of other pictures.

use super::dots::{Sight, minus};
use super::foreign::about_other;
use super::identify::{Identity, identify};
use super::judge::RowReading;
use super::known_pages::KnownPages;
use super::landmarks::{Ring, Triple, rings, triples};
use super::light::{Light, LightRun};
use super::page::{Background, PageReading, PageStart};
use super::picture::Picture;
use super::plane::{Place, distance};
use super::row_ink::RowInk;
use super::shapes::Shapes;
use super::small_strip::SmallStrip;
use super::test_finding::TestFinding;
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
    /// Which of the page's codes it bears; 0 where no page is known.
    pub code: usize,
    /// One a row; none where the page failed.
    pub rows: Vec<RowReading>,
    /// Why it failed and what to do, or what a test page says.
    pub fault: Option<String>,
    /// What a test page says of printer and scanner; it has no page and no rows then.
    pub test: Option<TestFinding>,
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
        PageFound { page: Some(page), code: 0, rows, fault: None, test: None, strips, turned, corner: (0.0, 0.0) }
    }

    /// A test page without a stroke that was read.
    pub(crate) fn made_up_test() -> Self {
        let test = TestFinding::of(&[]);
        PageFound { test: Some(test), ..PageFound::made_up_fault(&test.to_string()) }
    }

    /// A page that could not be read.
    pub(crate) fn made_up_fault(why: &str) -> Self {
        let (rows, strips) = (Vec::new(), Vec::new());
        let fault = Some(why.to_owned());
        PageFound { page: None, code: 0, rows, fault, test: None, strips, turned: Turned::Upright, corner: (0.0, 0.0) }
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
    Light(LightRun),
    Copy,
    /// From this line of the copy on.
    Shapes(usize),
    Rings,
    /// Index of the code.
    Code(usize),
    Start(usize, (usize, usize), Box<PageStart>),
    Strips(usize, (usize, usize), Box<PageReading>),
    Paper(usize, (usize, usize), Box<PageReading>),
    Ink(usize, (usize, usize), Box<PageReading>, Background, Vec<RowInk>),
    Done,
}

impl PictureRun {
    pub fn new(pages: Arc<KnownPages>, picture: Picture) -> Self {
        let copy = WorkCopy::new(&picture);
        let light = LightRun::new(&picture);
        let expected = 3 + light.steps() + 2 * copy.steps() + 70;
        PictureRun {
            pages,
            picture,
            stage: Stage::Light(light),
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
        if let Stage::Light(run) = stage {
            return self.measure_light(run);
        }
        let Some(light) = &self.light else { return Stage::Done };
        match stage {
            Stage::Copy => {
                self.copy.step(&self.picture, light);
                if self.copy.is_done() { Stage::Shapes(0) } else { Stage::Copy }
            }
            Stage::Shapes(line) => self.look_through(line),
            Stage::Rings => self.find_codes(),
            Stage::Code(code) => self.start_page(code),
            Stage::Start(code, page, mut start) => match start.step(Sight { picture: &self.picture, light }) {
                None => Stage::Start(code, page, start),
                Some(Ok(reading)) => Stage::Strips(code, page, Box::new(reading)),
                Some(Err(why)) => {
                    self.note(code, Some(page), Err(why));
                    Stage::Code(code + 1)
                }
            },
            Stage::Strips(code, page, mut reading) => {
                reading.step(&self.picture);
                if reading.is_cut() { Stage::Paper(code, page, reading) } else { Stage::Strips(code, page, reading) }
            }
            Stage::Paper(code, page, reading) => {
                let background = reading.background();
                Stage::Ink(code, page, reading, background, Vec::new())
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
            Stage::Light(_) | Stage::Done => Stage::Done,
        }
    }

    fn measure_light(&mut self, mut run: LightRun) -> Stage {
        if run.is_done() {
            self.light = Some(run.light(&self.picture));
            return Stage::Copy;
        }
        run.step(&self.picture);
        Stage::Light(run)
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
            Identity::Page(page, said) => {
                let corners = triple.map(|index| self.rings[index]);
                let others = others.into_iter().copied().collect();
                let start = PageStart::new(self.pages.page(page), said, corners, others);
                return Stage::Start(code, (page, said), Box::new(start));
            }
            Identity::Other(text) => about_other(&self.pages, text.as_deref()),
            Identity::Unreadable => UNREADABLE.to_owned(),
        };
        self.note(code, None, Err(fault));
        Stage::Code(code + 1)
    }

    fn note(
        &mut self,
        code: usize,
        page: Option<(usize, usize)>,
        rows: Result<(Vec<RowReading>, Vec<SmallStrip>), String>,
    ) {
        let triple = self.codes[code];
        let corner = self.rings[triple[0]].place;
        let size = self.rings[triple[0]].size_px;
        let (page, said) = page.map_or((None, 0), |(page, said)| (Some(page), said));
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
        let is_test = page.is_some_and(|page| self.pages.is_test(page));
        let test = (is_test && fault.is_none()).then(|| TestFinding::of(&rows));
        let fault = fault.or_else(|| test.as_ref().map(TestFinding::to_string));
        let (page, rows, strips) = if is_test { (None, Vec::new(), Vec::new()) } else { (page, rows, strips) };
        self.found.push(PageFound { page, code: said, rows, fault, test, strips, turned, corner });
    }
}

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
            let corner = (0.0, 0.0);
            self.found.push(PageFound { page: None, code: 0, rows, fault, test: None, strips, turned, corner });
        }
        Ok(self.found)
    }
}
