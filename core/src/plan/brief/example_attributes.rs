//! The invented attribute list of the demo. No panel made it and no product has it.

use super::attributes::{AttributeList, ListedAttribute};
use crate::study::AttributeKind;

impl AttributeList {
    /// An invented list for the mango nectar of the demo study. No panel made it.
    pub fn mango_nectar_example() -> AttributeList {
        AttributeList {
            name: "Mango nectar (invented example)".to_owned(),
            version: 1,
            attributes: (1..).zip(&WORDS).map(|(order, words)| line(order, words)).collect(),
        }
    }
}

fn line(order: u32, words: &[&str; 5]) -> ListedAttribute {
    ListedAttribute {
        name: words[0].to_owned(),
        definition: words[1].to_owned(),
        low_end: words[2].to_owned(),
        high_end: words[3].to_owned(),
        reference: words[4].to_owned(),
        order,
        kind: if order <= ANALYTIC { AttributeKind::Analytic } else { AttributeKind::Integrated },
    }
}

/// How many of the words, the first ones, name one character; the others stand for the whole.
const ANALYTIC: u32 = 12;

/// Name, definition, low end, high end, reference.
const WORDS: [[&str; 5]; 14] = [
    [
        "ripe flesh",
        "smell and taste of the soft flesh of ripe mango",
        "none",
        "strong",
        "20 g fresh ripe mango flesh, crushed",
    ],
    [
        "green",
        "cut grass, unripe fruit, crushed leaves",
        "none",
        "strong",
        "cis-3-hexenol, 1 mg in 1 l water, to smell only",
    ],
    [
        "resinous",
        "conifer resin, mango skin, turpentine",
        "none",
        "strong",
        "10 g washed mango skin in 200 g water, 10 min",
    ],
    ["citrus", "fresh orange and lime peel", "none", "strong", "1 g grated lime peel in 200 g water, 10 min"],
    ["peach", "ripe peach and apricot", "none", "strong", "canned peach syrup, 1 part in 4 parts water"],
    ["coconut", "creamy coconut, lactone", "none", "strong", "coconut milk, 1 part in 9 parts water"],
    ["floral", "orange blossom, violet", "none", "strong", "orange flower water, 1 part in 50 parts water"],
    ["cooked", "fruit that was heated for long, jam", "none", "strong", "mango nectar, 30 min at 95 °C, cooled"],
    [
        "sulphury",
        "tropical, catty, passion fruit at low strength",
        "none",
        "strong",
        "passion fruit juice, 1 part in 9 parts water",
    ],
    ["sweet", "taste of sugar", "none", "strong", "sucrose, 60 g in 1 l water"],
    ["sour", "taste of acid", "none", "strong", "citric acid, 0.8 g in 1 l water"],
    ["astringent", "drying and roughening of the mouth", "none", "strong", "black tea, 5 g in 1 l water, 10 min"],
    ["overall strength", "strength of the whole flavour, whatever its character", "weak", "strong", ""],
    [
        "true to fruit",
        "how far the whole is that of fresh mango",
        "not at all",
        "fully",
        "20 g fresh ripe mango flesh, crushed",
    ],
];
