//! Files of a tasting among those that were opened: typing files, booth files, results files. Each kind goes where it
//! belongs; everything else is left to be read as scores, studies or plans.

use super::{data_entry, on_screen_ballot};
use crate::state::app_state::AppState;
use likeness_core::plan::data_entry::entry_file::KEYING_FILE;
use likeness_core::plan::file_envelope::{FileKind, kind_of};
use likeness_core::plan::on_screen::ballot_file::BOOTH_FILE;
use likeness_core::plan::on_screen::results_file::RESULTS_FILE;

const KINDS: [FileKind; 3] = [KEYING_FILE, BOOTH_FILE, RESULTS_FILE];

/// Opens the files of a tasting and gives back the others.
pub fn take(app: AppState, files: Vec<(String, Vec<u8>)>) -> Vec<(String, Vec<u8>)> {
    let mut others = Vec::new();
    for (name, bytes) in files {
        match kind_of(&bytes, &KINDS) {
            Some(kind) if *kind == KEYING_FILE => data_entry::open_file(app, &name, &String::from_utf8_lossy(&bytes)),
            Some(kind) if *kind == BOOTH_FILE => {
                on_screen_ballot::open_form(app, &name, &String::from_utf8_lossy(&bytes))
            }
            Some(_) => on_screen_ballot::take_results(app, &name, &bytes),
            None => others.push((name, bytes)),
        }
    }
    others
}
