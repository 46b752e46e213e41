//! The scores that were read without asking, in the study of the plan, with a record of what was not. It knows nothing
//! of pictures.

use super::answer::Answer;
use super::known_pages::KnownPages;
use crate::notice::{Notice, Place, Severity};
use crate::plan::on_screen::collect::plan_score;
use crate::plan::tasting_plan::TastingPlan;
use crate::study::{LogKind, Study};

impl Answer {
    /// The study with every score that was read. Rows that are asked about stay without a score, and so do empty ones;
    /// both are told, and so is every page that failed.
    pub fn study(&self, plan: &TastingPlan, known: &KnownPages, when: &str) -> Study {
        let mut study = plan.study_skeleton(when);
        for page in self.pages.iter().filter(|page| page.is_read()) {
            let Some(known) = page.page.map(|index| &known.pages[index]) else { continue };
            for (row, attribute) in page.rows.iter().zip(&known.attributes) {
                if let (true, Some(score)) = (row.is_read(), row.score_mm) {
                    study.set_score(known.serving, *attribute, Some(plan_score(plan, score)));
                }
            }
        }
        let [pages, read, asked, empty, failed] = self.counts();
        let what = format!(
            "Ballots read from pictures: {pages} pages read, {failed} not; {read} scores taken, {asked} rows to be decided by \
             a person, {empty} without a mark. Nothing was checked by a person yet."
        );
        study.note_in_log(when, LogKind::Opened, what);
        study.notices.extend(self.notices());
        study
    }

    fn notices(&self) -> Vec<Notice> {
        let of_page = |page: &super::answer::AnsweredPage| -> Vec<Notice> {
            let place = Place::file(&page.file);
            if !page.is_read() {
                return vec![Notice::new(
                    Severity::Check,
                    place,
                    page.why.clone(),
                    "Its scores are missing from the study.",
                )];
            }
            let open = page.rows.iter().filter(|row| !row.is_read());
            let say = |row: &super::answer::AnsweredRow| {
                let why = if row.why.is_empty() { "no mark was found" } else { &row.why };
                let what = format!("Row {}, {}: {why}.", row.row, row.attribute);
                Notice::new(Severity::Check, place.clone(), what, "Look at the paper and type the score.")
            };
            open.map(say).collect()
        };
        self.pages.iter().filter(|page| page.test.is_none()).flat_map(of_page).collect()
    }
}
