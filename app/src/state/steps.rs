//! Two piles of steps: what can be undone, and what was undone and can be done again. They know nothing of what a step is.

use serde::{Deserialize, Serialize};

/// What was done, and what was undone, latest last. `Side` is the state on the other side of a step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Steps<Side, const MOST: usize> {
    past: Vec<Step<Side>>,
    future: Vec<Step<Side>>,
}

/// One action of the user, with the state on its other side.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct Step<Side> {
    /// What was done, in words: "margin from 10 to 8 mm".
    what: String,
    other_side: Side,
}

impl<Side, const MOST: usize> Default for Steps<Side, MOST> {
    fn default() -> Self {
        Steps { past: Vec::new(), future: Vec::new() }
    }
}

impl<Side, const MOST: usize> Steps<Side, MOST> {
    /// Records a step. What was undone before can no longer be done again; more steps than `MOST` are forgotten, oldest
    /// first.
    pub fn record(&mut self, what: impl Into<String>, before: Side) {
        self.past.push(Step { what: what.into(), other_side: before });
        if self.past.len() > MOST {
            self.past.remove(0);
        }
        self.future.clear();
    }

    /// The latest steps of each pile, at most so many, with their other sides as `turn` gives them. A pile ends before
    /// the first step of which it gives none, since what lies below could not be reached.
    pub fn latest<Other>(&self, most: usize, turn: impl Fn(&Side) -> Option<Other>) -> Steps<Other, MOST> {
        let turned = |pile: &Vec<Step<Side>>| {
            let step = |step: &Step<Side>| Some(Step { what: step.what.clone(), other_side: turn(&step.other_side)? });
            let mut latest: Vec<Step<Other>> = pile.iter().rev().take(most).map_while(step).collect();
            latest.reverse();
            latest
        };
        Steps { past: turned(&self.past), future: turned(&self.future) }
    }

    pub fn next_undo(&self) -> Option<&str> {
        self.past.last().map(|step| step.what.as_str())
    }

    pub fn next_redo(&self) -> Option<&str> {
        self.future.last().map(|step| step.what.as_str())
    }

    /// Takes the last step back: gives its words. `swap` puts the other side in place and gives what was there.
    pub fn undo(&mut self, swap: impl FnOnce(Side) -> Side) -> Option<String> {
        pass(&mut self.past, &mut self.future, swap)
    }

    /// Does again what was undone last.
    pub fn redo(&mut self, swap: impl FnOnce(Side) -> Side) -> Option<String> {
        pass(&mut self.future, &mut self.past, swap)
    }
}

fn pass<Side>(from: &mut Vec<Step<Side>>, to: &mut Vec<Step<Side>>, swap: impl FnOnce(Side) -> Side) -> Option<String> {
    let step = from.pop()?;
    to.push(Step { what: step.what.clone(), other_side: swap(step.other_side) });
    Some(step.what)
}
