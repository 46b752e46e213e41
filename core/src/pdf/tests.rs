//! Tiny PDFs written here, each with a picture whose pixels are known: what comes out is what was put in, or a reason.

use super::{PagePicture, PdfFault, ScannedPdf};
use crate::scan::Picture;
use flate2::Compression;
use flate2::write::ZlibEncoder;
use std::io::Write;

const WIDTH: usize = 600;
const HEIGHT: usize = 500;

/// A file while it is written: its objects in their order, without a table of contents, which is never looked at.
pub struct Maker {
    bytes: Vec<u8>,
}

impl Maker {
    /// One page that draws the objects from number 5 on.
    pub fn page(images: usize) -> Self {
        let names: Vec<String> = (0..images).map(|image| format!("/Im{image} {} 0 R", image + 5)).collect();
        let draws: String = (0..images).map(|image| format!("q 595 0 0 842 0 0 cm /Im{image} Do Q ")).collect();
        let mut maker = Maker { bytes: b"%PDF-1.7\n".to_vec() };
        maker.object(1, "<</Type/Catalog/Pages 2 0 R>>");
        maker.object(2, "<</Type/Pages/Kids[3 0 R]/Count 1>>");
        let resources = format!("/Resources<</XObject<<{}>>>>", names.join(""));
        maker.object(3, &format!("<</Type/Page/Parent 2 0 R{resources}/Contents 4 0 R>>"));
        maker.stream(4, "", draws.as_bytes());
        maker
    }

    pub fn object(&mut self, number: u32, body: &str) {
        self.bytes.extend(format!("{number} 0 obj\n{body}\nendobj\n").bytes());
    }

    pub fn stream(&mut self, number: u32, entries: &str, data: &[u8]) {
        self.bytes.extend(format!("{number} 0 obj\n<<{entries}/Length {}>>\nstream\n", data.len()).bytes());
        self.bytes.extend(data);
        self.bytes.extend(b"\nendstream\nendobj\n");
    }

    pub fn done(mut self) -> Vec<u8> {
        self.bytes.extend(b"trailer\n<</Root 1 0 R>>\n%%EOF\n");
        self.bytes
    }
}

pub fn deflated(bytes: &[u8]) -> Vec<u8> {
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::fast());
    encoder.write_all(bytes).expect("memory takes bytes");
    encoder.finish().expect("memory takes bytes")
}

/// Entries of a picture's dictionary.
fn picture_of(kind: &str) -> String {
    format!("/Type/XObject/Subtype/Image/Width {WIDTH}/Height {HEIGHT}{kind}")
}

fn one_picture(kind: &str, data: &[u8]) -> Vec<u8> {
    let mut maker = Maker::page(1);
    maker.stream(5, &picture_of(kind), data);
    maker.done()
}

fn shown(file: &[u8]) -> Result<PagePicture, PdfFault> {
    let pdf = ScannedPdf::open(file)?;
    assert_eq!(pdf.len(), 1);
    pdf.picture(0)
}

fn grey(luma: Vec<u8>) -> Result<PagePicture, PdfFault> {
    Ok(PagePicture::Grey(Picture::new(WIDTH, HEIGHT, luma).expect("a size that is taken")))
}

fn level(x: usize, y: usize) -> u8 {
    (x * 7 + y * 13) as u8
}

fn levels() -> Vec<u8> {
    (0..WIDTH * HEIGHT).map(|place| level(place % WIDTH, place / WIDTH)).collect()
}

/// Whether the drawing of the fax picture is dark here: a bar, a rule, a disc, a corner, an edge.
fn is_dark(x: usize, y: usize) -> bool {
    let far = |from: usize, to: usize| (from as i64 - to as i64).pow(2);
    ((40..80).contains(&x) && (30..460).contains(&y))
        || (100..103).contains(&y)
        || far(x, 300) + far(y, 250) < 60 * 60
        || (x >= 590 && y >= 400)
        || (x < 5 && y < 300)
}

fn drawing(dark: u8, light: u8) -> Vec<u8> {
    (0..WIDTH * HEIGHT).map(|place| if is_dark(place % WIDTH, place / WIDTH) { dark } else { light }).collect()
}

