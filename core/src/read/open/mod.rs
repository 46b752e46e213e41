//! From bytes to sheets: text in its encoding, workbooks unpacked, the separator found. It knows nothing of panels.

pub(in crate::read) mod decode;
pub(in crate::read) mod encodings;
pub(in crate::read) mod separator;
pub(in crate::read) mod sheet;
pub(in crate::read) mod workbook;
