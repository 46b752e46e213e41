//! The marks behind a number: one assessor, one attribute, every mark with the place it came from.

use crate::parts::disclosure::HelpOn;
use crate::parts::figure::{Drawing, FigureView, Form};
use crate::parts::folded::Folded;
use crate::state::AppContext;
use crate::state::actions;
use crate::state::study::scores_shown::{ScoreColumn, ScoreFilter, ScorePlace, look_at_marks};
use crate::words::panel as say;
use leptos::prelude::*;
use likeness_core::figures::{RawScoresOptions, raw_score_plot};
use likeness_core::stats::panel::raw_scores::raw_scores;
use std::sync::Arc;

/// Where the marks stand, to scroll to.
pub const PLACE_ID: &str = "marks-behind";

/// Who and what is looked at closely. The attribute is the one that is marked in every view.
#[derive(Clone, Copy)]
pub struct Close {
    context: AppContext,
    chosen: RwSignal<Option<String>>,
    /// Whether the marks are unfolded.
    is_open: RwSignal<bool>,
    pub assessors: Memo<Vec<String>>,
    pub attributes: Memo<Vec<String>>,
    pub assessor: Memo<Option<String>>,
    pub attribute: Memo<Option<String>>,
}

impl Close {
    pub fn new(context: AppContext) -> Self {
        let study = context.app.study;
        let chosen = RwSignal::new(None::<String>);
        let assessors = Memo::new(move |_| {
            study.with(|study| {
                study.iter().flat_map(|study| &study.assessors).map(|one| one.name.clone()).collect::<Vec<_>>()
            })
        });
        let attributes = Memo::new(move |_| {
            study.with(|study| {
                study.iter().flat_map(|study| &study.attributes).map(|one| one.name.clone()).collect::<Vec<_>>()
            })
        });
        let or_first = |wanted: Option<String>, all: &[String]| {
            wanted.filter(|name| all.contains(name)).or_else(|| all.first().cloned())
        };
        let assessor = Memo::new(move |_| assessors.with(|all| or_first(chosen.get(), all)));
        let attribute =
            Memo::new(move |_| attributes.with(|all| or_first(context.app.selected_attribute_kept.get(), all)));
        Close { context, chosen, is_open: RwSignal::new(false), assessors, attributes, assessor, attribute }
    }

    /// Looks at an assessor, an attribute, or both, and unfolds the marks.
    pub fn look(self, assessor: Option<&str>, attribute: Option<&str>) {
        self.is_open.set(true);
        if let Some(assessor) = assessor {
            self.chosen.set(Some(assessor.to_owned()));
        }
        // Selection the attribute that is marked already would take the mark away.
        let is_new = |name: &&str| {
            self.context.app.selected_attribute_kept.with_untracked(|kept| kept.as_deref() != Some(*name))
        };
        if let Some(attribute) = attribute.filter(is_new) {
            actions::keep_attribute(self.context.app, attribute);
        }
    }
}

/// The marks, folded until somebody or something is looked at.
#[component]
pub fn ScoresBehind() -> impl IntoView {
    let close: Close = expect_context();
    let of = Signal::derive(move || Some(say::marks_of(&close.assessor.get()?, &close.attribute.get()?)));
    view! {
        <section id=PLACE_ID data-test="marks-behind">
            <Folded summary=say::LOOK_CLOSER hook="marks" conclusion=of open=close.is_open>
                <Marks/>
            </Folded>
        </section>
    }
}

#[component]
fn Marks() -> impl IntoView {
    let context: AppContext = expect_context();
    let close: Close = expect_context();
    let list = move |label: &'static str,
                     name: &'static str,
                     all: Memo<Vec<String>>,
                     now: Memo<Option<String>>,
                     pick: fn(Close, &str)| {
        let option = move |text: String| {
            let (own, value) = (text.clone(), text.clone());
            view! { <option value=value prop:selected=move || now.with(|now| now.as_ref() == Some(&own))>{text}</option> }
        };
        view! {
            <label class="field">
                <span>{label}</span>
                <select data-test=name on:change=move |event| pick(close, &event_target_value(&event))>
                    {move || all.get().into_iter().map(option).collect_view()}
                </select>
            </label>
        }
    };
    let open = move |_| {
        let place = context.app.study.with_untracked(|study| {
            let study = study.as_ref()?;
            let assessor =
                study.assessors.iter().position(|one| Some(&one.name) == close.assessor.get_untracked().as_ref())?;
            Some((
                assessor,
                study.attribute_index(&close.attribute.get_untracked()?)?,
                study.servings.iter().position(|page| page.assessor as usize == assessor),
            ))
        });
        if let Some((assessor, attribute, first)) = place {
            let filter = ScoreFilter { assessor: Some(assessor), attribute: Some(attribute), ..ScoreFilter::default() };
            let place = first.map(|serving| ScorePlace::Cell(serving, ScoreColumn::Attribute(attribute)));
            look_at_marks(context.app, filter, place);
        }
    };
    view! {
        <div class="marks-behind">
            <div class="fields">
                {list(say::ASSESSOR, "close-assessor", close.assessors, close.assessor, |close, name| close.look(Some(name), None))}
                {list(say::ATTRIBUTE, "close-attribute", close.attributes, close.attribute, |close, name| close.look(None, Some(name)))}
                <button type="button" class="button" data-test="open-in-scores" on:click=open>{say::OPEN_IN_SCORES}</button>
            </div>
            <FigureView name="marks" drawing=drawing(context, close) chosen=Callback::new(|_| ())/>
            <HelpOn help=&say::MARKS_HELP/>
        </div>
    }
}

fn drawing(context: AppContext, close: Close) -> Drawing {
    Arc::new(move |form: Form| {
        let (who, what) = (close.assessor.get()?, close.attribute.get()?);
        let options = RawScoresOptions { width_px: form.width_px, theme: form.theme, heading: form.heading };
        context.app.study.with(|study| {
            let study = study.as_ref()?;
            let assessor = study.assessors.iter().position(|one| one.name == who)?;
            let found = raw_scores(study, assessor, study.attribute_index(&what)?).ok()?;
            Some(raw_score_plot(&found, &options))
        })
    })
}
