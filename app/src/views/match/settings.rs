//! What is judged: target, margin and where it comes from, deciding attributes, alpha.

use super::choices::{Choices, ProfileField};
use crate::parts::disclosure::HelpOn;
use crate::state::AppContext;
use crate::state::study::decisions;
use crate::words;
use crate::words::matching as say;
use leptos::prelude::*;
use likeness_core::planning::margin_in_people::margin_of_study_in_people;
use likeness_core::study::{AttributeKind, LogEntry, MarginOrigin, Settings};

/// The alphas that are offered.
const ALPHAS: [f64; 3] = [0.01, 0.05, 0.1];

/// One row of the list of attributes.
#[derive(Clone, PartialEq)]
struct AttributeLine {
    name: String,
    kind: AttributeKind,
    decides: bool,
    own_margin: Option<f64>,
}

/// What is judged, in one line.
pub fn decided_line(context: AppContext) -> Memo<Option<String>> {
    Memo::new(move |_| {
        let (decides, attributes) = deciding_counts(context);
        context.app.study.with(|study| study.as_ref().map(|study| say::decided_line(study, decides, attributes)))
    })
}

/// What is judged, folded to one line; unfolded it can be changed.
#[component]
pub fn SettledLine() -> impl IntoView {
    let context: AppContext = expect_context();
    let line = decided_line(context);
    let when = Memo::new(move |_| context.app.study.with(|study| study.as_ref().and_then(say::decided_when)));
    view! {
        <details class="settings is-folded" data-test="settings">
            <summary>
                <span class="settled">
                    <span data-test="settled-line">{line}</span>
                    " "
                    <span class="quiet">{when}</span>
                    " "
                    <span class="change">{say::CHANGE}</span>
                </span>
            </summary>
            <SettingsFields/>
        </details>
    }
}

/// Everything that can be decided about the verdict.
#[component]
pub fn SettingsFields(
    /// Whether the list of deciding attributes is unfolded at first.
    #[prop(optional)]
    list_is_open: bool,
) -> impl IntoView {
    let context: AppContext = expect_context();
    let settings = Memo::new(move |_| context.app.study.with(|study| study.as_ref().map(|s| s.settings.clone())));
    let samples = Memo::new(move |_| active_samples(context));
    let chosen = Signal::derive(move || settings.with(|settings| settings.as_ref().and_then(|s| s.target.clone())));
    let origin = Signal::derive(move || {
        settings.with(|settings| settings.as_ref().map(|s| s.margin.origin.clone()).unwrap_or_default())
    });
    let in_people = move || {
        context.derived.analysis.with(|analysis| {
            let people = margin_of_study_in_people(analysis.as_ref()?).ok()?;
            Some(words::plan::brief::margin_in_people(&people))
        })
    };
    let target_changed = move |name: Option<String>| decisions::set_target(context.app, name.as_deref());
    let origin_changed = move |origin: MarginOrigin| decisions::set_margin_origin(context.app, origin);
    view! {
        <div class="settings-fields" role="group" aria-label=words::SETTINGS>
            <div class="fields">
                {move || view! {
                    <TargetSelect samples=samples.get() chosen changed=Callback::new(target_changed) hook="target"/>
                }}
                <MarginField settings/>
                <ProfileField settings/>
                <OriginSelect origin changed=Callback::new(origin_changed)/>
                <AlphaSelect settings/>
                <TargetAgain settings samples/>
                <Choices settings samples/>
            </div>
            {move || in_people().map(|said| view! { <p class="quiet" data-test="margin-in-people">{said}</p> })}
            <div class="helps">
                <Deciding settings is_open=list_is_open/>
                <HelpOn help=&words::help::MARGIN/>
                <HelpOn help=&words::help::PROFILE_MARGIN/>
                <HelpOn help=&words::help::DECIDING/>
                <HelpOn help=&words::help::TARGET_AGAIN/>
            </div>
        </div>
    }
}

/// Which sample is the target under another code, where one is.
#[component]
fn TargetAgain(settings: Memo<Option<Settings>>, samples: Memo<Vec<String>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let target = move || settings.with(|settings| settings.as_ref().and_then(|s| s.target.clone()));
    let others = Memo::new(move |_| {
        let target = target();
        samples.with(|names| names.iter().filter(|name| Some(*name) != target.as_ref()).cloned().collect::<Vec<_>>())
    });
    let chosen =
        Memo::new(move |_| settings.with(|settings| settings.as_ref().and_then(|s| s.blind_duplicate.clone())));
    let pick = move |event| {
        // By place, so that a sample may be called anything.
        let place: Option<usize> = event_target_value(&event).parse().ok();
        let name = place.and_then(|place| others.with_untracked(|names| names.get(place).cloned()));
        decisions::set_blind_duplicate(context.app, name.as_deref());
    };
    let option = move |(place, name): (usize, String)| {
        let own = name.clone();
        view! {
            <option value=place.to_string() prop:selected=move || chosen.with(|chosen| chosen.as_ref() == Some(&own))>{name}</option>
        }
    };
    view! {
        <label class="field">
            <span>{say::TARGET_AGAIN}</span>
            <select data-test="target-again" on:change=pick>
                <option value="" prop:selected=move || chosen.with(Option::is_none)>{say::NO_TARGET_AGAIN}</option>
                {move || others.get().into_iter().enumerate().map(option).collect_view()}
            </select>
        </label>
    }
}

