//! Studies of which little can be computed.

use super::*;

#[test]
fn what_can_be_computed_from_little_is_loaded() {
    let one_assessor: String =
        PANEL.lines().filter(|line| !line.starts_with(['B', 'E'])).fold(String::new(), |text, line| text + line + "\n");
    check(&one_assessor, &["There is only one assessor, so nothing can be compared."]);
    let one_sample: String =
        PANEL.lines().filter(|line| !line.contains(",B,")).fold(String::new(), |text, line| text + line + "\n");
    check(&one_sample, &["There is only one sample, so nothing can be compared."]);
    let one_replicate: String =
        PANEL.lines().filter(|line| !line.contains(",2,")).fold(String::new(), |text, line| text + line + "\n");
    let reading = check(&one_replicate, &[]);
    understood(&reading, "Each assessor scored each sample once, so repeatability can't be told.");
}

#[test]
fn a_constant_attribute_is_loaded_and_told() {
    let mut input = String::from("assessor,sample,green,ripe\n");
    for (assessor, sample, green) in [("Anna", "A", 30), ("Anna", "B", 45), ("Ben", "A", 31), ("Ben", "B", 60)] {
        input.push_str(&format!("{assessor},{sample},{green},50\n"));
    }
    let reading = check(&input, &[]);
    understood(&reading, "Every score of ripe is 50, so nothing can be told by it.");
}

#[test]
fn a_lost_serving_is_counted() {
    let reading = check(&PANEL.replace("Ben,B,2,33,74\n", ""), &[]);
    understood(
        &reading,
        "The study is not balanced: 11 of 12 servings are there; assessor Ben has the fewest, 3 of 4.",
    );
}
