//! Connected dark shapes of a picture, from its dark pieces line by line. It knows nothing of what a shape means.

/// All shapes; a pixel belongs to the shape of its piece, and pixels that touch by a corner are one shape.
#[derive(Default)]
pub struct Shapes {
    pieces: Vec<Piece>,
    /// Index of the first piece of each line, and of the end.
    line_starts: Vec<usize>,
    /// For each piece another one of the same shape, the lowest in the end.
    leads_to: Vec<u32>,
}

struct Piece {
    y: u32,
    first: u32,
    end: u32,
}

/// One shape.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shape {
    /// Left column and top line.
    pub x: u32,
    pub y: u32,
    pub width: u32,
    pub height: u32,
    /// Pixels.
    pub area: u32,
    /// Centre of its pixels.
    pub centre: (f64, f64),
}

impl Shapes {
    /// Adds the next line below.
    pub fn add_line(&mut self, pieces: &[(u32, u32)]) {
        let above = self.line_starts.last().copied().unwrap_or(0)..self.pieces.len();
        let y = self.line_starts.len() as u32;
        self.line_starts.push(self.pieces.len());
        let mut next = above.start;
        for (first, end) in pieces {
            let own = self.pieces.len();
            self.pieces.push(Piece { y, first: *first, end: *end });
            self.leads_to.push(own as u32);
            while next < above.end && self.pieces[next].end < *first {
                next += 1;
            }
            let mut touching = next;
            while touching < above.end && self.pieces[touching].first <= *end {
                self.join(own, touching);
                touching += 1;
            }
        }
    }

    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.root(one), self.root(other));
        self.leads_to[one.max(other)] = one.min(other) as u32;
    }

    fn root(&mut self, mut piece: usize) -> usize {
        while self.leads_to[piece] as usize != piece {
            self.leads_to[piece] = self.leads_to[self.leads_to[piece] as usize];
            piece = self.leads_to[piece] as usize;
        }
        piece
    }

    /// Measures every shape; the place in the list is what `shape_at` answers with.
    pub fn measured(mut self) -> MeasuredShapes {
        let mut index_of_root = vec![u32::MAX; self.pieces.len()];
        let mut shapes: Vec<Shape> = Vec::new();
        let mut sums: Vec<(u64, u64)> = Vec::new();
        let mut of_piece = Vec::with_capacity(self.pieces.len());
        for index in 0..self.pieces.len() {
            let root = self.root(index);
            if index_of_root[root] == u32::MAX {
                index_of_root[root] = shapes.len() as u32;
                shapes.push(Shape::starting_at(&self.pieces[index]));
                sums.push((0, 0));
            }
            let shape = index_of_root[root];
            of_piece.push(shape);
            shapes[shape as usize].add(&self.pieces[index], &mut sums[shape as usize]);
        }
        for (shape, (x, y)) in shapes.iter_mut().zip(sums) {
            shape.centre = (x as f64 / 2.0 / f64::from(shape.area), y as f64 / f64::from(shape.area));
        }
        MeasuredShapes { shapes, pieces: self.pieces, line_starts: self.line_starts, of_piece }
    }
}

impl Shape {
    fn starting_at(piece: &Piece) -> Self {
        Shape { x: piece.first, y: piece.y, ..Shape::default() }
    }

    fn add(&mut self, piece: &Piece, sums: &mut (u64, u64)) {
        let right = (self.x + self.width).max(piece.end);
        self.x = self.x.min(piece.first);
        self.width = right - self.x;
        self.height = piece.y + 1 - self.y;
        let length = piece.end - piece.first;
        self.area += length;
        sums.0 += u64::from(length) * u64::from(piece.first + piece.end - 1);
        sums.1 += u64::from(length) * u64::from(piece.y);
    }
}

/// Shapes with their measures.
pub struct MeasuredShapes {
    pub shapes: Vec<Shape>,
    pieces: Vec<Piece>,
    line_starts: Vec<usize>,
    of_piece: Vec<u32>,
}

impl MeasuredShapes {
    /// Index of the shape at a pixel.
    pub fn shape_at(&self, x: u32, y: u32) -> Option<usize> {
        let line = self.line_of(y);
        let after = self.pieces[line.clone()].partition_point(|piece| piece.first <= x);
        let index = line.start + after.checked_sub(1)?;
        (self.pieces[index].end > x).then(|| self.of_piece[index] as usize)
    }

    /// How many pixels of a shape lie in a box.
    pub fn pixels_in(&self, shape: usize, columns: (u32, u32), lines: (u32, u32)) -> u32 {
        let of_line = |y: u32| -> u32 {
            self.line_of(y)
                .filter(|index| self.of_piece[*index] as usize == shape)
                .map(|index| &self.pieces[index])
                .map(|piece| piece.end.min(columns.1).saturating_sub(piece.first.max(columns.0)))
                .sum()
        };
        (lines.0..lines.1).map(of_line).sum()
    }

    fn line_of(&self, y: u32) -> std::ops::Range<usize> {
        let start = self.line_starts.get(y as usize).copied().unwrap_or(self.pieces.len());
        start..self.line_starts.get(y as usize + 1).copied().unwrap_or(self.pieces.len())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ring_and_its_disc_are_two_shapes() {
        let picture = ["..####..", ".#....#.", "#..##..#", "#..##..#", ".#....#.", "..####.."];
        let mut shapes = Shapes::default();
        for line in picture {
            let dark = |x: usize| line.as_bytes().get(x) == Some(&b'#');
            let starts = (0..8_usize).filter(|x| dark(*x) && (*x == 0 || !dark(x - 1)));
            let piece = |x: usize| (x as u32, (x..=8).find(|x| !dark(*x)).unwrap_or(8) as u32);
            shapes.add_line(&starts.map(piece).collect::<Vec<_>>());
        }
        let found = shapes.measured();
        // Counted in the drawing above.
        assert_eq!(found.shapes.iter().map(|shape| shape.area).collect::<Vec<_>>(), [16, 4]);
        assert_eq!((found.shapes[0].width, found.shapes[0].height), (8, 6));
        assert_eq!(found.shapes[1].centre, (3.5, 2.5));
        assert_eq!((found.shape_at(3, 2), found.shape_at(0, 2), found.shape_at(2, 2)), (Some(1), Some(0), None));
        assert_eq!(found.pixels_in(0, (0, 3), (0, 3)), 3);
    }
}
