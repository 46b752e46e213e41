//! `cargo xtask bench`: measurements, never tests. One table of the shell program beside its peers, then the shipped page in
//! a browser.

use crate::bench_table::{Row, Work, median, table};
use crate::bundle::{self, Speed};
use crate::run::{self, Failure};
use crate::setup_browser;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What the peers are made of; installed into an environment of its own below `target`.
const PACKAGES: [&str; 3] = ["numpy==2.4.6", "scipy==1.17.1", "pandas==3.1.1"];
/// Numbers of assessors, samples and replicates of criterion's table `1200k`.
const WIDE: [&str; 3] = ["30", "40", "4"];

/// Measures both.
pub fn bench() -> Result<(), Failure> {
    native()?;
    page()
}

/// The table alone.
pub fn native() -> Result<(), Failure> {
    run::heading("Building the shell program");
    run::run(run::cargo()?.args(["build", "--release", "--package", "likeness-core", "--bin", "likeness"]))?;
    let root = run::root()?;
    let bench = Bench {
        program: root.join("target/release/likeness"),
        python: python(&root.join("target/peer"))?,
        script: root.join("core/benches/peer/peer.py"),
        tables: root.join("target/bench"),
    };
    run::heading("Inventing the tables");
    run::run(&mut bench.peer(&["tables", &text(&bench.tables)]))?;
    let mut rows = Vec::new();
    for work in bench.works() {
        run::heading(work.name);
        rows.push(work.measure(&bench.program)?);
    }
    rows.extend(bench.inside()?);
    println!("\n{}", table(&rows));
    Ok(())
}

struct Bench {
    program: PathBuf,
    python: PathBuf,
    script: PathBuf,
    tables: PathBuf,
}

impl Bench {
    fn peer(&self, words: &[&str]) -> Command {
        let mut command = Command::new(&self.python);
        command.arg(&self.script).args(words);
        command
    }

    fn works(&self) -> Vec<Work<'static>> {
        let json = |name, file, rounds| self.work(name, file, &["--json"], "json", rounds);
        let plain = |name, file| Work { peer: Err("none: text"), ..self.work(name, file, &[], "text", 11) };
        let unbalanced = json("analyse --json, 8 x 12 x 15, unbalanced; R: lmerTest, emmeans", "unbalanced.csv", 7);
        vec![
            Work { peer: self.in_r("unbalanced.csv"), ..unbalanced },
            json("analyse --json, 12 x 5 x 100 x 2; numpy, scipy", "12x5x100x2.csv", 5),
            json("analyse --json, 30 x 20 x 500 x 4; numpy, scipy", "30x20x500x4.csv", 1),
            self.work("analyse, 30 x 20 x 500 x 4, long; pandas, scipy", "30x20x500x4_long.csv", &[], "text", 5),
            plain("analyse, 18 x 5 x 34 x 2", "18x5x34x2.csv"),
            plain("analyse, 20 x 10 x 100 x 2", "20x10x100x2.csv"),
            plain("analyse, 30 x 20 x 500 x 4, wide", "30x20x500x4.csv"),
        ]
    }

    fn work(&self, name: &'static str, file: &str, how: &[&str], peer: &str, rounds: usize) -> Work<'static> {
        let file = text(&self.tables.join(file));
        let mut ours: Vec<String> = ["analyse", &file, "--target", "S0", "--margin", "10"].map(str::to_owned).into();
        ours.extend(how.iter().map(|word| (*word).to_owned()));
        let peer = [text(&self.python), text(&self.script), peer.to_owned(), file].into();
        Work { name, ours, peer: Ok(peer), rounds }
    }

    /// R's own way; its packages are not installed here, only used where they are.
    fn in_r(&self, file: &str) -> Result<Vec<String>, &'static str> {
        let r = run::find_program("Rscript").ok_or("R is not installed")?;
        let script = self.script.with_extension("R");
        Ok([r, script, self.tables.join(file)].iter().map(|path| text(path)).collect())
    }

    /// Reading and analysing inside one process: criterion and numpy in turn.
    fn inside(&self) -> Result<Vec<Row>, Failure> {
        run::heading("Inside one process, 1.2 million cells");
        let wide = text(&self.tables.join("1200k.csv"));
        let mut found: [Vec<f64>; 4] = Default::default();
        for _ in 0..3 {
            run::run(run::cargo()?.args(["bench", "--package", "likeness-core", "--bench", "analyse", "--", "1200k"]))?;
            let words = [&["inside", &wide], &WIDE[..]].concat();
            let said = run::output_of(&mut self.peer(&words)).unwrap_or_default();
            let peer: Vec<f64> = said.split_whitespace().filter_map(|word| word.parse().ok()).collect();
            for (at, part) in ["read", "analyse"].into_iter().enumerate() {
                found[at].extend(self.criterion(part));
                found[at + 2].extend(peer.get(at));
            }
        }
        let [read, analyse, peer_read, peer_analyse] = found.map(median);
        let row = |name: &str, ours: f64, peer: f64| Row { name: name.to_owned(), ours, peer: Ok(peer) };
        Ok(vec![
            row("inside: read the wide table, 30 x 40 x 250 x 4; numpy", read, peer_read),
            row("inside: analyse it; numpy, closed form alone", analyse, peer_analyse),
        ])
    }

    /// Criterion's median, in seconds.
    fn criterion(&self, part: &str) -> Option<f64> {
        let path = self.tables.parent()?.join("criterion/1200k").join(part).join("new/estimates.json");
        let estimates = std::fs::read_to_string(path).ok()?;
        let (_, median) = estimates.split_once("\"median\"")?;
        let (_, point) = median.split_once("\"point_estimate\":")?;
        point.split([',', '}']).next()?.trim().parse::<f64>().ok().map(|nanoseconds| nanoseconds / 1e9)
    }
}

/// Python with the peers' packages, in an environment of its own.
fn python(folder: &Path) -> Result<PathBuf, Failure> {
    let python = if cfg!(windows) { folder.join("Scripts/python.exe") } else { folder.join("bin/python") };
    let has_all = |python: &Path| run::output_of(Command::new(python).args(["-c", "import numpy, scipy, pandas"]));
    if python.is_file() && has_all(&python).is_some() {
        return Ok(python);
    }
    run::heading("Installing the peers");
    let system =
        run::find_program("python3").ok_or_else(|| Failure("the peers take python3; install it".to_owned()))?;
    run::run(Command::new(system).args(["-m", "venv"]).arg(folder))?;
    run::run(Command::new(&python).args(["-m", "pip", "install", "--quiet"]).args(PACKAGES))?;
    Ok(python)
}

fn text(path: &Path) -> String {
    path.to_string_lossy().into_owned()
}

/// The shipped page in a browser.
fn page() -> Result<(), Failure> {
    let folder = bundle::bundle(Speed::Shipped)?;
    let tools = setup_browser::browser()?;
    run::heading("The page in a browser");
    let mut command = run::cargo()?;
    command
        .args(["run", "--quiet", "--package", "likeness-tests", "--features", "browser"])
        .args(["--bin", "bench_page", "--"])
        .arg(folder.join("likeness.html"))
        .env("LIKENESS_CHROMIUM", tools.chromium)
        .env("LIKENESS_CHROMEDRIVER", tools.driver);
    run::run(&mut command)
}
