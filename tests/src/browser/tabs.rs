//! Several tabs of one browser, which share what it keeps. Commands go to one of them at a time.

use super::{Browser, SIZES};
use serde_json::json;

/// One tab of a browser.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tab(String);

impl Browser {
    /// The tab that commands go to.
    #[must_use]
    pub fn tab(&self) -> Tab {
        Tab(self.wire.get("/window").as_str().unwrap_or_default().to_owned())
    }

    /// Opens a new tab of the desktop size; commands go to it from now on.
    pub fn new_tab(&self) -> Tab {
        let made = self.wire.post("/window/new", &json!({ "type": "tab" }));
        let tab = Tab(made["handle"].as_str().unwrap_or_default().to_owned());
        self.go_to_tab(&tab);
        self.resize(SIZES[0]);
        tab
    }

    /// From now on commands go to this tab, which comes to the front.
    pub fn go_to_tab(&self, tab: &Tab) {
        self.wire.post("/window", &json!({ "handle": tab.0 }));
    }
}
