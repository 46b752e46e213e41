//! The rules of doubt: whether a row is taken, asked about, or empty. It looks at measures only, never at a picture.
//!
//! Limits come from generated pages (RESULT.md beside this file says which), and each has a reason of its own: a wrong
//! score is far worse than a question, so a rule is never loosened for fewer questions where a gross error would pass.

use super::blobs::BAND_MM;
use super::doubts::Doubt;
use super::marks::Mark;
use super::row_ink::RowInk;

/// What is known of the pen from all rows of a page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// Median darkness of the marks, 0 to 1.
    pub dark: f64,
    /// Median width of ink a mm of height.
    pub width_mm: f64,
    /// Median area of the largest mark of a row.
    pub area_mm2: f64,
    /// Scatter of the paper, as a standard deviation of darkness.
    pub noise: f64,
}

/// How a row was understood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowState {
    /// Taken without asking.
    Read,
    /// A person decides.
    Ask,
    /// Nothing was marked; shown to a person all the same.
    Empty,
}

/// A row as it was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct RowReading {
    pub state: RowState,
    /// 0 to 100 along the line; what is suggested, where it is asked about.
    pub score_mm: Option<f64>,
    /// Every reason to ask.
    pub doubts: Vec<Doubt>,
}

/// What is known of a row beside its ink.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RowPlace {
    /// Dots of the row that were replaced, and that were lost.
    pub replaced: usize,
    pub lost: usize,
    /// A stroke crosses this row's line and a neighbour's.
    pub is_shared: bool,
}

const LINE_OFF_MM: f64 = 0.6;
const BEYOND_MM: f64 = 1.3;
/// A stroke goes on towards a neighbour where so much of the way has ink, and meets its mark within so many mm.
const GOES_ON: f64 = 0.8;
const MEETS_MM: f64 = 2.0;
/// It reaches the edge of the band in which ink is looked at, in mm from the line.
const LEAVES_MM: f64 = 1.75;
/// Ink that ends so far from the line, in mm, doesn't cross it.
const ENDS_BEFORE_MM: f64 = 0.9;

impl Pen {
    /// From all rows of a page; what nothing is known of is taken as a usual pen.
    pub fn of(rows: &[RowInk], noise: f64) -> Self {
        let marks = || rows.iter().flat_map(|row| &row.marks);
        let widths = marks().filter(|mark| mark.runs <= 1).map(thickness_mm).collect();
        let largest = rows.iter().filter_map(|row| row.marks.iter().map(|mark| mark.area_mm2).max_by(f64::total_cmp));
        Pen {
            dark: median_or(marks().map(|mark| mark.dark).collect(), 0.5),
            width_mm: median_or(widths, 0.6),
            area_mm2: median_or(largest.collect(), 1.0),
            noise,
        }
    }
}

fn median_or(mut values: Vec<f64>, otherwise: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    match values.len() {
        0 => otherwise,
        count => (values[(count - 1) / 2] + values[count / 2]) / 2.0,
    }
}

/// Ink a mm of height.
fn thickness_mm(mark: &Mark) -> f64 {
    mark.area_mm2 / mark.height_mm.max(0.5)
}

/// Round and no longer than a millimetre or so: dirt, no pen.
fn is_dirt(mark: &Mark) -> bool {
    mark.width_mm.max(mark.height_mm) <= 1.25 && (0.6..1.67).contains(&(mark.width_mm / mark.height_mm))
}

/// Judges one row.
pub fn judge(row: &RowInk, place: RowPlace, pen: &Pen) -> RowReading {
    let mut doubts = about_place(row, place);
    let marks = marks_near_line(row);
    let Some(main) = main_of(&marks) else {
        doubts.extend(about_nothing(row, pen));
        let state = if doubts.is_empty() { RowState::Empty } else { RowState::Ask };
        return RowReading { state, score_mm: None, doubts };
    };
    doubts.extend(about_others(row, main, &marks));
    let (along, about_mark) = about_mark(main, pen);
    doubts.extend(about_mark);
    if !(-BEYOND_MM..=100.0 + BEYOND_MM).contains(&along) {
        doubts.push(Doubt::BeyondTheEnd);
    }
    let state = if doubts.is_empty() { RowState::Read } else { RowState::Ask };
    RowReading { state, score_mm: Some(along.clamp(0.0, 100.0)), doubts }
}

