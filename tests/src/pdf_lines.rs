//! Straight lines of a PDF in millimetres, so that what a browser prints can be measured. Knows just enough of PDF for
//! pages that Chromium writes: deflated content streams, `cm`, `q`, `Q`, `m`, `l`, `S`; it is no general reader.

use likeness_core::plan::ballot::geometry::LINE_LENGTH_MM;

/// A stroked straight line on the paper, in mm from the lower left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintedLine {
    pub x1_mm: f64,
    pub y1_mm: f64,
    pub x2_mm: f64,
    pub y2_mm: f64,
}

impl PrintedLine {
    pub fn length_mm(&self) -> f64 {
        (self.x2_mm - self.x1_mm).hypot(self.y2_mm - self.y1_mm)
    }

    pub fn is_horizontal(&self) -> bool {
        (self.y2_mm - self.y1_mm).abs() < 0.01
    }
}

/// The lines of every content stream that has any, in the order of the file: one entry a page for plain documents.
pub fn printed_lines(pdf: &[u8]) -> Vec<Vec<PrintedLine>> {
    streams(pdf)
        .iter()
        .map(|stream| lines_of(&String::from_utf8_lossy(stream)))
        .filter(|lines| !lines.is_empty())
        .collect()
}

/// Width and height of each page in mm, from its MediaBox.
pub fn page_sizes_mm(pdf: &[u8]) -> Vec<(f64, f64)> {
    let text = String::from_utf8_lossy(pdf);
    let of_box = |part: &str| {
        let (inside, _) = part.trim_start().strip_prefix('[')?.split_once(']')?;
        let numbers: Vec<f64> = inside.split_whitespace().filter_map(|number| number.parse().ok()).collect();
        (numbers.len() == 4)
            .then(|| ((numbers[2] - numbers[0]) * MM_PER_POINT, (numbers[3] - numbers[1]) * MM_PER_POINT))
    };
    text.split("/MediaBox").skip(1).filter_map(of_box).collect()
}

/// A PDF point is 1/72 inch.
const MM_PER_POINT: f64 = 25.4 / 72.0;

/// What multiplies a point: x' = a x + c y + e, y' = b x + d y + f.
type Matrix = [f64; 6];

fn streams(pdf: &[u8]) -> Vec<Vec<u8>> {
    let mut found = Vec::new();
    let mut rest = pdf;
    while let Some(start) = find(rest, b"stream") {
        let mut body = &rest[start + b"stream".len()..];
        body = body.strip_prefix(b"\r").unwrap_or(body);
        body = body.strip_prefix(b"\n").unwrap_or(body);
        let Some(end) = find(body, b"endstream") else { break };
        found.extend(miniz_oxide::inflate::decompress_to_vec_zlib(&body[..end]));
        rest = &body[end + b"endstream".len()..];
    }
    found
}

fn find(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).position(|window| window == wanted)
}

fn lines_of(content: &str) -> Vec<PrintedLine> {
    let mut matrix: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let (mut saved, mut numbers, mut path, mut lines) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for token in content.split_whitespace() {
        if let Ok(number) = token.parse::<f64>() {
            numbers.push(number);
            continue;
        }
        match (token, &numbers[..]) {
            ("q", _) => saved.push(matrix),
            ("Q", _) => matrix = saved.pop().unwrap_or(matrix),
            ("cm", [a, b, c, d, e, f]) => matrix = times([*a, *b, *c, *d, *e, *f], matrix),
            ("m", [x, y]) => path = vec![on_paper(matrix, *x, *y)],
            ("l", [x, y]) => path.push(on_paper(matrix, *x, *y)),
            ("S", _) => {
                for ends in path.windows(2) {
                    lines.push(PrintedLine { x1_mm: ends[0].0, y1_mm: ends[0].1, x2_mm: ends[1].0, y2_mm: ends[1].1 });
                }
                path.clear();
            }
            // A curve is no straight line.
            ("c" | "v" | "y" | "h" | "f" | "f*" | "n", _) => path.clear(),
            _ => {}
        }
        numbers.clear();
    }
    lines
}

fn times(first: Matrix, second: Matrix) -> Matrix {
    let [a, b, c, d, e, f] = first;
    let [p, q, r, s, t, u] = second;
    [a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u]
}

fn on_paper(matrix: Matrix, x: f64, y: f64) -> (f64, f64) {
    let [a, b, c, d, e, f] = matrix;
    ((a * x + c * y + e) * MM_PER_POINT, (b * x + d * y + f) * MM_PER_POINT)
}

/// The level lines of a ballot page that are as long as a line to mark: those of its rows and the check bar.
///
/// # Panics
/// When any level line but the one for remarks is longer or shorter than that by `tolerance_mm`, a failed test.
#[must_use]
pub fn lines_to_scale(lines: &[PrintedLine], tolerance_mm: f64) -> Vec<&PrintedLine> {
    let is_to_scale = |line: &&PrintedLine| (line.length_mm() - LINE_LENGTH_MM).abs() < tolerance_mm;
    let (to_scale, others): (Vec<_>, Vec<_>) = lines.iter().filter(|line| line.is_horizontal()).partition(is_to_scale);
    assert_eq!(others.len(), 1, "the line for remarks and no other: {others:?}");
    to_scale
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_measured_through_its_matrices() {
        // 72 points are an inch; a scale of 2 makes 36 units of it, and Q takes the scale away again.
        let lines = lines_of("q 2 0 0 2 10 10 cm 0 0 m 36 0 l S Q 0 0 m 0 72 l S 0 0 m 1 1 2 2 3 3 c S");
        assert_eq!(lines.len(), 2);
        assert!((lines[0].length_mm() - 25.4).abs() < 1e-9 && lines[0].is_horizontal());
        assert!((lines[1].length_mm() - 25.4).abs() < 1e-9 && !lines[1].is_horizontal());
    }
}