/// Chooses the target among samples.
#[component]
pub fn TargetSelect(
    samples: Vec<String>,
    chosen: Signal<Option<String>>,
    changed: Callback<Option<String>>,
    hook: &'static str,
) -> impl IntoView {
    let names = samples.clone();
    let pick = move |event| {
        // By place, so that a sample may be called anything.
        let place: Option<usize> = event_target_value(&event).parse().ok();
        changed.run(place.and_then(|place| names.get(place).cloned()));
    };
    let options = samples.into_iter().enumerate().map(|(place, name)| {
        let own = name.clone();
        view! {
            <option value=place.to_string() prop:selected=move || chosen.with(|chosen| chosen.as_ref() == Some(&own))>{name}</option>
        }
    });
    view! {
        <label class="field">
            <span>{words::TARGET}</span>
            <select data-test=hook on:change=pick>
                <option value="" prop:selected=move || chosen.with(Option::is_none)>{words::NO_TARGET}</option>
                {options.collect_view()}
            </select>
        </label>
    }
}

/// Says where the margin comes from; anything else in the leader's own words.
#[component]
pub fn OriginSelect(origin: Signal<MarginOrigin>, changed: Callback<MarginOrigin>) -> impl IntoView {
    let is_other = move || origin.with(|origin| matches!(origin, MarginOrigin::Other(_)));
    // Whatever the words of one's own are, their place is that of the entry without any.
    let is_of =
        |one: &MarginOrigin, chosen: &MarginOrigin| std::mem::discriminant(one) == std::mem::discriminant(chosen);
    let pick = move |event| {
        let place: usize = event_target_value(&event).parse().unwrap_or(0);
        changed.run(MarginOrigin::OFFERED.get(place).cloned().unwrap_or_default());
    };
    let options = MarginOrigin::OFFERED.into_iter().enumerate().map(|(place, one)| {
        let text = if is_of(&one, &MarginOrigin::Other(String::new())) {
            words::ORIGIN_OTHER.to_owned()
        } else {
            words::origin(&one)
        };
        let is_chosen = move || origin.with(|chosen| is_of(&one, chosen));
        view! { <option value=place.to_string() prop:selected=is_chosen>{text}</option> }
    });
    let own_words = move || {
        origin.with(|origin| if let MarginOrigin::Other(words) = origin { words.clone() } else { String::new() })
    };
    view! {
        <label class="field is-wide">
            <span>{words::ORIGIN}</span>
            <select data-test="margin-origin" on:change=pick>{options.collect_view()}</select>
        </label>
        {move || is_other().then(|| view! {
            <label class="field">
                <span>{words::ORIGIN_OTHER_LABEL}</span>
                <input
                    type="text"
                    prop:value=own_words
                    on:change=move |event| changed.run(MarginOrigin::Other(event_target_value(&event).trim().to_owned()))
                />
            </label>
        })}
    }
}

#[component]
fn MarginField(settings: Memo<Option<Settings>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let (refused, set_refused) = signal(None::<String>);
    let shown = move || settings.with(|s| s.as_ref().map(|s| words::number(s.margin.width_mm))).unwrap_or_default();
    let scale =
        move || context.app.study.with(|study| study.as_ref().map(|study| study.scale.clone())).unwrap_or_default();
    let changed = move |event| {
        let maximum = untrack(scale).maximum;
        set_refused.set(decisions::set_margin(context.app, &event_target_value(&event), maximum).err());
    };
    view! {
        <label class="field">
            <span>{words::MARGIN}</span>
            <span class="with-unit">
                {words::PLUS_MINUS}
                <input class="short" inputmode="decimal" data-test="margin" prop:value=shown on:change=changed/>
                {move || scale().unit}
            </span>
            {move || refused.get().map(|why| view! { <span class="refused" role="alert">{why}</span> })}
        </label>
    }
}

#[component]
fn AlphaSelect(settings: Memo<Option<Settings>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let alpha = Memo::new(move |_| settings.with(|s| s.as_ref().map_or(0.05, |s| s.alpha)));
    let offered = move || {
        let mut offered = ALPHAS.to_vec();
        if ALPHAS.iter().all(|one| (one - alpha.get()).abs() > 1e-12) {
            offered.push(alpha.get());
        }
        offered
    };
    let pick = move |event| {
        if let Ok(alpha) = event_target_value(&event).parse() {
            decisions::set_alpha(context.app, alpha);
        }
    };
    let option = move |one: f64| {
        view! { <option value=one.to_string() prop:selected=move || (alpha.get() - one).abs() < 1e-12>{words::number(one)}</option> }
    };
    view! {
        <label class="field">
            <span>{words::ALPHA}</span>
            <select data-test="alpha" on:change=pick>{move || offered().into_iter().map(option).collect_view()}</select>
        </label>
    }
}

