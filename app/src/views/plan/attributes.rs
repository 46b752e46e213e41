//! The attribute list: a table to type into, with what is doubtful at its row, brought from and saved as CSV.

use super::fields::TextField;
use crate::browser::{download, files, page};
use crate::parts::notices::NoticeList;
use crate::state::AppContext;
use crate::state::PlanPart;
use crate::state::plan::{attribute_list, planning};
use crate::words::plan::attributes as say;
use leptos::prelude::*;
use leptos::{ev, html};
use likeness_core::notice::Notice;
use likeness_core::plan::brief::attributes::ListedAttribute;
use likeness_core::study::AttributeKind;

/// A column of text: heading, hook, and the field of the line.
type Column = (&'static str, &'static str, fn(&mut ListedAttribute) -> &mut String);

const COLUMNS: [Column; 5] = [
    (say::ATTRIBUTE, "word-name", |line| &mut line.name),
    (say::DEFINITION, "word-definition", |line| &mut line.definition),
    (say::LOW_END, "word-low", |line| &mut line.low_end),
    (say::HIGH_END, "word-high", |line| &mut line.high_end),
    (say::REFERENCE, "word-reference", |line| &mut line.reference),
];
const KINDS: [AttributeKind; 2] = [AttributeKind::Analytic, AttributeKind::Integrated];

#[component]
pub fn AttributeListView() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let count = Memo::new(move |_| app.plan_draft.with(|draft| draft.attributes.attributes.len()));
    let warnings = Memo::new(move |_| app.plan_draft.with(|draft| draft.attributes.warnings()));
    let to_orders = move |_| planning::look_at_part(app, PlanPart::Orders);
    view! {
        <div class="plan-words">
            <AboutList count/>
            <section>
                {move || if count.get() == 0 {
                    view! { <Empty/> }.into_any()
                } else {
                    view! { <Grid count warnings/> }.into_any()
                }}
            </section>
            <p class="note">{say::CAUTION}</p>
            <p>
                <button type="button" class="button is-main" data-test="to-orders" on:click=to_orders>{say::TO_ORDERS}</button>
            </p>
        </div>
    }
}

/// Name and version of the list, bringing it in and saving it.
#[component]
fn AboutList(count: Memo<usize>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let understood = RwSignal::new(Vec::<Notice>::new());
    let version = move || app.plan_draft.with(|draft| say::version(draft.attributes.version, count.get()));
    view! {
        <section>
            <h1>{say::HEADING}</h1>
            <p class="lead">{say::INTRO}</p>
            <div class="fields">
                <TextField
                    label=say::LIST_NAME
                    hook="list-name"
                    hint=say::LIST_NAME_HINT
                    is_wide=true
                    shows=|draft| draft.attributes.name.clone()
                    set=|draft, text| draft.attributes.name = text
                />
                <p class="quiet plan-version" data-test="list-version">{version}</p>
                <ListTools understood/>
            </div>
            <PasteList/>
            {move || (!understood.with(Vec::is_empty)).then(|| view! {
                <h2>{say::READ_NOTICES}</h2>
                <NoticeList notices=understood/>
            })}
        </section>
    }
}

/// From and to CSV.
#[component]
fn ListTools(understood: RwSignal<Vec<Notice>>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let input: NodeRef<html::Input> = NodeRef::new();
    let picked = move |_| {
        let picked = input.get_untracked().map(|input| files::picked(&input)).unwrap_or_default();
        files::read_all(picked, move |arrived| {
            // One list has one file: the first.
            if let Some(file) = arrived.into_iter().next() {
                let bytes = file.bytes.unwrap_or_default();
                understood.set(attribute_list::import(app, &file.name, &bytes));
            }
        });
    };
    view! {
        <div class="plan-tools">
            <label class="button">
                <input type="file" class="heard" node_ref=input accept=say::CSV_KINDS data-test="import-words" on:change=picked/>
                <span>{say::IMPORT}</span>
            </label>
            <ExportList/>
        </div>
    }
}

