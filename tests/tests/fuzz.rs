//! 20,000 inputs that are wrong on purpose, and each that once did not hold. One test, so that no other allocates while
//! a case is counted. `cargo xtask fuzz` goes on from here with other seeds.

use likeness_tests::fuzz::campaign::{Campaign, may_hold};
use likeness_tests::fuzz::{Input, hold};
use peak_alloc::PeakAlloc;
use std::fs;
use std::path::Path;

#[global_allocator]
static ALLOCATOR: PeakAlloc = PeakAlloc;

const CASES_OF_EACH: u64 = 2_500;

#[test]
fn whatever_is_opened_nothing_panics_and_what_is_taken_comes_back() {
    found_before();
    let campaign = Campaign { seed: 20_261_128, cases: CASES_OF_EACH, deep_every: 200 };
    for input in Input::ALL {
        let tally = campaign.run(input, &ALLOCATOR);
        assert!(tally.failures.is_empty(), "{}", tally.failures[0]);
        // Mutations that only ever break a file, or never do, would look at little.
        assert!(tally.accepted > CASES_OF_EACH / 20, "{input:?}: only {} were opened", tally.accepted);
        assert!(tally.refused > CASES_OF_EACH / 20, "{input:?}: only {} were refused", tally.refused);
    }
}

/// Files that did not hold when they were found.
fn found_before() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz_found");
    let mut files: Vec<_> =
        fs::read_dir(folder).expect("the folder").map(|entry| entry.expect("a file").path()).collect();
    files.sort();
    assert!(!files.is_empty());
    for file in files {
        let name = file.file_name().and_then(|name| name.to_str()).expect("a plain name").to_owned();
        let input = Input::of_file_name(&name).unwrap_or_else(|| panic!("{name}: of which kind?"));
        let bytes = fs::read(&file).expect("the file is read");
        ALLOCATOR.reset_peak_usage();
        let before = ALLOCATOR.current_usage();
        if let Err(why) = hold(input, &bytes, true) {
            panic!("{name}: {why}");
        }
        assert!(ALLOCATOR.peak_usage() - before <= may_hold(bytes.len()), "{name}");
    }
}
