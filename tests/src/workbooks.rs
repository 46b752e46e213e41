//! Small workbooks made from nothing, for tests of reading: .xlsx and .ods with the cells that a test asks for, whole
//! or with the oddities that programs write. It knows nothing of how they are read.

use miniz_oxide::deflate::compress_to_vec;

/// One cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    Blank,
    Number(f64),
    Text(String),
    /// A day counted from 1899-12-30, shown as a date.
    Date(f64),
    /// `#REF!` and its like.
    Error(&'static str),
    /// A number shown with three digits: 12 as 012.
    Code(u32),
    /// A formula with the result that was saved, if any.
    Formula(Option<f64>),
}

/// One sheet of a workbook.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    pub name: String,
    pub is_hidden: bool,
    pub rows: Vec<Vec<Cell>>,
    /// Ranges such as "B1:C1".
    pub merged: Vec<&'static str>,
}

impl Sheet {
    /// A sheet with the cells of a text table; what is a number there is stored as one.
    pub fn of(name: &str, csv: &str) -> Self {
        let cell = |text: &str| match text.parse() {
            _ if text.is_empty() => Cell::Blank,
            Ok(number) => Cell::Number(number),
            Err(_) => Cell::Text(text.to_owned()),
        };
        let rows = csv.lines().map(|line| line.split(',').map(cell).collect()).collect();
        Sheet { name: name.to_owned(), rows, ..Sheet::default() }
    }

    /// The same sheet with another cell, rows and columns from 0.
    pub fn with(mut self, row: usize, column: usize, cell: Cell) -> Self {
        self.rows[row][column] = cell;
        self
    }

    pub fn hidden(mut self) -> Self {
        self.is_hidden = true;
        self
    }

    pub fn merged(mut self, range: &'static str) -> Self {
        self.merged.push(range);
        self
    }
}

/// An .xlsx workbook.
pub fn xlsx(sheets: &[Sheet]) -> Vec<u8> {
    zip(&xlsx_parts(sheets))
}

/// The parts of an .xlsx workbook by their names, for tests that break one of them.
pub fn xlsx_parts(sheets: &[Sheet]) -> Vec<(String, String)> {
    let mut strings: Vec<String> = Vec::new();
    let bodies: Vec<String> = sheets.iter().map(|sheet| xlsx_sheet(sheet, &mut strings)).collect();
    let listed = sheets.iter().enumerate().map(|(index, sheet)| {
        let state = if sheet.is_hidden { " state=\"hidden\"" } else { "" };
        format!("<sheet name=\"{}\" sheetId=\"{n}\"{state} r:id=\"rId{n}\"/>", escaped(&sheet.name), n = index + 1)
    });
    let related = (1..=sheets.len())
        .map(|number| relation(&format!("rId{number}"), "worksheet", &format!("worksheets/sheet{number}.xml")));
    let relations: String = related
        .chain([relation("rIdS", "sharedStrings", "sharedStrings.xml"), relation("rIdT", "styles", "/xl/styles.xml")])
        .collect();
    let items: String =
        strings.iter().map(|text| format!("<si><t xml:space=\"preserve\">{}</t></si>", escaped(text))).collect();
    let mut parts = vec![
        ("[Content_Types].xml".to_owned(), format!("{XML}<Types/>")),
        ("_rels/.rels".to_owned(), relations_part(&relation("rId1", "officeDocument", "xl/workbook.xml"))),
        (
            "xl/workbook.xml".to_owned(),
            format!("{XML}<workbook xmlns:r=\"r\"><sheets>{}</sheets></workbook>", listed.collect::<String>()),
        ),
        ("xl/_rels/workbook.xml.rels".to_owned(), relations_part(&relations)),
        ("xl/sharedStrings.xml".to_owned(), format!("{XML}<sst>{items}</sst>")),
        ("xl/styles.xml".to_owned(), STYLES.to_owned()),
    ];
    for (index, body) in bodies.into_iter().enumerate() {
        parts.push((format!("xl/worksheets/sheet{}.xml", index + 1), body));
    }
    parts
}