/// Which attributes decide, and margins of their own.
#[component]
fn Deciding(settings: Memo<Option<Settings>>, is_open: bool) -> impl IntoView {
    let context: AppContext = expect_context();
    let (refused, set_refused) = signal(None::<String>);
    let lines = Memo::new(move |_| attribute_lines(context, settings));
    let count = move || lines.with(|lines| (lines.iter().filter(|line| line.decides).count(), lines.len()));
    view! {
        <details class="deciding" data-test="deciding" open=is_open>
            <summary>{words::DECIDING}": "{move || { let (some, all) = count(); words::some_of(some, all) }}</summary>
            <p>{words::DECIDING_INTRO}</p>
            {move || refused.get().map(|why| view! { <p class="refused" role="alert">{why}</p> })}
            <ul class="attribute-list">
                {move || lines.get().into_iter().map(|line| view! { <AttributeSettings line set_refused/> }).collect_view()}
            </ul>
        </details>
    }
}

#[component]
fn AttributeSettings(line: AttributeLine, set_refused: WriteSignal<Option<String>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let (for_check, for_margin, for_kind) = (line.name.clone(), line.name.clone(), line.name.clone());
    let decides = move |event| {
        set_refused.set(decisions::set_deciding(context.app, &for_check, event_target_checked(&event)).err())
    };
    let margin = move |event| {
        let maximum =
            context.app.study.with_untracked(|study| study.as_ref().map_or(100.0, |study| study.scale.maximum));
        set_refused
            .set(decisions::set_attribute_margin(context.app, &for_margin, &event_target_value(&event), maximum).err());
    };
    let kind = move |event| {
        let to = if event_target_checked(&event) { AttributeKind::Integrated } else { AttributeKind::Analytic };
        decisions::set_kind(context.app, &for_kind, to);
    };
    let label = words::own_margin_for(&line.name);
    view! {
        <li>
            <label class="check">
                <input type="checkbox" prop:checked=line.decides on:change=decides/>
                <span>{line.name.clone()}</span>
            </label>
            <label class="check is-small">
                <input type="checkbox" prop:checked=line.kind == AttributeKind::Integrated on:change=kind/>
                <span>{words::KIND_INTEGRATED}</span>
            </label>
            <input
                class="short"
                inputmode="decimal"
                aria-label=label
                placeholder=words::OWN_MARGIN
                prop:value=line.own_margin.map(words::number).unwrap_or_default()
                on:change=margin
            />
        </li>
    }
}

/// Decisions that were changed when the verdict had been seen: the latest in full, the earlier ones on demand.
#[component]
pub fn LateChanges() -> impl IntoView {
    let context: AppContext = expect_context();
    let late = Memo::new(move |_| {
        context.app.study.with(|study| {
            let log = study.as_ref().map(|study| study.log.as_slice()).unwrap_or_default();
            log.iter().rev().filter(|entry| entry.is_late_decision()).cloned().collect::<Vec<_>>()
        })
    });
    let line = |entry: LogEntry| view! { <li><span class="when">{entry.when}</span>" "{entry.what}</li> };
    move || {
        let late = late.get();
        let latest = late.first().cloned()?;
        Some(view! {
            <details class="changed" data-test="changed-after-verdict">
                <summary>{say::LATE_HEADING}" ("{late.len()}"): "{latest.what}</summary>
                <ul>{late.into_iter().map(line).collect_view()}</ul>
            </details>
        })
    }
}

fn deciding_counts(context: AppContext) -> (usize, usize) {
    context.app.study.with(|study| {
        let Some(study) = study else { return (0, 0) };
        let deciding = &study.settings.deciding;
        let active = study.active_attributes();
        let decides = |index: &&usize| deciding.is_empty() || deciding.contains(&study.attributes[**index].name);
        (active.iter().filter(decides).count(), active.len())
    })
}

fn active_samples(context: AppContext) -> Vec<String> {
    context.app.study.with(|study| {
        let Some(study) = study else { return Vec::new() };
        let active = (0..study.samples.len()).filter(|index| !study.sample_is_excluded(*index));
        active.map(|index| study.samples[index].name.clone()).collect()
    })
}

fn attribute_lines(context: AppContext, settings: Memo<Option<Settings>>) -> Vec<AttributeLine> {
    let Some(settings) = settings.get() else { return Vec::new() };
    context.app.study.with(|study| {
        let Some(study) = study else { return Vec::new() };
        let line = |index: usize| {
            let attribute = &study.attributes[index];
            AttributeLine {
                name: attribute.name.clone(),
                kind: attribute.kind,
                decides: settings.deciding.is_empty() || settings.deciding.contains(&attribute.name),
                own_margin: settings.margin.by_attribute.get(&attribute.name).copied(),
            }
        };
        study.active_attributes().into_iter().map(line).collect()
    })
}
