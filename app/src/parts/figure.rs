//! A figure on a canvas: sharp at any pixel ratio, read by pointer and by keyboard, its numbers beside it, saved as
//! SVG or PNG. It knows scenes, not studies.

use super::copy_and_save::{CopyAndSave, rows_of_figure};
use super::folded::Folded;
use super::follow::follow;
use super::numerals::{Numerals, readable_now};
use super::selection::Selection;
use crate::browser::{canvas, download, events};
use crate::shared::Shared;
use crate::words;
use leptos::prelude::*;
use leptos::{ev, html};
use likeness_core::figures::{HitRegion, ReadingDirection, Scene, ThemeKind, to_svg};
use likeness_core::tables::export;
use std::sync::Arc;

/// Width of saved figures where none is chosen, and between which one can be chosen, in CSS pixels (96 an inch).
const SAVED_WIDTH_PX: f64 = 720.0;
const SAVED_WIDTHS_PX: (f64, f64) = (240.0, 2400.0);
/// Pixels a CSS pixel in saved images and in print.
const SAVED_SCALE: f64 = 3.0;
/// How near the pointer must be.
const REACH_PX: f64 = 10.0;

/// Draws the figure; reads signals, so that it is drawn anew when they change.
pub type Drawing = Arc<dyn Fn(Form) -> Option<Scene> + Send + Sync>;

/// In which form a figure is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Form {
    pub width_px: f64,
    pub theme: ThemeKind,
    /// Whether the title stands in the figure: not on the page, where it stands above.
    pub heading: bool,
}

/// The figure as it is drawn; `None` before it has a width and where there is nothing to draw.
type FoundScene = ReadSignal<Option<Shared<Scene>>>;

/// Is told every region that is clicked, with all that it knows; handed down to the figures of one view.
#[derive(Clone, Copy)]
pub struct RegionPicked(pub Callback<HitRegion>);

/// What the screen is like: the same for every part of the page.
#[derive(Clone, Copy)]
pub struct Screen {
    pub dark: ReadSignal<bool>,
    pub narrow: ReadSignal<bool>,
    pub pixel_ratio: ReadSignal<f64>,
}

/// Shows a figure. `chosen` is told the sample of a region that is clicked.
#[component]
pub fn FigureView(
    /// Stem of file names, and hook for tests.
    name: &'static str,
    drawing: Drawing,
    #[prop(into)] chosen: Callback<String>,
) -> impl IntoView {
    let screen: Screen = expect_context();
    let as_computed = drawing.clone();
    let drawing = with_numerals(drawing);
    let width = RwSignal::new(0.0);
    let place: NodeRef<html::Div> = NodeRef::new();
    let scene = {
        let drawing = drawing.clone();
        follow(place, move || {
            let theme = if screen.dark.get() { ThemeKind::Dark } else { ThemeKind::Light };
            let width_px = width.get();
            (width_px >= 1.0).then(|| drawing(Form { width_px, theme, heading: false })).flatten().map(Shared::new)
        })
    };
    follow_width(place, width);
    let title = move || scene.with(|scene| scene.as_ref().map(|scene| scene.title.clone())).unwrap_or_default();
    let summary = move || scene.with(|scene| scene.as_ref().map(|scene| scene.summary.clone())).unwrap_or_default();
    view! {
        <figure class="figure" data-test=format!("{name}-figure")>
            <h2>{title}</h2>
            <div node_ref=place class="figure-place">
                <OnCanvas scene screen drawing=drawing.clone() width chosen/>
            </div>
            <figcaption>
                <p class="figure-summary">{summary}</p>
                <FigureTools name drawing/>
                <Folded summary=words::NUMBERS class="figure-numbers">
                    {number_tools(name, as_computed.clone())}
                    <div class="table-place" tabindex="0" role="region" aria-label=title>{move || numbers(scene.get())}</div>
                </Folded>
            </figcaption>
        </figure>
    }
}