/// The drawing as the one strip of a TIFF file with group 4, BlackIsZero, written by Pillow 13.0.0 with libtiff 4.7.2
/// (`save(..., "TIFF", compression="group4")`).
const FAX: &str = "3806d0cfffffffffffffffc86994fffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffc4b28586f9c0d32\
5206c17fffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff90c9020bf90c9041af\
040fc103f083f040fc20fd3f083f083f4fd3f083f4fd3f4fd3f4fd3f4fd3f4fd3ffd3f4fd3ffd3ffd3f4fff4ffffd3ffd3ffff4ffffd3fff\
ffff4fffffffffffffffffffffffffffffffdafffffff6bfffdaffff6bff6bfffdaffdaf6bff6bff6bdaf6bff6bdaf6bdaf6bdaf6bdaf6bd\
af0c2f6a4d41b2d786178617b5e185e0c1786178305e0c1790c9020bf8ffffffffffffffffffffffffffffffffffffffffffffffffffffff\
ffffffffffffffffffffffffffffffffffff90350663ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff\
ffffff8ffffffffffffffffffffffffffffff0010010";

pub fn fax_bytes() -> Vec<u8> {
    let digits: Vec<u8> =
        FAX.bytes().filter_map(|sign| char::from(sign).to_digit(16)).map(|digit| digit as u8).collect();
    digits.chunks(2).map(|two| two[0] << 4 | two[1]).collect()
}

fn fax(parameters: &str, data: &[u8]) -> Result<PagePicture, PdfFault> {
    let parameters = format!("/DecodeParms<</Columns {WIDTH}/Rows {HEIGHT}{parameters}>>");
    shown(&one_picture(&format!("/BitsPerComponent 1/ColorSpace/DeviceGray/Filter/CCITTFaxDecode{parameters}"), data))
}

#[test]
fn plain_and_deflated_grey_comes_out_as_it_was() {
    let space = "/BitsPerComponent 8/ColorSpace/DeviceGray";
    assert_eq!(shown(&one_picture(space, &levels())), grey(levels()));
    let deflate = format!("{space}/Filter/FlateDecode");
    assert_eq!(shown(&one_picture(&deflate, &deflated(&levels()))), grey(levels()));
    let turned = format!("{deflate}/Decode[1 0]");
    let other_way = levels().into_iter().map(|level| 255 - level).collect();
    assert_eq!(shown(&one_picture(&turned, &deflated(&levels()))), grey(other_way));
}

#[test]
fn the_filters_of_png_and_tiff_are_undone() {
    let line = |y: usize| (0..WIDTH).map(move |x| level(x, y));
    let left = |x: usize, y: usize| x.checked_sub(1).map_or(0, |x| level(x, y));
    let above = |x: usize, y: usize| y.checked_sub(1).map_or(0, |y| level(x, y));
    // Lines filtered in turn by none, sub, up and average (W3C PNG, 9.2).
    let filtered: Vec<u8> = (0..HEIGHT)
        .flat_map(|y| {
            let kind = (y % 4) as u8;
            let guess = move |x: usize| match kind {
                0 => 0,
                1 => left(x, y),
                2 => above(x, y),
                _ => ((u16::from(left(x, y)) + u16::from(above(x, y))) / 2) as u8,
            };
            [kind]
                .into_iter()
                .chain(line(y).enumerate().map(move |(x, level)| level.wrapping_sub(guess(x))))
                .collect::<Vec<u8>>()
        })
        .collect();
    let space = "/BitsPerComponent 8/ColorSpace/DeviceGray/Filter/FlateDecode";
    let png = format!("{space}/DecodeParms<</Predictor 15/Columns {WIDTH}>>");
    assert_eq!(shown(&one_picture(&png, &deflated(&filtered))), grey(levels()));
    let tiff = format!("{space}/DecodeParms[<</Predictor 2/Columns {WIDTH}>>]");
    let differences: Vec<u8> =
        (0..HEIGHT).flat_map(|y| line(y).enumerate().map(move |(x, level)| level.wrapping_sub(left(x, y)))).collect();
    assert_eq!(shown(&one_picture(&tiff, &deflated(&differences))), grey(levels()));
}

