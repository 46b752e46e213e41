//! Looks for balanced incomplete block designs that turn into themselves when every sample moves on by one, with or
//! without one sample that stays where it is. Every design found is checked by counting before it is handed out.
//!
//! This holds the classical families: BIBD(7,7,3,3,1) from {0,1,3} modulo 7, (13,13,4,4,1) from {0,1,3,9} modulo 13,
//! affine planes such as (9,12,4,3,1) with one fixed sample (R. C. Bose, Annals of Eugenics 9, 1939, 353-399).

/// The blocks of a balanced design of `blocks` blocks of `size` out of `samples`, where the search finds one; each
/// block a sorted list of sample indices. Pairs meet equally often, which is checked.
pub(in crate::plan) fn balanced_blocks(samples: usize, size: usize, blocks: usize) -> Option<Vec<Vec<usize>>> {
    let meetings = meetings_of(samples, size, blocks)?;
    if subsets_exceed(samples, size, blocks) {
        return [samples, samples - 1]
            .into_iter()
            .filter(|turning| !subsets_exceed(*turning, size, LARGEST_SEARCH))
            .find_map(|turning| search(samples, turning, size, blocks, meetings));
    }
    let all = subsets(samples, size);
    (all.len() == blocks).then_some(all)
}

/// How often each pair meets in a balanced design of this many blocks; `None` where that is no whole number.
pub(in crate::plan) fn meetings_of(samples: usize, size: usize, blocks: usize) -> Option<usize> {
    let tastings = blocks * size;
    let whole = samples > size && size >= 2 && tastings.is_multiple_of(samples);
    let pairs = (tastings / samples) * (size - 1);
    (whole && pairs.is_multiple_of(samples - 1) && pairs > 0).then(|| pairs / (samples - 1))
}

/// All subsets of `size` out of `samples`, in their order.
pub(in crate::plan) fn subsets(samples: usize, size: usize) -> Vec<Vec<usize>> {
    let mut found = Vec::new();
    let mut subset: Vec<usize> = (0..size).collect();
    if size > samples {
        return found;
    }
    loop {
        found.push(subset.clone());
        let Some(slot) = (0..size).rev().find(|slot| subset[*slot] < samples - size + slot) else { return found };
        subset[slot] += 1;
        for next in slot + 1..size {
            subset[next] = subset[next - 1] + 1;
        }
    }
}

/// How often each pair of samples stands in one block.
pub(in crate::plan) fn concurrences(blocks: &[Vec<usize>], samples: usize) -> Vec<Vec<u32>> {
    let mut counts = vec![vec![0; samples]; samples];
    for block in blocks {
        for left in block {
            for right in block.iter().filter(|right| *right != left) {
                counts[*left][*right] += 1;
            }
        }
    }
    counts
}

const LARGEST_SEARCH: usize = 30_000;
const STEPS_BEFORE_GIVING_UP: usize = 200_000;

/// One block and all that it turns into.
struct Orbit {
    blocks: Vec<Vec<usize>>,
    /// Entry d: how many of the blocks hold both 0 and d; entry 0: both 0 and the sample that stays.
    meets: Vec<usize>,
}

struct Search {
    orbits: Vec<Orbit>,
    meetings: usize,
    /// Distances that must be met; the others follow by symmetry.
    distances: Vec<usize>,
    steps_left: usize,
}

fn subsets_exceed(samples: usize, size: usize, limit: usize) -> bool {
    let mut count: u128 = 1;
    for taken in 0..size.min(samples - size.min(samples)) {
        count = count * (samples - taken) as u128 / (taken + 1) as u128;
        if count > limit as u128 {
            return true;
        }
    }
    count > limit as u128
}

fn search(samples: usize, turning: usize, size: usize, blocks: usize, meetings: usize) -> Option<Vec<Vec<usize>>> {
    let mut orbits = orbits_of(subsets(turning, size), turning, None);
    let fixed = (turning < samples).then_some(turning);
    if fixed.is_some() {
        orbits.extend(orbits_of(subsets(turning, size - 1), turning, fixed));
    }
    orbits.retain(|orbit| orbit.meets.iter().all(|count| *count <= meetings));
    let mut distances: Vec<usize> = (1..=turning / 2).collect();
    distances.extend(fixed.map(|_| 0));
    let mut search = Search { orbits, meetings, distances, steps_left: STEPS_BEFORE_GIVING_UP };
    let mut chosen = Vec::new();
    if !search.fill(&mut vec![0; turning], &mut chosen) {
        return None;
    }
    let found: Vec<Vec<usize>> = chosen.iter().flat_map(|index| search.orbits[*index].blocks.clone()).collect();
    let counts = concurrences(&found, samples);
    let even = (0..samples).all(|left| (0..left).all(|right| counts[left][right] as usize == meetings));
    (even && found.len() == blocks).then_some(found)
}