/// The canvas with what lies over it: the ring around the region being read, and its words.
#[component]
fn OnCanvas(
    scene: FoundScene,
    screen: Screen,
    drawing: Drawing,
    width: RwSignal<f64>,
    chosen: Callback<String>,
) -> impl IntoView {
    let surface: NodeRef<html::Canvas> = NodeRef::new();
    let (read, set_read) = signal(None::<usize>);
    let (by_key, set_by_key) = signal(false);
    follow_scene(surface, scene, screen, (read, set_read));
    draw_for_print(surface, scene, screen, drawing, width);
    let selection = use_context::<Selection>();
    let picked = use_context::<RegionPicked>();
    let at_pointer = move |x: i32, y: i32| {
        scene.with_untracked(|scene| {
            scene.as_ref().and_then(|scene| scene.region_at(f64::from(x), f64::from(y), REACH_PX))
        })
    };
    let moved = move |event: ev::PointerEvent| {
        set_by_key.set(false);
        set_read.set(at_pointer(event.offset_x(), event.offset_y()));
    };
    let clicked = move |event: ev::MouseEvent| {
        choose(scene, at_pointer(event.offset_x(), event.offset_y()), chosen, selection, picked);
    };
    let pressed = move |event: ev::KeyboardEvent| {
        if event.key() == "Enter" {
            choose(scene, read.get_untracked(), chosen, selection, picked);
        } else if event.key() == "Escape" {
            set_read.set(None);
        } else if let Some(direction) = direction_of(&event.key()) {
            event.prevent_default();
            set_by_key.set(true);
            set_read.update(|read| {
                *read =
                    scene.with_untracked(|scene| scene.as_ref().and_then(|scene| scene.next_region(*read, direction)));
            });
        }
    };
    let label =
        move || scene.with(|scene| scene.as_ref().map(|scene| words::figure_label(&scene.title, &scene.summary)));
    let said = move || by_key.get().then(|| lines_at(scene, read.get()).join(", "));
    view! {
        <div class="drawn" tabindex="0" role="img" aria-label=label on:keydown=pressed on:blur=move |_| set_read.set(None)>
            <canvas
                node_ref=surface
                aria-hidden="true"
                on:pointermove=moved
                on:pointerdown=moved
                on:pointerleave=move |_| set_read.set(None)
                on:click=clicked
            ></canvas>
            {move || over(scene, read.get())}
        </div>
        <span class="heard" aria-live="polite">{said}</span>
    }
}

/// Draws the scene whenever it changes. One with fewer regions must not leave the reading at one that is gone.
fn follow_scene(
    surface: NodeRef<html::Canvas>,
    scene: FoundScene,
    screen: Screen,
    (read, set_read): (ReadSignal<Option<usize>>, WriteSignal<Option<usize>>),
) {
    Effect::new(move |_| {
        let (Some(surface), Some(scene)) = (surface.get(), scene.get()) else { return };
        canvas::draw(&surface, &scene, screen.pixel_ratio.get());
    });
    Effect::new(move |_| {
        let count = scene.with(|scene| scene.as_ref().map_or(0, |scene| scene.regions.len()));
        if read.get_untracked().is_some_and(|index| index >= count) {
            set_read.set(None);
        }
    });
}

/// Saving as SVG and PNG, in the light colours at a chosen width.
#[component]
fn FigureTools(name: &'static str, drawing: Drawing) -> impl IntoView {
    let width = RwSignal::new(SAVED_WIDTH_PX);
    let set_width = move |event| {
        let typed: Option<f64> = event_target_value(&event).trim().parse().ok();
        let (narrowest, widest) = SAVED_WIDTHS_PX;
        // Told again even if it is the same, so that the field shows what is in use.
        width.set(
            typed.filter(|typed| typed.is_finite()).map_or(SAVED_WIDTH_PX, |typed| typed.clamp(narrowest, widest)),
        );
    };
    let saved = move || Form { width_px: width.get_untracked(), theme: ThemeKind::Light, heading: true };
    let for_svg = drawing.clone();
    let svg = move |_| {
        if let Some(scene) = untrack(|| for_svg(saved())) {
            download::save_text(&format!("{name}.svg"), "image/svg+xml", &to_svg(&scene));
        }
    };
    let png = move |_| {
        if let Some(scene) = untrack(|| drawing(saved())) {
            canvas::png(&scene, SAVED_SCALE, move |blob| {
                let _ = download::save_blob(&format!("{name}.png"), &blob);
            });
        }
    };
    view! {
        <div class="tools">
            <span class="quiet keys">{words::FIGURE_KEYS}</span>
            <label class="saved-width" title=words::report::SAVED_WIDTH_WHY>
                <span>{words::report::SAVED_WIDTH}</span>
                <input
                    type="number"
                    class="short"
                    min=SAVED_WIDTHS_PX.0.to_string()
                    max=SAVED_WIDTHS_PX.1.to_string()
                    step="10"
                    data-test=format!("{name}-width")
                    prop:value=move || width.get().to_string()
                    on:change=set_width
                />
            </label>
            <button type="button" class="small" on:click=svg>{words::SAVE_SVG}</button>
            <button type="button" class="small" on:click=png>{words::SAVE_PNG}</button>
        </div>
    }
}

fn follow_width(place: NodeRef<html::Div>, width: RwSignal<f64>) {
    Effect::new(move |_| {
        let Some(place) = place.get() else { return };
        let changed = move |now: f64| {
            // Scrollbars come and go by fractions; whole pixels keep the figure calm.
            if (width.get_untracked() - now.floor()).abs() >= 1.0 {
                width.set(now.floor());
            }
        };
        let observer = canvas::watch_width(&place, changed);
        let observer = send_wrapper::SendWrapper::new(observer);
        on_cleanup(move || {
            if let Some(observer) = observer.take() {
                observer.disconnect();
            }
        });
    });
}

