//! Taking pictures in: one after the other they are checked by their first bytes, decoded, read in slices, and laid on the
//! desk. It holds no rule of reading.

use crate::browser::files::{self, File};
use crate::browser::{pictures, timers};
use crate::state::AppContext;
use crate::state::session::picture_reader::PictureProgress;
use crate::state::session::scan_desk::{self, PictureName};
use crate::state::session::scan_state::ReadingNow;
use crate::words::scan_pages as say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use likeness_core::numeric::hash::fingerprint;
use likeness_core::scan::{Picture, luma_of};
use likeness_core::scan_desk::picture_file::{MOST_BYTES, PictureFile, picture_file};
use std::cell::RefCell;
use std::time::Duration;

/// How often the page looks whether a picture is read.
const LOOK_EVERY: Duration = Duration::from_millis(10);

thread_local! {
    /// Files that wait to be read. One picture is in memory at a time.
    static WAITING: RefCell<Vec<File>> = const { RefCell::new(Vec::new()) };
}

/// Why a file didn't become a picture on the desk.
enum Left {
    /// To be told on the list of pictures.
    Refused(PictureName, String),
    /// The person stopped.
    Stopped,
}

/// Whether a file seems to be for the desk and not for the rest of the page.
pub fn is_picture(file: &File) -> bool {
    let kind = file.raw_mime_type();
    let name = file.name().to_lowercase();
    kind.starts_with("image/")
        || kind == "application/pdf"
        || [".jpg", ".jpeg", ".png", ".webp", ".pdf", ".heic", ".heif", ".tif", ".tiff"]
            .iter()
            .any(|ending| name.ends_with(ending))
}

/// Takes files in; they are read after those that wait already.
pub fn take_in(context: AppContext, files: Vec<File>) {
    scan_desk::note_stopped(context.app, Vec::new());
    let is_idle = context.app.scanning.reading.with_untracked(Option::is_none);
    WAITING.with_borrow_mut(|waiting| waiting.extend(files));
    if is_idle {
        spawn_local(read_all(context));
    }
}

/// Stops the picture that is read and those that wait; which ones is told.
pub fn stop(context: AppContext) {
    let left = WAITING.with_borrow_mut(std::mem::take);
    let now = context.app.scanning.reading.get_untracked().map(|now| now.file);
    scan_desk::note_stopped(context.app, now.into_iter().chain(left.iter().map(File::name)).collect());
    context.pictures.run.stop();
}

async fn read_all(context: AppContext) {
    let app = context.app;
    let mut place = 0;
    while let Some(file) = next_waiting() {
        place += 1;
        let of = place + WAITING.with_borrow(Vec::len);
        let now = ReadingNow { file: file.name(), place, of, is_decoding: true };
        scan_desk::note_reading(app, Some(now.clone()));
        match read_one(context, &file, now).await {
            Ok(()) => {}
            Err(Left::Refused(name, why)) => scan_desk::take_refused(app, name, &why),
            Err(Left::Stopped) => {}
        }
        context.pictures.run.drop_result();
    }
    scan_desk::note_reading(app, None);
}

fn next_waiting() -> Option<File> {
    WAITING.with_borrow_mut(|waiting| (!waiting.is_empty()).then(|| waiting.remove(0)))
}

async fn read_one(context: AppContext, file: &File, now: ReadingNow) -> Result<(), Left> {
    let (name, picture) = decoded(context, file).await?;
    let is_wanted = context.app.scanning.stopped.with_untracked(Vec::is_empty);
    if !is_wanted {
        return Err(Left::Stopped);
    }
    scan_desk::note_reading(context.app, Some(ReadingNow { is_decoding: false, ..now }));
    let begun = context.pictures.begin(picture);
    begun.map_err(|why| Left::Refused(name.clone(), why))?;
    loop {
        timers::turn(LOOK_EVERY).await;
        match context.pictures.standing() {
            PictureProgress::Running => {}
            PictureProgress::Stopped => return Err(Left::Stopped),
            PictureProgress::Failed(why) => return Err(Left::Refused(name, why)),
            PictureProgress::Found(found) => {
                if let Ok(known) = context.pictures.known_pages() {
                    scan_desk::take_found(context.app, name, &known, &found);
                }
                return Ok(());
            }
        }
    }
}

/// A file as a grey picture, with whose it is; refused by its first bytes before anything is decoded.
async fn decoded(context: AppContext, file: &File) -> Result<(PictureName, Picture), Left> {
    let mut name = PictureName { file: file.name(), length_bytes: file.size(), fingerprint: String::new() };
    if file.size() > MOST_BYTES {
        return Err(Left::Refused(name, say::TOO_MANY_BYTES.to_owned()));
    }
    let Some(bytes) = files::bytes_of(file).await else {
        return Err(Left::Refused(name, say::UNREADABLE.to_owned()));
    };
    name.fingerprint = fingerprint(&bytes);
    if let Some(other) = scan_desk::same_file(context.app, &name.fingerprint) {
        return Err(Left::Refused(PictureName { fingerprint: String::new(), ..name }, say::same_file(&other)));
    }
    match picture_file(&bytes) {
        Err(why) => return Err(Left::Refused(name, why)),
        Ok(PictureFile::Pdf) => return Err(Left::Refused(name, say::PDF_INSTEAD.to_owned())),
        Ok(PictureFile::Picture { .. }) => drop(bytes),
    }
    let Some(grey) = pictures::decoded(file.as_ref(), luma_of).await else {
        return Err(Left::Refused(name, say::NOT_DECODED.to_owned()));
    };
    match Picture::new(grey.width, grey.height, grey.levels) {
        Ok(picture) => Ok((name, picture)),
        Err(fault) => Err(Left::Refused(name, fault.to_string())),
    }
}
