//! PDFs that other programs wrote, whole and damaged 10,000 times: what is whole is read, and no damage makes the reading
//! panic or take more memory than the largest picture that is taken.

use likeness_core::numeric::random::Random;
use likeness_core::pdf::{PagePicture, ScannedPdf};
use peak_alloc::PeakAlloc;

const FOUR: &[u8] = include_bytes!("pdfs/four.pdf");
const PACKED: &[u8] = include_bytes!("pdfs/four-packed.pdf");
/// Grey of the largest picture that is taken twice over, while it grows, and what finding objects may cost.
const MOST_BYTES: usize = 256_000_000;

/// Counts what is held at a time.
#[global_allocator]
static COUNTING: PeakAlloc = PeakAlloc;

#[test]
fn pdfs_of_other_programs_are_read() {
    for file in [FOUR, PACKED] {
        let pdf = ScannedPdf::open(file).expect("a whole file");
        assert_eq!(pdf.len(), 4);
        let pictures: Vec<PagePicture> = (0..4).map(|page| pdf.picture(page).expect("a whole page")).collect();
        for (page, place) in [(0, (60, 200)), (0, (500, 200)), (1, (100, 250)), (3, (100, 250))] {
            let PagePicture::Grey(picture) = &pictures[page] else { panic!("page {page} is no JPEG") };
            assert_eq!((picture.width(), picture.height()), (600, 500));
            // The drawing of README.md beside the files: a bar from 40 to 79, and levels (x + y) mod 256; 16 colours of
            // a palette lie within half their distance of them, 8, and a little more where they were chosen otherwise.
            let (expected, within) = match (page, place) {
                (0, (60, _)) => (0, 0),
                (0, _) => (255, 0),
                (1, (x, y)) => ((x + y) % 256, 0),
                (_, (x, y)) => ((x + y) % 256, 12),
            };
            let grey = usize::from(picture.line(place.1)[place.0]);
            assert!(grey.abs_diff(expected) <= within, "page {page}: {grey} for {expected}");
        }
        assert!(matches!(&pictures[2], PagePicture::Jpeg(bytes) if bytes.starts_with(&[0xff, 0xd8, 0xff])));
    }
}

#[test]
fn no_damage_makes_the_reading_panic_or_grow() {
    let mut chance = Random::seeded(12);
    let mut read = 0;
    for round in 0..10_000 {
        let mut file = if round % 2 == 0 { FOUR.to_vec() } else { PACKED.to_vec() };
        (0..1 + chance.below(12)).for_each(|_| damage(&mut file, &mut chance));
        if let Ok(pdf) = ScannedPdf::open(&file) {
            read += usize::from(pdf.picture(chance.below(pdf.len())).is_ok());
        }
    }
    // Damage that hits nothing that counts leaves a page readable; a reading that refused everything would prove nothing.
    assert!((500..10_000).contains(&read), "{read} pages read");
    let most_held = COUNTING.peak_usage();
    assert!(most_held < MOST_BYTES, "{most_held} bytes held");
}

/// Bytes changed, digits raised, pieces cut out, doubled or cut off.
fn damage(file: &mut Vec<u8>, chance: &mut Random) {
    if file.is_empty() {
        return;
    }
    let at = chance.below(file.len());
    let piece = at..(at + 1 + chance.below(200)).min(file.len());
    match chance.below(7) {
        0 | 1 => file[at] = chance.below(256) as u8,
        2 | 3 => {
            if let Some(digit) = file[at..].iter_mut().find(|byte| byte.is_ascii_digit()) {
                *digit = b'0' + chance.below(10) as u8;
            }
        }
        4 => drop(file.drain(piece)),
        5 => {
            let twice = file[piece].to_vec();
            file.splice(at..at, twice);
        }
        _ => {
            if chance.below(8) == 0 {
                file.truncate(at);
            }
        }
    }
}
