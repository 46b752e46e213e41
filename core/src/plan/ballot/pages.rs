//! Ballot pages: one page set a cup, made from the plan, drawn as scenes whose geometry is known in mm. It knows nothing
//! of marks or of scans.

use super::geometry::{
    BallotGeometry, DOT_RADIUS_MM, LINE_WIDTH_MM, Paper, PointMm, RowGeometry, TARGET_RADIUS_MM, TICK_HALF_MM,
};
use super::page_code::{PageIdentity, Print, words_token};
use crate::figures::{Align, Color, Label, Marker, Point, Primitive, Rectangle, Scene, Stroke, wrap};
use crate::plan::PlanError;
use crate::plan::brief::attributes::ListedAttribute;
use crate::plan::tasting_plan::{PlannedServing, TastingPlan};
use qrcode::{EcLevel, QrCode};
use std::ops::Range;

pub use crate::figures::PX_PER_MM;

/// One line of the ballot in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BallotRow {
    /// Index of the attribute in the plan's list.
    pub attribute: usize,
    pub name: String,
    pub low_end: String,
    pub high_end: String,
}

/// One sheet of paper.
#[derive(Clone, Debug, PartialEq)]
pub struct BallotPage {
    pub identity: PageIdentity,
    pub title: String,
    pub assessor: String,
    /// One a row of `geometry.rows`.
    pub rows: Vec<BallotRow>,
    pub geometry: BallotGeometry,
    code: CodeSquare,
}

/// The modules of the square code, row by row; true is dark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CodeSquare {
    pub modules_a_side: usize,
    pub dark: Vec<bool>,
}

/// All ballot pages of a plan in ballot order: by session, assessor, position, page.
///
/// # Errors
/// `Incomplete` where the text of the square code can't be drawn.
pub fn ballot_pages(plan: &TastingPlan, paper: Paper) -> Result<Vec<BallotPage>, PlanError> {
    ballot_pages_where(plan, paper, |_| true)
}

/// The ballot pages of some cups only, in the same order: of one session, or of one cup to look at.
///
/// # Errors
/// As `ballot_pages`.
pub fn ballot_pages_where(
    plan: &TastingPlan,
    paper: Paper,
    is_wanted: impl Fn(&PlannedServing) -> bool,
) -> Result<Vec<BallotPage>, PlanError> {
    let mut pages = Vec::new();
    let study = plan.study_id();
    for serving in plan.servings().iter().filter(|serving| is_wanted(serving)) {
        pages.extend(pages_of_cup(plan, paper, &study, serving)?);
    }
    Ok(pages)
}

/// The page as a figure: all that is on it, in CSS pixels at true size.
pub fn ballot_scene(page: &BallotPage) -> Scene {
    let paper = page.geometry.paper;
    let title = format!("Ballot of {}, sample {}", page.assessor, page.identity.code);
    let mut scene = Scene::new(px(paper.width_mm()), title, Color::rgb(0xff_ffff));
    scene.height_px = px(paper.height_mm());
    scene.summary = format!("{} lines of 100 mm to be marked on paper.", page.rows.len());
    draw_targets(&mut scene, &page.geometry);
    draw_code(&mut scene, &page.geometry, &page.code);
    draw_header(&mut scene, page);
    for (row, words) in page.geometry.rows.iter().zip(&page.rows) {
        draw_row(&mut scene, row, words, page);
    }
    draw_check_bar(&mut scene, &page.geometry);
    draw_remarks(&mut scene, paper);
    scene
}

/// The pages of one cup; `study` is `TastingPlan::study_id`, which costs more than to be asked for at each cup.
///
/// # Errors
/// As `ballot_pages`.
pub fn pages_of_cup(
    plan: &TastingPlan,
    paper: Paper,
    study: &str,
    serving: &PlannedServing,
) -> Result<Vec<BallotPage>, PlanError> {
    let attributes = &plan.attributes.attributes;
    let ranges = ranges_of_pages(attributes.len(), paper);
    let page_count = ranges.len() as u32;
    let page_of = |(number, range): (u32, Range<usize>)| {
        let words = words_token(&attributes[range.clone()]);
        let print = Some(Print { paper, rows: range.len() as u32, words });
        let identity = PageIdentity { print, ..identity_of(study, serving, number, page_count) };
        let (title, assessor) = (plan.brief.title.clone(), plan.assessors[serving.assessor].clone());
        let rows = range.clone().map(|attribute| BallotRow::of(attribute, &attributes[attribute])).collect();
        let geometry = BallotGeometry::of_page(paper, range.start as u32 + 1, range.len());
        BallotPage::new(identity, title, assessor, rows, geometry)
    };
    (1..).zip(ranges).map(page_of).collect()
}

/// Which attributes stand on each page of a cup, from 0: as many pages as the paper takes, as even as they can be.
pub(super) fn ranges_of_pages(attributes: usize, paper: Paper) -> Vec<Range<usize>> {
    let pages = attributes.div_ceil(paper.most_rows()).max(1);
    let rows = attributes.div_ceil(pages).max(1);
    (0..attributes).step_by(rows).map(|first| first..(first + rows).min(attributes)).collect()
}

