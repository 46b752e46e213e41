//! Placing things: round axis values, boxes that keep apart, words that flow in lines.
//!
//! Knows lengths only, neither studies nor colours.

use super::primitives::{Point, Rectangle};
use crate::numeric::tolerance::{SAME_NUMBER, SMALLEST_LENGTH};

/// Round values from at or below `lower` to at or above `upper`, with about `wanted` steps of 1, 2, 2.5 or 5 times a
/// power of ten. The range is widened where it has no length.
pub fn round_values(lower: f64, upper: f64, wanted: usize) -> Vec<f64> {
    let span = (upper - lower).max(SMALLEST_LENGTH);
    let step = round_step(span / wanted.max(1) as f64);
    let (first, last) = ((lower / step + SAME_NUMBER).floor() as i64, (upper / step - SAME_NUMBER).ceil() as i64);
    (first..=last.max(first + 1)).map(|index| index as f64 * step).collect()
}

/// The next round step at or above a length.
fn round_step(length: f64) -> f64 {
    let power = libm::pow(10.0, libm::log10(length).floor());
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

/// Something that wants its name beside it.
pub struct Named {
    /// Middle of what is named.
    pub at: Point,
    /// Radius that what is drawn there takes.
    pub reach_px: f64,
    /// Width of the name.
    pub width_px: f64,
    /// Height of the name.
    pub height_px: f64,
    /// Direction in which the name had best stand, of any length; no length for no preference.
    pub away: Point,
}

/// Places names near what they name, clear of each other, of `taken` and of all that is named, inside `bounds`; earlier ones
/// choose first. `None` where there is no free place within reach.
pub fn place_beside(named: &[Named], taken: &[Rectangle], bounds: Rectangle) -> Vec<Option<Rectangle>> {
    let drawn = |one: &Named| {
        let reach = one.reach_px;
        Rectangle::new(one.at.x - reach, one.at.y - reach, 2.0 * reach, 2.0 * reach)
    };
    let mut blocked: Vec<Rectangle> = taken.iter().copied().chain(named.iter().map(drawn)).collect();
    let mut placed = Vec::with_capacity(named.len());
    for one in named {
        let is_free = |area: &Rectangle| {
            let inside = area.left >= bounds.left
                && area.right() <= bounds.right()
                && area.top >= bounds.top
                && area.bottom() <= bounds.bottom();
            inside && blocked.iter().all(|other| !other.overlaps(area, 0.0))
        };
        let found = places_around(one).into_iter().find(is_free);
        blocked.extend(found);
        placed.push(found);
    }
    placed
}

/// Right, left, above, below and the corners; near before far, then towards the preferred side.
fn places_around(one: &Named) -> Vec<Rectangle> {
    let towards = |area: &Rectangle| {
        let (dx, dy) = (area.left + area.width / 2.0 - one.at.x, area.top + area.height / 2.0 - one.at.y);
        (dx * one.away.x + dy * one.away.y) / libm::hypot(dx, dy).max(SMALLEST_LENGTH)
    };
    let mut places = Vec::new();
    for gap in [2.0, 9.0, 18.0, 30.0] {
        let mut around = places_at(one, one.reach_px + gap);
        around.sort_by(|a, b| towards(b).total_cmp(&towards(a)));
        places.extend(around);
    }
    places
}

/// The eight places at a distance from the middle of what is named.
fn places_at(one: &Named, away: f64) -> [Rectangle; 8] {
    let (width, height) = (one.width_px, one.height_px);
    let (right, left) = (one.at.x + away, one.at.x - away - width);
    let (above, below) = (one.at.y - away - height, one.at.y + away);
    let (across, down) = (one.at.x - width / 2.0, one.at.y - height / 2.0);
    let corners = [
        (right, down),
        (left, down),
        (across, above),
        (across, below),
        (right, above),
        (right, below),
        (left, above),
        (left, below),
    ];
    corners.map(|(left, top)| Rectangle::new(left, top, width, height))
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
    fn names_find_places_clear_of_each_other() {
        let named: Vec<Named> = (0..6)
            .map(|index| Named {
                at: Point::new(100.0, 100.0 + f64::from(index)),
                reach_px: 3.0,
                width_px: 40.0,
                height_px: 12.0,
                away: Point::new(0.0, 0.0),
            })
            .collect();
        let bounds = Rectangle::new(0.0, 0.0, 200.0, 200.0);
        let placed: Vec<Rectangle> = place_beside(&named, &[], bounds).into_iter().flatten().collect();
        assert_eq!(placed.len(), 6);
        for (index, area) in placed.iter().enumerate() {
            assert!(placed[index + 1..].iter().all(|other| !other.overlaps(area, 0.0)));
        }
        assert!(place_beside(&named, &[bounds], bounds).iter().all(Option::is_none));
    }

    #[test]
    fn items_flow_in_lines() {
        assert_eq!(flow(&[40.0, 40.0, 40.0], 90.0, 5.0), [(0, 0.0), (0, 45.0), (1, 0.0)]);
        assert_eq!(flow(&[400.0, 40.0], 90.0, 5.0), [(0, 0.0), (1, 0.0)]);
    }
}