/// For each row whether the mark that would say its score goes on into a neighbour's: one of the two rows may have no mark
/// of its own. What is too faint to count as a second mark, such as the streak of a dirty scanner, joins no rows.
pub fn shared_strokes(rows: &[RowInk], pitch_mm: f64) -> Vec<bool> {
    let mut shared = vec![false; rows.len()];
    let marks: Vec<Vec<&Mark>> = rows.iter().map(marks_that_count).collect();
    for (upper, both) in marks.windows(2).enumerate() {
        let goes_on = |one: &[&Mark], other: &[&Mark]| {
            one.iter().any(|mark| other.iter().any(|below| is_one_stroke(mark, below, pitch_mm)))
        };
        let (above, below) = (&both[0], &both[1]);
        shared[upper] |= goes_on(&above[..above.len().min(1)], below);
        shared[upper + 1] |= goes_on(above, &below[..below.len().min(1)]);
    }
    shared
}

/// The mark that says the score, first, and those that would make a person look.
fn marks_that_count(row: &RowInk) -> Vec<&Mark> {
    let marks = marks_near_line(row);
    let Some(main) = main_of(&marks) else { return Vec::new() };
    [main].into_iter().chain(marks.into_iter().filter(|mark| is_second(mark, main))).collect()
}

fn marks_near_line(row: &RowInk) -> Vec<&Mark> {
    row.marks.iter().filter(|mark| (-5.0..105.0).contains(&mark.crossing_mm)).collect()
}

/// The one with most ink.
fn main_of<'a>(marks: &[&'a Mark]) -> Option<&'a Mark> {
    marks.iter().copied().max_by(|one, other| one.ink_mm2.total_cmp(&other.ink_mm2))
}

fn is_second(mark: &Mark, main: &Mark) -> bool {
    !std::ptr::eq(mark, main) && !is_dirt(mark) && mark.area_mm2 >= 0.12 && mark.dark > 0.45 * main.dark
}

/// Whether a mark and one of the row below meet half way: only a part of the stroke lies in each row's band, so its slant
/// is not known well.
fn is_one_stroke(upper: &Mark, lower: &Mark, pitch_mm: f64) -> bool {
    let half = pitch_mm / 2.0;
    let off = (upper.crossing_mm + upper.slant * half) - (lower.crossing_mm - lower.slant * half);
    let off = off.abs().min((upper.crossing_mm - lower.crossing_mm).abs());
    let leaves_bands = upper.bottom_mm >= LEAVES_MM && lower.top_mm <= -LEAVES_MM;
    leaves_bands && upper.goes_down >= GOES_ON && lower.goes_up >= GOES_ON && off < MEETS_MM
}

/// The reasons of a list of rules, each with whether it holds.
fn holding<const N: usize>(rules: [(bool, Doubt); N]) -> Vec<Doubt> {
    rules.into_iter().filter(|(holds, _)| *holds).map(|(_, doubt)| doubt).collect()
}

fn about_place(row: &RowInk, place: RowPlace) -> Vec<Doubt> {
    holding([
        (row.is_cut, Doubt::CutOff),
        (row.shift_mm.is_some_and(|shift| shift > LINE_OFF_MM), Doubt::LineOffPlace),
        (place.replaced >= 2 || place.lost > 0, Doubt::DotsMisfit),
        (row.ends_misfit, Doubt::EndsMisfit),
        (place.is_shared, Doubt::RunsThrough),
    ])
}

