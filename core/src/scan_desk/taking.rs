//! Taking in what was found in a picture: pages, failures, a page that came before. It knows nothing of decisions but that
//! they stay.

use super::desk::{DeskPage, DeskRow, DeskRowState, PictureSays, RowPlace, ScanDesk, TakenPicture, tenths};
use super::spot_check::is_to_be_kept;
use super::strips::KeptStrips;
use crate::numeric::hash::fingerprint;
use crate::plan::tasting_plan::TastingPlan;
use crate::scan::{KnownPage, KnownPages, PageFound, RowReading, RowState, SmallStrip, Turned};

/// Two pictures of a page say the same of a row where they lie no farther apart than this, in mm.
const SAME_MM: f64 = 1.0;

/// Whose a file is: its name, length and fingerprint.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PictureName {
    pub file: String,
    pub length_bytes: u64,
    pub fingerprint: String,
}

impl PictureName {
    /// A page of a PDF or a picture that was never a file: length and fingerprint are those of the picture itself.
    pub fn of_bytes(file: String, bytes: &[u8]) -> Self {
        PictureName { file, length_bytes: bytes.len() as u64, fingerprint: fingerprint(bytes) }
    }
}

impl ScanDesk {
    /// A picture that could not be read, with why, and what to do.
    pub fn take_refused(&mut self, name: PictureName, why: &str) {
        self.put_in(name, vec![PictureSays::Failed { why: why.to_owned() }]);
    }

    /// What was found in a picture. Strips of rows that a person will look at are kept.
    pub fn take_found(
        &mut self,
        name: PictureName,
        (plan, known): (&TastingPlan, &KnownPages),
        found: &[PageFound],
        strips: &mut KeptStrips,
    ) {
        let picture = self.pictures.len();
        let mut says = Vec::new();
        for one in found {
            let page = one.page.and_then(|index| known.pages.get(index));
            says.push(match (page, &one.fault) {
                (Some(page), None) => self.take_page(picture, (plan, page), one, strips),
                (_, said) => no_page(one, said.clone().unwrap_or_default()),
            });
        }
        self.put_in(name, says);
        self.drop_needless(strips);
    }

    /// Takes a picture without a page of the plan off the list. What was read stays.
    pub fn put_failed_away(&mut self, picture: usize) {
        if self.pictures.get(picture).is_none_or(TakenPicture::has_page) {
            return;
        }
        self.pictures.remove(picture);
        self.pages.iter_mut().filter(|page| page.picture > picture).for_each(|page| page.picture -= 1);
    }

    fn put_in(&mut self, name: PictureName, found: Vec<PictureSays>) {
        let PictureName { file, length_bytes, fingerprint } = name;
        self.pictures.push(TakenPicture { file, length_bytes, fingerprint, found });
    }

    fn take_page(
        &mut self,
        picture: usize,
        (plan, known): (&TastingPlan, &KnownPage),
        found: &PageFound,
        strips: &mut KeptStrips,
    ) -> PictureSays {
        let Some(page) = page_of(picture, plan, known, found) else {
            let why =
                "The page belongs to a cup that is no longer in the plan. Open the plan that it was printed from.";
            return PictureSays::Failed { why: why.to_owned() };
        };
        let is_twin = |own: &DeskPage| {
            (&own.assessor, own.session, &own.code) == (&page.assessor, page.session, &page.code) && own.has_rows(known)
        };
        if let Some(first) = self.pages.iter().position(is_twin) {
            return PictureSays::Again { page: first, differ: self.compare(first, &page.rows, &found.strips, strips) };
        }
        page.rows.iter().zip(&found.strips).for_each(|(row, strip)| strips.keep(&page.code_text, row.number, strip));
        self.pages.push(page);
        let turned = match found.turned {
            Turned::Upright => None,
            Turned::Sideways => Some("it lies on its side".to_owned()),
            Turned::UpsideDown => Some("it stands upside down".to_owned()),
        };
        PictureSays::Read { page: self.pages.len() - 1, turned }
    }

