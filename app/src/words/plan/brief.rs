//! Words of the brief and of the power of the planned panel.

use crate::words::help::Help;
use crate::words::{counted, number};
use likeness_core::plan::brief::study_brief::{QuestionKind, SampleRole};
use likeness_core::planning::draft_power::{PowerOfDraft, RaiseBy};
use likeness_core::planning::margin_in_people::MarginInPeople;
use likeness_core::text::numbers::fixed;

pub const HEADING: &str = "What is asked";
pub const INTRO: &str = "Written down before anybody tastes, so that the verdict is judged by what was decided then. It is dated when the plan is made.";
pub const TITLE: &str = "Title";
pub const TITLE_HINT: &str = "Mango nectar, round 3";
pub const KIND: &str = "Kind of question";
pub const ASKED: &str = "The question, in the words of who asked";
pub const ASKED_HINT: &str = "Can candidate A replace fresh mango in the nectar?";
pub const ASKED_BY: &str = "Asked by";
pub const SAMPLES: &str = "Samples";
pub const SAMPLES_INTRO: &str =
    "Target, candidates, and what is in each cup. Assessors and servers never see these names: they see codes.";
pub const SAMPLE_NAME: &str = "name";
pub const SAMPLE_ROLE: &str = "role";
pub const SAMPLE_LOT: &str = "lot";
pub const SAMPLE_BASE: &str = "base";
pub const SAMPLE_DOSE: &str = "dose, with its unit";
pub const SAMPLE_ALLERGENS: &str = "allergens";
pub const SAMPLE_NOTE: &str = "note";
pub const ADD_SAMPLE: &str = "Add a sample";
pub const REMOVE: &str = "Take out";
pub const ADD_TWIN: &str = "Serve the target twice, under two codes";
pub const TWIN_WHY: &str = "Recommended: how far the panel puts the target from itself is the smallest distance it can tell, and a margin can rest on it. It costs one cup a replicate.";
pub const TWIN_THERE: &str = "The target is served twice under two codes: the study will measure its own noise.";
pub const WARM_UP: &str = "A warm-up cup first in each session, not scored";
pub const WARM_UP_WHY: &str =
    "The first cup is always judged differently. Take any sample of the kind, not the target.";
pub const WARM_UP_NAME: &str = "What is in it";
pub const WARM_UP_DEFAULT: &str = "Warm-up";
pub const MARGIN_HEADING: &str = "What counts as alike";
pub const MARGIN_INTRO: &str =
    "How far a candidate may lie from the target, on the 100 mm line, and still be alike. Decide it for a reason, now.";
pub const PROFILE_SHARE: &str = "Profile margin";
pub const OF_THE_MARGINS: &str = "of the margins";
pub const PROFILE_SHARE_WHY: &str = "A candidate also matches, as a profile, where its typical difference over the deciding attributes is shown to stay within the profile margin, nothing is off, and no attribute could lie farther out than twice its margin. 0.7 is 7 mm beside 10. Half of the margins is stricter, and within reach from 16 assessors on.";
pub const DECIDING: &str = "Attributes that decide";
pub const DECIDING_INTRO: &str = "A match on each attribute needs all of them, so the fewer the better its chance; a match as a profile takes them together. None ticked means all.";
pub const DECIDING_NONE_YET: &str =
    "List the attributes under Attributes first; all of them decide until some are ticked here.";
pub const PEOPLE_HEADING: &str = "Who tastes, and how often";
pub const ASSESSORS: &str = "Assessors, one name or code a line";
pub const ASSESSORS_HINT: &str = "Ada\nBen\nCleo";
pub const ASSESSORS_PRIVATE: &str =
    "Names are personal data: codes such as A1 do as well, and the list that explains them stays with you.";
pub const REPLICATES: &str = "Replicates";
pub const PREPARATIONS: &str = "Separate preparations of each sample";
pub const PREPARATIONS_WHY: &str = "Where everybody is served from one pot, what sets that pot apart lies in every assessor\u{2019}s difference alike, and no interval shows it. With a preparation of its own for each replicate the pots average, and replicate against replicate shows how far they differ.";
pub const PER_SESSION: &str = "Samples in one session";
pub const PER_SESSION_HINT: &str = "all";
pub const PER_SESSION_WHY: &str =
    "Six or so before mouths tire, fewer where samples are strong: common practice. Warm-up not counted.";
pub const COVERAGE: &str = "Where a session can't hold all";
pub const COVERAGES: [&str; 2] =
    ["each assessor tastes all, over several sessions", "each assessor tastes a part, one session a replicate"];
pub const TARGET_EACH: &str = "the target in every session";
pub const POWER_HEADING: &str = "What this panel can show";
pub const SCATTER: &str = "Assumed scatter";
pub const SCATTER_INTRO: &str = "Standard deviations on the 100 mm line. The first says how far one assessor\u{2019}s own difference, candidate minus target, lies from another\u{2019}s. Your last study has it: Match, \u{201c}Chance that a true match would have been shown\u{201d}, column \u{201c}scatter of a difference\u{201d}; the one between replicates stands in Panel. Without a study: 11.5 and 9 mm are a steady panel, 16.5 and 12 mm a common one, each with two replicates behind a difference.";
pub const SCATTER_OF_DIFFERENCE: &str = "of one assessor\u{2019}s difference";
pub const REPLICATES_BEHIND: &str = "replicates behind that difference";
pub const SCATTER_WITHIN: &str = "between replicates";
pub const RAISED_BY: &str = "What would raise it";
pub const BEFORE_GOING_ON: &str = "Still to be looked at";
pub const NOTHING_MISSING: &str = "Nothing is missing here.";
pub const TO_SAMPLES: &str = "Next: samples and people";
pub const TO_WORDS: &str = "Next: the attribute list";

