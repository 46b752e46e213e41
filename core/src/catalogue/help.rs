//! What methods say about themselves when they are asked: what a number says, what it can't say, where it comes from.

/// One question a reader may have, and its answers.
#[derive(Debug)]
pub struct Help {
    pub question: &'static str,
    pub answers: &'static [&'static str],
    /// Where the method comes from; empty where that is common practice.
    pub source: &'static str,
}

pub static VERDICT: Help = Help {
    question: "How a verdict is reached",
    answers: &[
        "Of one attribute: match means shown to be alike, the interval of the difference lies wholly inside the margin. Off means shown to differ, and not shown to be alike. Not shown means that this panel, with this many assessors and cups, settles neither. A difference can be certain and small at once: then it is a match.",
        "Whether something is off is asked of all deciding attributes together, so that looking at many makes no false alarm likelier: the very target under another code is called off in 5 of 100 studies at most, with eight attributes as with thirty-four. Where even a difference beyond the margin is shown, it says so.",
        "The whole sample is off if any deciding attribute is. It matches if all of them match. It also matches as a whole if nothing is off, the typical difference is shown to lie within the profile margin, and no attribute could lie farther out than twice its margin. The profile margin is settled beforehand: 0.7 of the margins unless you say otherwise.",
        "Simulated for 8 to 20 assessors and 8 to 34 attributes: twelve assessors show a true duplicate over thirty-four attributes to match in more than 8 of 10 studies, and find one attribute that is off by 15 mm in about as many. Below six assessors a verdict is a first impression, and says so.",
        "The verdict speaks about assessors like these and cups like these. With one pot for everybody it can't tell pots from samples. It doesn't say whether anyone would like the candidate, nor what a margin ought to be.",
    ],
    source: "Inside the margin: two one-sided tests, Schuirmann (1987). Off: step-down largest difference under sign flips of whole assessors, Westfall and Young (1993). Typical difference: upper bound after Satterthwaite (1946) and Zou and Donner (2008). Chances: simulated with this program.",
};

pub static DISTANCE: Help = Help {
    question: "What the distance says",
    answers: &[
        "The distance takes all attributes of one character together: the root of the sum of squared differences. Scatter alone gives a distance above zero, so the figure with the scatter taken off is the fairer one; zero there means no more than scatter.",
        "The typical difference is the same spread evenly over the deciding attributes, with an upper bound: \u{201c}at most 3.4 mm\u{201d} is wrong in 5 of 100 studies at most.",
        "It hides direction: two candidates at the same distance can be wrong in opposite ways. All attributes weigh alike, whether they matter to the eater or not. The area of a spider is never used: it depends on the order of the spokes.",
    ],
    source: "Root of summed squared differences of panel means, attributes weighted alike; words for the whole are left out.",
};

pub static CLOSENESS: Help = Help {
    question: "How sure is the ranking?",
    answers: &[
        "Whole assessors are drawn again and again from this panel, with all their marks; the same draws serve all candidates. \u{201c}Closest in 93 of 100\u{201d} means that this candidate came out closest in 93 of 100 panels drawn from this one.",
        "Another panel is not a draw from this one: it has scatter of its own. How often another panel would find the same order of two neighbours stands beside it, and is always nearer to 50.",
        "The last p asks whether the whole profile is the target's: if nothing differed, each assessor's differences could as well have come out the other way round.",
        "It can't say that the closest is close: that is what the margin is for.",
    ],
    source: "Bootstrap over assessors: Efron and Tibshirani (1993). Another panel: normal law with twice the variance.",
};

pub static CHANCES: Help = Help {
    question: "What do these chances mean?",
    answers: &[
        "Suppose the truth were known, and this panel tasted again and again: how often would each verdict come out? Where the very target is shown to match in 20 of 100 studies only, \u{201c}not shown\u{201d} says more about the panel than about the candidate.",
        "The studies are simulated with this panel's own scatter on the deciding attributes. It is no verdict and doesn't change one; it tells how to plan the next tasting.",
    ],
    source: "Simulated with this program; what panels are told was compared with what is true of them.",
};