    /// Holds another picture of a page against the first one: rows that differ are asked about, unless a person decided
    /// them already. Where the first was doubtful, what the second says plainly is suggested.
    fn compare(&mut self, page: usize, others: &[DeskRow], pictures: &[SmallStrip], strips: &mut KeptStrips) -> usize {
        let first = self.file_of(page).to_owned();
        let mut differ = 0;
        for (row, other) in others.iter().enumerate() {
            let Some(own) = self.row_mut(RowPlace { page, row }) else { continue };
            let doubts = differs(own, other);
            differ += usize::from(doubts);
            if own.decided.is_some() {
                continue;
            }
            let is_plainer = own.state == DeskRowState::Ask && other.state == DeskRowState::Read;
            if doubts {
                own.state = DeskRowState::Ask;
                own.doubt(&format!(
                    "another picture of the page says {}, the first ({first}) {}",
                    other.says(),
                    own.says()
                ));
            } else if is_plainer {
                own.doubt("another picture of the page is plainer, and its place is suggested");
                own.suggested_mm = other.suggested_mm;
                let code_text = &self.pages[page].code_text;
                pictures.get(row).into_iter().for_each(|strip| strips.keep(code_text, other.number, strip));
            }
        }
        differ
    }

    /// Drops the strips of rows that nobody will be shown.
    pub(super) fn drop_needless(&self, strips: &mut KeptStrips) {
        let kept = is_to_be_kept(self);
        for (place, row) in self.rows().filter(|(_, row)| row.state == DeskRowState::Read) {
            if !kept(place) {
                strips.drop_strip(&self.pages[place.page].code_text, row.number);
            }
        }
    }
}

impl DeskRow {
    fn doubt(&mut self, why: &str) {
        self.why = if self.why.is_empty() { why.to_owned() } else { format!("{}; {why}", self.why) };
    }

    fn says(&self) -> String {
        self.suggested_mm.map_or_else(|| "no mark".to_owned(), |mark| format!("{mark:.1} mm"))
    }
}

/// What is said of a finding that is no page of the plan.
fn no_page(found: &PageFound, said: String) -> PictureSays {
    if found.test.is_some() { PictureSays::Test { said } } else { PictureSays::Failed { why: said } }
}

/// Whether two pictures of a row can't both be right; a row that is asked about in one of them says nothing.
fn differs(one: &DeskRow, other: &DeskRow) -> bool {
    if one.state == DeskRowState::Ask || other.state == DeskRowState::Ask {
        return false;
    }
    match (one.suggested_mm, other.suggested_mm) {
        (Some(one), Some(other)) => (one - other).abs() > SAME_MM,
        (one, other) => one.is_some() != other.is_some(),
    }
}

fn page_of(picture: usize, plan: &TastingPlan, known: &KnownPage, found: &PageFound) -> Option<DeskPage> {
    let serving = plan.servings().into_iter().nth(known.serving)?;
    Some(DeskPage {
        picture,
        code_text: known.code_text.clone(),
        assessor: plan.assessors.get(serving.assessor)?.clone(),
        session: serving.session,
        code: serving.code,
        rows: rows_of(known, &found.rows),
    })
}

fn rows_of(known: &KnownPage, rows: &[RowReading]) -> Vec<DeskRow> {
    let first = known.layouts.first().and_then(|layout| layout.rows.first()).map_or(1, |row| row.number);
    let row = |((number, name), row): ((u32, &String), &RowReading)| DeskRow {
        number,
        attribute: name.clone(),
        state: match row.state {
            RowState::Read => DeskRowState::Read,
            RowState::Ask => DeskRowState::Ask,
            RowState::Empty => DeskRowState::Empty,
        },
        suggested_mm: row.score_mm.map(tenths),
        why: row.doubts.iter().map(|doubt| doubt.words()).collect::<Vec<_>>().join("; "),
        decided: None,
        looked_again: None,
    };
    (first..).zip(&known.names).zip(rows).map(row).collect()
}