pub static POWER_HELP: Help = Help {
    question: "Where the power comes from",
    answers: &[
        "The verdict compares each assessor's own difference between candidate and target. How sure it is depends on how much assessors disagree about that difference, how much each repeats themselves, how many they are and how often they taste.",
        "The figure says how often such a panel would show what is true: that a candidate exactly like the target lies within the margin, on one attribute. For all deciding attributes at once look at the chances of the verdict, which are simulated.",
        "It does not say that a candidate is alike. A panel with low power ends with not shown, whatever the truth.",
    ],
    source: "Two one-sided tests (Schuirmann 1987), exact for normal scatter: integrated over the law of the standard error.",
};

/// What a margin means for people who taste three cups.
pub fn margin_in_people(people: &MarginInPeople) -> String {
    format!(
        "In people: a step of {} mm is a d\u{2032} of {} or more, for assessors whose own replicates scatter by {} mm. In a triangle test at least {} of 100 would name the odd cup, where guessing gives 33. At least, since marks on a line scatter more than what is perceived.",
        number(people.margin),
        fixed(people.d_prime, 1),
        fixed(people.sd_within_assessors, 1),
        fixed(100.0 * people.triangle_right, 0)
    )
}

pub fn kind(kind: QuestionKind) -> &'static str {
    match kind {
        QuestionKind::Match => "match: is a candidate like the target, and where not",
        QuestionKind::Difference => "difference: do the samples differ",
        QuestionKind::Description => "description: what is each sample like",
    }
}

pub fn role(role: SampleRole) -> &'static str {
    match role {
        SampleRole::Target => "target",
        SampleRole::Candidate => "candidate",
        SampleRole::BlindDuplicate => "target again (blind)",
    }
}

pub fn role_of(row: usize) -> String {
    format!("Role of sample {}", row + 1)
}

pub fn cell_of(column: &str, row: usize) -> String {
    format!("{column}, sample {}", row + 1)
}

pub fn remove_sample(row: usize) -> String {
    format!("Take out sample {}", row + 1)
}

pub fn step_removed(name: &str) -> String {
    format!("taking out {}", if name.trim().is_empty() { "a sample" } else { name })
}

pub const STEP_TWIN: &str = "the target under two codes";

pub fn named_count(count: usize) -> String {
    match count {
        0 => "None named yet.".to_owned(),
        count => format!("{} named.", counted(count, "assessor", "assessors")),
    }
}

/// The power as one sentence.
pub fn power_sentence(power: &PowerOfDraft) -> String {
    let people = counted(power.assessors, "assessor", "assessors");
    let people = if power.assessors_are_named { people } else { format!("{people} (none named yet)") };
    let panel = format!("With {people} and {}", counted(power.replicates, "replicate", "replicates"));
    let times = times_in_100(power.power);
    match power.kind {
        QuestionKind::Match => {
            format!(
                "{panel} a true match on one attribute would be shown {times}, at a margin of {} mm.",
                number(power.margin_mm)
            )
        }
        QuestionKind::Difference | QuestionKind::Description => {
            format!(
                "{panel} a true difference of {} mm on one attribute would be shown {times}.",
                number(power.margin_mm)
            )
        }
    }
}

/// What stands below the sentence: the interval, and what many deciding attributes do.
pub fn power_more(power: &PowerOfDraft) -> Vec<String> {
    let mut lines = vec![format!(
        "Expect each difference to be known to about \u{b1} {} mm.",
        number((power.expected_half_width_mm * 10.0).round() / 10.0)
    )];
    if power.kind == QuestionKind::Match {
        match &power.assessors_for_aim {
            Ok(needed) if *needed <= power.assessors => {
                lines.push(format!("{needed} assessors are enough for 80 times in 100."));
            }
            Ok(needed) => lines.push(format!("80 times in 100 would take {needed} assessors, all else as it is.")),
            Err(because) => lines.push(format!("80 times in 100 is out of reach: {because}.")),
        }
        if power.deciding > 1 {
            lines.push(format!(
                "This speaks of one attribute; {} decide, and the chances of the whole verdict stand above.",
                power.deciding
            ));
        }
    }
    lines
}

pub fn raise(by: RaiseBy, kind: QuestionKind, power: f64) -> String {
    let times = times_in_100(power);
    match by {
        RaiseBy::Assessors(count) => format!("{count} assessors: {times}"),
        RaiseBy::Replicates(count) => format!("{}: {times}", counted(count, "replicate", "replicates")),
        RaiseBy::Margin(width) if kind == QuestionKind::Match => {
            format!("a margin of {} mm, if that still means alike: {times}", number(width))
        }
        RaiseBy::Margin(width) => format!("a difference of {} mm: {times}", number(width)),
    }
}

pub fn no_power(because: &str) -> String {
    format!("No power can be given: {because}.")
}

fn times_in_100(power: f64) -> String {
    let times = (100.0 * power).round();
    match times as u32 {
        0 => "less than once in 100".to_owned(),
        100 => "more than 99 times in 100".to_owned(),
        1 => "once in 100".to_owned(),
        times => format!("{times} times in 100"),
    }
}

#[cfg(test)]
mod tests {
    use super::times_in_100;

    #[test]
    fn a_chance_is_never_said_to_be_certain() {
        assert_eq!(times_in_100(0.634), "63 times in 100");
        assert_eq!(times_in_100(0.9996), "more than 99 times in 100");
        assert_eq!(times_in_100(0.0004), "less than once in 100");
        assert_eq!(times_in_100(0.012), "once in 100");
    }
}
