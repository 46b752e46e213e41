//! The marks behind a number: one assessor, one attribute, every mark with the place it came from.

use super::Desk;
use crate::parts::disclosure::HelpOn;
use crate::parts::figure::{Drawing, FigureView, Form};
use crate::state::actions;
use crate::state::marks::{MarkColumn, MarkFilter, MarkPlace, look_at_marks};
use crate::words::panel as say;
use leptos::prelude::*;
use likeness_core::figures::{MarksOptions, marks};
use likeness_core::stats::marks::marks_by_sample;
use std::sync::Arc;

/// Where the marks stand, to scroll to.
pub const PLACE_ID: &str = "marks-behind";

/// Who and what is looked at closely. The attribute is the one that is marked in every view.
#[derive(Clone, Copy)]
pub struct Close {
    desk: Desk,
    chosen: RwSignal<Option<String>>,
    pub assessors: Memo<Vec<String>>,
    pub attributes: Memo<Vec<String>>,
    pub assessor: Memo<Option<String>>,
    pub attribute: Memo<Option<String>>,
}

impl Close {
    pub fn new(desk: Desk) -> Self {
        let study = desk.ground.study;
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
        let attribute = Memo::new(move |_| attributes.with(|all| or_first(desk.ground.kept_attribute.get(), all)));
        Close { desk, chosen, assessors, attributes, assessor, attribute }
    }

    /// Looks at an assessor, an attribute, or both.
    pub fn look(self, assessor: Option<&str>, attribute: Option<&str>) {
        if let Some(assessor) = assessor {
            self.chosen.set(Some(assessor.to_owned()));
        }
        // Marking the attribute that is marked already would take the mark away.
        let is_new =
            |name: &&str| self.desk.ground.kept_attribute.with_untracked(|kept| kept.as_deref() != Some(*name));
        if let Some(attribute) = attribute.filter(is_new) {
            actions::keep_attribute(self.desk.ground, attribute);
        }
    }
}

#[component]
pub fn MarksBehind() -> impl IntoView {
    let desk: Desk = expect_context();
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
        let place = desk.ground.study.with_untracked(|study| {
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
            let filter = MarkFilter { assessor: Some(assessor), attribute: Some(attribute), ..MarkFilter::default() };
            let place = first.map(|serving| MarkPlace::Cell(serving, MarkColumn::Attribute(attribute)));
            look_at_marks(desk.ground, filter, place);
        }
    };
    view! {
        <div class="marks-behind" id=PLACE_ID data-test="marks-behind">
            <h3>{say::LOOK_CLOSER}</h3>
            <div class="fields">
                {list(say::ASSESSOR, "close-assessor", close.assessors, close.assessor, |close, name| close.look(Some(name), None))}
                {list(say::ATTRIBUTE, "close-attribute", close.attributes, close.attribute, |close, name| close.look(None, Some(name)))}
                <button type="button" class="button" data-test="open-in-scores" on:click=open>{say::OPEN_IN_SCORES}</button>
            </div>
            <FigureView name="marks" drawing=drawing(desk, close) chosen=Callback::new(|_| ())/>
            <HelpOn help=&say::MARKS_HELP/>
        </div>
    }
}

fn drawing(desk: Desk, close: Close) -> Drawing {
    Arc::new(move |form: Form| {
        let (who, what) = (close.assessor.get()?, close.attribute.get()?);
        let options = MarksOptions { width_px: form.width_px, theme: form.theme, heading: form.heading };
        desk.ground.study.with(|study| {
            let study = study.as_ref()?;
            let assessor = study.assessors.iter().position(|one| one.name == who)?;
            let found = marks_by_sample(study, assessor, study.attribute_index(&what)?).ok()?;
            Some(marks(&found, &options))
        })
    })
}
