//! What is said of a page that the plan doesn't print: of another plan, from an older list of words, or never printed. It
//! knows nothing of pictures.

use super::known_pages::KnownPages;
use crate::plan::ballot::page_code::{PageCodeFault, PageIdentity};

/// Why a code that was read belongs to no page of the plan, and what to do; `text` is nothing where no text came out of it.
pub fn about_other(known: &KnownPages, text: Option<&str>) -> String {
    match text.map(PageIdentity::parse) {
        Some(Ok(identity)) if identity.study != known.study => format!(
            "The page is of another plan, study {}, and the open plan is {}: it is no page that this plan prints. Open the \
             plan that it was printed from.",
            identity.study, known.study
        ),
        Some(Ok(identity)) if is_older(known, &identity) => OLDER_WORDS.to_owned(),
        Some(Ok(identity)) => never_printed(&identity),
        Some(Err(PageCodeFault::OtherVersion)) => OTHER_VERSION.to_owned(),
        Some(Err(_)) => NO_BALLOT.to_owned(),
        None => OTHER_PAGE.to_owned(),
    }
}

/// Only a text that says its words can be told to be of another list.
fn is_older(known: &KnownPages, identity: &PageIdentity) -> bool {
    identity.print.as_ref().is_some_and(|print| !known.words.contains(&print.words))
}

fn never_printed(identity: &PageIdentity) -> String {
    let rows = identity.print.as_ref().map_or_else(String::new, |print| format!(", {} lines", print.rows));
    format!(
        "The page says that it is of this plan, and the plan prints no such page: session {}, assessor {}, sample {}, cup {}, \
         page {} of {}{rows}. Was the plan laid out anew after printing? Open the plan as it was, or type the scores by hand.",
        identity.session, identity.assessor, identity.code, identity.position, identity.page, identity.pages
    )
}

const OLDER_WORDS: &str = "The page is of this plan and was printed from another list of words than the plan has now, so its \
                           lines may stand for other attributes. Type its scores by hand, or open the plan as it was when it \
                           was printed.";
const OTHER_VERSION: &str = "The page was printed by a newer program. Open the plan with that one.";
const NO_BALLOT: &str = "The square code is that of something else and not of a ballot. Photograph the page alone.";
const OTHER_PAGE: &str = "The square code belongs to no page that this plan prints: it is a page of another plan, or the plan \
                          was laid out anew after printing. Open the plan that it was printed from.";