/// A place to paste words from anywhere; they are added to the list.
#[component]
fn PasteList() -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let (typed, said) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let take = move |_| {
        said.set(attribute_list::paste(app, &typed.get_untracked()));
        typed.set(String::new());
    };
    view! {
        <details class="paste-words">
            <summary data-test="paste-words">{say::PASTE}</summary>
            <label class="field is-wide">
                <span>{say::PASTE_FIELD}</span>
                <textarea rows="5" data-test="pasted-words" prop:value=typed on:input=move |event| typed.set(event_target_value(&event))></textarea>
            </label>
            <div class="plan-tools">
                <button type="button" class="button" data-test="take-pasted" disabled=move || typed.with(|text| text.trim().is_empty()) on:click=take>
                    {say::PASTE_TAKE}
                </button>
                <span class="said" role="status" data-test="pasted-said">{said}</span>
            </div>
        </details>
    }
}

#[component]
fn ExportList() -> impl IntoView {
    let draft = expect_context::<AppContext>().app.plan_draft;
    let save = move |_| {
        download::save_text(say::CSV_NAME, "text/csv", &draft.with_untracked(|draft| draft.attributes.to_csv()));
    };
    let is_empty = move || draft.with(|draft| draft.attributes.attributes.is_empty());
    view! {
        <button type="button" class="button" data-test="export-words" disabled=is_empty on:click=save>{say::EXPORT}</button>
    }
}

#[component]
fn Empty() -> impl IntoView {
    let context: AppContext = expect_context();
    view! {
        <div class="offer" data-test="no-words">
            <p><strong>{say::EMPTY}</strong>" "{say::EMPTY_MORE}</p>
            <div class="plan-tools">
                <AddAttribute/>
                <button type="button" class="button" data-test="use-example" on:click=move |_| attribute_list::use_example(context.app)>
                    {say::USE_EXAMPLE}
                </button>
            </div>
        </div>
    }
}

#[component]
fn AddAttribute() -> impl IntoView {
    let context: AppContext = expect_context();
    let add = move |_| {
        attribute_list::add(context.app);
        page::focus_last("[data-test='word-name']");
    };
    view! { <button type="button" class="button" data-test="add-word" on:click=add>{say::ADD}</button> }
}

#[component]
fn Grid(count: Memo<usize>, warnings: Memo<Vec<Notice>>) -> impl IntoView {
    view! {
        <p class="note">{say::KEYS}</p>
        <div class="table-place">
            <table class="typed-table words-table">
                <thead>
                    <tr>
                        <td></td>
                        {COLUMNS.into_iter().map(|(head, ..)| view! { <th scope="col">{head}</th> }).collect_view()}
                        <th scope="col"><abbr title=say::ORDER_MORE>{say::ORDER}</abbr></th>
                        <th scope="col">{say::KIND}</th>
                        <td></td>
                    </tr>
                </thead>
                <tbody>{move || (0..count.get()).map(|row| view! { <Line row count warnings/> }).collect_view()}</tbody>
            </table>
        </div>
        <div class="plan-tools"><AddAttribute/></div>
    }
}

#[component]
fn Line(row: usize, count: Memo<usize>, warnings: Memo<Vec<Notice>>) -> impl IntoView {
    let context: AppContext = expect_context();
    let keys = move |event: ev::KeyboardEvent| row_keys(context, row, count.get_untracked(), &event);
    view! {
        <tr on:keydown=keys>
            <th scope="row" class="line">{row + 1}</th>
            {COLUMNS.into_iter().map(|column| view! { <td><Cell row column/></td> }).collect_view()}
            <td><OrderCell row/></td>
            <td><KindCell row/></td>
            <td><LineTools row count/></td>
        </tr>
        <RowWarning row warnings/>
    }
}

/// What is doubtful about a line, under it.
#[component]
fn RowWarning(row: usize, warnings: Memo<Vec<Notice>>) -> impl IntoView {
    let own = Memo::new(move |_| {
        warnings.with(|all| {
            let mine = all.iter().filter(|notice| notice.place.row == Some(row as u32 + 1));
            mine.map(|notice| (notice.what.clone(), notice.hint.clone())).collect::<Vec<_>>()
        })
    });
    let line = |(what, hint): (String, String)| view! { <p>{what}" "<span class="hint">{hint}</span></p> };
    move || {
        (!own.with(Vec::is_empty)).then(|| {
            view! {
                <tr class="row-warning" data-test="row-warning">
                    <td></td>
                    <td colspan="8">{own.get().into_iter().map(line).collect_view()}</td>
                </tr>
            }
        })
    }
}

