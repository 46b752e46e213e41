//! Taking files in: one after the other they are checked by their first bytes, decoded, read, and laid on the desk. It holds
//! no rule of reading.

use super::demo::read_demo;
use super::pdf_pages::read_pdf;
use super::reading::{picture_of, read_picture, unless_it_came};
use crate::browser::files::{self, File};
use crate::browser::pictures;
use crate::state::AppContext;
use crate::state::session::demo_plan;
use crate::state::session::scan_desk::{self, PictureName};
use crate::state::session::scan_state::ReadingNow;
use crate::words::scan_pages as say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use likeness_core::numeric::hash::fingerprint;
use likeness_core::scan::luma_of;
use likeness_core::scan_desk::picture_file::{MOST_BYTES, PictureFile, picture_file};
use std::cell::RefCell;

/// Where pictures come from.
enum Source {
    File(File),
    /// The invented pages.
    Demo,
}

impl Source {
    fn name(&self) -> String {
        match self {
            Source::File(file) => file.name(),
            Source::Demo => say::DEMO_PLAN.to_owned(),
        }
    }
}

thread_local! {
    /// What waits to be read. One picture is in memory at a time.
    static WAITING: RefCell<Vec<Source>> = const { RefCell::new(Vec::new()) };
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
    add(context, files.into_iter().map(Source::File).collect());
}

/// Opens the invented plan and reads its pages.
pub fn try_demo(context: AppContext) {
    if demo_plan::open(context.app) {
        add(context, vec![Source::Demo]);
    }
}

fn add(context: AppContext, sources: Vec<Source>) {
    scan_desk::note_stopped(context.app, Vec::new());
    let is_idle = context.app.scanning.reading.with_untracked(Option::is_none);
    WAITING.with_borrow_mut(|waiting| waiting.extend(sources));
    if is_idle {
        spawn_local(read_all(context));
    }
}

/// Stops the picture that is read and those that wait; which ones is told.
pub fn stop(context: AppContext) {
    let left = WAITING.with_borrow_mut(std::mem::take);
    let now = context.app.scanning.reading.get_untracked().map(|now| now.file);
    scan_desk::note_stopped(context.app, now.into_iter().chain(left.iter().map(Source::name)).collect());
    context.pictures.stop();
}

async fn read_all(context: AppContext) {
    let mut place = 0;
    while let Some(source) = next_waiting() {
        place += 1;
        let of = place + WAITING.with_borrow(Vec::len);
        let now = ReadingNow { file: source.name(), place, of, is_decoding: true };
        scan_desk::note_reading(context.app, Some(now.clone()));
        match source {
            Source::File(file) => read_file(context, &file, &now).await,
            Source::Demo => read_demo(context, &now).await,
        }
    }
    scan_desk::note_reading(context.app, None);
}

fn next_waiting() -> Option<Source> {
    WAITING.with_borrow_mut(|waiting| (!waiting.is_empty()).then(|| waiting.remove(0)))
}

async fn read_file(context: AppContext, file: &File, now: &ReadingNow) {
    let mut name = PictureName { file: file.name(), length_bytes: file.size(), fingerprint: String::new() };
    match opened(context, file, &mut name).await {
        Ok((PictureFile::Pdf, bytes)) => read_pdf(context, name, &bytes, now).await,
        Ok((PictureFile::Picture { .. }, bytes)) => {
            drop(bytes);
            let picture = picture_of(pictures::decoded(file.as_ref(), luma_of).await);
            read_picture(context, name, picture, now).await;
        }
        Err(why) => scan_desk::take_refused(context.app, name, &why),
    }
}

/// The bytes of a file and what it is; refused by its first bytes before anything is decoded.
async fn opened(context: AppContext, file: &File, name: &mut PictureName) -> Result<(PictureFile, Vec<u8>), String> {
    if file.size() > MOST_BYTES {
        return Err(say::TOO_MANY_BYTES.to_owned());
    }
    let bytes = files::bytes_of(file).await.ok_or_else(|| say::UNREADABLE.to_owned())?;
    name.fingerprint = fingerprint(&bytes);
    unless_it_came(context, name)?;
    Ok((picture_file(&bytes)?, bytes))
}
