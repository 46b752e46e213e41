//! Three-digit codes for cups: which may be used, which check themselves, how they are drawn. It knows nothing of
//! orders, sessions or ballots.
//!
//! A self-checking code ends in the check digit of its first two by the method of H. M. Damm (Total anti-symmetrische
//! Quasigruppen, doctoral thesis, Marburg 2004). Then any two codes differ in two digits or more and no code is
//! another with two neighbouring digits swapped, so a slip in writing or typing never turns one cup into another.
//!
//! How many there are, counted by the tests: of the 90 numbers from 100 to 999 that end in their check digit 65 have
//! no repeated digit; 210 is a run down, 158 and 403 are well known, and 62 are left.

use super::well_known_numbers::why_well_known;
use crate::numeric::random::Random;
use crate::plan::PlanError;
use serde::{Deserialize, Serialize};

/// Codes drawn for one study.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CodeSet {
    /// Three digits each, as text, in the order in which they were drawn.
    pub codes: Vec<String>,
    /// Whether each code ends in its check digit.
    pub self_checking: bool,
    /// What is lost where the codes don't check themselves, as a sentence.
    pub lost: Option<String>,
}

/// Why a number is no code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CodeFault {
    NotThreeDigits,
    BeginsWithZero,
    RepeatedDigit,
    Run,
    WellKnown { because: &'static str },
    WrongCheckDigit { expected: u8 },
    NotInThisStudy,
}

/// What can be said of a code at typing time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CodeCheck {
    CanExist {
        code: String,
    },
    CannotExist {
        text: String,
        fault: CodeFault,
        /// Codes that one wrong digit or one swap of neighbours away from this text, in their order.
        instead: Vec<String>,
    },
}

/// The check digit of some digits by Damm's table: 572 gives 4 (Damm 2004). Digits above 9 count by their last digit.
pub fn damm_digit(digits: &[u8]) -> u8 {
    digits.iter().fold(0, |interim, digit| DAMM_TABLE[interim as usize][(digit % 10) as usize])
}

/// Whether a text can be a self-checking code at all, whatever the study.
pub fn check_code(text: &str) -> CodeCheck {
    let text = text.trim();
    match three_digits(text).and_then(self_checking) {
        Ok(()) => CodeCheck::CanExist { code: text.to_owned() },
        Err(fault) => cannot_exist(text, fault, &self_checking_pool()),
    }
}

/// Whether a text is a code of this study. Says the most telling reason where it is not.
pub fn check_code_in(text: &str, set: &CodeSet) -> CodeCheck {
    let text = text.trim();
    if set.codes.iter().any(|code| code == text) {
        return CodeCheck::CanExist { code: text.to_owned() };
    }
    let rule = if set.self_checking { self_checking } else { plain };
    let fault = three_digits(text).and_then(rule).err().unwrap_or(CodeFault::NotInThisStudy);
    cannot_exist(text, fault, &set.codes)
}

/// What to say of a code that was never given: the one code that is a wrong digit or a swap of neighbours away, where
/// there is just one.
pub fn no_such_code(text: &str, codes: &[String]) -> String {
    let text = text.trim();
    let mut near: Vec<&String> = codes.iter().filter(|code| one_slip_apart(code, text)).collect();
    near.sort_unstable();
    near.dedup();
    match near.as_slice() {
        [code] => format!("No such code. Did you mean {code}?"),
        _ => "No such code. Look at the page again.".to_owned(),
    }
}

/// All self-checking codes, in their order.
pub fn self_checking_pool() -> Vec<String> {
    pool_where(self_checking)
}

/// All numbers that may be codes, self-checking or not, in their order.
pub fn plain_pool() -> Vec<String> {
    pool_where(plain)
}

