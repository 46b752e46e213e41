//! Filled ballot pages read from pictures: a picture and the pages of a plan in, a score or a question a row out.
//!
//! Everything is compared with what the plan prints, and nothing is guessed: a page is one of the plan's or none, a row
//! is read, asked about, or empty. It knows nothing of files, of decoding pictures, of statistics, or of the page that
//! shows it.
//!
//! ```text
//! picture -> light -> work_copy -> shapes -> landmarks -> identify, locate -> dots -> sheet -> strip -> marks -> judge
//! ```

mod answer;
mod blobs;
mod demo;
mod dots;
mod doubts;
mod drawn;
mod ends;
mod fits;
mod foreign;
mod identify;
mod judge;
mod known_pages;
mod known_pages_run;
mod landmarks;
mod light;
mod locate;
mod marks;
mod page;
mod picture;
mod plane;
mod reading;
mod reed_solomon;
mod row_ink;
mod shapes;
mod sheet;
mod small_strip;
mod square_code;
mod strip;
mod study;
mod test_finding;
#[cfg(test)]
mod tests;
mod work_copy;

pub use answer::{Answer, AnsweredPage, AnsweredRow};
pub use demo::{DemoPage, DemoPageRun, DemoPages, demo_pages, demo_plan};
pub use doubts::Doubt;
pub use judge::{RowReading, RowState};
pub use known_pages::{KnownCode, KnownPage, KnownPages};
pub use known_pages_run::KnownPagesRun;
pub use picture::{LONGEST_SIDE_PX, MOST_PIXELS, Picture, PictureFault, SHORTEST_SIDE_PX, check_size, luma_of};
pub use reading::{PageFound, PictureRun, Turned};
pub use small_strip::SmallStrip;
pub use test_finding::TestFinding;
