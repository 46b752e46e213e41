//! The one table of `cargo xtask bench`: rows of whole processes, ours and a peer's started in turn, and of what criterion and
//! numpy measured inside; medians, ratios and the machine. It must not know what any of the programs computes.

use crate::run::{self, Failure};
use std::fmt::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// A process that takes longer is ended, and the table says so.
const LONGEST: Duration = Duration::from_secs(300);
/// How often it is looked whether a process has ended: what a time may be too long by.
const GLANCE: Duration = Duration::from_micros(200);

/// What a row measures by whole processes.
pub struct Work<'a> {
    pub name: &'a str,
    /// Words behind the shell program, the file among them.
    pub ours: Vec<String>,
    /// The whole command of the peer, or why there is none.
    pub peer: Result<Vec<String>, &'a str>,
    /// How often each is started; before more than one, each is started once more, which is not counted.
    pub rounds: usize,
}

/// A row with its figures in seconds.
pub struct Row {
    pub name: String,
    pub ours: f64,
    pub peer: Result<f64, String>,
}

impl Work<'_> {
    /// Starts ours and the peer in turn.
    pub fn measure(&self, program: &Path) -> Result<Row, Failure> {
        let (mut ours, mut peers) = (Vec::new(), Vec::new());
        let mut peer = self.peer.clone().map_err(str::to_owned);
        let warm_up = usize::from(self.rounds > 1);
        for round in 0..self.rounds + warm_up {
            let seconds = seconds_of(Command::new(program).args(&self.ours))?;
            ours.extend((round >= warm_up).then_some(seconds));
            let Ok(words) = &peer else { continue };
            match seconds_of(Command::new(&words[0]).args(&words[1..])) {
                Ok(seconds) => peers.extend((round >= warm_up).then_some(seconds)),
                Err(Failure(why)) => peer = Err(why),
            }
        }
        Ok(Row { name: self.name.to_owned(), ours: median(ours), peer: peer.map(|_| median(peers)) })
    }
}

/// The rows as a table in Markdown, the machine above it.
pub fn table(rows: &[Row]) -> String {
    let mut text = format!("{}\n\n| work | ours | peer | ours / peer |\n| --- | --- | --- | --- |\n", machine());
    for row in rows {
        let (peer, ratio) = match &row.peer {
            Ok(seconds) => (shown(*seconds), format!("{:.2}", row.ours / seconds)),
            Err(why) => (why.clone(), String::new()),
        };
        let _ = writeln!(text, "| {} | {} | {peer} | {ratio} |", row.name, shown(row.ours));
    }
    text
}

/// Wall time of one process that ends well and in time; its output is thrown away.
fn seconds_of(command: &mut Command) -> Result<f64, Failure> {
    let name = command.get_program().to_string_lossy().into_owned();
    let start = Instant::now();
    let silent = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    let mut process = silent.spawn().map_err(|error| Failure(format!("{name} could not be started: {error}")))?;
    let status = loop {
        if let Some(status) = process.try_wait()? {
            break status;
        }
        if start.elapsed() > LONGEST {
            process.kill()?;
            process.wait()?;
            return Err(Failure(format!("more than {} s", LONGEST.as_secs())));
        }
        std::thread::sleep(GLANCE);
    };
    let seconds = start.elapsed().as_secs_f64();
    if status.success() {
        Ok(seconds)
    } else {
        Err(Failure(format!("{name} failed ({status}); start it by hand to see why")))
    }
}

/// Middle one, or the mean of the middle two; infinite for none.
pub fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    let middle = values.len() / 2;
    match values.len() {
        0 => f64::INFINITY,
        length if length % 2 == 1 => values[middle],
        _ => 0.5 * (values[middle - 1] + values[middle]),
    }
}

fn shown(seconds: f64) -> String {
    if seconds < 1.0 { format!("{:.1} ms", 1000.0 * seconds) } else { format!("{seconds:.2} s") }
}

/// Processor and cores; never the machine's own name.
fn machine() -> String {
    let cpu = std::fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let model = cpu.lines().find_map(|line| line.strip_prefix("model name")?.split_once(": ").map(|(_, name)| name));
    let brand = || run::output_of(Command::new("sysctl").args(["-n", "machdep.cpu.brand_string"]));
    let model = model.map(str::to_owned).or_else(brand).unwrap_or_else(|| "a processor that doesn't say".to_owned());
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    format!("{model}, {cores} cores, {}; medians of wall time, each pair started in turn.", std::env::consts::OS)
}
