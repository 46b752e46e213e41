//! Every sentence that reading says, by what it is about. Facts come in as arguments; nothing is decided here.

mod about_cells;
mod about_files;
mod about_sheets;
mod about_studies;
mod questions;

pub(in crate::read) use super::note::{Kind, Note, listed};
pub(in crate::read) use about_cells::*;
pub(in crate::read) use about_files::*;
pub(in crate::read) use about_sheets::*;
pub(in crate::read) use about_studies::*;
pub(in crate::read) use questions::*;
