//! The pieces of HTML that the report is made of. Every text is escaped here, and nowhere else is a tag written. It
//! knows nothing of panels.

use crate::figures::{Scene, to_svg};
use crate::tables::{ColumnKind, ResultCell, ResultColumn, ResultTable};
use crate::text::markup::escape;

/// Tables up to this many rows are kept on one page; longer ones break between rows and repeat their head.
const ROWS_KEPT_TOGETHER: usize = 30;

/// A piece of HTML under way. What is put in is text; what comes out is safe.
#[derive(Debug, Default)]
pub(in crate::write) struct Html {
    out: String,
}

impl Html {
    pub fn into_text(self) -> String {
        self.out
    }

    /// A section with its heading.
    pub fn section(&mut self, heading: &str, body: impl FnOnce(&mut Html)) {
        self.part(|html| {
            html.element("h2", heading);
            body(html);
        });
    }

    /// What goes on with the section before, and stands by itself.
    pub fn part(&mut self, body: impl FnOnce(&mut Html)) {
        self.out.push_str("<section>\n");
        body(self);
        self.out.push_str("</section>\n");
    }

    pub fn title(&mut self, text: &str) {
        self.element("h1", text);
    }

    pub fn heading(&mut self, text: &str) {
        self.element("h3", text);
    }

    /// Something that is not cut by the end of a page.
    pub fn kept_together(&mut self, body: impl FnOnce(&mut Html)) {
        self.out.push_str("<div class=\"kept\">\n");
        body(self);
        self.out.push_str("</div>\n");
    }

    /// One paragraph; line ends within are kept.
    pub fn paragraph(&mut self, text: &str) {
        self.out.push_str("<p>");
        self.lines(text);
        self.out.push_str("</p>\n");
    }

    /// A paragraph that is set small.
    pub fn note(&mut self, text: &str) {
        self.out.push_str("<p class=\"note\">");
        self.lines(text);
        self.out.push_str("</p>\n");
    }

    pub fn list(&mut self, lines: &[String]) {
        self.out.push_str("<ul>\n");
        for line in lines {
            self.element("li", line);
        }
        self.out.push_str("</ul>\n");
    }

    /// A word and what is stated under it; "not stated" where nothing is.
    pub fn stated(&mut self, word: &str, text: Option<&str>) {
        self.out.push_str("<dl><dt>");
        self.out.push_str(&escape(word));
        self.out.push_str("</dt><dd>");
        match text.map(str::trim).filter(|text| !text.is_empty()) {
            Some(text) => self.lines(text),
            None => self.out.push_str("<em>not stated</em>"),
        }
        self.out.push_str("</dd></dl>\n");
    }

    /// A verdict with its sentence.
    pub fn verdict(&mut self, word: &str, class: &str, sentence: &str) {
        self.out.push_str(&format!(
            "<p class=\"verdict {}\"><strong>{}</strong> <span>{}</span></p>\n",
            escape(class),
            escape(word),
            escape(sentence)
        ));
    }

    /// A figure with its title and its sentence, whole on one page.
    pub fn figure(&mut self, scene: &Scene) {
        self.out.push_str("<figure>\n");
        self.out.push_str(&to_svg(scene));
        self.out.push_str("<figcaption>");
        self.out.push_str(&escape(&scene.summary));
        self.out.push_str("</figcaption>\n</figure>\n");
    }

    /// A table of results with its notes, and why numbers are missing.
    pub fn results(&mut self, table: &ResultTable) {
        self.out.push_str(if table.rows.len() > ROWS_KEPT_TOGETHER { "<table class=\"long\">\n" } else { "<table>\n" });
        self.element("caption", &table.caption);
        self.head(&table.columns);
        self.out.push_str("<tbody>\n");
        for row in 0..table.rows.len() {
            self.result_row(table, row);
        }
        self.out.push_str("</tbody>\n</table>\n");
        table.notes.iter().for_each(|note| self.note(note));
        let reasons = table.reasons();
        if !reasons.is_empty() {
            self.note(&format!("– not defined, because {}.", reasons.join("; ")));
        }
    }

    /// A table of words.
    pub fn words_table(&mut self, caption: &str, heads: &[&str], rows: &[Vec<String>]) {
        let columns = heads.iter().map(|head| ResultColumn::plain(head, ColumnKind::Words)).collect();
        let rows = rows.iter().map(|row| row.iter().map(ResultCell::words).collect()).collect();
        let table = ResultTable { caption: caption.to_owned(), columns, rows, notes: Vec::new(), scale_maximum: 100.0 };
        self.results(&table);
    }

    fn head(&mut self, columns: &[ResultColumn]) {
        let two_lines = columns.iter().any(|column| !column.group.is_empty());
        self.out.push_str("<thead>\n<tr>");
        let mut index = 0;
        while index < columns.len() {
            let column = &columns[index];
            let same = columns[index..].iter().take_while(|other| other.group == column.group).count();
            if column.group.is_empty() {
                let rows = if two_lines { 2 } else { 1 };
                let class = class_of(column.kind);
                self.out
                    .push_str(&format!("<th scope=\"col\" rowspan=\"{rows}\"{class}>{}</th>", escape(&column.head)));
                index += 1;
            } else {
                let group = escape(&column.group);
                self.out.push_str(&format!("<th scope=\"colgroup\" colspan=\"{same}\" class=\"group\">{group}</th>"));
                index += same;
            }
        }
        if two_lines {
            self.out.push_str("</tr>\n<tr>");
            for column in columns.iter().filter(|column| !column.group.is_empty()) {
                self.out.push_str(&format!("<th scope=\"col\"{}>{}</th>", class_of(column.kind), escape(&column.head)));
            }
        }
        self.out.push_str("</tr>\n</thead>\n");
    }

    fn result_row(&mut self, table: &ResultTable, row: usize) {
        self.out.push_str("<tr>");
        for (index, column) in table.columns.iter().enumerate() {
            let shown =
                escape(&table.shown(row, index).replace('-', MINUS_IN_NUMBERS[usize::from(is_number(column.kind))]));
            if index == 0 {
                self.out.push_str(&format!("<th scope=\"row\">{shown}</th>"));
            } else {
                self.out.push_str(&format!("<td{}>{shown}</td>", class_of(column.kind)));
            }
        }
        self.out.push_str("</tr>\n");
    }

    fn element(&mut self, name: &str, text: &str) {
        self.out.push_str(&format!("<{name}>{}</{name}>\n", escape(text)));
    }

    fn lines(&mut self, text: &str) {
        for (number, line) in text.lines().enumerate() {
            if number > 0 {
                self.out.push_str("<br>");
            }
            self.out.push_str(&escape(line));
        }
    }
}

/// Words keep their hyphen; numbers get a true minus sign.
const MINUS_IN_NUMBERS: [&str; 2] = ["-", "\u{2212}"];

fn is_number(kind: ColumnKind) -> bool {
    kind != ColumnKind::Words
}

fn class_of(kind: ColumnKind) -> &'static str {
    if is_number(kind) { " class=\"number\"" } else { "" }
}
