//! The window as a whole: its size, pictures of it, its print.

use super::Browser;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

/// A window, in CSS pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    pub width_px: u32,
    pub height_px: u32,
}

/// A desktop, a small tablet or old projector, a phone.
pub const SIZES: [Size; 3] = [
    Size { width_px: 1440, height_px: 900 },
    Size { width_px: 1024, height_px: 768 },
    Size { width_px: 390, height_px: 844 },
];

impl Browser {
    /// Gives the page exactly this size, a phone's behaviour included below 500 px (a window can't be made that narrow).
    pub fn resize(&self, size: Size) {
        let is_phone = size.width_px < 500;
        let (width, height) = (size.width_px, size.height_px);
        self.cdp(
            "Emulation.setDeviceMetricsOverride",
            &json!({ "width": width, "height": height, "screenWidth": width, "screenHeight": height,
                "deviceScaleFactor": 1, "mobile": is_phone }),
        );
        self.cdp("Emulation.setTouchEmulationEnabled", &json!({ "enabled": is_phone }));
    }

    /// Pretends a preference, such as ("prefers-color-scheme", "dark") or ("prefers-reduced-motion", "reduce").
    pub fn prefer(&self, feature: &str, value: &str) {
        self.cdp("Emulation.setEmulatedMedia", &json!({ "features": [{ "name": feature, "value": value }] }));
    }

    /// Writes what the window shows now to target/screenshots/NAME-WIDTH.png and gives the path.
    pub fn screenshot(&self, name: &str) -> PathBuf {
        let width_px = self.script("return window.innerWidth", &[]);
        let path = target_folder("screenshots").join(format!("{name}-{width_px}.png"));
        self.screenshot_to(&path);
        path
    }

    /// Writes what the window shows now.
    pub fn screenshot_to(&self, path: &Path) {
        write_base64(path, &self.wire.get("/screenshot"));
    }

    /// Writes the whole page from top to bottom, beyond what the window shows.
    pub fn screenshot_whole_to(&self, path: &Path) {
        let metrics = self.cdp("Page.getLayoutMetrics", &json!({}));
        let size = &metrics["cssContentSize"];
        let clip = json!({ "x": 0, "y": 0, "width": size["width"], "height": size["height"], "scale": 1 });
        let answer = self
            .cdp("Page.captureScreenshot", &json!({ "format": "png", "captureBeyondViewport": true, "clip": clip }));
        write_base64(path, &answer["data"]);
    }

    /// Prints the page on A4 to target/screenshots/NAME.pdf and gives the path.
    pub fn print_pdf(&self, name: &str) -> PathBuf {
        let paper_cm = json!({ "width": 21.0, "height": 29.7 });
        let answer = self.wire.post("/print", &json!({ "page": paper_cm, "background": true }));
        let path = target_folder("screenshots").join(format!("{name}.pdf"));
        write_base64(&path, &answer);
        path
    }

    /// Keeps the text of each file that the page saves from now on, besides saving it, until the page is loaded anew.
    pub fn catch_saved_files(&self) {
        self.script(
            "window.saved = []; const make = URL.createObjectURL.bind(URL); \
             URL.createObjectURL = (blob) => { blob.text().then((text) => window.saved.push(text)); return make(blob); };",
            &[],
        );
    }

    /// The text of the oldest caught file that was not asked for yet.
    ///
    /// # Panics
    /// When none comes.
    pub fn next_saved_file(&self) -> String {
        let is_there = || self.script("return window.saved.length > 0", &[]) == json!(true);
        self.wait_until("a saved file", super::PATIENCE, is_there);
        self.script("return window.saved.shift()", &[]).as_str().expect("text").to_owned()
    }

    /// What sticks out of the window on the right, innermost elements only: empty when nobody must scroll sideways.
    #[must_use]
    pub fn sticks_out(&self) -> Vec<String> {
        let found = self.script(STICKS_OUT, &[]);
        found.as_array().into_iter().flatten().filter_map(|text| text.as_str().map(str::to_string)).collect()
    }
}

/// What scrolls or is clipped inside its own box does not make the page wider, so it is not counted.
const STICKS_OUT: &str = "
    const width = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth <= width) return [];
    const isKept = (element) => {
      for (let above = element.parentElement; above && above !== document.body; above = above.parentElement)
        if (getComputedStyle(above).overflowX !== 'visible') return true;
      return false;
    };
    const out = [...document.body.querySelectorAll('*')]
      .filter((element) => element.getBoundingClientRect().right > width + 0.5 && !isKept(element));
    const innermost = out.filter((element) => !out.some((other) => other !== element && element.contains(other)));
    const told = innermost.map((element) => {
      const words = element.textContent.trim().replace(/\\s+/g, ' ').slice(0, 40);
      const name = element.tagName.toLowerCase() + [...element.classList].map((name) => '.' + name).join('');
      return `${name} \"${words}\" ends at ${Math.round(element.getBoundingClientRect().right)} px of ${width}`;
    });
    return told.length ? told : ['something is wider than the window'];";

/// A folder for files that a person may want to look at.
fn target_folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../target").join(name)
}

fn write_base64(path: &Path, data: &Value) {
    let bytes = STANDARD.decode(data.as_str().unwrap_or_default()).expect("the driver sends base64");
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    }
    std::fs::write(path, bytes).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
}
