//! Where a plan meets the statistics: what the panel of a draft can show, and what the answers to a short test say. It
//! joins `plan`, which tests nothing, with `stats`, which knows no plan; neither of them sees this room. It must not know
//! the page.

pub mod draft_chances;
pub mod draft_power;
pub mod margin_in_people;
pub mod panel_of_difference;
pub mod short_test_result;
