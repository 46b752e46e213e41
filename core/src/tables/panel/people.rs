//! Each person beside the others: the table, and the sentence that answers whether the panel can be believed.

use super::words;
use crate::stats::Analysis;
use crate::stats::r#match::leave_one_out::{Influence, WithoutAssessor};
use crate::stats::panel::people::{Compared, Person, Standing};
use crate::stats::panel::performance::PanelPerformance;
use crate::table::{Cell, Column, Format, Table};
use crate::tables::words as common;
use crate::text::lists::listed;
use crate::text::numbers::{fixed, score_in_words};

/// One line a person: three figures beside the span of the others, and what can be said.
pub fn people(analysis: &Analysis, panel: &PanelPerformance) -> Table {
    let columns = vec![
        Column::name(common::ASSESSOR),
        Column::of(words::BESIDE_OTHERS, Format::Words, "standing"),
        Column::of(words::REPEATS, Format::Score, "repeats").in_unit(&analysis.unit),
        Column::of(words::TELLS_APART_F, Format::Fixed(1), "tells_apart"),
        Column::of(words::AGREES_R, Format::Fixed(2), "agrees"),
    ];
    let scale = analysis.scale_maximum;
    Table::new("people", words::PEOPLE, columns, scale)
        .in_sheet("People")
        .with_rows(panel.people.iter().map(|person| row(person, scale)))
        .with_note(words::PEOPLE_HOW)
        .with_note(words::NEVER_LEFT_OUT)
}

fn row(person: &Person, scale: f64) -> Vec<Cell> {
    let cell = |one: &Compared, figure: Figure| {
        Cell::of(&one.value, |value| *value).with_detail(others_in_words(one, figure, scale).unwrap_or_default())
    };
    vec![
        Cell::words(&person.assessor),
        Cell::words(standing(person.standing)),
        cell(&person.repeats, Figure::Repeats),
        cell(&person.tells_apart, Figure::TellsApart),
        cell(&person.agrees, Figure::Agrees),
    ]
}

/// Which of the three figures of a person.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    Repeats,
    TellsApart,
    Agrees,
}

impl Figure {
    pub const ALL: [Figure; 3] = [Figure::Repeats, Figure::TellsApart, Figure::Agrees];

    /// What the figure tells.
    pub fn head(self) -> &'static str {
        match self {
            Figure::Repeats => words::REPEATS,
            Figure::TellsApart => words::TELLS_APART,
            Figure::Agrees => words::AGREES,
        }
    }

    pub fn of(self, person: &Person) -> &Compared {
        match self {
            Figure::Repeats => &person.repeats,
            Figure::TellsApart => &person.tells_apart,
            Figure::Agrees => &person.agrees,
        }
    }

    fn shown(self, value: f64, scale: f64) -> String {
        match self {
            Figure::Repeats => score_in_words(value, scale),
            Figure::TellsApart => fixed(value, 1),
            Figure::Agrees => fixed(value, 2),
        }
    }
}

/// "like the others".
pub fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::LikeTheOthers => words::LIKE_THE_OTHERS,
        Standing::UnlikeTheOthers => words::UNLIKE_THE_OTHERS,
        Standing::TooFewCups => words::TOO_FEW_CUPS,
    }
}

/// The figure as it is read, with its unit where it has one; the reason where there is none.
pub fn figure_in_words(one: &Compared, figure: Figure, scale: f64, unit: &str) -> String {
    match (&one.value, figure) {
        (Ok(value), Figure::Repeats) => format!("{} {unit}", figure.shown(*value, scale)),
        (Ok(value), Figure::TellsApart) => format!("F {}", figure.shown(*value, scale)),
        (Ok(value), Figure::Agrees) => format!("r {}", figure.shown(*value, scale)),
        (Err(reason), _) => reason.because.clone(),
    }
}

/// "others 5 to 7".
pub fn others_in_words(one: &Compared, figure: Figure, scale: f64) -> Option<String> {
    let others = one.others.as_ref()?;
    Some(words::others_span(&figure.shown(others.lower, scale), &figure.shown(others.upper, scale)))
}

/// "without Gus: Candidate A becomes off": `None` where no whole verdict hangs on this person.
pub fn hangs_on(without: &WithoutAssessor) -> Option<String> {
    let now = |sample: &String| without.candidates.iter().find(|one| one.sample == *sample).map(|one| one.verdict);
    let moved: Vec<String> =
        without.changed.iter().filter_map(|sample| Some(words::becomes(sample, now(sample)?))).collect();
    (!moved.is_empty()).then(|| listed(&moved))
}

