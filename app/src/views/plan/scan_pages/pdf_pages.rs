//! The pages of a scanner's PDF, one picture after the other. It must not know how a PDF is taken apart or a page read.

use super::reading::{picture_of, read_picture, unless_it_came};
use crate::browser::{pictures, timers};
use crate::state::AppContext;
use crate::state::session::scan_desk::{self, PictureName};
use crate::state::session::scan_state::ReadingNow;
use crate::words::scan_pages as say;
use likeness_core::pdf::{PagePicture, ScannedPdf};
use likeness_core::scan::{Picture, luma_of};
use likeness_core::scan_desk::picture_file::picture_file;
use std::time::Duration;

/// Reads every page; what is wrong with one is told of that one. Where the person stops, the rest is told.
pub async fn read_pdf(context: AppContext, file: PictureName, bytes: &[u8], now: &ReadingNow) {
    let app = context.app;
    let pdf = match ScannedPdf::open(bytes) {
        Ok(pdf) => pdf,
        Err(why) => return scan_desk::take_refused(app, file, &why.to_string()),
    };
    let mut numbers = 1..=pdf.len();
    while let Some(number) = numbers.next() {
        let called = say::pdf_page(&file.file, number);
        let now = ReadingNow { file: called.clone(), ..now.clone() };
        scan_desk::note_reading(app, Some(now.clone()));
        timers::turn(Duration::ZERO).await;
        let (name, picture) = page_picture(context, &pdf, number - 1, called).await;
        if !read_picture(context, name, picture, &now).await {
            let rest = (!numbers.is_empty()).then(|| say::pdf_rest(&file.file, *numbers.start(), *numbers.end()));
            return scan_desk::note_also_stopped(app, rest);
        }
    }
}

/// The picture of a page with its name, or why there is none.
async fn page_picture(
    context: AppContext,
    pdf: &ScannedPdf<'_>,
    page: usize,
    called: String,
) -> (PictureName, Result<Picture, String>) {
    match pdf.picture(page) {
        Ok(PagePicture::Grey(picture)) => {
            let mut name = PictureName::of_bytes(called, picture.levels());
            let picture = unless_it_came(context, &mut name).map(|()| picture);
            (name, picture)
        }
        Ok(PagePicture::Jpeg(bytes)) => {
            let mut name = PictureName::of_bytes(called, &bytes);
            // The size that the PDF tells may not be that of the picture in it.
            let picture = match unless_it_came(context, &mut name).and_then(|()| picture_file(&bytes)) {
                Ok(_) => picture_of(pictures::decoded_jpeg(&bytes, luma_of).await),
                Err(why) => Err(why),
            };
            (name, picture)
        }
        Err(why) => (PictureName { file: called, ..PictureName::default() }, Err(why.to_string())),
    }
}