#[test]
fn colours_palettes_and_single_bits_become_grey() {
    let colors: Vec<u8> = levels().iter().flat_map(|level| [*level; 3]).collect();
    let space = "/BitsPerComponent 8/ColorSpace[/ICCBased 6 0 R]/Filter/FlateDecode";
    let mut maker = Maker::page(1);
    maker.stream(5, &picture_of(space), &deflated(&colors));
    maker.stream(6, "/N 3", b"no profile is read");
    // Equal red, green and blue are that grey (ITU-R BT.601: the weights sum to 1).
    assert_eq!(shown(&maker.done()), grey(levels()));
    let bits: Vec<u8> = (0..HEIGHT)
        .flat_map(|y| {
            (0..WIDTH / 8)
                .map(move |byte| (0..8).fold(0, |bits, bit| bits << 1 | u8::from(!is_dark(byte * 8 + bit, y))))
        })
        .collect();
    let one_bit = "/BitsPerComponent 1/ColorSpace/DeviceGray/Filter[/FlateDecode]";
    assert_eq!(shown(&one_picture(one_bit, &deflated(&bits))), grey(drawing(0, 255)));
    let palette = "/BitsPerComponent 1/ColorSpace[/Indexed/DeviceRGB 1<0a0a0a fafafa>]/Filter/FlateDecode";
    assert_eq!(shown(&one_picture(palette, &deflated(&bits))), grey(drawing(10, 250)));
    let text = "/BitsPerComponent 1/ColorSpace[/Indexed/DeviceGray 1(\\012\\372)]/Filter/FlateDecode";
    assert_eq!(shown(&one_picture(text, &deflated(&bits))), grey(drawing(10, 250)));
}

#[test]
fn fax_of_group_4_is_read() {
    assert_eq!(fax("/K -1/BlackIs1 true", &fax_bytes()), grey(drawing(0, 255)));
    assert_eq!(fax("/K -1", &fax_bytes()), grey(drawing(255, 0)));
    assert_eq!(fax("/K -1/BlackIs1 true", &fax_bytes()[..200]), Err(PdfFault::Damaged));
    assert!(matches!(fax("/K 0", &fax_bytes()), Err(PdfFault::Coding(name)) if name.contains("group 3")));
}

#[test]
fn jpeg_is_handed_out_as_it_is() {
    let jpeg = b"\xff\xd8\xff\xe0 endobj 7 0 obj <<\xff\xd9";
    let kind = "/BitsPerComponent 8/ColorSpace/DeviceRGB/Filter/DCTDecode";
    assert_eq!(shown(&one_picture(kind, jpeg)), Ok(PagePicture::Jpeg(jpeg.to_vec())));
    let twice = "/BitsPerComponent 8/ColorSpace/DeviceRGB/Filter[/FlateDecode/DCTDecode]";
    assert_eq!(shown(&one_picture(twice, &deflated(jpeg))), Ok(PagePicture::Jpeg(jpeg.to_vec())));
    assert_eq!(shown(&one_picture(kind, b"no picture")), Err(PdfFault::Damaged));
}

