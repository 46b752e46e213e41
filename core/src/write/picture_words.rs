//! The record of reading filled pages from pictures, in words for report, workbook and page. It knows nothing of how a
//! picture is read.

use crate::study::{HowRead, PictureReadPage, PictureReadRow, PictureRecord, SpotCheckRecord, Study};
use crate::text::lists::counted_regular as counted;
use crate::text::numbers::percent_fixed;

/// What accuracy rests on, said wherever the record is shown.
pub const MEASURED_ON: &str = "The reader's accuracy was measured on generated pages, not on real pens, papers and scanners. The \
                               spot check is the measure of this house: rows taken without asking, drawn by seed and looked at \
                               again by a person who was not told what was read. More than 2 mm apart counts as an error.";

/// What `row_in_words` tells.
pub const ROW_HEADS: [&str; 11] = [
    "assessor",
    "sample",
    "replicate",
    "attribute",
    "file",
    "page code",
    "row",
    "how it was decided",
    "read or suggested, mm",
    "by whom",
    "looked at again",
];

/// How rows came to their scores, each way with how many.
pub fn ways(record: &PictureRecord) -> Vec<[String; 2]> {
    let way = |how: HowRead| [how.in_words().to_owned(), record.count(how).to_string()];
    HowRead::ALL.into_iter().map(way).filter(|[_, count]| count != "0").collect()
}

/// "12 of 264 rows ...": what the spot check found, in a sentence or two.
pub fn spot_check(spot: &SpotCheckRecord) -> String {
    let drawn = format!("{} drawn of {} taken without asking", counted(spot.drawn, "row"), spot.rows_read);
    let Some(limit) = spot.error_limit else {
        return format!("Spot check: {drawn}; none was looked at again, so nothing is known of its errors.");
    };
    let share = spot.errors as f64 / spot.looked_at.max(1) as f64;
    format!(
        "Spot check: {drawn}, {} looked at again, {} found wrong by more than 2 mm ({}). With 95 % confidence no more than {} of \
         the rows taken are wrong (exact one-sided limit).",
        spot.looked_at,
        spot.errors,
        percent_fixed(share, 1),
        percent_fixed(limit, 1)
    )
}

/// Every row of every page.
pub fn rows_in_words(study: &Study) -> Vec<[String; 11]> {
    let pages = study.from_pictures.iter().flat_map(|record| &record.pages);
    pages.flat_map(|page| page.rows.iter().map(|row| row_in_words(study, page, row))).collect()
}

fn row_in_words(study: &Study, page: &PictureReadPage, row: &PictureReadRow) -> [String; 11] {
    let serving = study.servings.get(page.serving);
    let name_of =
        |index: Option<usize>, names: &dyn Fn(usize) -> Option<String>| index.and_then(names).unwrap_or_default();
    let assessor = name_of(serving.map(|one| one.assessor as usize), &|at| Some(study.assessors.get(at)?.name.clone()));
    let sample = name_of(serving.map(|one| one.sample as usize), &|at| Some(study.samples.get(at)?.name.clone()));
    let how =
        if row.why.is_empty() { row.how.in_words().to_owned() } else { format!("{}: {}", row.how.in_words(), row.why) };
    [
        assessor,
        sample,
        serving.map(|one| one.replicate.to_string()).unwrap_or_default(),
        study.attributes.get(row.attribute).map(|attribute| attribute.name.clone()).unwrap_or_default(),
        page.file.clone(),
        page.code_text.clone(),
        row.row.to_string(),
        how,
        row.suggested_mm.map(|mark| format!("{mark:.1}")).unwrap_or_default(),
        row.who.clone(),
        if row.looked_again { "yes" } else { "" }.to_owned(),
    ]
}
