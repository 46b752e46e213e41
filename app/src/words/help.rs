//! What numbers say about themselves when they are asked.

pub use likeness_core::catalogue::help::*;

pub static MARGIN: Help = Help {
    question: "What is a good margin?",
    answers: &[
        "The margin is how far a candidate may lie from the target and still pass as the same. It must come from outside this study: how far lots of the target differ, the smallest step that people can tell, or a limit that the customer set. Two blind cups of the target give a lower limit for it and never the margin itself.",
        "A tenth of the line is a convention, and a weak one. A margin chosen after looking at the scores proves nothing: it is logged and printed.",
    ],
    source: "",
};

pub static PROFILE_MARGIN: Help = Help {
    question: "What is a match as a whole?",
    answers: &[
        "A panel of twelve can rarely show every one of thirty attributes to lie inside its margin. It can show that the whole profile is alike: that the typical difference, over all deciding attributes together, is small. The profile margin says how small; nothing may be shown off, and no attribute may possibly lie farther out than twice its margin.",
        "0.7 of the margins, 7 mm beside 10, is within reach of about twelve assessors; half of the margins takes sixteen and more. Settle it before the verdict is seen: like a margin, it proves nothing afterwards.",
        "A match as a whole is a match with its own sentence: it says how large the typical difference could be, and which attribute could still differ most.",
    ],
    source: "Simulated with this program: at a true typical difference equal to the profile margin a match as a whole is claimed in 5 of 100 studies at most.",
};

pub static DECIDING: Help = Help {
    question: "Which attributes should decide?",
    answers: &[
        "Those without which the candidate would not do. A sample is off if any of them is; the more decide, the larger a difference of a single one must be to be told from chance.",
        "Words for the whole, such as true to fruit or balance, sum up what the other attributes say: let them decide only where they are the question.",
        "Attributes that don't decide are judged among themselves and never touch the verdict on the whole.",
    ],
    source: "",
};

pub static TARGET_AGAIN: Help = Help {
    question: "Why taste the target twice?",
    answers: &[
        "What lies between the two cups is what this panel makes of no difference at all: the noise floor. The second cup is no candidate, isn't ranked and doesn't stand in the headline.",
        "It is an alarm too: should the target be off against itself, something in cups, codes or order went wrong, or chance did this, as in 5 of 100 sound studies.",
        "Both cups together make the target's mean steadier, where you ask for it; a difference of a candidate is then found more easily. Where the first cup was named to the assessors or always served first, candidates are held against the blind cup alone.",
        "It can't say that a candidate at the noise floor is alike: a noisy panel has a high floor.",
    ],
    source: "Common practice; chances simulated with this program.",
};

pub static BRIEF: Help = Help {
    question: "What is in this brief?",
    answers: &[
        "Five sentences at most, made from the deciding attributes: the verdict, what there is too much or too little of with its interval, what is shown to be fine, what is not shown either way, and a caution.",
        "It speaks of characters on the panel's line. It doesn't say which substance stands behind one, how much to add, or whether changing one will move another.",
    ],
    source: "",
};

pub static READING_PAGES: Help = Help {
    question: "How far can the reading be trusted?",
    answers: &[
        "A line is taken without asking only where one plain stroke crosses it, and everything around it is as it was printed. Anything else is asked about, with the reason; a line without a mark is always shown to a person.",
        "Accuracy was measured on generated pages, not on real pens, papers and scanners. How your own do is what the spot check tells: lines drawn by chance from those taken without asking, at least ten or one in twenty, which you look at without knowing what was read. Its errors and an exact limit for the share of wrong lines stand in the report.",
        "It can't say whether the assessor meant the mark where it stands.",
    ],
    source: "Limit: exact one-sided binomial bound, 95 %. Checked by 4,000 made-up houses.",
};

pub static CHECKS: Help = Help {
    question: "What do these checks show?",
    answers: &[
        "That the methods, in this browser on this machine, give the figures that were printed or that other programs gave, to as many digits as the source has.",
        "They can't show that your file was read as you meant it, nor that the panel did what the plan says.",
    ],
    source: "",
};
