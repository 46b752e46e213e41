//! Measures the page in a browser: opens it with `#bench` behind its address, waits for the element `[data-test=bench]`,
//! and prints the JSON text in it. What is measured is the page's own affair; this program must not know it.
//!
//!     cargo run -p likeness-tests --features browser --bin bench_page -- dist/likeness.html

use likeness_tests::browser::{Browser, file_address};
use std::path::Path;
use std::time::Duration;

const LIMIT: Duration = Duration::from_secs(300);

fn main() {
    let Some(page) = std::env::args().nth(1) else {
        eprintln!("bench_page PAGE");
        std::process::exit(2);
    };
    let browser = Browser::start();
    browser.open(&format!("{}#bench", file_address(Path::new(&page))));
    browser.wait_until("the page to start", LIMIT, || !browser.has("#start-notice"));
    browser.wait_until("the result", LIMIT, || browser.has("[data-test=bench]"));
    println!("{}", browser.find("[data-test=bench]").text());
}