pub static POTS: Help = Help {
    question: "Why look at rounds?",
    answers: &[
        "Where everybody is served from one pot, what differs from pot to pot lies inside the difference and in no interval: ten assessors who taste the same bad pot agree. If a sample is prepared anew for each round, a difference that moves from round to round says that pots may differ.",
        "If both rounds came from one pot, nothing here can tell. Plan offers separate preparations for that.",
    ],
    source: "Rounds against assessor \u{d7} round on each assessor's own differences, adjusted over attributes by Holm (1979); simulated with this program.",
};

pub static SECOND_OPINION: Help = Help {
    question: "Why a second opinion?",
    answers: &[
        "A verdict stands on each assessor's own differences between two cups. The mixed model of all samples together says how large the same difference is, and how sure, by another road. Where both show the match, it doesn't hang on the road.",
        "It decides nothing: where samples scatter differently the model is wrong, and the own differences are not.",
    ],
    source: "Two one-sided tests, Schuirmann (1987), on the model's estimated means with Satterthwaite's degrees of freedom.",
};

pub static NEXT_MARGINS: Help = Help {
    question: "What may be taken from the target's second cup?",
    answers: &[
        "What this panel makes of no difference is a lower limit for a margin: with a narrower one, even the target would seldom be shown to match itself. It is never the margin: how large a difference may be depends on what people notice and on what the customer allows.",
        "It is for the next study. A margin taken from the scores that it judges proves nothing.",
    ],
    source: "Signs of whole assessors flipped, 80 % points; simulated with this program.",
};

pub static POWER: Help = Help {
    question: "What does this chance mean?",
    answers: &[
        "Suppose a candidate were exactly like the target. How often would a panel of this size, with these replicates and this scatter, have shown the match? Where that is 20 times in 100, \u{201c}not shown\u{201d} says more about the panel than about the candidate.",
        "It is computed from the study's own variances: assessor \u{d7} sample (how much assessors disagree about samples) and error (how well a cup is repeated). More assessors help against both, more replicates only against the second.",
        "It is no verdict and doesn't change one. Power worked out after the tasting adds nothing to the intervals; it tells how to plan the next tasting.",
    ],
    source: "Two one-sided tests on each assessor's differences, exact for normal scatter, integrated over the law of the standard error; checked against 200,000 simulated studies.",
};

pub static INTEGRATED: Help = Help {
    question: "How to read these associations",
    answers: &[
        "For each character: do samples that have more of it have more of the word for the whole? The correlation is that of the samples' panel means; its interval is approximate. Steady means that samples in random order reach it in 5 of 100 cases at most, all characters of the list together. On made-up panels 4 to 6 of 100 words unrelated to all of 12 characters had any called steady. Below five samples nothing is said.",
        "Beside it the correlation over all assessors and samples, each assessor's own level taken off, and how often it keeps its direction when assessors are drawn again: that repeats what these samples happen to be like, and proves nothing about others. Within a sample: does an assessor who finds more of the one in a cup find more of the other in it?",
        "It is an association and no cause. With few samples many characters move together, and changing one need not move the whole.",
    ],
    source: "Product-moment correlation; Fisher's z (1921); samples in random order with the largest of all correlations, Westfall & Young (1993).",
};

pub static DIFFERENCES: Help = Help {
    question: "How to read the differences",
    answers: &[
        "Each is candidate minus target: every assessor's own difference first, then the mean over assessors. So it doesn't matter that people use the line differently.",
        "The broad interval must lie inside the shaded margin for a match, the thin one must leave out zero for a difference to be shown. \u{201c}Too low\u{201d} and \u{201c}too high\u{201d} are the two one-sided tests against the ends of the margin: both small is a match. df is the number of assessors less one.",
        "An interval speaks of the mean of a panel like this, not of single cups or people.",
    ],
    source: "Student's t on per-assessor differences; two one-sided tests: Schuirmann (1987).",
};

