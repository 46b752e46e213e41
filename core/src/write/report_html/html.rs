//! The pieces of HTML that the report is made of. Every text is escaped here, and nowhere else is a tag written. It
//! knows nothing of panels.

use crate::figures::{Scene, to_svg};
use crate::table::{Cell, Column, Format, Role, Table};
use crate::text::markup::escape;

/// Tables up to this many rows are kept on one page; longer ones break between rows and repeat their head.
const ROWS_KEPT_TOGETHER: usize = 30;
/// A table with more columns is set in smaller type.
const COLUMNS_AT_FULL_SIZE: usize = 8;
/// Columns of results that fit beside each other on paper; one with small figures below its numbers takes two places.
const COLUMNS_ABREAST: usize = 13;

/// A piece of HTML under way. What is put in is text; what comes out is safe.
#[derive(Debug, Default)]
pub(in crate::write) struct Html {
    out: String,
}

impl Html {
    pub fn into_text(self) -> String {
        self.out
    }

    /// A section with its heading; none at all where there is nothing to say under it.
    pub fn section(&mut self, heading: &str, body: impl FnOnce(&mut Html)) {
        let mut inside = Html::default();
        body(&mut inside);
        if !inside.out.is_empty() {
            self.part(|html| {
                html.element("h2", heading);
                html.out.push_str(&inside.out);
            });
        }
    }

    /// What goes on with the section before, and stands by itself.
    pub fn part(&mut self, body: impl FnOnce(&mut Html)) {
        self.out.push_str("<section>\n");
        body(self);
        self.out.push_str("</section>\n");
    }

