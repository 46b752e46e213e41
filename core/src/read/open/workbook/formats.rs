//! What a number format of a spreadsheet says about the number: a date, or a code with zeros in front.
//! It knows nothing of files.

/// How a number is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::read) struct NumberFormat {
    pub is_date: bool,
    /// Digits in front to which zeros are filled up, as in `000`; 0 where the format says nothing.
    pub digits: usize,
}

/// A format that spreadsheets have built in, by its number (ECMA-376 part 1, 18.8.30; 27 to 36 and 50 to 58 are dates
/// in East Asian versions).
pub(in crate::read) fn built_in(number: u32) -> NumberFormat {
    let is_date = matches!(number, 14..=22 | 27..=36 | 45..=47 | 50..=58);
    NumberFormat { is_date, digits: 0 }
}

/// A format by its code, such as `yyyy-mm-dd` or `000`.
pub(in crate::read) fn by_code(code: &str) -> NumberFormat {
    let plain = without_literals(code);
    let is_general = plain.to_ascii_lowercase().contains("general");
    let is_date = !is_general && plain.contains(|c: char| "dmyhsDMYHS".contains(c));
    let zeros = !plain.is_empty() && plain.bytes().all(|byte| byte == b'0');
    NumberFormat { is_date, digits: if zeros { plain.len().min(20) } else { 0 } }
}

/// A day counted as spreadsheets do, as text: 45000.5 is 2023-03-15 12:00.
pub(in crate::read) fn date_text(serial: f64, from_1904: bool) -> Option<String> {
    if !(0.0..2_958_466.0).contains(&serial) {
        return None;
    }
    let minutes_in_all = (serial * 1440.0).round() as i64;
    let (days, minutes) = (minutes_in_all.div_euclid(1440), minutes_in_all.rem_euclid(1440));
    let time = format!("{:02}:{:02}", minutes / 60, minutes % 60);
    if days == 0 && !from_1904 {
        return Some(time);
    }
    // Day 60 of the system from 1900 is a 29 February that never was.
    let before_1970 = match (from_1904, days) {
        (true, _) => 24_107,
        (false, ..60) => 25_568,
        (false, _) => 25_569,
    };
    let date = civil(days - before_1970);
    Some(if minutes == 0 { date } else { format!("{date} {time}") })
}

/// The date of a day counted from 1970-01-01 (Hinnant, "chrono-compatible low-level date algorithms").
fn civil(day: i64) -> String {
    let shifted = day + 719_468;
    let era = shifted.div_euclid(146_097);
    let day_of_era = shifted.rem_euclid(146_097);
    let year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * day_of_year + 2) / 153;
    let day_of_month = day_of_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 { month_from_march + 3 } else { month_from_march - 9 };
    let year = year_of_era + era * 400 + i64::from(month <= 2);
    format!("{year:04}-{month:02}-{day_of_month:02}")
}

/// A format code without quoted words, escaped signs and what stands in brackets (colours, conditions, locales).
fn without_literals(code: &str) -> String {
    let first = code.split(';').next().unwrap_or(code);
    let mut plain = String::new();
    let mut signs = first.chars();
    while let Some(sign) = signs.next() {
        match sign {
            '"' => while signs.next().is_some_and(|next| next != '"') {},
            '[' => {
                let inside: String = signs.by_ref().take_while(|next| *next != ']').collect();
                // Hours, minutes or seconds counted beyond a day stand in brackets as well.
                if !inside.is_empty() && inside.chars().all(|c| "hmsHMS".contains(c)) {
                    plain.push_str(&inside);
                }
            }
            '\\' | '_' | '*' => {
                signs.next();
            }
            other => plain.push(other),
        }
    }
    plain.trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_are_told_from_numbers_by_their_format() {
        for code in ["yyyy-mm-dd", "d/m/yy", "[$-407]d. mmmm yyyy", "[h]:mm", "h:mm AM/PM", "DD.MM.YYYY"] {
            assert!(by_code(code).is_date, "{code}");
        }
        for code in ["General", "0.00", "#,##0", "0.0\" mm\"", "[Red]0", "0\\d", "0.00E+00", "@", "", "000"] {
            assert!(!by_code(code).is_date, "{code}");
        }
        assert!(built_in(14).is_date && !built_in(2).is_date);
        assert_eq!((by_code("000").digits, by_code("0").digits, by_code("0.0").digits), (3, 1, 0));
    }

    #[test]
    fn days_are_counted_as_spreadsheets_count_them() {
        // By hand: 1970-01-01 is day 25569 of the system from 1900 and day 24107 of that from 1904.
        assert_eq!(date_text(25_569.0, false).as_deref(), Some("1970-01-01"));
        assert_eq!(date_text(24_107.0, true).as_deref(), Some("1970-01-01"));
        assert_eq!(date_text(1.0, false).as_deref(), Some("1900-01-01"));
        assert_eq!(date_text(61.0, false).as_deref(), Some("1900-03-01"));
        assert_eq!(date_text(45_000.5, false).as_deref(), Some("2023-03-15 12:00"));
        assert_eq!(date_text(0.25, false).as_deref(), Some("06:00"));
        assert_eq!(date_text(-1.0, false), None);
        assert_eq!(date_text(f64::NAN, false), None);
    }
}