/// Whose page it is, without what it says of its print.
pub(super) fn identity_of(study: &str, serving: &PlannedServing, page: u32, pages: u32) -> PageIdentity {
    PageIdentity {
        study: study.to_owned(),
        session: serving.session,
        assessor: serving.assessor as u32 + 1,
        code: serving.code.clone(),
        position: serving.position,
        page,
        pages,
        print: None,
    }
}

impl BallotPage {
    /// A page of so many rows as the geometry has.
    ///
    /// # Errors
    /// `Incomplete` where the text of the square code can't be drawn.
    pub fn new(
        identity: PageIdentity,
        title: String,
        assessor: String,
        rows: Vec<BallotRow>,
        geometry: BallotGeometry,
    ) -> Result<Self, PlanError> {
        Ok(BallotPage { code: CodeSquare::of(&identity)?, identity, title, assessor, rows, geometry })
    }

    /// The square code.
    pub fn code(&self) -> &CodeSquare {
        &self.code
    }
}

impl BallotRow {
    fn of(attribute: usize, line: &ListedAttribute) -> Self {
        BallotRow { attribute, name: line.name.clone(), low_end: line.low_end.clone(), high_end: line.high_end.clone() }
    }
}

impl CodeSquare {
    /// A QR code (ISO/IEC 18004) that survives a quarter of it being soiled.
    ///
    /// # Errors
    /// `Incomplete` where the text is too long.
    pub fn of(identity: &PageIdentity) -> Result<CodeSquare, PlanError> {
        let code = QrCode::with_error_correction_level(identity.to_text(), EcLevel::Q).map_err(|error| {
            PlanError::Incomplete {
                what: format!("The square code of a page can't be drawn ({error})."),
                hint: "Shorten the code of the sample.".to_owned(),
            }
        })?;
        let dark = code.to_colors().into_iter().map(|color| color == qrcode::Color::Dark).collect();
        Ok(CodeSquare { modules_a_side: code.width(), dark })
    }
}

const INK: Color = Color::rgb(0x00_0000);
const GREY: Color = Color::rgb(0x80_8080);
const QUIET: Color = Color::rgb(0x59_5959);

const LEFT_MM: f64 = 24.0;
const NAME_LEFT_MM: f64 = 31.5;
const NAME_SIZE_MM: f64 = 3.6;
const END_WORD_SIZE_MM: f64 = 2.7;
const END_WORD_DROP_MM: f64 = 3.4;
const INSTRUCTIONS: [&str; 2] = [
    "Pen, not pencil. One stroke across the line.",
    "To correct: strike out, make a new one. None: stroke the left end.",
];
/// Nothing is printed lower: from here on down the first dots are looked for.
const INSTRUCTIONS_MM: [f64; 2] = [45.9, 49.5];
/// The line for remarks lies between the targets at the foot, away from both by a ring's width, so that writing reaches
/// neither them nor a row.
const REMARKS_ABOVE_EDGE_MM: f64 = 12.5;
const REMARKS_FROM_SIDES_MM: f64 = 27.0;
const REMARKS_WORD_MM: f64 = 18.0;
const CHECK_TEXT: &str = "Check: this bar is 100 mm long. If it isn't, print again at 100 %, not fitted to the page.";

fn draw_targets(scene: &mut Scene, geometry: &BallotGeometry) {
    for target in &geometry.targets {
        let ring = Stroke::solid(INK, px(1.0));
        let radius = px(TARGET_RADIUS_MM - 0.5);
        scene.primitives.push(Primitive::Circle { center: at(*target), radius, stroke: ring });
        scene.marker(at(*target), px(1.2), Marker::Circle, INK, None);
    }
}

/// Runs of dark modules are drawn as one rectangle, so that no seam shows between them.
fn draw_code(scene: &mut Scene, geometry: &BallotGeometry, code: &CodeSquare) {
    let module = geometry.code_side_mm / code.modules_a_side as f64;
    for (row, line) in code.dark.chunks(code.modules_a_side).enumerate() {
        let mut column = 0;
        while column < line.len() {
            let run = line[column..].iter().take_while(|dark| **dark).count();
            if run > 0 {
                let left = geometry.code_corner.x_mm + module * column as f64;
                let top = geometry.code_corner.y_mm + module * row as f64;
                scene.rectangle(Rectangle::new(px(left), px(top), px(module * run as f64), px(module)), INK);
            }
            column += run.max(1);
        }
    }
}

