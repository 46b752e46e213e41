//! Patterns of choices drawn by chance, a few places in a byte. It knows no rows and no statistics.

use crate::numeric::memory::Memory;
use crate::numeric::random::Random;
use std::sync::Arc;

/// Ways to choose the rows of a few assessors that are summed up beforehand; a byte numbers them.
const WAYS: usize = 256;

/// Patterns drawn by chance: how, and how many besides the one seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Drawing {
    pub places: usize,
    pub choices: usize,
    pub places_a_block: usize,
    pub patterns: u64,
    pub seed: u64,
}

thread_local! {
    /// Candidates of one study, and panels without one assessor, ask for the same patterns again.
    static DRAWN: Memory<Drawing, Arc<Vec<u8>>> = const { Memory::of_latest(4) };
}

impl Drawing {
    /// `[pattern][block]`, the one seen first; each choice of each assessor equally likely.
    pub fn ways(self) -> Arc<Vec<u8>> {
        DRAWN.with(|known| {
            known.known(&self).unwrap_or_else(|| {
                let drawn = Arc::new(self.draw());
                known.keep(self, Arc::clone(&drawn));
                drawn
            })
        })
    }

    fn draw(self) -> Vec<u8> {
        let mut random = Random::seeded_for(self.seed, "calibrated verdict");
        let blocks = n_blocks(self.places, self.places_a_block);
        let mut ways = vec![0; blocks];
        for _ in 0..self.patterns {
            for block in 0..blocks {
                let places = self.places_a_block.min(self.places - block * self.places_a_block);
                let choose = |(way, unit), _| (way + unit * random.below(self.choices), unit * self.choices);
                ways.push((0..places).fold((0, 1), choose).0 as u8);
            }
        }
        ways
    }
}

/// How many blocks there are; at least one.
pub(super) fn n_blocks(places: usize, places_a_block: usize) -> usize {
    places.div_ceil(places_a_block).max(1)
}

/// Places of a block: as few blocks as a byte's ways allow, of much the same length, and no more ways to sum up beforehand
/// than pay for so many patterns.
pub(super) fn places_a_block(movable: usize, choices: usize, patterns: u64) -> usize {
    let worth = (patterns / 8).clamp(choices as u64, WAYS as u64) as usize;
    let most = (1..).take_while(|places| choices.pow(*places) <= worth).last().unwrap_or(1) as usize;
    let blocks = movable.div_ceil(most).max(1);
    movable.div_ceil(blocks).max(1)
}
