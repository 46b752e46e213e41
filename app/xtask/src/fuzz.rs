//! `cargo xtask fuzz`: opens inputs that are wrong on purpose, built for speed, and says where those that don't hold are.

use crate::run::{self, Failure};
use std::path::Path;

/// Opens `cases` inputs of each kind; `kind` names which, where not all are wanted.
pub fn fuzz(cases: &str, seed: &str, kind: Option<&str>) -> Result<(), Failure> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../target/fuzz-found");
    run::heading("Inputs that are wrong on purpose");
    println!("    What doesn't hold is kept in target/fuzz-found/; mended, it belongs in tests/tests/fuzz_found/.");
    let build = ["run", "--release", "--quiet", "--package", "likeness-tests", "--bin", "fuzz", "--"];
    run::run(run::cargo()?.args(build).arg(folder).args([cases, seed]).args(kind))
}
