//! The list of saved studies: on the start, and in a menu of the header.

use crate::persistence::studies;
use crate::state::AppContext;
use crate::state::study::saved_studies::SavedStudy;
use crate::views::by_width::by_width;
use crate::words::saved_studies as own;
use leptos::prelude::*;
use leptos::{ev, html};

/// The list on the start; nothing where nothing is saved.
#[component]
pub fn SavedOnStart() -> impl IntoView {
    let context: AppContext = expect_context();
    let is_any =
        Memo::new(move |_| context.saved.with(|list| !list.is_empty()) || context.deleted.with(Option::is_some));
    move || {
        is_any.get().then(|| {
            view! {
                <section class="kept-start" data-test="kept-start">
                    <h2>{own::SAVED}</h2>
                    <SavedList/>
                </section>
            }
        })
    }
}

/// The menu in the header.
#[component]
pub fn SavedMenu() -> impl IntoView {
    let context: AppContext = expect_context();
    let count = move || by_width(own::saved_count(context.saved.with(Vec::len)));
    let menu: NodeRef<html::Details> = NodeRef::new();
    let pressed = move |event: ev::KeyboardEvent| {
        if event.key() == "Escape"
            && let Some(menu) = menu.get_untracked()
        {
            menu.set_open(false);
        }
    };
    view! {
        <details class="kept-menu" node_ref=menu on:keydown=pressed data-test="kept-menu">
            <summary class="button">{count}</summary>
            <div class="kept-panel"><SavedList/></div>
        </details>
    }
}

#[component]
fn SavedList() -> impl IntoView {
    let context: AppContext = expect_context();
    let deleted = move || {
        context.deleted.get().map(|deleted| {
            view! {
                <p class="kept-deleted" role="status">
                    {own::deleted(&deleted.about.title)}" "
                    <button type="button" class="small" data-test="undo-delete" on:click=move |_| studies::undo_delete(context)>
                        {own::UNDO_DELETE}
                    </button>
                </p>
            }
        })
    };
    view! {
        <p class="note">{own::SAVED_INTRO}</p>
        {deleted}
        <ul class="kept-list" data-test="kept-list">
            <For each=move || context.saved.get() key=|study| (study.key.clone(), study.to_text()) let:study>
                <SavedLine study/>
            </For>
        </ul>
    }
}

#[component]
fn SavedLine(study: SavedStudy) -> impl IntoView {
    let context: AppContext = expect_context();
    let renaming = RwSignal::new(false);
    let key = study.key.clone();
    let is_open = Memo::new(move |_| studies::open_key(context).as_ref() == Some(&key));
    let (about, when) = (study.in_words(), study.when_and_size());
    let for_name = study.clone();
    let name = move || {
        if renaming.get() {
            view! { <Rename study=for_name.clone() renaming/> }.into_any()
        } else {
            view! { <strong>{for_name.title.clone()}</strong> }.into_any()
        }
    };
    view! {
        <li class="kept-line" class:is-current=move || is_open.get() data-test="kept-study">
            <div class="kept-about">
                {name}
                <span class="quiet">{about}</span>
                <span class="quiet">{when}</span>
            </div>
            <SavedTools study is_open renaming/>
        </li>
    }
}

#[component]
fn SavedTools(study: SavedStudy, is_open: Memo<bool>, renaming: RwSignal<bool>) -> impl IntoView {
    let context: AppContext = expect_context();
    let study = StoredValue::new(study);
    let label = |what: &str| own::button_label(what, &study.with_value(|study| study.title.clone()));
    let (open_label, delete_label) = (label(own::OPEN), label(own::DELETE));
    let open = move |_| studies::open(context, study.with_value(|study| study.key.clone()));
    let open_or_said = move || {
        if is_open.get() {
            return view! { <span class="quiet">{own::IS_OPEN}</span> }.into_any();
        }
        tool("open-kept", own::OPEN, open_label.clone(), open).into_any()
    };
    let delete = move |_| studies::delete(context, study.get_value());
    let save = move |_| studies::save_as_file(context, study.get_value());
    view! {
        <div class="tools">
            {open_or_said}
            {tool("rename-kept", own::RENAME, label(own::RENAME), move |_| renaming.update(|on| *on = !*on))}
            {tool("save-kept", own::SAVE_FILE, label(own::SAVE_FILE), save)}
            {move || (!is_open.get()).then(|| tool("delete-kept", own::DELETE, delete_label.clone(), delete))}
        </div>
    }
}

/// One button; those who hear it alone hear the title of the study too.
fn tool(
    hook: &'static str,
    text: &'static str,
    label: String,
    pressed: impl FnMut(ev::MouseEvent) + Send + 'static,
) -> impl IntoView {
    view! { <button type="button" class="small" data-test=hook aria-label=label on:click=pressed>{text}</button> }
}

#[component]
fn Rename(study: SavedStudy, renaming: RwSignal<bool>) -> impl IntoView {
    let context: AppContext = expect_context();
    let (typed, set_typed) = signal(study.title.clone());
    let key = study.key.clone();
    let done = move |event: ev::SubmitEvent| {
        event.prevent_default();
        studies::rename(context, key.clone(), typed.get_untracked());
        renaming.set(false);
    };
    view! {
        <form class="kept-rename" on:submit=done>
            <input
                aria-label=own::NEW_NAME
                data-test="new-name"
                prop:value=typed
                on:input=move |event| set_typed.set(event_target_value(&event))
            />
            <button type="submit" class="small" data-test="rename-done">{own::RENAME_DONE}</button>
        </form>
    }
}
