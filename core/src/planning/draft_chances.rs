//! A draft in the terms of the simulated verdict: its deciding attributes and margins, its scatter, the numbers of
//! assessors that are looked at. It must not know how the chances are shown.

use super::draft_power::{ASSESSORS_WHILE_NONE_NAMED, panel_of};
use crate::plan::brief::draft::PlanDraft;
use crate::stats::Defined;
use crate::stats::r#match::verdict_chances::{CURVE, PlannedVerdict, STUDIES};

/// Deciding attributes assumed while none are listed.
pub const ATTRIBUTES_WHILE_NONE_LISTED: usize = 8;

/// What is simulated for a draft.
#[derive(Clone, Debug, PartialEq)]
pub struct DraftChances {
    pub planned: PlannedVerdict,
    pub assessors: usize,
    pub assessors_are_named: bool,
    /// Whether attributes are listed; else [`ATTRIBUTES_WHILE_NONE_LISTED`] are assumed.
    pub attributes_are_listed: bool,
}

impl DraftChances {
    /// The draft as it stands.
    ///
    /// # Errors
    /// Scatter that can't be.
    pub fn of(draft: &PlanDraft) -> Defined<Self> {
        let named = draft.assessors().len();
        let assessors = if named == 0 { ASSESSORS_WHILE_NONE_NAMED } else { named };
        let deciding = deciding_names(draft);
        let margin = &draft.brief.margin;
        let margins_mm = if deciding.is_empty() {
            vec![margin.width_mm; ATTRIBUTES_WHILE_NONE_LISTED]
        } else {
            deciding.iter().map(|name| margin.for_attribute(name)).collect()
        };
        let planned = PlannedVerdict {
            margins_mm,
            sd_of_difference_mm: panel_of(draft, assessors)?.sd_of_difference(),
            correlation: draft.scatter.correlation,
            profile_share: draft.brief.profile_share,
            alpha: draft.brief.alpha,
            seed: draft.seed,
            studies: STUDIES,
        };
        Ok(DraftChances {
            planned,
            assessors,
            assessors_are_named: named > 0,
            attributes_are_listed: !deciding.is_empty(),
        })
    }

    /// The numbers of assessors of the curve, the planned one first.
    #[must_use]
    pub fn numbers_of_assessors(&self) -> Vec<usize> {
        std::iter::once(self.assessors).chain(CURVE).collect()
    }
}

/// Names of the attributes that decide; where none is named all of the list do.
fn deciding_names(draft: &PlanDraft) -> Vec<String> {
    if draft.brief.deciding.is_empty() {
        let listed = draft.attributes.attributes.iter().map(|line| line.name.trim().to_owned());
        return listed.filter(|name| !name.is_empty()).collect();
    }
    draft.brief.deciding.clone()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::brief::attributes::AttributeList;

    #[test]
    fn a_draft_is_simulated_with_its_own_numbers() {
        let mut draft = PlanDraft { seed: 3, assessors_typed: "Ada\nBen\nCleo".to_owned(), ..PlanDraft::default() };
        let bare = DraftChances::of(&draft).expect("a sound draft");
        assert_eq!(bare.planned.margins_mm, [10.0; 8]);
        assert!(!bare.attributes_are_listed && bare.assessors_are_named && bare.assessors == 3);
        assert_eq!(bare.numbers_of_assessors()[..2], [3, 8]);
        draft.attributes = AttributeList::mango_nectar_example();
        draft.brief.deciding = vec!["ripe flesh".to_owned(), "sour".to_owned()];
        draft.brief.margin.by_attribute.insert("sour".to_owned(), 6.0);
        let full = DraftChances::of(&draft).expect("a sound draft");
        assert_eq!(full.planned.margins_mm, [10.0, 6.0]);
        // Identity: as many replicates as stand behind the difference leave its scatter as it was typed.
        assert!((full.planned.sd_of_difference_mm - draft.scatter.sd_difference_mm).abs() < 1e-12);
        draft.replicates = 8;
        let more = DraftChances::of(&draft).expect("a sound draft");
        assert!(more.planned.sd_of_difference_mm < draft.scatter.sd_difference_mm);
    }
}
