//! The list of kept studies: on the start, and in a menu of the header.

use super::shell::by_width;
use super::{Desk, keeping};
use crate::state::keeping::KeptStudy;
use crate::words::kept as own;
use leptos::{ev, html, prelude::*};

/// The list on the start; nothing where nothing is kept.
#[component]
pub fn KeptOnStart() -> impl IntoView {
    let desk: Desk = expect_context();
    let is_any = Memo::new(move |_| desk.kept.with(|list| !list.is_empty()) || desk.deleted.with(Option::is_some));
    move || {
        is_any.get().then(|| {
            view! {
                <section class="kept-start" data-test="kept-start">
                    <h2>{own::KEPT}</h2>
                    <KeptList/>
                </section>
            }
        })
    }
}

/// The menu in the header.
#[component]
pub fn KeptMenu() -> impl IntoView {
    let desk: Desk = expect_context();
    let count = move || by_width(own::kept_count(desk.kept.with(Vec::len)));
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
            <div class="kept-panel"><KeptList/></div>
        </details>
    }
}

#[component]
fn KeptList() -> impl IntoView {
    let desk: Desk = expect_context();
    let deleted = move || {
        desk.deleted.get().map(|deleted| {
            view! {
                <p class="kept-deleted" role="status">
                    {own::deleted(&deleted.about.title)}" "
                    <button type="button" class="small" data-test="undo-delete" on:click=move |_| keeping::undo_delete(desk)>
                        {own::UNDO_DELETE}
                    </button>
                </p>
            }
        })
    };
    view! {
        <p class="note">{own::KEPT_INTRO}</p>
        {deleted}
        <ul class="kept-list" data-test="kept-list">
            <For each=move || desk.kept.get() key=|study| (study.key.clone(), study.to_text()) let:study>
                <KeptLine study/>
            </For>
        </ul>
    }
}

#[component]
fn KeptLine(study: KeptStudy) -> impl IntoView {
    let desk: Desk = expect_context();
    let renaming = RwSignal::new(false);
    let key = study.key.clone();
    let is_open = Memo::new(move |_| keeping::open_key(desk).as_ref() == Some(&key));
    let (about, when) = (own::about(&study), own::when_and_size(&study));
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
            <KeptTools study is_open renaming/>
        </li>
    }
}

#[component]
fn KeptTools(study: KeptStudy, is_open: Memo<bool>, renaming: RwSignal<bool>) -> impl IntoView {
    let desk: Desk = expect_context();
    let title = study.title.clone();
    let label = move |what: &str| own::button_label(what, &title);
    let labels = [own::OPEN, own::RENAME, own::SAVE_FILE, own::DELETE].map(label);
    let [open_label, rename_label, save_label, delete_label] = labels;
    let (for_save, for_delete, key) = (study.clone(), StoredValue::new(study.clone()), StoredValue::new(study.key));
    let open = move || {
        if is_open.get() {
            view! { <span class="quiet">{own::IS_OPEN}</span> }.into_any()
        } else {
            let open_label = open_label.clone();
            view! {
                <button type="button" class="small" data-test="open-kept" aria-label=open_label on:click=move |_| keeping::open(desk, key.get_value())>
                    {own::OPEN}
                </button>
            }
            .into_any()
        }
    };
    let delete = move || {
        let delete_label = delete_label.clone();
        (!is_open.get()).then(|| view! {
            <button type="button" class="small" data-test="delete-kept" aria-label=delete_label on:click=move |_| keeping::delete(desk, for_delete.get_value())>
                {own::DELETE}
            </button>
        })
    };
    view! {
        <div class="tools">
            {open}
            <button type="button" class="small" data-test="rename-kept" aria-label=rename_label on:click=move |_| renaming.update(|on| *on = !*on)>
                {own::RENAME}
            </button>
            <button type="button" class="small" data-test="save-kept" aria-label=save_label on:click=move |_| keeping::save_as_file(desk, for_save.clone())>
                {own::SAVE_FILE}
            </button>
            {delete}
        </div>
    }
}

#[component]
fn Rename(study: KeptStudy, renaming: RwSignal<bool>) -> impl IntoView {
    let desk: Desk = expect_context();
    let (typed, set_typed) = signal(study.title.clone());
    let key = study.key.clone();
    let done = move |event: ev::SubmitEvent| {
        event.prevent_default();
        keeping::rename(desk, key.clone(), typed.get_untracked());
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