/// Draws codes at random that were not used before in the study. Self-checking ones while there are enough; else all
/// are plain random codes and the set says what is lost.
///
/// # Errors
/// `TooManyCodes` where three digits leave fewer than wanted; `NotACode` where `used` holds something else.
pub fn draw_codes(wanted: usize, used: &[String], seed: u64) -> Result<CodeSet, PlanError> {
    if let Some(text) = used.iter().find(|text| three_digits(text).is_err()) {
        return Err(PlanError::NotACode { text: text.clone() });
    }
    let unused = |pool: Vec<String>| pool.into_iter().filter(|code| !used.contains(code)).collect::<Vec<_>>();
    let checking = unused(self_checking_pool());
    let checking_left = checking.len();
    let self_checking = wanted <= checking_left;
    let mut pool = if self_checking { checking } else { unused(plain_pool()) };
    if wanted > pool.len() {
        return Err(PlanError::TooManyCodes { wanted, left: pool.len() });
    }
    Random::seeded_for(seed, "codes").shuffle(&mut pool);
    pool.truncate(wanted);
    let lost = (!self_checking).then(|| what_is_lost(wanted, checking_left));
    Ok(CodeSet { codes: pool, self_checking, lost })
}

impl CodeCheck {
    /// Whether the text can be a code of the study.
    pub fn can_exist(&self) -> bool {
        matches!(self, CodeCheck::CanExist { .. })
    }

    /// One sentence for the person who typed.
    pub fn sentence(&self) -> String {
        match self {
            CodeCheck::CanExist { code } => format!("{code} can be a code."),
            CodeCheck::CannotExist { text, fault, instead } => {
                let mut sentence = format!("{text} can't exist: {}.", fault_in_words(*fault, text));
                if !instead.is_empty() {
                    sentence.push_str(&format!(" One slip away: {}.", instead.join(", ")));
                }
                sentence
            }
        }
    }
}

fn cannot_exist(text: &str, fault: CodeFault, known: &[String]) -> CodeCheck {
    let instead = known.iter().filter(|code| one_slip_apart(code, text)).cloned().collect();
    CodeCheck::CannotExist { text: text.to_owned(), fault, instead }
}

fn three_digits(text: &str) -> Result<[u8; 3], CodeFault> {
    let bytes: [u8; 3] = text.as_bytes().try_into().map_err(|_| CodeFault::NotThreeDigits)?;
    if !bytes.iter().all(u8::is_ascii_digit) {
        return Err(CodeFault::NotThreeDigits);
    }
    if bytes[0] == b'0' { Err(CodeFault::BeginsWithZero) } else { Ok(bytes.map(|byte| byte - b'0')) }
}

fn plain(digits: [u8; 3]) -> Result<(), CodeFault> {
    let [first, second, third] = digits.map(i16::from);
    if first == second || second == third || first == third {
        return Err(CodeFault::RepeatedDigit);
    }
    let steps = [second - first, third - second];
    if steps == [1, 1] || steps == [-1, -1] {
        return Err(CodeFault::Run);
    }
    match why_well_known((first * 100 + second * 10 + third) as u16) {
        Some(because) => Err(CodeFault::WellKnown { because }),
        None => Ok(()),
    }
}

fn self_checking(digits: [u8; 3]) -> Result<(), CodeFault> {
    plain(digits)?;
    let expected = damm_digit(&digits[..2]);
    if digits[2] == expected { Ok(()) } else { Err(CodeFault::WrongCheckDigit { expected }) }
}

fn pool_where(rule: impl Fn([u8; 3]) -> Result<(), CodeFault>) -> Vec<String> {
    (100..1000_u16)
        .filter(|number| rule([number / 100, number / 10 % 10, number % 10].map(|digit| digit as u8)).is_ok())
        .map(|number| number.to_string())
        .collect()
}

/// One digit written wrong, or two neighbours swapped.
fn one_slip_apart(code: &str, text: &str) -> bool {
    let (code, text) = (code.as_bytes(), text.as_bytes());
    if code.len() != text.len() {
        return false;
    }
    let differing: Vec<usize> = (0..code.len()).filter(|index| code[*index] != text[*index]).collect();
    match differing[..] {
        [_] => true,
        [left, right] => right == left + 1 && code[left] == text[right] && code[right] == text[left],
        _ => false,
    }
}

