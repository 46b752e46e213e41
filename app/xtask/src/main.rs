//! The task runner behind `cargo xtask`: installs what is missing, then serves, tests, bundles or measures.
//! It knows tools and files only; it must not know what Likeness computes.

mod bench;
mod bench_table;
mod bundle;
mod fuzz;
mod html;
mod licences;
mod run;
mod serve;
mod setup;
mod setup_browser;
mod style;
mod test;
mod wasm;

use run::Failure;

const HELP: &str = "\
cargo xtask COMMAND

  serve              build the page quickly, serve it on this machine only, open it in the browser
  test               set up, then run every test, the page in a real browser included, formatting and clippy
  test --browser [NAME]
                     only the browser tests, on a quickly built page (NAME: those whose name contains it)
  bundle             make dist/: the folder dist/site/ and the single file dist/likeness.html
  bundle --quick     the same by the quick profile, in target/quick/ (large, slow to run, fast to build)
  fuzz --cases N --seed S [KIND]
                     open N inputs of each kind that are wrong on purpose (KIND: TextTable, Xlsx, StudyFile...)
  bench              measure: one table of the shell program beside its peers, then the page in a browser
  bench --native     the table alone
  licences           write public/licences.txt anew: the crates in the page with their licences
  setup              only install what is missing

Each command installs what it misses and says so; a second run finds it there.
";

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    if let Err(Failure(message)) = command(&arguments) {
        eprintln!("\nxtask: {message}");
        std::process::exit(1);
    }
}

fn command(arguments: &[&str]) -> Result<(), Failure> {
    match arguments {
        ["serve"] => serve::serve(),
        ["test"] => test::everything(),
        ["test", "--browser"] => test::browser_only(None),
        ["test", "--browser", name] => test::browser_only(Some(name)),
        ["bundle"] => bundle::bundle(bundle::Speed::Shipped).map(|_| ()),
        ["bundle", "--quick"] => bundle::bundle(bundle::Speed::Quick).map(|_| ()),
        ["bench"] => bench::bench(),
        ["fuzz", "--cases", cases, "--seed", seed] => fuzz::fuzz(cases, seed, None),
        ["fuzz", "--cases", cases, "--seed", seed, kind] => fuzz::fuzz(cases, seed, Some(kind)),
        ["bench", "--native"] => bench::native(),
        ["licences"] => licences::licences(),
        ["setup"] => setup::everything(),
        [] | ["help" | "--help" | "-h"] => {
            print!("{HELP}");
            Ok(())
        }
        other => Err(Failure(format!("I don't know `cargo xtask {}`.\n\n{HELP}", other.join(" ")))),
    }
}
