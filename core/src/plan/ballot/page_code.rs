//! What the square code of a ballot page says, as text, and back. It knows nothing of how the square is drawn or read.
//!
//! Form: `LK1:STUDY:SESSION:ASSESSOR:CODE:POSITION:PAGE:PAGES:CHECK`, capital letters and digits, so that the square
//! stays small. CHECK is the CRC-16 with polynomial 0x1021 started at 0xFFFF over all before its colon, four
//! hexadecimal digits.

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
        let body = format!(
            "{PREFIX}:{}:{}:{}:{}:{}:{}:{}",
            self.study, self.session, self.assessor, self.code, self.position, self.page, self.pages
        );
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
        let [_, study, session, assessor, code, position, page, pages] = fields[..] else {
            return Err(PageCodeFault::NotABallot);
        };
        let number = |field: &str| field.parse().map_err(|_| PageCodeFault::NotABallot);
        Ok(PageIdentity {
            study: study.to_owned(),
            session: number(session)?,
            assessor: number(assessor)?,
            code: code.to_owned(),
            position: number(position)?,
            page: number(page)?,
            pages: number(pages)?,
        })
    }
}

/// The text before its check, where the two fit.
fn checked_body(text: &str) -> Result<&str, PageCodeFault> {
    if !text.starts_with("LK") {
        return Err(PageCodeFault::NotABallot);
    }
    let (body, check) = text.rsplit_once(':').ok_or(PageCodeFault::NotABallot)?;
    if !text.starts_with("LK1:") {
        return Err(PageCodeFault::OtherVersion);
    }
    if check == format!("{:04X}", crc_16(body.as_bytes())) { Ok(body) } else { Err(PageCodeFault::CheckFails) }
}

const PREFIX: &str = "LK1";

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

    fn identity() -> PageIdentity {
        PageIdentity {
            study: "3FA9C1".to_owned(),
            session: 2,
            assessor: 12,
            code: "278".to_owned(),
            position: 3,
            page: 1,
            pages: 2,
        }
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
