//! Papers as they would be printed now, to be held against those that were: a page is known by its name and by a
//! fingerprint of all that is on it. It knows nothing of printers.

use super::geometry::Paper;
use super::page_code::PageIdentity;
use super::pages::{identity_of, ranges_of_pages};
use super::printed_paper::Pages;
use crate::numeric::hash::{fnv_1a, in_hexadecimal};
use crate::plan::brief::attributes::ListedAttribute;
use crate::plan::sheet_table::SheetTable;
use crate::plan::tasting_plan::TastingPlan;
use std::ops::Range;

/// The ballot pages of a session, or of all, as they would be printed now.
pub fn ballots_now(plan: &TastingPlan, paper: Paper, session: Option<u32>) -> Pages {
    let study = plan.study_id();
    let ranges = ranges_of_pages(plan.attributes.attributes.len(), paper);
    let mut pages = Pages::new();
    for serving in plan.servings().iter().filter(|serving| session.is_none_or(|wanted| wanted == serving.session)) {
        for (number, range) in (1..).zip(&ranges) {
            let identity = identity_of(&study, serving, number, ranges.len() as u32);
            let who = &plan.assessors[serving.assessor];
            let name = format!("{who}{}{}, page {number}", of_session(serving.session), serving.code);
            pages.insert(name, print_of(&content_of(plan, &identity, range.clone())));
        }
    }
    pages
}

/// Sheets as they would be printed now.
pub fn sheets_now(sheets: &[SheetTable]) -> Pages {
    let content = |sheet: &SheetTable| {
        let rows = sheet.rows.iter().map(|row| row.join("\t"));
        [sheet.columns.join("\t")].into_iter().chain(sheet.notes.clone()).chain(rows).collect::<Vec<_>>().join("\n")
    };
    sheets.iter().map(|sheet| (sheet.title.clone(), print_of(&content(sheet)))).collect()
}

/// Whether a ballot page of this name is of this session.
pub fn is_of_session(name: &str, session: u32) -> bool {
    name.contains(&of_session(session))
}

fn of_session(session: u32) -> String {
    format!(", session {session}, ")
}

/// Everything that a page says: whose it is, the study, and the words on its lines.
fn content_of(plan: &TastingPlan, identity: &PageIdentity, rows: Range<usize>) -> String {
    let line = |line: &ListedAttribute| format!("{}\t{}\t{}", line.name, line.low_end, line.high_end);
    let who = identity.assessor.checked_sub(1).and_then(|index| plan.assessors.get(index as usize));
    let head = [identity.to_text(), plan.brief.title.clone(), who.cloned().unwrap_or_default()];
    head.into_iter().chain(plan.attributes.attributes[rows].iter().map(line)).collect::<Vec<_>>().join("\n")
}

fn print_of(content: &str) -> String {
    in_hexadecimal(fnv_1a(content.as_bytes()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::ballot::printed_paper::PrintedPaper;
    use crate::plan::brief::attributes::AttributeList;
    use crate::plan::brief::draft::PlanDraft;
    use crate::plan::brief::study_brief::{PlannedSample, SampleRole};

    fn plan() -> TastingPlan {
        let mut draft = PlanDraft { seed: 7, assessors_typed: "Ada\nBen".to_owned(), ..PlanDraft::default() };
        draft.brief.samples = vec![
            PlannedSample::named("Fresh mango", SampleRole::Target),
            PlannedSample::named("Candidate A", SampleRole::Candidate),
        ];
        draft.attributes = AttributeList::mango_nectar_example();
        draft.make("2026-03-02 09:00").expect("a sound draft")
    }

    fn printed(plan: &TastingPlan) -> PrintedPaper {
        let pages = ballots_now(plan, Paper::A4, None);
        PrintedPaper { kind: "ballots".to_owned(), when: String::new(), session: None, paper: Paper::A4, pages }
    }

    #[test]
    fn only_the_pages_that_carry_a_changed_word_are_out_of_date() {
        let mut plan = plan();
        let before = printed(&plan);
        assert!(before.out_of_date(&ballots_now(&plan, Paper::A4, None)).is_empty());
        // The first word stands on the first page of every cup.
        let expected: Vec<&String> = before.pages.keys().filter(|name| name.ends_with("page 1")).collect();
        plan.attributes.attributes[0].high_end = "very much so".to_owned();
        assert_eq!(before.out_of_date(&ballots_now(&plan, Paper::A4, None)), expected);
        // Two assessors, two samples, two replicates: 8 cups by hand, one such page each.
        assert_eq!(expected.len(), 8);
        assert!(before.pages.len() > expected.len() || plan.attributes.attributes.len() <= Paper::A4.most_rows());
    }

    #[test]
    fn a_plan_made_anew_puts_every_page_out_of_date() {
        let before = printed(&plan());
        let mut draft = PlanDraft::of_plan(&plan());
        draft.brief.samples[1].name = "Candidate B".to_owned();
        let anew = draft.make("2026-03-03 09:00").expect("a sound draft");
        assert_eq!(before.out_of_date(&ballots_now(&anew, Paper::A4, None)).len(), before.pages.len());
    }

    #[test]
    fn who_is_absent_takes_only_pages_of_their_own_or_laid_out_anew() {
        let mut plan = plan();
        plan.orders.rows.iter_mut().filter(|row| row.session == 1).for_each(|row| row.served = row.order.len());
        let before = printed(&plan);
        let without = plan.with_absent("Ben", 2, 8, "2026-03-03 09:00").expect("Ben takes part");
        let gone = before.out_of_date(&ballots_now(&without, Paper::A4, None)).len();
        let of_ben = before.pages.keys().filter(|name| name.starts_with("Ben, session 2")).count();
        assert!(gone >= of_ben && gone < before.pages.len(), "{gone} of {}", before.pages.len());
    }
}