fn what_is_lost(wanted: usize, left: usize) -> String {
    format!(
        "{wanted} codes are wanted and only {left} self-checking ones are left, so all codes are plain random numbers. \
         Lost: a wrong digit or two swapped digits can turn one code into another, and the code box can't tell."
    )
}

fn fault_in_words(fault: CodeFault, text: &str) -> String {
    match fault {
        CodeFault::NotThreeDigits => "a code is three digits".to_owned(),
        CodeFault::BeginsWithZero => "no code begins with 0".to_owned(),
        CodeFault::RepeatedDigit => "no code repeats a digit".to_owned(),
        CodeFault::Run => "no code is a run of digits up or down".to_owned(),
        CodeFault::WellKnown { because } => format!("it is {because}"),
        CodeFault::WrongCheckDigit { expected } => {
            let begin: String = text.chars().take(2).collect();
            format!("a code that begins with {begin} ends with {expected}")
        }
        CodeFault::NotInThisStudy => "it is no code of this study".to_owned(),
    }
}

/// The quasigroup of order 10 of Damm 2004 that the published example 572 -> 4 uses.
const DAMM_TABLE: [[u8; 10]; 10] = [
    [0, 3, 1, 7, 5, 9, 8, 6, 4, 2],
    [7, 0, 9, 2, 1, 5, 4, 8, 6, 3],
    [4, 2, 0, 6, 8, 7, 1, 3, 5, 9],
    [1, 7, 5, 0, 9, 8, 3, 4, 2, 6],
    [6, 1, 2, 3, 0, 4, 5, 9, 7, 8],
    [3, 6, 7, 4, 2, 0, 9, 5, 8, 1],
    [5, 8, 6, 9, 7, 2, 0, 1, 3, 4],
    [8, 9, 4, 5, 3, 6, 2, 0, 1, 7],
    [9, 4, 3, 8, 6, 1, 7, 2, 0, 5],
    [2, 5, 8, 1, 4, 3, 6, 7, 9, 0],
];

#[cfg(test)]
mod tests {
    use super::*;

    fn digits(text: &str) -> Vec<u8> {
        text.bytes().map(|byte| byte - b'0').collect()
    }

    #[test]
    fn the_published_example_has_its_check_digit() {
        // Damm 2004: 572 -> 4, so 5724 checks to 0.
        assert_eq!(damm_digit(&[5, 7, 2]), 4);
        assert_eq!(damm_digit(&[5, 7, 2, 4]), 0);
    }

    #[test]
    fn the_table_is_a_totally_anti_symmetric_quasigroup() {
        // The definition in Damm 2004: a Latin square where (c*x)*y = (c*y)*x only for x = y, and x*y = y*x only for
        // x = y. These are the properties that find every wrong digit and every swap of neighbours.
        let star = |left: usize, right: usize| DAMM_TABLE[left][right] as usize;
        for left in 0..10 {
            for (x, y) in (0..10).flat_map(|x| (0..10).map(move |y| (x, y))).filter(|(x, y)| x != y) {
                assert_ne!(star(left, x), star(left, y));
                assert_ne!(star(x, left), star(y, left));
                assert_ne!(star(star(left, x), y), star(star(left, y), x));
            }
        }
    }

    #[test]
    fn the_pool_counts_as_the_rules_say() {
        // 65 is the count under "ends in its check digit, no repeated digit" alone; counted independently in Python 3.
        let ends_right = |number: &u16| {
            let text = digits(&number.to_string());
            damm_digit(&text[..2]) == text[2]
        };
        let all: Vec<u16> = (100..1000).filter(ends_right).collect();
        let distinct: Vec<u16> = all
            .iter()
            .copied()
            .filter(|number| {
                let text = digits(&number.to_string());
                text[0] != text[1] && text[1] != text[2] && text[0] != text[2]
            })
            .collect();
        assert_eq!((all.len(), distinct.len()), (90, 65));
        let pool = self_checking_pool();
        let lost: Vec<u16> = distinct.into_iter().filter(|number| !pool.contains(&number.to_string())).collect();
        assert_eq!(lost, [158, 210, 403]);
        assert_eq!(pool.len(), 62);
    }