pub static GRID: Help = Help {
    question: "How to read the shades",
    answers: &[
        "Each cell is one difference of means: the number has the sign, the mark the verdict, and the shade the size, deepest for the largest of all. The attribute with the largest difference stands on top.",
        "Before a target is settled the cells show the difference from the mean of all samples instead.",
        "There are no intervals here, so a deep cell need not be sure: the figure of differences and the mark tell that.",
    ],
    source: "",
};

pub static COMPARISONS: Help = Help {
    question: "What do the letters say?",
    answers: &[
        "Two samples that share no letter are shown to differ on that attribute, counting all pairs at once. Two that share one are not shown to differ, which is not the same as alike.",
        "The error is assessor \u{d7} sample, as in the analysis of variance. In unbalanced data each pair has its own standard error, and the method says so.",
        "Against the target only, fewer comparisons are made, so less is paid for them: Dunnett's test.",
        "Nothing is adjusted over attributes. With thirty attributes one or two findings come by chance.",
    ],
    source: "Tukey (1953), Kramer (1956), Dunnett (1955), Holm (1979).",
};

pub static MEANS: Help = Help {
    question: "Which interval is this?",
    answers: &[
        "Each interval is for one mean, as if other assessors like these had been asked. Assessors use the line differently, and that spread is in it.",
        "The difference of two samples is judged within each assessor, where that spread cancels. So intervals of means can overlap although the samples clearly differ.",
    ],
    source: "Mixed model with assessors random; degrees of freedom after Satterthwaite (1946).",
};

pub static ANOVA: Help = Help {
    question: "Why this denominator?",
    answers: &[
        "Assessors are a sample of the people who could have tasted. Samples are told apart only if they differ by more than assessors disagree about them, so the mean square of assessor \u{d7} sample goes below the line.",
        "Divided by the error between replicates instead, F grows with every repeat cup of the same assessors. It is shown so that a class can see what that does.",
        "Where data are unbalanced there are no textbook mean squares, and the degrees of freedom are fractions. The two columns of adjusted p count all attributes together.",
        "A small p says that some samples differ, not which, and not by how much. A large p doesn't say that they are alike.",
    ],
    source: "Mixed analysis of variance with assessors random, restricted maximum likelihood.",
};

pub static SPIDER: Help = Help {
    question: "How to read a spider plot",
    answers: &[
        "Each spoke is one attribute, from nothing at the centre outwards; spokes stand in the order of the ballot. Marks show means, off characters are marked.",
        "The area and the shape depend on the order of the spokes, so they mean nothing. For judging, the figure of differences is better: it shows the intervals beside the margin.",
    ],
    source: "",
};

pub static PANEL: Help = Help {
    question: "What makes an assessor reliable?",
    answers: &[
        "Three things, and one can be had without the others: telling samples apart, giving the same cup the same mark again, and seeing the samples in the same order as the rest of the panel.",
        "Someone who disagrees can be the only one who is right, or have swapped two cups. The figures raise the question; the marks and the person answer it.",
        "On an attribute where nobody finds a difference, failing to tell samples apart is no failure, so such attributes don't count.",
        "A test that shows nothing has three readings, and only one of them is failing: there may be too few cups to tell. A test fails somebody only where it would show a sound assessor in 80 of 100 cases and a sound one, who may scatter half as much again as the others, would do as badly in 5 of 100 at most. On made-up panels with 4 to 8 samples sound assessors failed 2 tests of 100 at most. Someone who marks at random is found in about 6 of 10 tests of agreement with 8 samples, in 1 of 10 with 4 whose differences are moderate.",
    ],
    source: "Vocabulary of ISO 11132; Student's t and F with an effect; intervals: Fisher's z (1921), chi-squared, intraclass by F after Shrout & Fleiss (1979).",
};

