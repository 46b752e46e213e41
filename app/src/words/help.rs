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

pub static DECIDING: Help = Help {
    question: "Which attributes should decide?",
    answers: &[
        "Those without which the candidate would not do. Each of them must be shown to match, so the chance of showing a match falls with every attribute that decides.",
        "Words for the whole, such as authentic or balance, sum up what the other attributes say: let them decide only where they are the question.",
        "Attributes that don't decide are computed and shown all the same.",
    ],
    source: "All deciding attributes together: Berger (1982), intersection-union; each at alpha, no correction.",
};

pub static TARGET_AGAIN: Help = Help {
    question: "Why taste the target twice?",
    answers: &[
        "If one of the samples is the target under another code, the distance between the two cups is what this panel makes of no difference at all: the noise floor. A candidate that lies no farther than that can't be told from the target by its distance.",
        "It is judged like the others but is no candidate, so it doesn't stand in the verdict line. Should it come out as off, something went wrong with the cups or the panel.",
        "It can't say that a candidate at the noise floor is alike: a noisy panel has a high floor.",
    ],
    source: "Common practice.",
};

pub static BRIEF: Help = Help {
    question: "What is in this brief?",
    answers: &[
        "Five sentences at most, made from the deciding attributes: the verdict, what there is too much or too little of with its interval, what is shown to be fine, what is not shown either way, and a caution.",
        "It speaks of characters on the panel's line. It doesn't say which substance stands behind one, how much to add, or whether changing one will move another.",
    ],
    source: "",
};

pub static CHECKS: Help = Help {
    question: "What do these checks show?",
    answers: &[
        "That the methods, in this browser on this machine, give the figures that were printed or that other programs gave, to as many digits as the source has.",
        "They can't show that your file was read as you meant it, nor that the panel did what the plan says.",
    ],
    source: "",
};