/// An .ods workbook.
pub fn ods(sheets: &[Sheet]) -> Vec<u8> {
    zip(&ods_parts(sheets))
}

/// The parts of an .ods workbook by their names.
pub fn ods_parts(sheets: &[Sheet]) -> Vec<(String, String)> {
    let tables: String = sheets.iter().map(ods_table).collect();
    let content = format!(
        "{XML}<office:document-content><office:automatic-styles><style:style style:name=\"ta2\" \
         style:family=\"table\"><style:table-properties table:display=\"false\"/></style:style>\
         </office:automatic-styles><office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body>\
         </office:document-content>"
    );
    vec![
        ("mimetype".to_owned(), "application/vnd.oasis.opendocument.spreadsheet".to_owned()),
        ("META-INF/manifest.xml".to_owned(), format!("{XML}<manifest:manifest/>")),
        ("content.xml".to_owned(), content),
    ]
}

/// A zip archive; every other file is packed, the rest stored.
pub fn zip(parts: &[(String, String)]) -> Vec<u8> {
    let (mut bytes, mut directory) = (Vec::new(), Vec::new());
    for (number, (name, text)) in parts.iter().enumerate() {
        let packed = if number % 2 == 0 { text.clone().into_bytes() } else { compress_to_vec(text.as_bytes(), 6) };
        let method: u16 = if number % 2 == 0 { 0 } else { 8 };
        let mut facts: Vec<u8> = Vec::new();
        facts.extend([20, 0, 0, 0]);
        facts.extend(method.to_le_bytes());
        facts.extend([0; 4]);
        facts.extend(checksum(text.as_bytes()).to_le_bytes());
        facts.extend((packed.len() as u32).to_le_bytes());
        facts.extend((text.len() as u32).to_le_bytes());
        facts.extend((name.len() as u16).to_le_bytes());
        facts.extend([0; 2]);
        directory.extend(b"PK\x01\x02\x14\x00");
        directory.extend(&facts);
        directory.extend([0; 10]);
        directory.extend((bytes.len() as u32).to_le_bytes());
        directory.extend(name.as_bytes());
        bytes.extend(b"PK\x03\x04");
        bytes.extend(&facts);
        bytes.extend(name.as_bytes());
        bytes.extend(packed);
    }
    let (start, count) = (bytes.len() as u32, parts.len() as u16);
    bytes.extend(&directory);
    bytes.extend(b"PK\x05\x06\0\0\0\0");
    bytes.extend(count.to_le_bytes());
    bytes.extend(count.to_le_bytes());
    bytes.extend((directory.len() as u32).to_le_bytes());
    bytes.extend(start.to_le_bytes());
    bytes.extend([0; 2]);
    bytes
}

const XML: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n";

const RELATION: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

/// Cell styles: 0 plain, 1 a date, 2 three digits.
const STYLES: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?><styleSheet><numFmts><numFmt numFmtId=\"164\" \
     formatCode=\"000\"/></numFmts><cellStyleXfs><xf numFmtId=\"0\"/></cellStyleXfs><cellXfs><xf numFmtId=\"0\"/>\
     <xf numFmtId=\"14\"/><xf numFmtId=\"164\"/></cellXfs></styleSheet>";

fn relation(id: &str, kind: &str, target: &str) -> String {
    format!("<Relationship Id=\"{id}\" Type=\"{RELATION}/{kind}\" Target=\"{target}\"/>")
}

fn relations_part(relations: &str) -> String {
    format!("{XML}<Relationships>{relations}</Relationships>")
}