fn draw_header(scene: &mut Scene, page: &BallotPage) {
    let identity = &page.identity;
    let room = page.geometry.code_corner.x_mm - 4.0 - LEFT_MM;
    let mut line = |y_mm: f64, text: String, size_mm: f64, bold: bool, color: Color| {
        let text = wrap(&text, px(room), px(size_mm), bold, 1).into_iter().next().unwrap_or_default();
        scene.text(Label::new(at_mm(LEFT_MM, y_mm), text, px(size_mm), color).bold(bold));
    };
    line(15.0, page.title.clone(), 3.4, false, QUIET);
    line(22.0, page.assessor.clone(), 4.6, true, INK);
    line(31.0, format!("Sample {}", identity.code), 7.0, true, INK);
    let place = format!(
        "Session {}, cup {}, page {} of {}",
        identity.session, identity.position, identity.page, identity.pages
    );
    line(37.6, place, 3.4, false, INK);
    line(41.9, identity.to_text(), 2.5, false, QUIET);
    for (text, y_mm) in INSTRUCTIONS.into_iter().zip(INSTRUCTIONS_MM) {
        scene.text(Label::new(at_mm(LEFT_MM, y_mm), text, px(3.2), INK));
    }
}

fn draw_row(scene: &mut Scene, row: &RowGeometry, words: &BallotRow, page: &BallotPage) {
    draw_line_with_ends(scene, row);
    let left = row.line_left;
    let number = row.number.to_string();
    let far_x = page.geometry.paper.width_mm() - LEFT_MM;
    scene.text(Label::new(at_mm(LEFT_MM, left.y_mm), number.clone(), px(3.2), QUIET));
    scene.text(Label::new(at_mm(far_x, left.y_mm), number, px(3.2), QUIET).align(Align::End));
    let room = left.x_mm - 4.0 - NAME_LEFT_MM;
    let lines = wrap(&words.name, px(room), px(NAME_SIZE_MM), false, 2);
    let first_y = left.y_mm - NAME_SIZE_MM * 0.55 * (lines.len() as f64 - 1.0);
    for (index, text) in lines.into_iter().enumerate() {
        let y_mm = first_y + NAME_SIZE_MM * 1.1 * index as f64;
        scene.text(Label::new(at_mm(NAME_LEFT_MM, y_mm), text, px(NAME_SIZE_MM), INK));
    }
    draw_end_words(scene, row, words);
}

fn draw_line_with_ends(scene: &mut Scene, row: &RowGeometry) {
    let (left, right) = (row.line_left, row.line_right);
    let stroke = Stroke::solid(GREY, px(LINE_WIDTH_MM));
    scene.line(at(left), at(right), stroke);
    for end in [left, right] {
        scene.line(at_mm(end.x_mm, end.y_mm - TICK_HALF_MM), at_mm(end.x_mm, end.y_mm + TICK_HALF_MM), stroke);
    }
    row.dots.iter().for_each(|dot| scene.marker(at(*dot), px(DOT_RADIUS_MM), Marker::Circle, INK, None));
}

fn draw_end_words(scene: &mut Scene, row: &RowGeometry, words: &BallotRow) {
    let below = row.line_left.y_mm + END_WORD_DROP_MM;
    let mut word = |text: &str, x_mm: f64, align: Align| {
        let text = wrap(text, px(46.0), px(END_WORD_SIZE_MM), false, 1).into_iter().next().unwrap_or_default();
        scene.text(Label::new(at_mm(x_mm, below), text, px(END_WORD_SIZE_MM), QUIET).align(align));
    };
    word(&words.low_end, row.line_left.x_mm, Align::Start);
    word(&words.high_end, row.line_right.x_mm, Align::End);
}

fn draw_check_bar(scene: &mut Scene, geometry: &BallotGeometry) {
    let (left, right) = (geometry.check_bar_left, geometry.check_bar_right);
    let stroke = Stroke::solid(INK, px(LINE_WIDTH_MM));
    scene.line(at(left), at(right), stroke);
    for end in [left, right] {
        scene.line(at_mm(end.x_mm, end.y_mm - 2.0), at_mm(end.x_mm, end.y_mm + 2.0), stroke);
    }
    let middle = geometry.paper.width_mm() / 2.0;
    scene.text(Label::new(at_mm(middle, left.y_mm + 5.0), CHECK_TEXT, px(2.9), INK).align(Align::Middle));
}

fn draw_remarks(scene: &mut Scene, paper: Paper) {
    let y_mm = paper.height_mm() - REMARKS_ABOVE_EDGE_MM;
    let (left, right) = (REMARKS_FROM_SIDES_MM, paper.width_mm() - REMARKS_FROM_SIDES_MM);
    scene.text(Label::new(at_mm(left, y_mm - 1.0), "Remarks", px(2.9), QUIET));
    scene.line(at_mm(left + REMARKS_WORD_MM, y_mm), at_mm(right, y_mm), Stroke::solid(GREY, px(LINE_WIDTH_MM)));
}

fn px(length_mm: f64) -> f64 {
    length_mm * PX_PER_MM
}

fn at(point: PointMm) -> Point {
    at_mm(point.x_mm, point.y_mm)
}

fn at_mm(x_mm: f64, y_mm: f64) -> Point {
    Point::new(px(x_mm), px(y_mm))
}
