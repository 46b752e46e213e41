//! One cell of a score column: a number, nothing, or something that is no number. It knows nothing of tables.

use crate::read::options::DecimalMark;

/// What stands in a cell where a score is expected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::read) enum ScoreCell {
    Score(f64),
    Missing,
    NotANumber(NotANumber),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum NotANumber {
    Date,
    /// `#REF!`, `#N/A`, `Err:502` and their like.
    SheetError,
    Text,
}

/// What a cell's separators say about the decimal mark of its column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum MarkEvidence {
    /// No separators, or no number.
    None,
    Sure(DecimalMark),
    /// One separator with three digits behind it, such as 1,234: decimals or thousands.
    Either,
}

/// Signs that stand for "no score" (common practice), in lower case.
const MISSING_WORDS: [&str; 11] = ["", "-", "--", ".", "na", "n/a", "n.a.", "nan", "null", "none", "missing"];

pub(in crate::read) fn score_cell(cell: &[u8], mark: DecimalMark) -> ScoreCell {
    match plain_number(cell, mark).or_else(|| any_number(cell, mark)) {
        Some(score) => ScoreCell::Score(score),
        None if is_missing(cell) => ScoreCell::Missing,
        None => ScoreCell::NotANumber(kind_of_text(cell)),
    }
}

/// Whether a cell says that there is no score.
pub(in crate::read) fn is_missing(cell: &[u8]) -> bool {
    // No such sign begins with a digit, and nearly every cell does.
    !cell.first().is_some_and(u8::is_ascii_digit)
        && MISSING_WORDS.iter().any(|word| cell.eq_ignore_ascii_case(word.as_bytes()))
}

/// The number in a cell by either decimal mark: for telling columns of numbers from columns of words.
pub(in crate::read) fn looks_like_number(cell: &[u8]) -> bool {
    number_by_either(cell).is_some()
}

/// Whether a cell holds plain words: no number, date or spreadsheet error, and not a sign for "no score".
pub(in crate::read) fn is_word(cell: &[u8]) -> bool {
    !is_missing(cell) && !looks_like_number(cell) && kind_of_text(cell) == NotANumber::Text
}

/// A whole number, as for replicates and positions; "2.0" and "2,0" are 2.
pub(in crate::read) fn whole_number(cell: &[u8]) -> Option<u32> {
    let number = number_by_either(cell)?;
    let whole = number.fract().abs() < crate::numeric::tolerance::SAME_NUMBER && (0.0..1e9).contains(&number);
    whole.then_some(number as u32)
}

fn number_by_either(cell: &[u8]) -> Option<f64> {
    let number = |mark| plain_number(cell, mark).or_else(|| any_number(cell, mark));
    number(DecimalMark::Point).or_else(|| number(DecimalMark::Comma))
}

pub(in crate::read) fn mark_evidence(cell: &[u8]) -> MarkEvidence {
    let points = cell.iter().filter(|byte| **byte == b'.').count();
    let commas = cell.iter().filter(|byte| **byte == b',').count();
    if points + commas == 0 {
        return MarkEvidence::None;
    }
    if let (1, Some(after)) = (points + commas, cell.iter().rposition(|byte| matches!(byte, b'.' | b','))) {
        // One mark that does not stand before three digits is a decimal mark: thousands come in threes.
        let mark = if points == 1 { DecimalMark::Point } else { DecimalMark::Comma };
        if cell.len() - after != 4 && plain_number(cell, mark).is_some() {
            return MarkEvidence::Sure(mark);
        }
    }
    match (any_number(cell, DecimalMark::Point), any_number(cell, DecimalMark::Comma)) {
        (Some(_), Some(_)) => MarkEvidence::Either,
        (Some(_), None) => MarkEvidence::Sure(DecimalMark::Point),
        (None, Some(_)) => MarkEvidence::Sure(DecimalMark::Comma),
        (None, None) => MarkEvidence::None,
    }
}