    #[test]
    fn any_two_of_the_pool_differ_in_two_digits_and_are_no_swap() {
        let pool = self_checking_pool();
        for (index, code) in pool.iter().enumerate() {
            for other in &pool[index + 1..] {
                assert!(!one_slip_apart(code, other), "{code} {other}");
            }
        }
    }

    #[test]
    fn a_code_box_tells_at_typing_time() {
        let cases = [
            (" 278 ", "278 can be a code."),
            ("275", "275 can't exist: a code that begins with 27 ends with 8. One slip away: 278, 475."),
            ("277", "277 can't exist: no code repeats a digit. One slip away: 207, 278."),
            ("210", "210 can't exist: no code is a run of digits up or down."),
            ("12", "12 can't exist: a code is three digits."),
            ("", " can't exist: a code is three digits."),
            ("\u{661}23", "\u{661}23 can't exist: a code is three digits."),
            ("035", "035 can't exist: no code begins with 0."),
            ("403", "403 can't exist: it is the error number of a forbidden web page."),
        ];
        for (text, expected) in cases {
            assert_eq!(check_code(text).sentence(), expected);
        }
    }

    #[test]
    fn a_code_of_another_study_is_told_apart() {
        let set = CodeSet { codes: vec!["278".to_owned(), "475".to_owned()], self_checking: true, lost: None };
        assert!(check_code_in("278", &set).can_exist());
        assert_eq!(check_code_in("125", &set).sentence(), "125 can't exist: it is no code of this study.");
        assert_eq!(
            check_code_in("275", &set).sentence(),
            "275 can't exist: a code that begins with 27 ends with 8. One slip away: 278, 475."
        );
    }

    #[test]
    fn a_code_never_given_is_told_with_the_one_it_may_have_been() {
        let codes = ["450", "278", "451", "450"].map(str::to_owned);
        // By hand: 405 swaps two digits of 450; 460 has one wrong; 455 is one digit from 450 and from 451; 912 from none.
        for (text, expected) in [
            ("405", "No such code. Did you mean 450?"),
            (" 460", "No such code. Did you mean 450?"),
            ("455", "No such code. Look at the page again."),
            ("912", "No such code. Look at the page again."),
            ("45", "No such code. Look at the page again."),
        ] {
            assert_eq!(no_such_code(text, &codes), expected, "{text}");
        }
    }

    #[test]
    fn drawn_codes_never_collide_and_never_come_back() {
        for seed in 0..40 {
            let mut used = Vec::new();
            for _ in 0..6 {
                let set = draw_codes(10, &used, seed).expect("62 codes carry six draws of ten");
                assert!(set.self_checking && set.lost.is_none());
                used.extend(set.codes);
            }
            let mut distinct = used.clone();
            distinct.sort();
            distinct.dedup();
            assert_eq!(distinct.len(), used.len());
            assert!(used.iter().all(|code| check_code(code).can_exist()));
        }
    }

    #[test]
    fn beyond_the_pool_the_set_says_what_is_lost() {
        let set = draw_codes(63, &[], 7).expect("plain codes are enough");
        assert!(!set.self_checking);
        assert!(set.lost.as_deref().is_some_and(|lost| lost.starts_with("63 codes are wanted and only 62")), "{set:?}");
        assert!(set.codes.iter().all(|code| plain(three_digits(code).expect("three digits")).is_ok()));
        let plain_left = plain_pool().len();
        assert_eq!(draw_codes(1000, &[], 7), Err(PlanError::TooManyCodes { wanted: 1000, left: plain_left }));
        assert_eq!(draw_codes(1, &["12".to_owned()], 7), Err(PlanError::NotACode { text: "12".to_owned() }));
    }

    #[test]
    fn another_seed_gives_other_codes_and_the_same_seed_the_same() {
        let draw = |seed| draw_codes(6, &[], seed).expect("six codes").codes;
        assert_eq!(draw(1), draw(1));
        assert_ne!(draw(1), draw(2));
    }
}
