//! Running other programs: say what is run, run it, turn a bad end into a message. It must not know why a program is run.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// A sentence for the person at the terminal: what failed and what to do.
#[derive(Debug)]
pub struct Failure(pub String);

impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Self {
        Failure(error.to_string())
    }
}

/// Prints the heading of a step.
pub fn heading(text: &str) {
    println!("\n==> {text}");
}

/// Runs a command with its output on the terminal; an exit code other than 0 is a `Failure`.
pub fn run(command: &mut Command) -> Result<(), Failure> {
    let shown = shown(command);
    println!("    {shown}");
    let status = command.status().map_err(|error| Failure(format!("`{shown}` could not be started: {error}")))?;
    if status.success() {
        return Ok(());
    }
    Err(Failure(format!("`{shown}` failed ({status})")))
}

/// Runs a command silently and gives its standard output, or nothing when it is missing or fails.
pub fn output_of(command: &mut Command) -> Option<String> {
    let output = command.stdin(Stdio::null()).output().ok()?;
    let text = String::from_utf8_lossy(&output.stdout).trim().to_string();
    output.status.success().then_some(text)
}

/// The full path of a program on PATH.
pub fn find_program(name: &str) -> Option<PathBuf> {
    let file_name = format!("{name}{}", std::env::consts::EXE_SUFFIX);
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path).map(|folder| folder.join(&file_name)).find(|candidate| candidate.is_file())
}

/// The root of the workspace. Cargo tells where this package is when it runs it.
pub fn root() -> Result<PathBuf, Failure> {
    let package = std::env::var_os("CARGO_MANIFEST_DIR")
        .ok_or_else(|| Failure("run this as `cargo xtask`, not by its own path".to_string()))?;
    let root = Path::new(&package).parent().and_then(Path::parent);
    root.map(Path::to_path_buf).ok_or_else(|| Failure("the workspace folder could not be found".to_string()))
}

/// Cargo itself, the one that runs this program, started in the root of the workspace.
pub fn cargo() -> Result<Command, Failure> {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(root()?);
    Ok(command)
}

fn shown(command: &Command) -> String {
    let name = Path::new(command.get_program()).file_stem().unwrap_or_default();
    let mut words = vec![name.to_string_lossy().into_owned()];
    words.extend(command.get_args().map(|argument| argument.to_string_lossy().into_owned()));
    words.join(" ")
}
