//! What of a panel's scores is there: assessors by samples, each cell with how many of its scores came.
//! It counts; it says nothing of why a score is missing.

use crate::study::Study;

/// Scores that are there for every assessor and sample.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CellMap {
    pub assessors: Vec<String>,
    pub samples: Vec<String>,
    /// Scores that a full cell has: attributes times the most servings that any assessor had of any sample.
    pub full: usize,
    /// Scores that are there: a row an assessor, a column a sample.
    pub there: Vec<Vec<usize>>,
    pub full_cells: usize,
    pub part_cells: usize,
    pub empty_cells: usize,
}

/// How much of a cell is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CellFill {
    Full,
    Part,
    Empty,
}

impl CellMap {
    /// Counts the scores of a study; exclusions make no difference here.
    pub fn of(study: &Study) -> Self {
        let (there, most) = count_cells(study);
        let mut map = CellMap {
            assessors: study.assessors.iter().map(|assessor| assessor.name.clone()).collect(),
            samples: study.samples.iter().map(|sample| sample.name.clone()).collect(),
            full: most * study.attributes.len(),
            there,
            ..CellMap::default()
        };
        let fills: Vec<CellFill> = map.there.iter().flatten().map(|scores| map.fill(*scores)).collect();
        let count = |wanted: CellFill| fills.iter().filter(|fill| **fill == wanted).count();
        (map.full_cells, map.part_cells, map.empty_cells) =
            (count(CellFill::Full), count(CellFill::Part), count(CellFill::Empty));
        map
    }

    /// How much of a cell with so many scores is there.
    pub fn fill(&self, scores: usize) -> CellFill {
        match scores {
            0 => CellFill::Empty,
            scores if scores >= self.full => CellFill::Full,
            _ => CellFill::Part,
        }
    }
}

/// Scores of each assessor and sample, and the most servings that any of them had.
fn count_cells(study: &Study) -> (Vec<Vec<usize>>, usize) {
    let (assessors, samples) = (study.assessors.len(), study.samples.len());
    let mut there = vec![vec![0; samples]; assessors];
    let mut servings = vec![vec![0_usize; samples]; assessors];
    for (index, serving) in study.servings.iter().enumerate() {
        let (row, column) = (serving.assessor as usize, serving.sample as usize);
        let is_scored = |attribute: &usize| study.score(index, *attribute).is_some();
        there[row][column] += (0..study.attributes.len()).filter(is_scored).count();
        servings[row][column] += 1;
    }
    let most = servings.iter().flatten().copied().max().unwrap_or(0);
    (there, most)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::{ReadOptions, read_text};

    #[test]
    fn each_cell_counts_its_scores() {
        let input =
            "assessor,sample,replicate,green,ripe\nAnna,A,1,10,20\nAnna,A,2,30,40\nAnna,B,1,50,60\nBen,A,1,,70\n";
        let reading = read_text("panel.csv", input.as_bytes(), &ReadOptions::default());
        let map = CellMap::of(reading.study.as_ref().expect("the panel loads"));
        // By hand: Anna scored A twice and B once on two attributes; Ben scored A once on one of them.
        assert_eq!((map.full, map.there.clone()), (4, vec![vec![4, 2], vec![1, 0]]));
        assert_eq!((map.full_cells, map.part_cells, map.empty_cells), (1, 2, 1));
        assert_eq!(map.fill(3), CellFill::Part);
    }
}