fn xlsx_sheet(sheet: &Sheet, strings: &mut Vec<String>) -> String {
    let mut body = format!("{XML}<worksheet><sheetData>");
    for (row, cells) in sheet.rows.iter().enumerate() {
        body.push_str(&format!("<row r=\"{}\">", row + 1));
        for (column, cell) in cells.iter().enumerate() {
            let place = format!("r=\"{}{}\"", letter(column), row + 1);
            body.push_str(&match cell {
                Cell::Blank => String::new(),
                Cell::Number(number) => format!("<c {place}><v>{number}</v></c>"),
                Cell::Date(day) => format!("<c {place} s=\"1\"><v>{day}</v></c>"),
                Cell::Code(code) => format!("<c {place} s=\"2\"><v>{code}</v></c>"),
                Cell::Error(error) => format!("<c {place} t=\"e\"><v>{error}</v></c>"),
                Cell::Formula(Some(result)) => format!("<c {place}><f>SUM(A1)</f><v>{result}</v></c>"),
                Cell::Formula(None) => format!("<c {place}><f>SUM(A1)</f></c>"),
                Cell::Text(text) => {
                    strings.push(text.clone());
                    format!("<c {place} t=\"s\"><v>{}</v></c>", strings.len() - 1)
                }
            });
        }
        body.push_str("</row>");
    }
    body.push_str("</sheetData>");
    if !sheet.merged.is_empty() {
        let ranges: String = sheet.merged.iter().map(|range| format!("<mergeCell ref=\"{range}\"/>")).collect();
        body.push_str(&format!("<mergeCells>{ranges}</mergeCells>"));
    }
    body + "</worksheet>"
}

fn ods_table(sheet: &Sheet) -> String {
    let style = if sheet.is_hidden { "ta2" } else { "ta1" };
    let mut table = format!("<table:table table:name=\"{}\" table:style-name=\"{style}\">", escaped(&sheet.name));
    for cells in &sheet.rows {
        table.push_str("<table:table-row>");
        let mut column = 0;
        while column < cells.len() {
            let alike = cells[column..].iter().take_while(|cell| **cell == cells[column]).count();
            table.push_str(&ods_cell(&cells[column], alike));
            column += alike;
        }
        table.push_str("</table:table-row>");
    }
    table.push_str(
        "<table:table-row table:number-rows-repeated=\"1048000\"><table:table-cell \
                    table:number-columns-repeated=\"16384\"/></table:table-row></table:table>",
    );
    table
}

fn ods_cell(cell: &Cell, repeats: usize) -> String {
    let float = |value: f64, shown: &str, more: &str| {
        (format!("office:value-type=\"float\" office:value=\"{value}\"{more}"), shown.to_owned())
    };
    let (attributes, shown) = match cell {
        Cell::Blank => (String::new(), String::new()),
        Cell::Number(number) => float(*number, &number.to_string().replace('.', ","), ""),
        Cell::Text(text) => ("office:value-type=\"string\" calcext:value-type=\"string\"".to_owned(), text.clone()),
        Cell::Date(day) => {
            let date = if (*day - 45_000.0).abs() < 1e-9 { "2023-03-15" } else { "2024-12-05" };
            (format!("office:value-type=\"date\" office:date-value=\"{date}\""), date.to_owned())
        }
        Cell::Error(error) => {
            ("office:value-type=\"string\" calcext:value-type=\"error\"".to_owned(), (*error).to_owned())
        }
        Cell::Code(code) => float(f64::from(*code), &format!("{code:03}"), ""),
        Cell::Formula(Some(result)) => float(*result, &result.to_string(), " table:formula=\"of:=SUM([.A1])\""),
        Cell::Formula(None) => ("table:formula=\"of:=SUM([.A1])\"".to_owned(), String::new()),
    };
    let repeated = if repeats > 1 { format!(" table:number-columns-repeated=\"{repeats}\"") } else { String::new() };
    let text = if shown.is_empty() { String::new() } else { format!("<text:p>{}</text:p>", escaped(&shown)) };
    format!("<table:table-cell {attributes}{repeated}>{text}</table:table-cell>")
}

fn letter(column: usize) -> char {
    char::from(b'A' + column as u8)
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('"', "&quot;")
}

/// CRC-32 bit by bit, as the format asks for.
fn checksum(bytes: &[u8]) -> u32 {
    let step = |crc: u32, byte: &u8| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { (crc >> 1) ^ 0xedb8_8320 } else { crc >> 1 })
    };
    !bytes.iter().fold(!0, step)
}
