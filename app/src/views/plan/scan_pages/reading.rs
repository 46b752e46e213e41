//! One picture read in slices and laid on the desk, or told why not. It must not know where pictures come from.

use crate::browser::{pictures, timers};
use crate::state::long_run::{LongRun, Progress};
use crate::state::session::scan_desk::{self, PictureName};
use crate::state::session::scan_state::ReadingNow;
use crate::state::{AppContext, Shared};
use crate::words::scan_pages as say;
use leptos::prelude::*;
use likeness_core::scan::{KnownPages, Picture};
use std::time::Duration;

/// How often the page looks whether a run is done.
const LOOK_EVERY: Duration = Duration::from_millis(10);

/// Why there is no result.
pub enum Left {
    /// To be told on the list of pictures.
    Refused(String),
    /// The person stopped.
    Stopped,
}

/// Reads a picture, or tells why there is none; `false` where the person stopped.
pub async fn read_picture(
    context: AppContext,
    name: PictureName,
    picture: Result<Picture, String>,
    now: &ReadingNow,
) -> bool {
    let read = match picture {
        Ok(picture) => found_in(context, &name, picture, now).await,
        Err(why) => Err(Left::Refused(why)),
    };
    context.pictures.run.drop_result();
    match read {
        Ok(()) => is_wanted(context),
        Err(Left::Refused(why)) => {
            scan_desk::take_refused(context.app, name, &why);
            is_wanted(context)
        }
        Err(Left::Stopped) => false,
    }
}

async fn found_in(context: AppContext, name: &PictureName, picture: Picture, now: &ReadingNow) -> Result<(), Left> {
    if !is_wanted(context) {
        return Err(Left::Stopped);
    }
    scan_desk::note_reading(context.app, Some(ReadingNow { is_decoding: false, ..now.clone() }));
    let known = known_pages(context).await?;
    context.pictures.begin(&known, picture);
    let found = awaited(context.pictures.run).await?;
    scan_desk::take_found(context.app, name.clone(), &known, &found);
    Ok(())
}

/// Whether nobody has stopped.
pub fn is_wanted(context: AppContext) -> bool {
    context.app.scanning.stopped.with_untracked(Vec::is_empty)
}

/// The pages of the open plan, once they are made.
pub async fn known_pages(context: AppContext) -> Result<Shared<KnownPages>, Left> {
    let making = context.pictures.make_known().ok_or_else(|| Left::Refused(say::NEEDS_PLAN.to_owned()))?;
    awaited(making).await
}

/// What a run finds.
pub async fn awaited<T: Send + Sync + 'static>(run: LongRun<T>) -> Result<Shared<T>, Left> {
    loop {
        match untrack(|| run.progress()) {
            Progress::Running(_) => timers::turn(LOOK_EVERY).await,
            Progress::Found(found) => return Ok(found),
            Progress::NotDefined(why) => return Err(Left::Refused(why.because)),
            Progress::Stopped(_) | Progress::Nothing => return Err(Left::Stopped),
        }
    }
}

/// A picture may come once: of the very same bytes the first counts, and the second is known by its name only.
pub fn unless_it_came(context: AppContext, name: &mut PictureName) -> Result<(), String> {
    match scan_desk::same_file(context.app, &name.fingerprint) {
        None => Ok(()),
        Some(other) => {
            name.fingerprint.clear();
            Err(say::same_file(&other))
        }
    }
}

/// What the browser decoded, as a picture.
pub fn picture_of(grey: Option<pictures::Grey>) -> Result<Picture, String> {
    let grey = grey.ok_or_else(|| say::NOT_DECODED.to_owned())?;
    Picture::new(grey.width, grey.height, grey.levels).map_err(|fault| fault.to_string())
}
