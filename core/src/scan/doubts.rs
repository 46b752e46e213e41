//! Why a row is asked about, in words for the person who looks at it. It knows nothing of how a reason is found.

use std::fmt;

/// One reason to ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    CutOff,
    LineOffPlace,
    DotsMisfit,
    EndsMisfit,
    OffTheLine,
    BeyondTheEnd,
    AlongTheLine,
    FaintTrace,
    SecondMark,
    OtherInk,
    NotOneStroke,
    Wide,
    Bent,
    RunsThrough,
    Thin,
    Thick,
    Slanted,
    Faint,
    Short,
}

impl Doubt {
    /// The reason in words.
    pub fn words(self) -> &'static str {
        match self {
            Doubt::CutOff => "a part of the row lies outside the picture",
            Doubt::LineOffPlace => "the printed line isn't where the dots say",
            Doubt::DotsMisfit => "the dots beside the row don't fit",
            Doubt::EndsMisfit => "the ends of the printed line don't fit",
            Doubt::OffTheLine => "there is ink, but none that crosses the line",
            Doubt::BeyondTheEnd => "the mark lies beyond an end of the line",
            Doubt::AlongTheLine => "there is ink along the line",
            Doubt::FaintTrace => "there is a faint trace and no mark",
            Doubt::SecondMark => "there is more than one mark",
            Doubt::OtherInk => "there is other ink in the row",
            Doubt::NotOneStroke => "the mark isn't one plain stroke",
            Doubt::Wide => "the mark is wide for its slant",
            Doubt::Bent => "the stroke is bent where it crosses",
            Doubt::RunsThrough => "a stroke crosses this line and a neighbour's",
            Doubt::Thin => "the stroke is thinner than the others of the page",
            Doubt::Thick => "the stroke is thicker than the others of the page",
            Doubt::Slanted => "the stroke is very slanted",
            Doubt::Faint => "the mark is faint",
            Doubt::Short => "the mark is short",
        }
    }
}

impl fmt::Display for Doubt {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.words())
    }
}
