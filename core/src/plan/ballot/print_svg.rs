//! Pages at true size for printing: each as SVG whose unit is one millimetre, and all as one document that a browser
//! prints at 100 %. It knows nothing of what is on a page.

use super::geometry::Paper;
use super::pages::{BallotPage, ballot_scene};
use crate::figures::to_svg_at_true_size;
use crate::text::markup::escape;

/// A ballot page as SVG: width and height in mm and a view box of the same numbers, so that one unit is 1 mm.
pub fn ballot_svg(page: &BallotPage) -> String {
    to_svg_at_true_size(&ballot_scene(page))
}

/// Pages as one HTML document that prints one page a sheet without margins. It loads nothing and runs nothing.
pub fn print_document(title: &str, paper: Paper, pages: &[BallotPage]) -> String {
    let mut html = format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{}</title>\n<style>{}</style>\n\
         </head>\n<body>\n",
        escape(title),
        print_style(paper)
    );
    pages.iter().for_each(|page| html.push_str(&ballot_svg(page)));
    html.push_str("</body>\n</html>\n");
    html
}

/// The style sheet that makes a browser print pages at true size.
pub fn print_style(paper: Paper) -> String {
    format!(
        "@page{{size:{};margin:0}}html,body{{margin:0;padding:0}}svg{{display:block;break-after:page;break-inside:avoid}}\
         svg:last-of-type{{break-after:auto}}",
        paper.css_name()
    )
}
