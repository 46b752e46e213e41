//! How figures write numbers: true minus signs, a unit, and no more digits than help.

use crate::stats::Interval;

/// Decimals that suit a scale: none on a 100 mm line, one on a short scale.
pub fn decimals_for(scale_maximum: f64) -> usize {
    if scale_maximum > 30.0 { 0 } else { 1 }
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

/// A confidence level such as "95 %", with decimals only where it has some.
pub fn percent(share: f64) -> String {
    let rounded = (share * 1000.0).round() / 10.0;
    format!("{rounded} %")
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
        assert_eq!(percent(1.0 - 0.05), "95 %");
        assert_eq!(percent(1.0 - 2.0 * 0.05), "90 %");
        assert_eq!(percent(1.0 - 0.005), "99.5 %");
    }

    #[test]
    fn lists_end_in_and() {
        assert_eq!(listed(&["a".into(), "b".into(), "c".into()]), "a, b and c");
        assert_eq!(counted(1, "attribute", "attributes"), "1 attribute");
    }
}
