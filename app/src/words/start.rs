//! The words of the start screen.

pub const OPEN_FILE: &str = "Open a score file";
pub const DROP_OR_PASTE: &str =
    "or drop it anywhere on this page, or copy a table in your spreadsheet and paste it here with Ctrl+V.";
pub const PASTE_LABEL: &str = "Paste a table";
pub const PASTE_PLACEHOLDER: &str = "Click here and press Ctrl+V";
pub const DEMO: &str = "Explore the invented mango nectar study";
pub const DEMO_ABOUT: &str =
    "Twelve assessors, fresh mango as the target, four candidates. Nobody tasted it: a program made the numbers up.";
pub const MORE_DEMOS: &str = "Two more studies, exercises, keys, checks";
pub const FILE_LOOKS: &str = "What a file looks like";
pub const FILE_LOOKS_INTRO: &str = "A workbook (.xlsx, .ods) or text (CSV, semicolons, tabs) with a header row; several files open together, each as one session, and a key of codes beside them. Either of these shapes; the names of the columns are guessed and you can correct them.";
pub const WIDE_TITLE: &str = "One row a serving";
pub const LONG_TITLE: &str = "One row a score";
pub const WIDE_EXAMPLE: [&[&str]; 4] = [
    &["assessor", "sample", "replicate", "ripe", "green", "sweet"],
    &["Anna", "target", "1", "62", "24", "56"],
    &["Anna", "A", "1", "60", "27", "55"],
    &["Ben", "target", "1", "71", "18", "60"],
];
pub const LONG_EXAMPLE: [&[&str]; 4] = [
    &["assessor", "sample", "replicate", "attribute", "score"],
    &["Anna", "target", "1", "ripe", "62"],
    &["Anna", "target", "1", "green", "24"],
    &["Ben", "target", "1", "ripe", "71"],
];
pub const GOOD_TO_KNOW: &str = "Good to know";
/// The two figures are computed by `likeness_core::stats::planning`; the test at the end of this file holds them.
pub const CAUTIONS: [&str; 4] = [
    "A panel of ten can rarely prove a match: with 10 assessors, 2 replicates and a margin of 10 mm, a true match on one attribute is shown 64 times in 100 where assessors scatter little (5 mm between them, 9 mm between replicates), 19 times where they scatter more (8 and 12 mm). Not shown is not the same as different.",
    "Decide the margin before you look at the scores. If you change it afterwards, the record says so.",
    "Nobody is left out because they disagree: exclusions need a reason and stand in the report.",
    "Where people taste: ask about allergens and consent, serve only what is food-grade and at permitted doses, keep the vapour of neat chemicals away, and keep personal data to yourselves. Local rules and the responsible professional decide.",
];

#[cfg(test)]
mod tests {
    use super::CAUTIONS;
    use likeness_core::stats::r#match::power::{PanelPlan, PlannedTest, verdict_power};

    #[test]
    fn the_power_on_the_first_screen_is_what_the_engine_computes() {
        for (sd_interaction, sd_error) in [(5.0, 9.0), (8.0, 12.0)] {
            let plan = PanelPlan { assessors: 10, replicates: 2, sd_interaction, sd_error };
            let power = verdict_power(plan, PlannedTest { margin: 10.0, alpha: 0.05 }, 0.0).expect("a sound plan");
            let said = format!("{:.0} times", 100.0 * power.p_match);
            assert!(CAUTIONS[0].contains(&said), "the engine says {said}");
        }
    }
}
