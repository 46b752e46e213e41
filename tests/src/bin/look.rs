//! A developer's eye: opens a page in headless Chromium and takes pictures of it at three sizes.
//!
//!     cargo run -p likeness-tests --features browser --bin look -- PAGE OUT-PREFIX [SCRIPT.js]
//!
//! PAGE is an address or a file, such as target/quick/likeness.html (made by `cargo xtask bundle --quick`).
//! SCRIPT.js, when given, runs in the page before each picture, as the body of an async function: it may click, await and
//! `return` something to be printed. Two files come out for each size: OUT-PREFIX-WIDTH.png is what the window shows, and
//! OUT-PREFIX-WIDTH-whole.png the page from top to bottom. Environment: LOOK_DARK=1 prefers the dark scheme,
//! LOOK_4K=1 takes one picture of 3840x2160 instead.
//!
//! It must not know what Likeness computes.

use likeness_tests::browser::{Browser, SIZES, Size, file_address};
use std::path::{Path, PathBuf};
use std::time::Duration;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let (page, prefix, script) = match arguments.as_slice() {
        [page, prefix] => (page, prefix, String::new()),
        [page, prefix, script] => (page, prefix, std::fs::read_to_string(script).expect("the script can be read")),
        _ => {
            eprintln!("look PAGE OUT-PREFIX [SCRIPT.js]");
            std::process::exit(2);
        }
    };
    let address = if page.contains("://") { page.clone() } else { file_address(Path::new(page)) };
    let browser = Browser::start();
    browser.allow_console_errors();
    browser.allow_outside_requests();
    if std::env::var_os("LOOK_DARK").is_some() {
        browser.prefer("prefers-color-scheme", "dark");
    }
    let wide = [Size { width_px: 3840, height_px: 2160 }];
    let sizes: &[Size] = if std::env::var_os("LOOK_4K").is_some() { &wide } else { &SIZES };
    for size in sizes.iter().copied() {
        browser.resize(size);
        // Away first: an address that differs only behind its # would not load the page again.
        browser.open("about:blank");
        browser.open(&address);
        browser.wait_until("the start of the page", Duration::from_secs(60), || !browser.has("#start-notice"));
        let returned = browser.script(&script, &[]);
        if !returned.is_null() {
            println!("{returned}");
        }
        std::thread::sleep(Duration::from_millis(300));
        let picture = PathBuf::from(format!("{prefix}-{}.png", size.width_px));
        browser.screenshot_to(&picture);
        browser.screenshot_whole_to(&PathBuf::from(format!("{prefix}-{}-whole.png", size.width_px)));
        println!("{}", picture.display());
        for line in browser.sticks_out() {
            println!("    too wide: {line}");
        }
    }
    for line in browser.console() {
        println!("    console {}: {}", line.level, line.text);
    }
}