#[test]
fn objects_packed_into_a_stream_are_found_and_pages_keep_their_order() {
    let packed = [
        "<</Type/Catalog/Pages 2 0 R>>",
        "<</Type/Pages/Kids[9 0 R 3 0 R]/Count 2/Resources 7 0 R>>",
        "<</Type/Page/Parent 2 0 R/Contents 4 0 R>>",
        "<</Type/Page/Parent 2 0 R/Contents 8 0 R>>",
        "<</XObject<</A 5 0 R/B 6 0 R>>>>",
    ];
    let mut head = String::new();
    let mut body = String::new();
    for (number, object) in [1, 2, 3, 9, 7].iter().zip(packed) {
        head += &format!("{number} {} ", body.len());
        body += object;
        body.push(' ');
    }
    let mut maker = Maker { bytes: b"%PDF-1.7\n".to_vec() };
    let data = deflated(format!("{head}{body}").as_bytes());
    maker.stream(20, &format!("/Type/ObjStm/N 5/First {}/Filter/FlateDecode", head.len()), &data);
    maker.stream(4, "/Filter/FlateDecode", &deflated(b"q /A Do Q"));
    maker.stream(8, "", b"q /B Do Q");
    let space = picture_of("/BitsPerComponent 8/ColorSpace/DeviceGray");
    maker.stream(5, &space, &levels());
    maker.stream(6, &space, &vec![9; WIDTH * HEIGHT]);
    maker.stream(21, "/Type/XRef/Root 1 0 R/W[1 2 1]/Size 30", b"never looked at");
    let file = maker.bytes;
    let pdf = ScannedPdf::open(&file).expect("pages");
    assert_eq!(pdf.len(), 2);
    assert_eq!((pdf.picture(0), pdf.picture(1)), (grey(vec![9; WIDTH * HEIGHT]), grey(levels())));
}

#[test]
fn what_is_not_read_is_told_with_what_to_do() {
    let kind = "/BitsPerComponent 8/ColorSpace/DeviceGray";
    let coded = |name: &str| shown(&one_picture(&format!("{kind}/Filter/{name}"), b"data"));
    for name in ["JBIG2Decode", "JPXDecode", "LZWDecode"] {
        assert_eq!(coded(name), Err(PdfFault::Coding(name.to_owned())));
        assert!(coded(name).expect_err("a reason").to_string().contains("Set the scanner to JPEG"));
    }
    assert_eq!(shown(&Maker::page(0).done()), Err(PdfFault::NoPicture));
    let mut two = Maker::page(2);
    (5..7).for_each(|number| two.stream(number, &picture_of(kind), &levels()));
    assert_eq!(shown(&two.done()), Err(PdfFault::SeveralPictures));
    let mut locked = Maker::page(1);
    locked.bytes.extend(b"trailer <</Encrypt 30 0 R/Root 1 0 R>>");
    assert_eq!(shown(&locked.done()), Err(PdfFault::Locked));
    let cut = one_picture(&format!("{kind}/Filter/FlateDecode"), &deflated(&levels())[..900]);
    assert_eq!(shown(&cut), Err(PdfFault::Damaged));
    assert_eq!(shown(&one_picture("/BitsPerComponent 8/ColorSpace/DeviceCMYK", b"")), Err(PdfFault::Pixels));
    for nothing in [&b""[..], b"%PDF-1.7", b"1 0 obj", b"obj obj obj 1 0 obj <<", b"1 0 obj (((("] {
        assert_eq!(shown(nothing), Err(PdfFault::NoPages));
    }
}

#[test]
fn sizes_and_bombs_are_refused_before_memory_is_spent() {
    let huge = "/Type/XObject/Subtype/Image/Width 60000/Height 60000/BitsPerComponent 8/ColorSpace/DeviceGray";
    let mut maker = Maker::page(1);
    maker.stream(5, huge, b"");
    assert!(matches!(shown(&maker.done()), Err(PdfFault::Size(_))));
    let mut bomb = Maker::page(0);
    bomb.stream(9, "/Type/ObjStm/N 1/First 4/Filter/FlateDecode", &deflated(&vec![b' '; 9_000_000]));
    assert_eq!(shown(&bomb.done()), Err(PdfFault::TooMuch));
    let pages: String = (0..600).map(|page| format!("{} 0 R ", page + 10)).collect();
    let mut many = Maker { bytes: Vec::new() };
    many.object(1, "<</Type/Catalog/Pages 2 0 R>>");
    many.object(2, &format!("<</Type/Pages/Kids[{pages}]>>"));
    (0..600).for_each(|page| many.object(page + 10, "<</Type/Page>>"));
    assert_eq!(shown(&many.done()), Err(PdfFault::TooMuch));
    // Brackets that open and never close would take a time that grows with the square of their number.
    assert_eq!(shown(&b"1 0 obj(".repeat(100_000)), Err(PdfFault::TooMuch));
    assert!(shown(&b"1 0 obj[".repeat(20_000)).is_err());
}
