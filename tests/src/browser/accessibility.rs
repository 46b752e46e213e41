//! Whether a screen can be used by everybody, as far as a program can tell: axe-core runs inside the page.
//! What it can't tell (whether words help, whether an order of reading makes sense) is for people to look at.

use super::Browser;
use serde_json::Value;

const AXE: &str = include_str!("../../vendor/axe-core/axe.min.js");

/// WCAG 2.2 A and AA and the checker's own good practice. Folded parts are opened first: what is hidden is not checked.
const RUN: &str = "
    for (const folded of document.querySelectorAll('details:not([open])')) folded.open = true;
    await new Promise((resolve) => setTimeout(resolve, 150));
    const found = await axe.run(document, { resultTypes: ['violations'] });
    const node = (node) => node.target.join(' ') + ': ' + (node.failureSummary || '').replace(/\\s+/g, ' ');
    return found.violations.map((rule) => rule.id + ' (' + rule.impact + '): ' + rule.help + '\\n      '
        + rule.nodes.slice(0, 4).map(node).join('\\n      '));";

impl Browser {
    /// Fails the test when the checker finds anything on what is shown now. `screen` names it in the message.
    pub fn assert_accessible(&self, screen: &str) {
        let is_here = self.script("return typeof axe === 'object'", &[]);
        if is_here != Value::Bool(true) {
            self.script(&format!("{AXE}\nwindow.axe = axe;"), &[]);
        }
        let found = self.script(RUN, &[]);
        let found: Vec<&str> = found.as_array().into_iter().flatten().filter_map(Value::as_str).collect();
        assert!(found.is_empty(), "{screen} can't be used by everybody:\n  {}", found.join("\n  "));
    }
}
