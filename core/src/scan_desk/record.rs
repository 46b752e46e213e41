//! What lies on the desk as scores of the plan, and as the record that prints with the report. It knows nothing of other
//! sources of scores.

use super::desk::{Decision, DeskPage, DeskRow, DeskRowState, PictureSays, ScanDesk, TakenPicture};
use crate::notice::{Notice, Place, Severity};
use crate::plan::data_entry::entry::Entry;
use crate::plan::joining::{ScoreSource, SourceScores, blank_entries};
use crate::plan::on_screen::collect::plan_score;
use crate::plan::tasting_plan::{PlannedServing, TastingPlan};
use crate::study::{
    FailedPicture, HowRead, PictureReadPage, PictureReadRow, PictureRecord, SourceFile, SpotCheckRecord, Study,
};
use crate::text::lists::counted_regular as counted;

impl ScanDesk {
    /// The scores with their places in the plan, and what is to be known of them.
    pub fn source(&self, plan: &TastingPlan) -> SourceScores {
        let (places, mut entries) = (Places::of(plan), blank_entries(plan));
        let mut left_behind = 0;
        for page in &self.pages {
            let serving = places.serving(page);
            for row in &page.rows {
                match (serving, places.attribute(row)) {
                    (Some(serving), Some(attribute)) => entries[serving][attribute] = on_scale(plan, row.standing_mm()),
                    _ => left_behind += usize::from(!row.is_open()),
                }
            }
        }
        let (log, notices) = (self.in_words(), self.notices(left_behind));
        SourceScores { source: ScoreSource::Pictures, entries, log, notices }
    }

    /// Puts the record of reading and the files into a study that was made of the plan.
    pub fn put_record(&self, plan: &TastingPlan, study: &mut Study) {
        study.from_pictures = Some(self.record(plan));
        let read = self.pictures.iter().filter(|picture| picture.has_page());
        study.files.extend(read.map(|picture| SourceFile {
            name: picture.file.clone(),
            sheet: None,
            length_bytes: picture.length_bytes,
            fingerprint: picture.fingerprint.clone(),
        }));
    }

    /// How each score was read, and how the reading was checked.
    pub fn record(&self, plan: &TastingPlan) -> PictureRecord {
        let places = Places::of(plan);
        let pages = self.pages.iter().enumerate().filter_map(|(index, page)| {
            let serving = places.serving(page)?;
            let row = |row: &DeskRow| Some(recorded_row(row, places.attribute(row)?));
            let rows: Vec<PictureReadRow> = page.rows.iter().filter_map(row).collect();
            let (file, code_text) = (self.file_of(index).to_owned(), page.code_text.clone());
            Some(PictureReadPage { file, code_text, serving, rows })
        });
        let spot = self.spot_check();
        PictureRecord {
            pages: pages.collect(),
            failed: self.failed(),
            spot_check: SpotCheckRecord {
                rows_read: spot.rows_read,
                drawn: spot.drawn,
                looked_at: spot.looked_at,
                errors: spot.errors,
                error_limit: spot.error_limit(),
            },
        }
    }

    fn failed(&self) -> Vec<FailedPicture> {
        let of_picture = |picture: &TakenPicture| {
            let file = picture.file.clone();
            let failed = |says: &PictureSays| match says {
                PictureSays::Failed { why } => Some(FailedPicture { file: file.clone(), why: why.clone() }),
                _ => None,
            };
            picture.found.iter().filter_map(failed).collect::<Vec<_>>()
        };
        self.pictures.iter().flat_map(of_picture).collect()
    }

    /// The reading in one line of the log.
    fn in_words(&self) -> String {
        let counts = self.counts();
        let rows = counts.rows;
        format!(
            "{} read from {}: {} scores taken without asking; {} asked about ({} accepted, {} put elsewhere, {} without a \
             mark), {} confirmed empty, {} not decided.",
            counted(counts.pages_read, "page"),
            counted(counts.pictures, "picture"),
            rows.read,
            counted(rows.asked, "row"),
            rows.accepted,
            rows.corrected,
            rows.no_mark,
            rows.confirmed,
            rows.open
        )
    }

    fn notices(&self, left_behind: usize) -> Vec<Notice> {
        let say = |what: String, hint: &str| Notice::new(Severity::Check, Place::default(), what, hint);
        let mut notices = Vec::new();
        let open = self.counts().rows.open;
        if open > 0 {
            let what = format!("{} read from pictures not decided; their scores are missing.", counted(open, "row"));
            notices.push(say(what, "Decide them, or leave them missing."));
        }
        if left_behind > 0 {
            let what =
                format!("{} read from pictures have no place in the plan any more.", counted(left_behind, "row"));
            notices.push(say(what, "The plan was changed since; open the plan as it was."));
        }
        let spot = self.spot_check();
        if spot.looked_at < spot.drawn {
            let what = format!(
                "{} of the {} rows drawn for the spot check of the reading were looked at again.",
                spot.looked_at, spot.drawn
            );
            notices.push(say(what, "Accuracy was measured on generated pages only; the spot check measures your own."));
        }
        notices
    }
}

/// Where pages and rows have their places in the plan as it is now.
struct Places<'a> {
    plan: &'a TastingPlan,
    servings: Vec<PlannedServing>,
}

impl<'a> Places<'a> {
    fn of(plan: &'a TastingPlan) -> Self {
        Places { plan, servings: plan.servings() }
    }

    fn serving(&self, page: &DeskPage) -> Option<usize> {
        let is_its_cup = |serving: &PlannedServing| {
            self.plan.assessors.get(serving.assessor) == Some(&page.assessor)
                && serving.session == page.session
                && serving.code == page.code
        };
        self.servings.iter().position(is_its_cup)
    }

    fn attribute(&self, row: &DeskRow) -> Option<usize> {
        self.plan.attributes.attributes.iter().position(|attribute| attribute.name == row.attribute)
    }
}

/// A place along the line as a score of the plan.
fn on_scale(plan: &TastingPlan, entry: Entry) -> Entry {
    match entry {
        Entry::Score(mark) => Entry::Score(plan_score(plan, mark)),
        other => other,
    }
}

fn recorded_row(row: &DeskRow, attribute: usize) -> PictureReadRow {
    let looked = row.looked_again.as_ref();
    let who = row.decided.as_ref().map(|decided| &decided.who).or(looked.map(|looked| &looked.who));
    PictureReadRow {
        attribute,
        row: row.number,
        how: how_read(row),
        suggested_mm: row.suggested_mm,
        why: row.why.clone(),
        who: who.cloned().unwrap_or_default(),
        looked_again: looked.is_some(),
    }
}

fn how_read(row: &DeskRow) -> HowRead {
    if row.looked_again.as_ref().is_some_and(|looked| looked.reader_was_wrong == Some(true)) {
        return HowRead::FoundWrong;
    }
    match (row.decided.as_ref().map(|decided| decided.what), row.state) {
        (Some(Decision::Accepted), _) => HowRead::Accepted,
        (Some(Decision::Put { .. }), _) => HowRead::Corrected,
        (Some(Decision::NoMark), DeskRowState::Empty) => HowRead::ConfirmedEmpty,
        (Some(Decision::NoMark), _) => HowRead::NoMark,
        (None, DeskRowState::Read) => HowRead::Read,
        (None, _) => HowRead::Open,
    }
}
