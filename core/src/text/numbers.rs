//! Numbers as people read them: sensible digits, a true minus sign never, units by the caller.

/// A score, mean or difference: one decimal on scales of 50 and more, two below.
pub fn score(value: f64, scale_maximum: f64) -> String {
    fixed(value, if scale_maximum >= 50.0 { 1 } else { 2 })
}

/// The same with a sign, for differences.
pub fn signed_score(value: f64, scale_maximum: f64) -> String {
    let text = score(value, scale_maximum);
    if text.starts_with('-') || is_zero(&text) { text } else { format!("+{text}") }
}

/// A score in a sentence: one decimal less than in a table, unless that would hide everything.
pub fn score_in_words(value: f64, scale_maximum: f64) -> String {
    let short = fixed(value, if scale_maximum >= 50.0 { 0 } else { 1 });
    if is_zero(&short) && value.abs() > 1e-12 { score(value, scale_maximum) } else { short }
}

/// A p-value: three decimals, "< 0.001" below that.
pub fn p_value(p: f64) -> String {
    if p < 0.001 { "< 0.001".to_owned() } else { fixed(p, 3) }
}

/// A test statistic or degrees of freedom: whole where whole, else `decimals` digits.
pub fn statistic(value: f64, decimals: usize) -> String {
    if (value - value.round()).abs() < 1e-9 && value.abs() < 1e9 { fixed(value, 0) } else { fixed(value, decimals) }
}

/// A number as a person would type it: three decimals at most, no zeros at the end.
pub fn typed_number(value: f64) -> String {
    let text = statistic(value, 3);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// Fixed decimals without "-0.0".
pub fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if is_zero(rest) => rest.to_owned(),
        _ => text,
    }
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
        ];
        for (got, expected) in cases {
            assert_eq!(got, expected);
        }
    }
}
