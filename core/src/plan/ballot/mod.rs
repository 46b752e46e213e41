//! Ballots on paper: pages, their geometry in mm, the square code, printing at true size.

pub mod geometry;
pub mod page_code;
pub mod page_list;
pub mod pages;
pub mod print_svg;
pub mod printed;
pub mod printed_paper;
pub mod test_page;
