//! `cargo xtask serve`: the page, built by the quick profile and served to this machine only.

use crate::run::{self, Failure};
use crate::setup;
use crate::style;
use std::process::Command;

const ADDRESS: &str = "127.0.0.1";
const PORT: &str = "8080";

/// Builds and serves the page until it is stopped, building anew when a source file changes.
pub fn serve() -> Result<(), Failure> {
    // Trunk serves the parts of the stylesheet as they are and would not say that one of them is broken.
    style::sheet(&run::root()?)?;
    let tools = setup::page_tools()?;
    run::heading("Building the page and serving it");
    println!("    The first build takes 2 to 4 minutes, the next ones some seconds.");
    println!("    Then the page is at http://{ADDRESS}:{PORT}/ (stop with Ctrl-C).");
    let mut trunk = Command::new(&tools.trunk);
    trunk.current_dir(run::root()?).args(["serve", "--address", ADDRESS, "--port", PORT]);
    trunk.args(["--offline", "--skip-version-check"]);
    if has_display() {
        trunk.arg("--open");
    } else {
        println!("    There is no display here, so no browser is opened.");
    }
    trunk.envs(tools.environment);
    // Trunk reads NO_COLOR as a yes or a no and refuses any other value.
    trunk.env_remove("NO_COLOR");
    run::run(&mut trunk)
}

fn has_display() -> bool {
    cfg!(any(target_os = "macos", target_os = "windows"))
        || ["DISPLAY", "WAYLAND_DISPLAY"]
            .iter()
            .any(|name| std::env::var_os(name).is_some_and(|value| !value.is_empty()))
}
