//! How wide a text will be: an estimate that does not ask the browser, so that every exporter places labels alike.
//!
//! Advance widths are those of DejaVu Sans 2.37, Book and Bold, in thousandths of the font size, read from the
//! fonts' own `hmtx` table with fontTools 4.68.0. It is among the widest of the sans-serif faces that systems use by
//! default, so a label that fits by this table fits in the others too.

/// U+0020 to U+007E.
const REGULAR_WIDTHS: [u16; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636, 636, 636,
    636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863,
    748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635,
    615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636,
    337, 636, 838,
];

/// U+0020 to U+007E.
const BOLD_WIDTHS: [u16; 95] = [
    348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365, 696, 696, 696, 696, 696, 696, 696,
    696, 696, 696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372, 775, 637, 995,
    837, 850, 733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838, 500, 500, 675, 716, 593, 716,
    678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687, 716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582, 712,
    365, 712, 838,
];

/// Estimated width of one line of text in CSS pixels.
pub fn text_width_px(text: &str, size_px: f64, bold: bool) -> f64 {
    let thousandths: u64 = text.chars().map(|letter| u64::from(glyph_width(letter, bold))).sum();
    thousandths as f64 / 1000.0 * size_px
}

/// Height that one line of text keeps free, in CSS pixels, without leading.
pub fn text_height_px(size_px: f64) -> f64 {
    size_px * 1.16
}

/// The text itself, or as much of it as fits, ended by an ellipsis; empty where not even one letter fits.
pub fn shorten(text: &str, width_px: f64, size_px: f64, bold: bool) -> String {
    if text_width_px(text, size_px, bold) <= width_px {
        return text.to_owned();
    }
    let mut kept: Vec<char> = text.chars().collect();
    while kept.pop().is_some() {
        let candidate: String = kept.iter().collect::<String>().trim_end().to_owned() + "…";
        if candidate.chars().count() > 1 && text_width_px(&candidate, size_px, bold) <= width_px {
            return candidate;
        }
    }
    String::new()
}

/// Breaks a text at spaces, hyphens and slashes into at most `max_lines` lines that fit; the last is shortened where
/// the rest does not fit, and a single word that is too long is cut.
pub fn wrap(text: &str, width_px: f64, size_px: f64, bold: bool, max_lines: usize) -> Vec<String> {
    let fits = |line: &str| text_width_px(line.trim_end(), size_px, bold) <= width_px;
    let mut lines: Vec<String> = Vec::new();
    let mut current = String::new();
    for piece in break_pieces(text) {
        if current.is_empty() || fits(&format!("{current}{piece}")) {
            current.push_str(piece);
        } else {
            lines.push(std::mem::take(&mut current));
            current.push_str(piece.trim_start());
        }
    }
    lines.push(current);
    if lines.len() > max_lines.max(1) {
        let rest = lines.split_off(max_lines.max(1) - 1).concat();
        lines.push(rest);
    }
    let lines = lines.iter().map(|line| shorten(line.trim(), width_px, size_px, bold));
    lines.filter(|line| !line.is_empty()).collect()
}

/// Pieces that stay whole: a word with the spaces, hyphen or slash that follow it. No-break spaces hold.
fn break_pieces(text: &str) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut start = 0;
    let mut after_break = false;
    for (at, letter) in text.char_indices() {
        let is_break = letter == ' ' || letter == '\t' || letter == '-' || letter == '/';
        if after_break && !is_break {
            pieces.push(&text[start..at]);
            start = at;
        }
        after_break = is_break;
    }
    pieces.push(&text[start..]);
    pieces
}

/// Width of one letter in thousandths of the font size. Outside ASCII the widest usual letter of its script stands
/// for all, and unknown ones are taken as square.
fn glyph_width(letter: char, bold: bool) -> u16 {
    let code = letter as u32;
    match code {
        0x20..=0x7e => {
            let widths = if bold { &BOLD_WIDTHS } else { &REGULAR_WIDTHS };
            widths[(code - 0x20) as usize]
        }
        // Control characters and combining marks take no room.
        0x00..=0x1f | 0x7f..=0x9f | 0x300..=0x36f | 0x200b..=0x200f => 0,
        0xa0 | 0xb7 | 0x2018..=0x201a => 380,
        0xb0 | 0x2013 => 500,
        0xb1 | 0xd7 | 0xf7 | 0x2190..=0x22ff => 840,
        0xc0..=0xde if bold => 850,
        0xc0..=0xde => 790,
        0xdf..=0xff if bold => 720,
        0xdf..=0xff => 640,
        0x100..=0x24f | 0x370..=0x3ff => 880,
        _ => 1100,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_width_is_the_sum_of_the_advances() {
        // DejaVu Sans 2.37 Book, hmtx: g 635, r 411, e 615, n 634 per mille.
        assert!((text_width_px("green", 10.0, false) - 29.1).abs() < 1e-9);
    }

    #[test]
    fn a_text_that_fits_is_left_alone() {
        assert_eq!(shorten("green", 40.0, 12.0, false), "green");
    }

    #[test]
    fn a_text_that_does_not_fit_ends_in_an_ellipsis_and_fits() {
        let short = shorten("fresh mango pulp", 60.0, 12.0, false);
        assert!(short.ends_with('…'));
        assert!(text_width_px(&short, 12.0, false) <= 60.0);
    }

    #[test]
    fn nothing_fits_into_no_room() {
        assert_eq!(shorten("green", 0.0, 12.0, false), "");
    }

    #[test]
    fn words_are_broken_at_spaces() {
        assert_eq!(wrap("fresh mango pulp", 80.0, 12.0, false, 3), ["fresh mango", "pulp"]);
    }

    #[test]
    fn the_last_line_takes_the_rest_and_is_cut() {
        let lines = wrap("very long name of a character", 70.0, 12.0, false, 2);
        assert_eq!(lines.len(), 2);
        assert!(lines[1].ends_with('…'));
    }

    #[test]
    fn letters_outside_ascii_do_not_break_anything() {
        assert!(!wrap("crème brûlée 焦げた", 50.0, 12.0, true, 2).is_empty());
    }
}