/// Whether the panel can be believed, and whom to look at: one to three sentences.
pub fn answer(analysis: &Analysis, panel: &PanelPerformance, influence: Option<&Influence>) -> String {
    let told = panel.attributes.iter().filter(|one| one.panel_discriminates).count();
    let believed = words::believed(told, panel.attributes.len());
    let unlike: Vec<&Person> = panel.people.iter().filter(|one| one.standing == Standing::UnlikeTheOthers).collect();
    let look = match unlike.as_slice() {
        [] => nobody(panel),
        people => {
            let said = people.iter().map(|one| look_at(analysis, one, influence)).collect::<Vec<_>>().join(" ");
            format!("{} {said}", words::look_at_people(people.len()))
        }
    };
    format!("{believed} {look}")
}

fn nobody(panel: &PanelPerformance) -> String {
    let few = panel.people.iter().filter(|one| one.standing == Standing::TooFewCups).count();
    words::nobody_unlike(few, panel.people.len())
}

/// "Gus repeats 4 times worse (27 mm; the others 5 to 7); without Gus R-231 becomes a match."
fn look_at(analysis: &Analysis, person: &Person, influence: Option<&Influence>) -> String {
    let is_unlike = |figure: &Figure| figure.of(person).standing == Standing::UnlikeTheOthers;
    let scale = analysis.scale_maximum;
    let phrase = |figure: Figure| {
        let one = figure.of(person);
        let beside = others_in_words(one, figure, scale).unwrap_or_default();
        let shown = figure_in_words(one, figure, scale, &analysis.unit);
        format!("{} ({shown}; the {beside})", unlike_in(figure, times_worse(one, figure)))
    };
    let how: Vec<String> = Figure::ALL.into_iter().filter(is_unlike).map(phrase).collect();
    let without = influence.and_then(|found| found.without.iter().find(|one| one.assessor == person.assessor));
    let hangs =
        without.and_then(hangs_on).map_or_else(String::new, |moved| words::without_them(&person.assessor, &moved));
    format!("{} {}{hangs}.", person.assessor, listed(&how))
}

fn unlike_in(figure: Figure, times: Option<f64>) -> String {
    match (figure, times) {
        (Figure::Repeats, Some(times)) => words::times_worse(times),
        (Figure::Repeats, None) => words::REPEATS_WORSE.to_owned(),
        (Figure::TellsApart, _) => words::TELLS_LESS.to_owned(),
        (Figure::Agrees, _) => words::AGREES_LESS.to_owned(),
    }
}

/// How many times the middle of the others' span the scatter is; only scatter has such a ratio.
fn times_worse(one: &Compared, figure: Figure) -> Option<f64> {
    let (value, others) = (one.value.as_ref().ok()?, one.others.as_ref()?);
    let middle = 0.5 * (others.lower + others.upper);
    (figure == Figure::Repeats && middle > 0.0).then(|| value / middle)
}

/// One figure of one person on a bar, in hundredths of it, the left end being the lowest of the panel or zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gauge {
    pub value: f64,
    /// Where the span of the others begins, and how wide it is.
    pub others: f64,
    pub others_width: f64,
}

/// The bar of one figure of one person; `None` where it has no value.
pub fn gauge(panel: &PanelPerformance, person: &Person, figure: Figure) -> Option<Gauge> {
    let own = figure.of(person);
    let value = *own.value.as_ref().ok()?;
    let all = panel.people.iter().filter_map(|one| figure.of(one).value.as_ref().ok());
    let (low, high) = all.fold((0.0_f64, 0.0_f64), |(low, high), one| (low.min(*one), high.max(*one)));
    let share = |at: f64| if high > low { 100.0 * (at - low) / (high - low) } else { 0.0 };
    let others = own.others.map_or((0.0, 0.0), |span| (share(span.lower), share(span.upper)));
    Some(Gauge { value: share(value), others: others.0, others_width: others.1 - others.0 })
}

/// What to ask somebody about: the three figures beside those of the others.
pub fn figures_in_words(analysis: &Analysis, person: &Person) -> String {
    let phrase = |figure: Figure| {
        let one = figure.of(person);
        let beside = others_in_words(one, figure, analysis.scale_maximum);
        let beside = beside.map_or_else(String::new, |beside| format!(" ({beside})"));
        format!("{}: {}{beside}", figure.head(), figure_in_words(one, figure, analysis.scale_maximum, &analysis.unit))
    };
    Figure::ALL.map(phrase).join("; ")
}
