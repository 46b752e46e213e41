//! What the square code of a ballot page says, as text, and back. It knows nothing of how the square is drawn or read.
//!
//! Form on paper: `LK3:STUDY:SESSION:ASSESSOR:CODE:POSITION:PAGE:PAGES:PAPER:ROWS:WORDS:CHECK`, capital letters and
//! digits, so that the square stays small. PAPER is A or L, ROWS the lines on this page, WORDS the token of the words
//! on them. What knows no paper, a result from a screen and a page printed before there was a third form, says
//! `LK1:STUDY:SESSION:ASSESSOR:CODE:POSITION:PAGE:PAGES:CHECK`; a second form never was. CHECK is the CRC-16 with
//! polynomial 0x1021 started at 0xFFFF over all before its colon, four hexadecimal digits.

use super::geometry::Paper;
use crate::numeric::hash::fnv_1a;
use crate::plan::brief::attributes::ListedAttribute;
use serde::{Deserialize, Serialize};

/// Which page of paper this is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PageIdentity {
    /// `TastingPlan::study_id`.
    pub study: String,
    pub session: u32,
    /// Number of the assessor in the plan, from 1.
    pub assessor: u32,
    /// Code of the sample.
    pub code: String,
    /// Serving position, from 1.
    pub position: u32,
    /// Number of this page in the page set of the sample, from 1.
    pub page: u32,
    pub pages: u32,
    /// Nothing where it isn't on paper, or on paper of the first form.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub print: Option<Print>,
}

/// What a page of paper says of how it was printed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Print {
    pub paper: Paper,
    /// Lines on this page.
    pub rows: u32,
    /// `words_token` of the lines on this page.
    pub words: String,
}

/// Why a text is no page identity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PageCodeFault {
    /// Some other code, such as that of a product.
    NotABallot,
    /// A ballot of a newer program.
    OtherVersion,
    /// It was misread or changed: the check doesn't fit.
    CheckFails,
}

impl PageIdentity {
    /// The text in the square.
    pub fn to_text(&self) -> String {
        let head = if self.print.is_some() { ON_PAPER } else { WITHOUT_PAPER };
        let mut body = format!(
            "{head}:{}:{}:{}:{}:{}:{}:{}",
            self.study, self.session, self.assessor, self.code, self.position, self.page, self.pages
        );
        if let Some(print) = &self.print {
            body += &format!(":{}:{}:{}", letter_of(print.paper), print.rows, print.words);
        }
        let check = crc_16(body.as_bytes());
        format!("{body}:{check:04X}")
    }

    /// The identity in a text that a scanner read.
    ///
    /// # Errors
    /// What is wrong with the text.
    pub fn parse(text: &str) -> Result<PageIdentity, PageCodeFault> {
        let body = checked_body(text)?;
        let fields: Vec<&str> = body.split(':').collect();
        let [head, study, session, assessor, code, position, page, pages, print @ ..] = &fields[..] else {
            return Err(PageCodeFault::NotABallot);
        };
        Ok(PageIdentity {
            study: (*study).to_owned(),
            session: number(session)?,
            assessor: number(assessor)?,
            code: (*code).to_owned(),
            position: number(position)?,
            page: number(page)?,
            pages: number(pages)?,
            print: print_of(head, print)?,
        })
    }
}

/// A token of five signs for the words on the lines of one page in their order: other words have another token but for one
/// case in 33 million. A change on one page of a list leaves the others as they were.
pub fn words_token(lines: &[ListedAttribute]) -> String {
    let words = lines.iter().flat_map(|line| [&line.name, &line.low_end, &line.high_end]);
    let text: String = words.flat_map(|word| [word.as_str(), "\n"]).collect();
    let hash = fnv_1a(text.as_bytes());
    let mixed = hash ^ (hash >> 25) ^ (hash >> 50);
    let sign = |place: u32| char::from(SIGNS[(mixed >> (5 * place)) as usize % SIGNS.len()]);
    (0..5).map(sign).collect()
}

/// Digits and letters that aren't taken for each other.
const SIGNS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const ON_PAPER: &str = "LK3";
const WITHOUT_PAPER: &str = "LK1";

fn letter_of(paper: Paper) -> char {
    match paper {
        Paper::A4 => 'A',
        Paper::Letter => 'L',
    }
}

fn number(field: &str) -> Result<u32, PageCodeFault> {
    field.parse().map_err(|_| PageCodeFault::NotABallot)
}