impl Search {
    /// Adds orbits until every distance is met as often as it should be.
    fn fill(&mut self, met: &mut [usize], chosen: &mut Vec<usize>) -> bool {
        let Some(distance) = self.distances.iter().copied().find(|distance| met[*distance] < self.meetings) else {
            return true;
        };
        for index in 0..self.orbits.len() {
            if self.steps_left == 0 {
                return false;
            }
            if !self.fits(index, distance, met) {
                continue;
            }
            self.steps_left -= 1;
            let meets = self.orbits[index].meets.clone();
            met.iter_mut().zip(&meets).for_each(|(so_far, more)| *so_far += more);
            chosen.push(index);
            if self.fill(met, chosen) {
                return true;
            }
            chosen.pop();
            met.iter_mut().zip(&meets).for_each(|(so_far, more)| *so_far -= more);
        }
        false
    }

    /// Whether an orbit meets this distance, and no distance too often.
    fn fits(&self, index: usize, distance: usize, met: &[usize]) -> bool {
        let meets = &self.orbits[index].meets;
        meets[distance] > 0 && meets.iter().zip(met).all(|(more, so_far)| more + so_far <= self.meetings)
    }
}

/// The orbits of some sorted blocks, each named by its first block in order. `fixed` joins every block.
fn orbits_of(starts: Vec<Vec<usize>>, turning: usize, fixed: Option<usize>) -> Vec<Orbit> {
    let firsts = starts.into_iter().filter(|start| start.first() == Some(&0));
    firsts.filter_map(|start| orbit_of(&start, turning, fixed)).collect()
}

/// The orbit of a sorted block; `None` where another block of it comes before.
fn orbit_of(start: &[usize], turning: usize, fixed: Option<usize>) -> Option<Orbit> {
    let shifted = |shift: usize| {
        let mut block: Vec<usize> = start.iter().map(|sample| (sample + shift) % turning).collect();
        block.sort_unstable();
        block
    };
    let rest = (1..turning).map(shifted).take_while(|block| block != start);
    let mut blocks: Vec<Vec<usize>> = std::iter::once(shifted(0)).chain(rest).collect();
    if blocks.iter().any(|block| block.as_slice() < start) {
        return None;
    }
    let mut meets = vec![0; turning];
    for block in blocks.iter().filter(|block| block[0] == 0) {
        block.iter().skip(1).for_each(|other| meets[*other] += 1);
        meets[0] += usize::from(fixed.is_some());
    }
    blocks.iter_mut().for_each(|block| block.extend(fixed));
    Some(Orbit { blocks, meets })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_classical_designs_are_found() {
        // Parameters as in the tables of R. A. Fisher and F. Yates, Statistical Tables (from memory); that each is
        // balanced is counted inside. (6,10,3) and (8,14,4) have a sample that stays; (9,12,3) and (16,20,4) are planes.
        let designs = [
            (7, 3, 7, 1),
            (7, 4, 7, 2),
            (13, 4, 13, 1),
            (11, 5, 11, 2),
            (21, 5, 21, 1),
            (6, 3, 10, 2),
            (8, 4, 14, 3),
            (9, 3, 12, 1),
            (16, 4, 20, 1),
            (15, 7, 15, 3),
            (5, 3, 10, 3),
            (4, 2, 6, 1),
        ];
        for (samples, size, blocks, meetings) in designs {
            let found = balanced_blocks(samples, size, blocks).unwrap_or_else(|| panic!("{samples} {size} {blocks}"));
            assert_eq!(found.len(), blocks);
            let counts = concurrences(&found, samples);
            for left in 0..samples {
                assert!((0..left).all(|right| counts[left][right] == meetings), "{samples} {size}: {counts:?}");
            }
        }
    }

    #[test]
    fn seven_samples_by_three_come_from_0_1_3() {
        // BIBD(7,7,3,3,1) from the difference set {0,1,3} modulo 7.
        let found = balanced_blocks(7, 3, 7).expect("known design");
        assert_eq!(found[0], [0, 1, 3]);
        assert_eq!(found[6], [0, 2, 6]);
    }

    #[test]
    fn what_cannot_be_balanced_is_not_found() {
        assert_eq!(meetings_of(8, 3, 8), None);
        assert_eq!(balanced_blocks(8, 3, 8), None);
        // (43,43,7,7,1) would be a projective plane of order 6, which does not exist (Bruck & Ryser 1949).
        assert_eq!(meetings_of(43, 7, 43), Some(1));
        assert_eq!(balanced_blocks(43, 7, 43), None);
    }
}
