//! Files of a tasting among those that were opened: typing files, booth files, results files. Each kind goes where it
//! belongs; everything else is left to be read as scores, studies or plans.

use super::ground::Ground;
use super::{booth, typing};
use likeness_core::plan::booth::BOOTH_FILE;
use likeness_core::plan::booth_results::RESULTS_FILE;
use likeness_core::plan::keying_file::KEYING_FILE;
use likeness_core::plan::sealed::{FileKind, kind_of};

const KINDS: [FileKind; 3] = [KEYING_FILE, BOOTH_FILE, RESULTS_FILE];

/// Opens the files of a tasting and gives back the others.
pub fn take(ground: Ground, files: Vec<(String, Vec<u8>)>) -> Vec<(String, Vec<u8>)> {
    let mut others = Vec::new();
    for (name, bytes) in files {
        match kind_of(&bytes, &KINDS) {
            Some(kind) if *kind == KEYING_FILE => typing::open_file(ground, &name, &String::from_utf8_lossy(&bytes)),
            Some(kind) if *kind == BOOTH_FILE => booth::open_form(ground, &name, &String::from_utf8_lossy(&bytes)),
            Some(_) => booth::take_results(ground, &name, &bytes),
            None => others.push((name, bytes)),
        }
    }
    others
}