/// What stands behind the number of pages.
fn print_of(head: &str, fields: &[&str]) -> Result<Option<Print>, PageCodeFault> {
    match (head, fields) {
        (WITHOUT_PAPER, []) => Ok(None),
        (ON_PAPER, [paper, rows, words]) => {
            let is_said = |sheet: &Paper| letter_of(*sheet).to_string() == *paper;
            let paper = [Paper::A4, Paper::Letter].into_iter().find(is_said).ok_or(PageCodeFault::NotABallot)?;
            Ok(Some(Print { paper, rows: number(rows)?, words: (*words).to_owned() }))
        }
        _ => Err(PageCodeFault::NotABallot),
    }
}

/// The text before its check, where the two fit.
fn checked_body(text: &str) -> Result<&str, PageCodeFault> {
    if !text.starts_with("LK") {
        return Err(PageCodeFault::NotABallot);
    }
    let (body, check) = text.rsplit_once(':').ok_or(PageCodeFault::NotABallot)?;
    if ![ON_PAPER, WITHOUT_PAPER].iter().any(|head| text.split(':').next() == Some(head)) {
        return Err(PageCodeFault::OtherVersion);
    }
    if check == format!("{:04X}", crc_16(body.as_bytes())) { Ok(body) } else { Err(PageCodeFault::CheckFails) }
}

fn crc_16(bytes: &[u8]) -> u16 {
    bytes.iter().fold(0xffff, |mut crc, byte| {
        crc ^= u16::from(*byte) << 8;
        for _ in 0..8 {
            crc = if crc & 0x8000 == 0 { crc << 1 } else { (crc << 1) ^ 0x1021 };
        }
        crc
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::brief::attributes::AttributeList;

    fn identity() -> PageIdentity {
        PageIdentity {
            study: "3FA9C1".to_owned(),
            session: 2,
            assessor: 12,
            code: "278".to_owned(),
            position: 3,
            page: 1,
            pages: 2,
            print: None,
        }
    }

    fn on_paper() -> PageIdentity {
        let print = Print { paper: Paper::Letter, rows: 22, words: "7K2QX".to_owned() };
        PageIdentity { print: Some(print), ..identity() }
    }

    #[test]
    fn the_check_is_the_known_one() {
        // CRC-16 with polynomial 0x1021 and start 0xFFFF of "123456789" is 0x29B1: the check value of the catalogues of
        // CRC parameters, from memory.
        assert_eq!(crc_16(b"123456789"), 0x29b1);
    }

    #[test]
    fn an_identity_comes_back_and_no_changed_digit_passes() {
        let text = identity().to_text();
        assert!(text.starts_with("LK1:3FA9C1:2:12:278:3:1:2:"), "{text}");
        assert_eq!(PageIdentity::parse(&text), Ok(identity()));
        assert_no_changed_digit_passes(&text);
    }

    #[test]
    fn a_page_of_paper_says_how_it_was_printed() {
        let text = on_paper().to_text();
        assert!(text.starts_with("LK3:3FA9C1:2:12:278:3:1:2:L:22:7K2QX:"), "{text}");
        assert_eq!(PageIdentity::parse(&text), Ok(on_paper()));
        assert_no_changed_digit_passes(&text);
        // 47 letters and digits are what a square code of 29 modules a side holds at level Q (ISO/IEC 18004, table 7).
        assert!(text.len() <= 47, "{text}");
    }

    #[test]
    fn another_list_of_words_has_another_token() {
        let list = AttributeList::mango_nectar_example().attributes;
        let (mut turned, mut other_end, mut defined) = (list.clone(), list.clone(), list.clone());
        turned.swap(0, 1);
        other_end[2].high_end.push('!');
        defined[2].definition.push('!');
        let token = words_token(&list);
        assert_eq!((token.len(), words_token(&defined)), (5, token.clone()));
        assert!(words_token(&turned) != token && words_token(&other_end) != token);
    }

    fn assert_no_changed_digit_passes(text: &str) {
        for place in 4..text.len() {
            for letter in "0123456789ABCDEF:".chars() {
                let mut changed: Vec<char> = text.chars().collect();
                if changed[place] != letter {
                    changed[place] = letter;
                    let changed: String = changed.into_iter().collect();
                    assert!(PageIdentity::parse(&changed).is_err(), "{changed}");
                }
            }
        }
    }

    #[test]
    fn other_codes_are_told_apart() {
        assert_eq!(PageIdentity::parse("4006381333931"), Err(PageCodeFault::NotABallot));
        assert_eq!(PageIdentity::parse("LK2:A:1:1:278:1:1:1:0000"), Err(PageCodeFault::OtherVersion));
        assert_eq!(PageIdentity::parse("LK1:A:1:1:278:1:1:1:0000"), Err(PageCodeFault::CheckFails));
        assert_eq!(PageIdentity::parse("LK"), Err(PageCodeFault::NotABallot));
    }
}
