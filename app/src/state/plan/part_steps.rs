//! Which steps of the plan are done, so that they can be ticked. It reads and changes nothing.

use super::missing::missing_in_brief;
use super::printed;
use crate::state::app_state::AppState;
use crate::state::page::PlanPart;
use crate::state::session::data_entry::{DataEntryStatus, status};
use crate::state::session::session_record::times_of;
use leptos::prelude::*;
use likeness_core::notice::Severity;
use likeness_core::plan::brief::draft::PlanDraft;
use likeness_core::plan::on_screen::collect::collect;
use likeness_core::plan::tasting_plan::TastingPlan;

/// Whether a step holds all that it is for.
pub fn part_is_done(app: AppState, part: PlanPart) -> bool {
    match part {
        PlanPart::Brief => app.plan_draft.with(is_asked),
        PlanPart::Samples => app.plan_draft.with(has_samples_and_people),
        PlanPart::Attributes => app.plan_draft.with(has_attributes),
        PlanPart::Orders => of_plan(app, |plan| app.plan_draft.with(|draft| !draft.differs_from(plan))),
        PlanPart::Printouts => of_plan(app, |plan| {
            let fits = app.plan_draft.with(|draft| printed::warning(draft, plan).is_none());
            !plan.printed.is_empty() && fits
        }),
        PlanPart::SessionRecord => of_plan(app, is_tasted),
        PlanPart::DataEntry => is_typed(app),
        PlanPart::OnScreen => of_plan(app, |plan| {
            app.on_screen.collected.with(|files| !files.is_empty() && collect(plan, files).missing() == 0)
        }),
        PlanPart::Pictures => app.scanning.desk.with(|desk| {
            let counts = desk.as_ref().map(|desk| desk.counts());
            counts.is_some_and(|counts| counts.pages_read > 0 && counts.rows.open == 0)
        }),
        PlanPart::ShortTests => false,
    }
}

fn of_plan(app: AppState, is_so: impl Fn(&TastingPlan) -> bool) -> bool {
    app.plan.with(|plan| plan.as_ref().is_some_and(is_so))
}

fn is_asked(draft: &PlanDraft) -> bool {
    [&draft.brief.title, &draft.brief.question].iter().all(|text| !text.trim().is_empty())
}

fn has_samples_and_people(draft: &PlanDraft) -> bool {
    missing_in_brief(draft).iter().all(|notice| notice.severity < Severity::Refused)
}

fn has_attributes(draft: &PlanDraft) -> bool {
    let lines = &draft.attributes.attributes;
    !lines.is_empty() && lines.iter().all(|line| !line.name.trim().is_empty())
}

/// Every session was ended.
fn is_tasted(plan: &TastingPlan) -> bool {
    plan.sessions.iter().all(|session| times_of(plan, session.number).1.is_some())
}

/// Every mark was typed by the person who is typing.
fn is_typed(app: AppState) -> bool {
    app.plan.with(|plan| {
        app.data_entry.file.with(|file| {
            let fits = status(plan.as_ref(), file.as_ref()) == DataEntryStatus::Fits;
            let count = file.as_ref().map(|file| file.data_entry.count());
            fits && count.is_some_and(|count| count.total > 0 && count.typed == count.total)
        })
    })
}
