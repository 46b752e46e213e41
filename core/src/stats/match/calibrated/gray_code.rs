//! All ways to choose one of a few for each of several places, each step changing one place only. Numbers only.

use crate::numeric::random::Random;

/// Reflected mixed-radix Gray code without loops: Knuth, The Art of Computer Programming 4A, section 7.2.1.1, algorithm H.
#[derive(Clone, Debug)]
pub(super) struct GrayCode {
    choices: usize,
    chosen: Vec<usize>,
    rising: Vec<bool>,
    focus: Vec<usize>,
}

/// One step: which place changes, and between which choices.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Step {
    pub place: usize,
    pub from: usize,
    pub to: usize,
}

impl GrayCode {
    /// Starts with choice 0 at every place; `choices` is 2 or more.
    pub fn new(places: usize, choices: usize) -> Self {
        GrayCode { choices, chosen: vec![0; places], rising: vec![true; places], focus: (0..=places).collect() }
    }

    /// What is chosen now, one a place.
    pub fn chosen(&self) -> &[usize] {
        &self.chosen
    }

    /// Draws every place anew, each choice equally likely.
    pub fn draw(&mut self, random: &mut Random) {
        let choices = self.choices;
        self.chosen.iter_mut().for_each(|chosen| *chosen = random.below(choices));
    }

    /// The next step; `None` when all ways were gone through.
    pub fn next(&mut self) -> Option<Step> {
        let place = std::mem::replace(&mut self.focus[0], 0);
        let from = *self.chosen.get(place)?;
        let to = if self.rising[place] { from + 1 } else { from - 1 };
        self.chosen[place] = to;
        if to == 0 || to + 1 == self.choices {
            self.rising[place] = !self.rising[place];
            self.focus[place] = self.focus[place + 1];
            self.focus[place + 1] = place + 1;
        }
        Some(Step { place, from, to })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_way_comes_once_and_one_place_changes() {
        for (places, choices) in [(0, 2), (1, 2), (5, 2), (4, 3), (1, 3)] {
            let mut code = GrayCode::new(places, choices);
            let mut seen = BTreeSet::from([code.chosen().to_vec()]);
            let mut before = code.chosen().to_vec();
            while let Some(step) = code.next() {
                let changed = (0..places).filter(|place| code.chosen()[*place] != before[*place]).collect::<Vec<_>>();
                assert_eq!(changed, [step.place]);
                assert_eq!((before[step.place], code.chosen()[step.place]), (step.from, step.to));
                before = code.chosen().to_vec();
                assert!(seen.insert(before.clone()), "{before:?} came twice");
            }
            assert_eq!(seen.len(), choices.pow(places as u32));
        }
    }
}