/// On paper a figure is drawn in grey, at once: the browser doesn't wait for reactive work.
fn draw_for_print(
    surface: NodeRef<html::Canvas>,
    scene: FoundScene,
    screen: Screen,
    drawing: Drawing,
    width: RwSignal<f64>,
) {
    events::when("beforeprint", move || {
        let printed =
            untrack(|| drawing(Form { width_px: width.get_untracked(), theme: ThemeKind::Print, heading: false }));
        if let (Some(surface), Some(scene)) = (surface.get_untracked(), printed) {
            canvas::draw(&surface, &scene, SAVED_SCALE);
        }
    });
    events::when("afterprint", move || {
        if let (Some(surface), Some(scene)) = (surface.get_untracked(), scene.get_untracked()) {
            canvas::draw(&surface, &scene, screen.pixel_ratio.get_untracked());
        }
    });
}

/// The ring and the words of the region that is being read.
fn over(scene: FoundScene, read: Option<usize>) -> Option<impl IntoView> {
    let scene = scene.get()?;
    let region = scene.regions.get(read?)?;
    let center = region.shape.center();
    let from_right = center.x > scene.width_px / 2.0;
    let across = if from_right {
        format!("right:{}px", scene.width_px - center.x + 12.0)
    } else {
        format!("left:{}px", center.x + 12.0)
    };
    let down = if center.y > scene.height_px / 2.0 {
        format!("bottom:{}px", scene.height_px - center.y + 8.0)
    } else {
        format!("top:{}px", center.y + 8.0)
    };
    let lines = region.lines.clone();
    Some(view! {
        <span class="ring" style=format!("left:{}px;top:{}px", center.x, center.y)></span>
        <div class="tip" style=format!("{across};{down}")>
            {lines.into_iter().map(|line| view! { <span>{line}</span> }).collect_view()}
        </div>
    })
}

fn lines_at(scene: FoundScene, read: Option<usize>) -> Vec<String> {
    let Some(index) = read else { return Vec::new() };
    scene
        .with(|scene| scene.as_ref().and_then(|scene| scene.regions.get(index).map(|region| region.lines.clone())))
        .unwrap_or_default()
}

fn choose(
    scene: FoundScene,
    index: Option<usize>,
    chosen: Callback<String>,
    selection: Option<Selection>,
    picked: Option<RegionPicked>,
) {
    let region = scene.with_untracked(|scene| scene.as_ref()?.regions.get(index?).cloned());
    let Some(region) = region else { return };
    if let Some(RegionPicked(picked)) = picked {
        picked.run(region.clone());
    }
    if let (Some(attribute), Some(selection)) = (region.attribute, selection) {
        selection.attribute_clicked.run(attribute);
    }
    if let Some(sample) = region.sample {
        chosen.run(sample);
    }
}

fn direction_of(key: &str) -> Option<ReadingDirection> {
    Some(match key {
        "ArrowUp" => ReadingDirection::Up,
        "ArrowDown" => ReadingDirection::Down,
        "ArrowLeft" => ReadingDirection::Left,
        "ArrowRight" => ReadingDirection::Right,
        "Home" => ReadingDirection::First,
        "End" => ReadingDirection::Last,
        _ => return None,
    })
}

/// The figure with the decimal mark of the reader, saved and printed too.
fn with_numerals(drawing: Drawing) -> Drawing {
    let Some(numerals) = use_context::<Numerals>() else { return drawing };
    Arc::new(move |form| drawing(form).map(|scene| numerals.scene(scene)))
}

/// Copies and saves the numbers, with points in files and the reader's own mark on the clipboard.
fn number_tools(name: &'static str, drawing: Drawing) -> impl IntoView {
    let readable = readable_now();
    let form = Form { width_px: SAVED_WIDTH_PX, theme: ThemeKind::Light, heading: false };
    let table = Callback::new(move |()| untrack(|| drawing(form)).map(|scene| scene.table).unwrap_or_default());
    let csv = move |()| export::csv_of_rows(rows_of_figure(&table.run(())));
    let for_clipboard = move |()| export::clipboard_of_rows(rows_of_figure(&table.run(())), &readable);
    view! { <CopyAndSave name=format!("{name}-numbers") csv for_clipboard/> }
}

fn numbers(scene: Option<Shared<Scene>>) -> Option<impl IntoView> {
    let scene = scene?;
    let class = |is_number: bool| if is_number { "number" } else { "" };
    let heads = scene.table.columns.iter();
    let heads =
        heads.map(|column| view! { <th scope="col" class=class(column.is_number)>{column.heading.clone()}</th> });
    let rows = scene.table.rows.iter().map(|row| {
        let cells = row.iter().zip(&scene.table.columns);
        let cells = cells.map(|(cell, column)| view! { <td class=class(column.is_number)>{cell.clone()}</td> });
        view! { <tr>{cells.collect_view()}</tr> }
    });
    Some(view! {
        <table class="results">
            <thead><tr>{heads.collect_view()}</tr></thead>
            <tbody>{rows.collect_view()}</tbody>
        </table>
    })
}