pub static MAP: Help = Help {
    question: "How to read a map",
    answers: &[
        "Samples that lie close together were scored alike on the attributes that make up these axes; the share of the total variance says how much of all differences between samples the two axes show. What the other axes hold can't be seen here: choose them above. The interval of a share comes from the same draws; it is approximate and held the true share in 90 to 97 of 100 made-up panels, least where samples hardly differ.",
        "Attributes point where they grow stronger, by their correlation with the axes. Short ones are badly shown here.",
        "An ellipse is made so that it holds the sample's true place on these axes in 95 of 100 panels like this one. Measured on made-up panels of 5 to 20 assessors with 4 to 8 samples it was 94 to 96 of 100, with marks piled up at 0 and samples that hardly differ included. With fewer than five assessors none is drawn. Overlap is no proof of likeness: the verdict stands in Match.",
        "Small points are single assessors: where each of them puts each sample. Wide clouds mean that they disagree.",
        "With \u{201c}all attributes count alike\u{201d} each attribute is stretched to the same spread; without it, attributes with large differences count more, which is fair where all stand on one scale.",
        "The sign of an axis means nothing; it is fixed by a rule so that the map doesn't flip. With J samples there are J \u{2212} 1 axes at most.",
    ],
    source: "Principal components of the panel means; ellipses from resampled assessors, widened by Hotelling's law (1931) and by the axes found anew in each draw.",
};

pub static SESSIONS: Help = Help {
    question: "What do sessions show?",
    answers: &[
        "A panel that tires, or drifts apart after training, shows it here: fewer attributes told apart, more scatter, less agreement from one session to the next. So does a panel that still learns, the other way round.",
        "It can't say why. Other samples in a session, or fewer of them, change the figures as well: compare sessions with the same samples.",
    ],
    source: "ISO 11132, the words for discrimination, agreement and repeatability, named from memory.",
};

pub static FORM_FAULTS: Help = Help {
    question: "How is a form fault suspected, and how sure is it?",
    answers: &[
        "For every mark the other assessors' mean and this person's own level say what to expect. The marks as written are weighed against the marks as they would stand had the fault happened; only where the second is far likelier is it said.",
        "The bar is set so that a panel without any fault raises a false suspicion in 5 studies of 100 at most, all checks together. Measured on made-up panels of many shapes it was 0 to 2 of 100, with one assessor of three-fold scatter and marks piled up at 0 among them. A true fault among samples that hardly differ can't be seen.",
    ],
    source: "Likelihood ratio with misfits by Student's law, 5 degrees of freedom; the threshold is an eighth of the number of pages, pairs or scales looked at over the allowed chance of a false alarm, by simulation.",
};

pub static LEAVE_ONE_OUT: Help = Help {
    question: "What does setting aside show?",
    answers: &[
        "The whole verdict is reached again without each assessor in turn, by the same margin and the same deciding attributes. With one person fewer intervals grow wider, so a match may turn into not shown for that reason alone.",
    ],
    source: "",
};

pub static LINE_USE: Help = Help {
    question: "Is stretching the line a fault?",
    answers: &[
        "No: people use a line differently, and the verdict compares each assessor with themselves. It costs sensitivity where it is strong.",
        "It is told only where the samples differ strongly; elsewhere a slope on the panel's means is noise.",
    ],
    source: "Brockhoff, Schlich & Skovgaard (2015), Food Quality and Preference 39, 156-166.",
};

pub static SERVING_ORDER: Help = Help {
    question: "What can the order of serving do?",
    answers: &[
        "The first cup is often marked higher, palates tire, and a strong sample colours the next. Orders that are balanced keep this from favouring a sample, but it still adds noise.",
        "Standard errors come from leaving out each assessor in turn: assessors are the people, servings are not.",
    ],
    source: "Least squares with a jackknife over assessors; Holm (1979).",
};

pub static ROUNDS: Help = Help {
    question: "What is a shift between rounds?",
    answers: &[
        "A whole panel that marks higher on the second day shifts together, which harms nothing. Assessors who shift each their own way make the usual error too large, and a difference between samples may hide in it.",
        "Samples that change for everybody from round to round are the serious case: the cups may not have been the same.",
    ],
    source: "Three-way analysis with assessors random; balanced data only.",
};

pub static LABELS: Help = Help {
    question: "What can a label do?",
    answers: &[
        "The same sample, tasted by the same assessor under two labels: the difference is what the label did, not the sample.",
        "It takes no normal scatter: the signs of whole assessors are flipped.",
    ],
    source: "Exact sign-flip test over assessors.",
};
