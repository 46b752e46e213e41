//! How figures write numbers: true minus signs, a unit, and no more digits than help.

use crate::stats::Interval;

/// Decimals that suit a scale: none on a 100 mm line, one on a short scale.
pub fn decimals_for(scale_maximum: f64) -> usize {
    if scale_maximum > 30.0 { 0 } else { 1 }
}

/// The fewest decimals, up to four, that tell all these values of an axis exactly.
pub fn decimals_of(values: &[f64]) -> usize {
    let tells = |decimals: &usize| {
        let factor = [1.0, 10.0, 100.0, 1000.0, 10_000.0][*decimals];
        values.iter().all(|value| (value * factor - (value * factor).round()).abs() < 1e-6)
    };
    (0..=4).find(tells).unwrap_or(4)
}

/// A number with a true minus sign and without negative zero.
pub fn plain(value: f64, decimals: usize) -> String {
    let written = format!("{:.decimals$}", value.abs());
    let is_zero = written.chars().all(|letter| letter == '0' || letter == '.');
    if value < 0.0 && !is_zero { format!("−{written}") } else { written }
}

/// The same with a plus sign for what is above zero as written.
pub fn signed(value: f64, decimals: usize) -> String {
    let written = plain(value, decimals);
    let is_zero = written.chars().all(|letter| letter == '0' || letter == '.');
    if value > 0.0 && !is_zero { format!("+{written}") } else { written }
}

/// An interval in words: "9 to 19".
pub fn interval(interval: Interval, decimals: usize) -> String {
    format!("{} to {}", plain(interval.lower, decimals), plain(interval.upper, decimals))
}

/// A confidence level such as "95 %", with decimals only where it has some and a no-break space.
pub fn percent(share: f64) -> String {
    let rounded = (share * 1000.0).round() / 10.0;
    format!("{rounded}\u{a0}%")
}

/// "1 attribute", "2 attributes".
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// "a", "a and b", "a, b and c".
pub fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_true_minus_signs_and_no_negative_zero() {
        assert_eq!(plain(-3.4, 0), "−3");
        assert_eq!(plain(-0.2, 0), "0");
        assert_eq!(signed(14.2, 0), "+14");
        assert_eq!(signed(0.2, 0), "0");
        assert_eq!(signed(-0.04, 1), "0.0");
        assert_eq!(interval(Interval { lower: -9.0, upper: 19.0 }, 0), "−9 to 19");
    }

    #[test]
    fn levels_show_decimals_only_where_they_have_some() {
        assert_eq!(percent(1.0 - 0.05), "95\u{a0}%");
        assert_eq!(percent(1.0 - 2.0 * 0.05), "90\u{a0}%");
        assert_eq!(percent(1.0 - 0.005), "99.5\u{a0}%");
    }

    #[test]
    fn axis_values_get_the_decimals_that_they_need() {
        assert_eq!(decimals_of(&[0.0, 20.0, 40.0]), 0);
        assert_eq!(decimals_of(&[0.0, 2.5, 5.0]), 1);
        assert_eq!(decimals_of(&[-0.25, 0.0, 0.25]), 2);
    }

    #[test]
    fn lists_end_in_and() {
        assert_eq!(listed(&["a".into(), "b".into(), "c".into()]), "a, b and c");
        assert_eq!(counted(1, "attribute", "attributes"), "1 attribute");
    }
}