/// A row without a mark is empty only where nothing at all was found.
fn about_nothing(row: &RowInk, pen: &Pen) -> Vec<Doubt> {
    let beyond = |mark: &Mark| mark.area_mm2 > 0.15 && !(-BEYOND_MM..=100.0 + BEYOND_MM).contains(&mark.crossing_mm);
    holding([
        (row.specks.iter().any(|speck| speck.area_mm2 >= 0.10), Doubt::OffTheLine),
        (row.marks.iter().chain(&row.specks).any(beyond), Doubt::BeyondTheEnd),
        (row.along > 0.25, Doubt::AlongTheLine),
        (row.faint > (3.2 * pen.noise).max(0.10), Doubt::FaintTrace),
    ])
}

fn about_others(row: &RowInk, main: &Mark, marks: &[&Mark]) -> Vec<Doubt> {
    let is_other = |speck: &Mark| {
        let off = (speck.left_mm - main.crossing_mm).abs().min((speck.right_mm - main.crossing_mm).abs());
        speck.area_mm2 >= 0.30
            && !is_dirt(speck)
            && speck.dark > 0.5 * main.dark
            && off > 0.8
            && !comes_from_beside(speck)
    };
    holding([
        (marks.iter().any(|mark| is_second(mark, main)), Doubt::SecondMark),
        (row.specks.iter().any(is_other), Doubt::OtherInk),
    ])
}

/// Ink that comes in over the band's edge and ends well before the line: the end of a neighbour's stroke or of a word.
fn comes_from_beside(speck: &Mark) -> bool {
    let from_above = speck.top_mm <= -BAND_MM + 0.05 && speck.bottom_mm <= -ENDS_BEFORE_MM;
    let from_below = speck.bottom_mm >= BAND_MM - 0.05 && speck.top_mm >= ENDS_BEFORE_MM;
    from_above || from_below
}

/// Where the mark says, and what is odd about it.
fn about_mark(main: &Mark, pen: &Pen) -> (f64, Vec<Doubt>) {
    let is_stroke = main.rms_mm <= 0.33 && main.runs <= 1;
    let middle = (main.left_mm + main.right_mm) / 2.0;
    let is_symmetric = !is_stroke && is_cross_or_ring(main, middle);
    let along = if is_symmetric { (middle + main.mean_mm) / 2.0 } else { main.near_mm };
    let mut doubts = if is_stroke { about_stroke(main, pen) } else { Vec::new() };
    let lies = main.width_mm > 1.3 * main.height_mm && main.height_mm < 1.7;
    doubts.extend(holding([
        (!is_stroke && !is_symmetric, Doubt::NotOneStroke),
        (lies, Doubt::AlongTheLine),
        (main.dark < (0.4 * pen.dark).max(0.17), Doubt::Faint),
        (main.height_mm < 1.0 || is_dirt(main) || main.area_mm2 < 0.2 * pen.area_mm2, Doubt::Short),
    ]));
    (along, doubts)
}

/// A cross has ink in its heart and none beside it, a ring little of both; either says its middle.
fn is_cross_or_ring(main: &Mark, middle: f64) -> bool {
    (middle - main.mean_mm).abs() < 0.35
        && main.rms_mm < 1.6
        && main.runs <= 2
        && main.width_mm <= 6.8
        && main.heart_mm2 > 0.4
        && main.heart_mm2 < 2.8
        && main.waist_mm2 < 0.25
        && main.slant.abs() < 0.8
}

fn about_stroke(main: &Mark, pen: &Pen) -> Vec<Doubt> {
    let thick = thickness_mm(main);
    holding([
        (main.width_mm > 1.6 + 4.2 * main.slant.abs(), Doubt::Wide),
        ((main.near_mm - main.crossing_mm).abs() > 0.8, Doubt::Bent),
        (thick < 0.5 * pen.width_mm, Doubt::Thin),
        (thick > (1.9 * pen.width_mm).max(1.25), Doubt::Thick),
        (main.slant.abs() > 1.0, Doubt::Slanted),
    ])
}
