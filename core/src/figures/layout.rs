//! Placing things: round axis values, boxes that keep apart, words that flow in lines.
//!
//! Knows lengths only, neither studies nor colours.

/// Round values from at or below `lower` to at or above `upper`, with about `wanted` steps of 1, 2, 2.5 or 5 times a
/// power of ten. The range is widened where it has no length.
pub fn round_values(lower: f64, upper: f64, wanted: usize) -> Vec<f64> {
    let span = (upper - lower).max(1e-9);
    let step = round_step(span / wanted.max(1) as f64);
    let (first, last) = ((lower / step + 1e-9).floor() as i64, (upper / step - 1e-9).ceil() as i64);
    (first..=last.max(first + 1)).map(|index| index as f64 * step).collect()
}

/// The next round step at or above a length.
fn round_step(length: f64) -> f64 {
    let power = 10f64.powi(length.log10().floor() as i32);
    let multiples = [1.0, 2.0, 2.5, 5.0, 10.0];
    multiples.iter().map(|multiple| multiple * power).find(|step| *step >= length * 0.999).unwrap_or(10.0 * power)
}

/// Middles of boxes in a column that keep apart by `gap` and lie as near to where they are wanted as that allows
/// (least squares). `wanted` must be in ascending order; one height a box.
pub fn keep_apart(wanted: &[f64], heights: &[f64], gap: f64) -> Vec<f64> {
    // With each box's room below its forerunners taken off, keeping apart means not descending: pool what descends.
    let mut offsets = Vec::with_capacity(wanted.len());
    let mut room = 0.0;
    for (index, height) in heights.iter().enumerate() {
        if index > 0 {
            room += (heights[index - 1] + height) / 2.0 + gap;
        }
        offsets.push(room);
    }
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (place, offset) in wanted.iter().zip(&offsets) {
        pools.push((place - offset, 1));
        while let [.., (before, before_count), (last, last_count)] = pools[..]
            && before > last
        {
            let count = before_count + last_count;
            let mean = (before * before_count as f64 + last * last_count as f64) / count as f64;
            pools.truncate(pools.len() - 2);
            pools.push((mean, count));
        }
    }
    let levels = pools.iter().flat_map(|&(level, count)| std::iter::repeat_n(level, count));
    levels.zip(&offsets).map(|(level, offset)| level + offset).collect()
}

/// Lines of items that flow like words: for each item its line and its distance from the left.
pub fn flow(widths: &[f64], room: f64, gap: f64) -> Vec<(usize, f64)> {
    let mut placed = Vec::with_capacity(widths.len());
    let (mut line, mut left) = (0, 0.0);
    for &width in widths {
        if left > 0.0 && left + width > room {
            line += 1;
            left = 0.0;
        }
        placed.push((line, left));
        left += width + gap;
    }
    placed
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn axis_values_are_round() {
        assert_eq!(round_values(0.0, 78.0, 4), [0.0, 20.0, 40.0, 60.0, 80.0]);
        assert_eq!(round_values(-13.0, 22.0, 4), [-20.0, -10.0, 0.0, 10.0, 20.0, 30.0]);
        assert_eq!(round_values(0.0, 9.0, 3), [0.0, 5.0, 10.0]);
    }

    #[test]
    fn a_range_without_length_still_has_an_axis() {
        assert!(round_values(3.0, 3.0, 4).len() >= 2);
    }

    #[test]
    fn boxes_that_have_room_stay() {
        assert_eq!(keep_apart(&[0.0, 20.0, 40.0], &[10.0; 3], 2.0), [0.0, 20.0, 40.0]);
    }

    #[test]
    fn boxes_that_collide_move_apart_around_their_middle() {
        assert_eq!(keep_apart(&[10.0, 10.0], &[10.0; 2], 2.0), [4.0, 16.0]);
    }

    #[test]
    fn boxes_never_collide() {
        let wanted = [0.0, 1.0, 1.5, 30.0, 31.0, 31.0, 80.0];
        let heights = [12.0, 24.0, 12.0, 12.0, 36.0, 12.0, 12.0];
        let placed = keep_apart(&wanted, &heights, 3.0);
        for index in 1..placed.len() {
            let room = (heights[index - 1] + heights[index]) / 2.0 + 3.0;
            assert!(placed[index] - placed[index - 1] >= room - 1e-9);
        }
    }

    #[test]
    fn items_flow_in_lines() {
        assert_eq!(flow(&[40.0, 40.0, 40.0], 90.0, 5.0), [(0, 0.0), (0, 45.0), (1, 0.0)]);
        assert_eq!(flow(&[400.0, 40.0], 90.0, 5.0), [(0, 0.0), (1, 0.0)]);
    }
}
