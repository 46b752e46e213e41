//! The words of the Profile view.

pub const SHAPE_HEADING: &str = "What is each sample like?";
pub const DIFFERENT_HEADING: &str = "Where do the samples part?";
pub const MEANS_HEADING: &str = "How strong is each character?";
pub const SURE_HEADING: &str = "Is it more than disagreement?";
pub const WHICH_HEADING: &str = "Which samples differ?";
