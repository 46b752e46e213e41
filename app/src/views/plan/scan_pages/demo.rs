//! Invented pages to try the reading on: offered while there is nothing else, drawn one after the other and read as pictures
//! are. It must not know how they are drawn or read.

use super::reading::{Left, awaited, known_pages, read_picture};
use crate::browser::timers;
use crate::state::AppContext;
use crate::state::session::demo_plan::{self, SEED};
use crate::state::session::scan_desk::{self, PictureName};
use crate::state::session::scan_state::ReadingNow;
use crate::words::scan_pages as say;
use leptos::prelude::*;
use likeness_core::scan::{DemoPageRun, DemoPages};
use std::time::Duration;

/// The offer; `start` is called where it is taken.
#[component]
pub fn TryDemo(start: fn(AppContext)) -> impl IntoView {
    let context: AppContext = expect_context();
    let reading = context.app.scanning.reading;
    view! {
        <div class="try-demo not-printed">
            <p>
                <button
                    type="button"
                    class="button"
                    data-test="try-demo"
                    disabled=move || reading.with(Option::is_some)
                    on:click=move |_| start(context)
                >
                    {say::TRY_DEMO}
                </button>
            </p>
            <p class="quiet">{say::DEMO_ABOUT}</p>
        </div>
    }
}

/// Draws and reads the pages of the open plan, which is the invented one; those that lie on its desk already are left there.
pub async fn read_demo(context: AppContext, now: &ReadingNow) {
    let app = context.app;
    let Ok(known) = known_pages(context).await else { return };
    // The desk is laid once the page has caught up with the plan.
    while demo_plan::desk_waits(app).is_none() && app.plan.with_untracked(Option::is_some) {
        timers::turn(Duration::ZERO).await;
    }
    let Some(plan) = app.plan.get_untracked().filter(|_| demo_plan::desk_waits(app) == Some(true)) else { return };
    for page in DemoPages::of(plan, known.to_arc(), SEED) {
        if !read_page(context, page, now).await {
            return scan_desk::note_also_stopped(app, [say::DEMO_REST.to_owned()]);
        }
    }
}

/// Draws and reads one page; `false` where the person stopped.
async fn read_page(context: AppContext, page: DemoPageRun, now: &ReadingNow) -> bool {
    let called = say::demo_page(page.name());
    let now = ReadingNow { file: called.clone(), ..now.clone() };
    scan_desk::note_reading(context.app, Some(now.clone()));
    context.pictures.drawing.start(Ok(page));
    let drawn = awaited(context.pictures.drawing).await;
    context.pictures.drawing.drop_result();
    match drawn {
        Ok(drawn) => {
            let name = PictureName::of_bytes(called, drawn.picture.levels());
            read_picture(context, name, Ok(drawn.picture.clone()), &now).await
        }
        Err(Left::Refused(why)) => {
            read_picture(context, PictureName { file: called, ..PictureName::default() }, Err(why), &now).await
        }
        Err(Left::Stopped) => false,
    }
}