/// Enter goes down the same column and adds a line at the end; Alt with an arrow moves the line.
fn row_keys(context: AppContext, row: usize, count: usize, event: &ev::KeyboardEvent) {
    let hook = COLUMNS.into_iter().map(|(_, hook, _)| hook).find(|hook| page::is_focused_on(hook));
    match (event.key().as_str(), event.alt_key()) {
        ("Enter", false) => {
            let Some(hook) = hook else { return };
            if row + 1 == count {
                attribute_list::add(context.app);
                page::focus_at("[data-test='word-name']", row + 1);
            } else {
                page::focus_at(selector_of(hook), row + 1);
            }
        }
        ("ArrowUp" | "ArrowDown", true) => {
            let now = attribute_list::move_line(context.app, row, event.key() == "ArrowUp");
            page::focus_at(hook.map_or("[data-test='word-name']", selector_of), now);
        }
        _ => return,
    }
    event.prevent_default();
}

fn selector_of(hook: &str) -> &'static str {
    match hook {
        "word-definition" => "[data-test='word-definition']",
        "word-low" => "[data-test='word-low']",
        "word-high" => "[data-test='word-high']",
        "word-reference" => "[data-test='word-reference']",
        _ => "[data-test='word-name']",
    }
}

#[component]
fn Cell(row: usize, column: Column) -> impl IntoView {
    let context: AppContext = expect_context();
    let (head, hook, field) = column;
    let shown = Memo::new(move |_| {
        let line = context.app.plan_draft.with(|draft| draft.attributes.attributes.get(row).cloned());
        line.map(|mut line| std::mem::take(field(&mut line))).unwrap_or_default()
    });
    let typed = move |event| {
        let text = event_target_value(&event);
        attribute_list::type_into_line(context.app, row, |line| *field(line) = text);
    };
    view! { <input type="text" data-test=hook aria-label=say::cell_of(head, row) prop:value=shown on:input=typed/> }
}

#[component]
fn OrderCell(row: usize) -> impl IntoView {
    let context: AppContext = expect_context();
    let shown = Memo::new(move |_| {
        let order = context.app.plan_draft.with(|draft| draft.attributes.attributes.get(row).map(|line| line.order));
        order.unwrap_or_default().to_string()
    });
    let typed = move |event| {
        if let Ok(order) = event_target_value(&event).trim().parse::<u32>() {
            attribute_list::type_into_line(context.app, row, |line| line.order = order);
        }
    };
    view! {
        <input class="short" inputmode="numeric" data-test="word-order" aria-label=say::cell_of(say::ORDER_MORE, row) prop:value=shown on:input=typed/>
    }
}

#[component]
fn KindCell(row: usize) -> impl IntoView {
    let context: AppContext = expect_context();
    let kind = Memo::new(move |_| {
        context
            .app
            .plan_draft
            .with(|draft| draft.attributes.attributes.get(row).map(|line| line.kind))
            .unwrap_or_default()
    });
    let pick = move |event| {
        let place: usize = event_target_value(&event).parse().unwrap_or(0);
        attribute_list::type_into_line(context.app, row, |line| {
            line.kind = KINDS.get(place).copied().unwrap_or_default()
        });
    };
    let options = KINDS.into_iter().enumerate().map(|(place, one)| {
        view! { <option value=place.to_string() prop:selected=move || kind.get() == one>{say::kind(one)}</option> }
    });
    view! {
        <select data-test="word-kind" aria-label=say::cell_of(say::KIND, row) on:change=pick>{options.collect_view()}</select>
    }
}

#[component]
fn LineTools(row: usize, count: Memo<usize>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let is_last = Signal::derive(move || row + 1 >= count.get());
    view! {
        <span class="line-tools">
            <MoveButton row is_up=true is_at_end=Signal::stored(row == 0)/>
            <MoveButton row is_up=false is_at_end=is_last/>
            <button type="button" class="small" data-test="remove-word" aria-label=say::remove_line(row) on:click=move |_| attribute_list::remove(app, row)>
                {say::REMOVE}
            </button>
        </span>
    }
}

#[component]
fn MoveButton(row: usize, is_up: bool, is_at_end: Signal<bool>) -> impl IntoView {
    let app = expect_context::<AppContext>().app;
    let (way, arrow) = if is_up { (say::UP, "\u{2191}") } else { (say::DOWN, "\u{2193}") };
    view! {
        <button
            type="button"
            class="small"
            aria-label=say::move_line(row, way)
            title=say::move_line(row, way)
            disabled=move || is_at_end.get()
            on:click=move |_| _ = attribute_list::move_line(app, row, is_up)
        >
            {arrow}
        </button>
    }
}