    /// A section that ends its page in print.
    pub fn page(&mut self, body: impl FnOnce(&mut Html)) {
        self.out.push_str("<section class=\"page\">\n");
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

    /// A word and what is stated under it. What is not stated is named elsewhere, all of it in one line.
    pub fn stated(&mut self, word: &str, text: Option<&str>) {
        let Some(text) = text.map(str::trim).filter(|text| !text.is_empty()) else { return };
        self.out.push_str("<dl><dt>");
        self.out.push_str(&escape(word));
        self.out.push_str("</dt><dd>");
        self.lines(text);
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

    /// A table of results with its notes, and why numbers are missing. One that is too wide for paper goes on below.
    pub fn results(&mut self, table: &Table) {
        for columns in columns_abreast(table) {
            self.grid(table, &columns);
        }
        table.notes.iter().for_each(|note| self.note(note));
        let reasons = table.reasons();
        if !reasons.is_empty() {
            self.note(&format!("– not defined, because {}.", reasons.join("; ")));
        }
    }

    /// A table of words.
    pub fn words_table(&mut self, caption: &str, heads: &[&str], rows: &[Vec<String>]) {
        let columns = heads.iter().map(|head| Column::of(*head, Format::Words, "")).collect();
        let rows = rows.iter().map(|row| row.iter().map(Cell::words).collect());
        self.results(&Table::new("", caption, columns, 100.0).with_rows(rows));
    }

    /// Some columns of a table, by their places; the first of them names the rows.
    fn grid(&mut self, table: &Table, places: &[usize]) {
        let classes = [(table.rows.len() > ROWS_KEPT_TOGETHER, "long"), (places.len() > COLUMNS_AT_FULL_SIZE, "wide")];
        let classes: Vec<&str> = classes.into_iter().filter(|(is_so, _)| *is_so).map(|(_, class)| class).collect();
        self.out.push_str(&match classes.as_slice() {
            [] => "<table>\n".to_owned(),
            some => format!("<table class=\"{}\">\n", some.join(" ")),
        });
        self.element("caption", &table.caption);
        let columns: Vec<&Column> = places.iter().filter_map(|place| table.columns.get(*place)).collect();
        self.head(&columns);
        self.out.push_str("<tbody>\n");
        for row in 0..table.rows.len() {
            self.result_row(table, row, places);
        }
        self.out.push_str("</tbody>\n</table>\n");
    }

    fn head(&mut self, columns: &[&Column]) {
        let is_grouped = |column: &&&Column| !column.group.is_empty();
        let two_lines = columns.iter().any(|column| is_grouped(&column));
        self.out.push_str("<thead>\n<tr>");
        for same in columns.chunk_by(|a, b| !a.group.is_empty() && a.group == b.group) {
            if same[0].group.is_empty() {
                self.column_head(same[0], if two_lines { " rowspan=\"2\"" } else { " rowspan=\"1\"" });
            } else {
                let (count, group) = (same.len(), escape(&same[0].group));
                self.out.push_str(&format!("<th scope=\"colgroup\" colspan=\"{count}\" class=\"group\">{group}</th>"));
            }
        }
        if two_lines {
            self.out.push_str("</tr>\n<tr>");
            columns.iter().filter(is_grouped).for_each(|column| self.column_head(column, ""));
        }
        self.out.push_str("</tr>\n</thead>\n");
    }

    fn column_head(&mut self, column: &Column, rows: &str) {
        let (class, head) = (class_of(column), escape(&column.head_with_unit()));
        self.out.push_str(&format!("<th scope=\"col\"{rows}{class}>{head}</th>"));
    }

    fn result_row(&mut self, table: &Table, row: usize, places: &[usize]) {
        self.out.push_str("<tr>");
        for (index, place) in places.iter().enumerate() {
            let Some(column) = table.columns.get(*place) else { continue };
            let detail = table.rows[row].cells.get(*place).map_or("", |cell| &cell.detail);
            let content = format!("{}{}", typeset(&table.shown(row, *place), column), small(&typeset(detail, column)));
            self.out.push_str(&match index {
                0 => format!("<th scope=\"row\">{content}</th>"),
                _ => format!("<td{}>{content}</td>", class_of(column)),
            });
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

/// The columns of a table in parts that fit on paper, each with the column that names the rows before it; a group stays
/// whole. A table whose first column does not name its rows stays as it is.
fn columns_abreast(table: &Table) -> Vec<Vec<usize>> {
    let all: Vec<usize> = (0..table.columns.len()).collect();
    if table.columns.first().is_none_or(|column| column.role != Role::Name) {
        return vec![all];
    }
    let group = |place: &usize| &table.columns[*place].group;
    let places_of = |columns: &[usize]| -> usize {
        columns.iter().map(|place| if table.has_details(*place) { 2 } else { 1 }).sum()
    };
    let (mut parts, mut taken) = (vec![vec![0]], 0);
    for block in all[1..].chunk_by(|a, b| !group(a).is_empty() && group(a) == group(b)) {
        let wanted = places_of(block);
        if taken > 0 && taken + wanted > COLUMNS_ABREAST {
            parts.push(vec![0]);
            taken = 0;
        }
        taken += wanted;
        parts.iter_mut().last().into_iter().for_each(|part| part.extend(block));
    }
    parts
}

/// Words keep their hyphen; numbers get a true minus sign.
fn typeset(text: &str, column: &Column) -> String {
    escape(&if column.format.is_number() { text.replace('-', "\u{2212}") } else { text.to_owned() })
}

/// What is said below a value, already escaped.
fn small(detail: &str) -> String {
    if detail.is_empty() { String::new() } else { format!("<span class=\"detail\">{detail}</span>") }
}

fn class_of(column: &Column) -> &'static str {
    match (column.role, column.format.is_number()) {
        (Role::Warning, _) => " class=\"number is-warning\"",
        (_, true) => " class=\"number\"",
        (_, false) => "",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wide(columns: usize, detail: &str) -> Table {
        let heads =
            (0..columns).map(|place| Column::of(place.to_string(), Format::Count, "").under((place / 2).to_string()));
        let cells = (0..columns).map(|place| Cell::number(place as f64).with_detail(detail));
        let row = [Cell::words("row")].into_iter().chain(cells).collect();
        Table::new("wide", "Wide", [Column::name("name")].into_iter().chain(heads).collect(), 100.0).with_rows([row])
    }

    #[test]
    fn what_is_too_wide_for_paper_goes_on_below_with_its_names_and_whole_groups() {
        // By hand: 13 places hold six groups of two, and half of that where each column takes two places.
        let widths = |table: &Table| columns_abreast(table).iter().map(Vec::len).collect::<Vec<_>>();
        assert_eq!(widths(&wide(12, "")), [13]);
        assert_eq!(widths(&wide(14, "")), [13, 3]);
        assert_eq!(widths(&wide(8, "1 to 2")), [7, 3]);
        let mut html = Html::default();
        html.results(&wide(14, ""));
        let text = html.into_text();
        assert_eq!(text.matches("<th scope=\"row\">row</th>").count(), 2);
        assert_eq!(text.matches("<td class=\"number\">").count(), 14);
    }

    #[test]
    fn what_is_small_stands_below_its_value_and_is_escaped() {
        let mut html = Html::default();
        html.results(&wide(1, "-1 to <2>"));
        let text = html.into_text();
        assert!(
            text.contains("<td class=\"number\">0<span class=\"detail\">\u{2212}1 to &lt;2&gt;</span></td>"),
            "{text}"
        );
    }
}