/// Exact powers of ten: a whole number below 2^53 divided by one of these is correctly rounded, since both are
/// exact and IEEE 754 division rounds once (Clinger 1990, "How to read floating point numbers accurately").
const POWERS_OF_TEN: [f64; 16] = [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

/// Digits with at most one decimal mark and at most 15 digits: nearly every score there is.
fn plain_number(cell: &[u8], mark: DecimalMark) -> Option<f64> {
    let (negative, digits) = match cell.first()? {
        b'-' => (true, &cell[1..]),
        b'+' => (false, &cell[1..]),
        _ => (false, cell),
    };
    let (mantissa, decimals) = mantissa_of(digits, mark.byte())?;
    let number = mantissa as f64 / POWERS_OF_TEN[decimals];
    Some(if negative { -number } else { number })
}

/// The digits as one whole number, and how many of them stand behind the mark. More than fit are refused in the end,
/// so that it does no harm if they run over before.
fn mantissa_of(digits: &[u8], mark: u8) -> Option<(u64, usize)> {
    let (mut mantissa, mut decimals, mut seen_mark) = (0_u64, 0, false);
    for byte in digits {
        if byte.is_ascii_digit() {
            mantissa = mantissa.wrapping_mul(10).wrapping_add(u64::from(byte - b'0'));
            decimals += usize::from(seen_mark);
        } else if *byte == mark && !seen_mark {
            seen_mark = true;
        } else {
            return None;
        }
    }
    let digit_count = digits.len() - usize::from(seen_mark);
    (1..=15).contains(&digit_count).then_some((mantissa, decimals))
}

/// Any spelling of a number: exponents, many digits, a typographic minus, groups of thousands.
fn any_number(cell: &[u8], mark: DecimalMark) -> Option<f64> {
    if !cell.iter().any(u8::is_ascii_digit) || cell.len() > 60 {
        return None;
    }
    let text = std::str::from_utf8(cell).ok()?.replace('\u{2212}', "-");
    let (sign, unsigned) = match text.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", text.strip_prefix('+').unwrap_or(&text)),
    };
    let exponent_at = unsigned.find(['e', 'E']).unwrap_or(unsigned.len());
    let (body, exponent) = unsigned.split_at(exponent_at);
    let (whole, decimals) = body.split_once(mark.byte() as char).unwrap_or((body, ""));
    let whole = without_thousands(whole, mark.opposite().byte() as char)?;
    let digits_only = decimals.bytes().all(|byte| byte.is_ascii_digit());
    if !digits_only || whole.len() + decimals.len() == 0 || !is_exponent(exponent) {
        return None;
    }
    let number: f64 = format!("{sign}{whole}.{decimals}0{exponent}").parse().ok()?;
    number.is_finite().then_some(number)
}

fn is_exponent(text: &str) -> bool {
    let digits = text.get(1..).map(|rest| rest.strip_prefix(['+', '-']).unwrap_or(rest));
    digits.is_none_or(|digits| !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit()))
}

/// The digits before the decimal mark, with proper groups of three taken together.
fn without_thousands(whole: &str, mark: char) -> Option<String> {
    let group_sign = |c: char| c == mark || matches!(c, ' ' | '\u{a0}' | '\u{202f}' | '\'' | '\u{2019}');
    let groups: Vec<&str> = whole.split(group_sign).collect();
    let digits = groups.iter().all(|group| group.bytes().all(|byte| byte.is_ascii_digit()));
    let first_fits = groups.len() == 1 || (1..=3).contains(&groups[0].len()) && !groups[0].starts_with('0');
    let rest_fit = groups[1..].iter().all(|group| group.len() == 3);
    (digits && first_fits && rest_fit).then(|| groups.concat())
}

/// Whether two numbers of a file are the same: codes for "no score", ends of scales.
pub(in crate::read) fn is_same_number(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

fn kind_of_text(cell: &[u8]) -> NotANumber {
    let is_numbered = cell.strip_prefix(b"Err:").is_some_and(|rest| rest.iter().all(u8::is_ascii_digit));
    if is_numbered || (cell.first() == Some(&b'#') && cell.get(1).is_some_and(u8::is_ascii_uppercase)) {
        NotANumber::SheetError
    } else if is_date(cell) {
        NotANumber::Date
    } else {
        NotANumber::Text
    }
}

/// 12.05.2024, 2024-05-12, 5/12/24, 12-May, May-12, 12:30 and the like.
fn is_date(cell: &[u8]) -> bool {
    let text = String::from_utf8_lossy(cell).to_lowercase();
    let day = text.split([' ', 't']).next().unwrap_or("");
    let parts: Vec<&str> = day.split(['.', '/', '-', ':']).collect();
    let number = |part: &&str| (1..=4).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit());
    let month = |part: &&str| MONTHS.iter().any(|name| part.starts_with(name) && part.len() <= 10);
    let numbers = parts.iter().filter(|part| number(part)).count();
    let months = parts.iter().filter(|part| month(part)).count();
    (2..=3).contains(&parts.len())
        && numbers + months == parts.len()
        && (parts.len() == 3 || months == 1 || day.contains([':', '/']))
}

/// First three letters of the months in English, and where they differ in German, French and Spanish.
const MONTHS: [&str; 26] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec", "mär", "mai", "okt", "dez",
    "fév", "avr", "juin", "juil", "aoû", "déc", "ene", "abr", "ago", "dic",
];

impl DecimalMark {
    /// The mark as it stands in a cell.
    pub fn byte(self) -> u8 {
        match self {
            DecimalMark::Point => b'.',
            DecimalMark::Comma => b',',
        }
    }

    /// The mark that then parts the thousands.
    pub fn opposite(self) -> Self {
        match self {
            DecimalMark::Point => DecimalMark::Comma,
            DecimalMark::Comma => DecimalMark::Point,
        }
    }
}
