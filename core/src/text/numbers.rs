//! Numbers as people read them: sensible digits, units by the caller.
//!
//! Text of reports and tables has a plain hyphen for the minus sign, which whoever sets it may replace; what is called
//! `shown` has the true minus sign and no-break spaces, as labels of figures need them.

use crate::numeric::tolerance::{is_same_number, is_whole};

/// Decimals that suit a score in a sentence or a label: none on scales of 50 and more, one below. Tables have one more.
pub fn decimals_in_words(scale_maximum: f64) -> usize {
    if scale_maximum >= 50.0 { 0 } else { 1 }
}

/// A score, mean or difference in a table: one decimal on scales of 50 and more, two below.
pub fn score(value: f64, scale_maximum: f64) -> String {
    fixed(value, decimals_in_words(scale_maximum) + 1)
}

/// The same with a sign, for differences.
pub fn signed_score(value: f64, scale_maximum: f64) -> String {
    signed(value, decimals_in_words(scale_maximum) + 1)
}

/// A score in a sentence: one decimal less than in a table, unless that would hide everything.
pub fn score_in_words(value: f64, scale_maximum: f64) -> String {
    let short = fixed(value, decimals_in_words(scale_maximum));
    if is_zero(&short) && !is_same_number(value, 0.0) { score(value, scale_maximum) } else { short }
}

/// A p-value: three decimals, "< 0.001" below that.
pub fn p_value(p: f64) -> String {
    if p < 0.001 { "< 0.001".to_owned() } else { fixed(p, 3) }
}

/// A test statistic or degrees of freedom: whole where whole, else `decimals` digits.
pub fn statistic(value: f64, decimals: usize) -> String {
    let decimals = if is_whole(value) && value.abs() < 1e9 { 0 } else { decimals };
    fixed(value, decimals)
}

/// A number as a person would type it: three decimals at most, none idle.
pub fn typed(value: f64) -> String {
    let text = statistic(value, 3);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A share of one as "95 %" or "99.5 %".
pub fn percent(share: f64) -> String {
    format!("{} %", statistic(100.0 * share, 1))
}

/// A share of one in whole percent, halves up: "13 %".
pub fn whole_percent(share: f64) -> String {
    format!("{} %", fixed((100.0 * share).round(), 0))
}

/// A share of one with so many decimals, idle ones too: "95.0 %".
pub fn percent_fixed(share: f64, decimals: usize) -> String {
    format!("{} %", fixed(100.0 * share, decimals))
}

/// 12 000 with a narrow no-break space, as ISO 80000-1 groups digits; four digits stay together.
pub fn grouped(count: usize) -> String {
    let digits = count.to_string();
    let mut out = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) && digits.len() > 4 {
            out.push('\u{202f}');
        }
        out.push(digit);
    }
    out
}

/// Fixed decimals without "-0.0".
pub fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if is_zero(rest) => rest.to_owned(),
        _ => text,
    }
}

/// The same with a plus sign for what is above zero as written.
pub fn signed(value: f64, decimals: usize) -> String {
    let text = fixed(value, decimals);
    if value > 0.0 && !is_zero(&text) { format!("+{text}") } else { text }
}

/// Fixed decimals with a true minus sign.
pub fn shown(value: f64, decimals: usize) -> String {
    with_minus_sign(&fixed(value, decimals))
}

/// The same with a plus sign for what is above zero as written.
pub fn shown_signed(value: f64, decimals: usize) -> String {
    with_minus_sign(&signed(value, decimals))
}

/// Two ends: "9 to 19".
pub fn shown_span(lower: f64, upper: f64, decimals: usize) -> String {
    format!("{} to {}", shown(lower, decimals), shown(upper, decimals))
}

/// A share of one, with a no-break space before the sign.
pub fn shown_percent(share: f64) -> String {
    percent(share).replace(' ', "\u{a0}")
}

/// The fewest decimals, up to four, that tell all these values of an axis exactly.
pub fn axis_decimals(values: &[f64]) -> usize {
    /// Values of an axis are multiples of a round step, so that six digits tell them from their neighbours.
    const STEP_ERROR: f64 = 1e-6;
    let tells = |decimals: &usize| {
        let factor = [1.0, 10.0, 100.0, 1000.0, 10_000.0][*decimals];
        values.iter().all(|value| (value * factor - (value * factor).round()).abs() < STEP_ERROR)
    };
    (0..=4).find(tells).unwrap_or(4)
}

/// A number with the true minus sign in place of the hyphen.
pub fn with_minus_sign(number: &str) -> String {
    number.replace('-', "\u{2212}")
}

fn is_zero(text: &str) -> bool {
    text.chars().all(|character| matches!(character, '0' | '.' | '-'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_as_people_write_them() {
        let cases = [
            (score(12.345, 100.0), "12.3"),
            (score(12.345, 15.0), "12.35"),
            (signed_score(4.0, 100.0), "+4.0"),
            (signed_score(-0.01, 100.0), "0.0"),
            (score_in_words(13.6, 100.0), "14"),
            (score_in_words(-0.3, 100.0), "-0.3"),
            (p_value(0.00042), "< 0.001"),
            (p_value(0.0416), "0.042"),
            (statistic(77.0, 2), "77"),
            (statistic(77.824, 1), "77.8"),
            (typed(12.5), "12.5"),
            (typed(0.05), "0.05"),
            (typed(100.0), "100"),
            (percent(1.0 - 2.0 * 0.05), "90 %"),
            (percent_fixed(0.25, 1), "25.0 %"),
            (whole_percent(0.125), "13 %"),
            (grouped(1200), "1200"),
            (grouped(1_234_567), "1\u{202f}234\u{202f}567"),
        ];
        for (got, expected) in cases {
            assert_eq!(got, expected);
        }
    }

    #[test]
    fn shown_numbers_have_true_minus_signs_and_no_negative_zero() {
        assert_eq!(shown(-3.4, 0), "−3");
        assert_eq!(shown(-0.2, 0), "0");
        assert_eq!(shown_signed(14.2, 0), "+14");
        assert_eq!(shown_signed(0.2, 0), "0");
        assert_eq!(shown_signed(-0.04, 1), "0.0");
        assert_eq!(shown_span(-9.0, 19.0, 0), "−9 to 19");
    }

    #[test]
    fn levels_show_decimals_only_where_they_have_some() {
        assert_eq!(shown_percent(1.0 - 0.05), "95\u{a0}%");
        assert_eq!(shown_percent(1.0 - 2.0 * 0.05), "90\u{a0}%");
        assert_eq!(shown_percent(1.0 - 0.005), "99.5\u{a0}%");
    }

    #[test]
    fn axis_values_get_the_decimals_that_they_need() {
        assert_eq!(axis_decimals(&[0.0, 20.0, 40.0]), 0);
        assert_eq!(axis_decimals(&[0.0, 2.5, 5.0]), 1);
        assert_eq!(axis_decimals(&[-0.25, 0.0, 0.25]), 2);
    }

    #[test]
    fn sentences_and_tables_change_their_decimals_at_the_same_scale() {
        for (scale, words, table) in [(100.0, "12", "12.3"), (50.0, "12", "12.3"), (40.0, "12.3", "12.34")] {
            assert_eq!([score_in_words(12.34, scale), score(12.34, scale)], [words, table]);
            assert_eq!(shown(12.34, decimals_in_words(scale)), words);
        }
    }
}
