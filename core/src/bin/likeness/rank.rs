//! `likeness rank`: Friedman, Page and Durbin on a table with one assessor a row and one sample a column.

use super::Outcome;
use super::show::{because, json_text};
use clap::{Args, ValueEnum};
use likeness_core::stats::tests::ranking::{durbin, friedman, page};
use likeness_core::text::numbers::{fixed, p_value};
use likeness_core::text::plain_json::plain_json;
use std::path::PathBuf;

/// Tests on ranks: do samples differ in rank, or follow an expected order?
///
/// The file is comma text: a header with the names of the samples, then one row an assessor with the name first.
/// Ranks or scores both do. An empty cell means not tasted and needs --test durbin.
#[derive(Args)]
pub struct RankArguments {
    file: PathBuf,
    #[arg(long, value_enum, default_value = "friedman")]
    test: RankTestName,
    /// For page: names of the samples from the lowest expected to the highest [default: the order of the file].
    #[arg(long, value_delimiter = ',')]
    order: Vec<String>,
    #[arg(long, default_value_t = 0.05)]
    alpha: f64,
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
}

#[derive(Clone, Copy, ValueEnum)]
enum RankTestName {
    Friedman,
    Page,
    Durbin,
}

struct Table {
    samples: Vec<String>,
    rows: Vec<Vec<Option<f64>>>,
}

pub fn run(arguments: &RankArguments) -> Outcome {
    if !(arguments.alpha > 0.0 && arguments.alpha < 0.5) {
        return Err("Alpha must lie between 0 and 0.5; 0.05 is common practice.".to_owned());
    }
    let table = read_table(arguments)?;
    let (value, text) = match arguments.test {
        RankTestName::Friedman => {
            let result = friedman(&complete(&table)?, arguments.alpha).map_err(|reason| because(&reason))?;
            let text = statistic_text(
                "Friedman's statistic",
                result.statistic,
                result.df,
                result.p,
                &result.rank_sums,
                &table,
            );
            (plain_json(&result), text)
        }
        RankTestName::Durbin => {
            let result = durbin(&table.rows).map_err(|reason| because(&reason))?;
            let text =
                statistic_text("Durbin's statistic", result.statistic, result.df, result.p, &result.rank_sums, &table);
            (plain_json(&result), text)
        }
        RankTestName::Page => {
            let result = page(&complete(&table)?).map_err(|reason| because(&reason))?;
            let sums = sums_text(&table.samples, &result.rank_sums);
            (plain_json(&result), format!("Page's L = {}, p {}. {sums}\n{}", result.l, p_value(result.p), result.model))
        }
    };
    if arguments.json { json_text(&value) } else { Ok(text) }
}

fn read_table(arguments: &RankArguments) -> Result<Table, String> {
    let name = arguments.file.display();
    let mut reader = csv::Reader::from_path(&arguments.file).map_err(|error| format!("{name}: {error}"))?;
    let header: Vec<String> = reader
        .headers()
        .map_err(|error| format!("{name}: {error}"))?
        .iter()
        .skip(1)
        .map(|cell| cell.trim().to_owned())
        .collect();
    let columns = column_order(&header, &arguments.order)?;
    let mut rows = Vec::new();
    for (index, record) in reader.records().enumerate() {
        let record = record.map_err(|error| format!("{name}: {error}"))?;
        let row: Result<Vec<Option<f64>>, String> = columns
            .iter()
            .map(|column| {
                let cell = record.get(column + 1).unwrap_or_default().trim();
                let place = format!("{name}, row {}, column {} ({})", index + 2, column + 2, header[*column]);
                cell_number(cell)
                    .ok_or_else(|| format!("{place}: “{cell}” is no number. Correct it or leave it empty."))
            })
            .collect();
        rows.push(row?);
    }
    Ok(Table { samples: columns.iter().map(|column| header[*column].clone()).collect(), rows })
}

/// `Some(None)` for an empty cell, `None` for what is no number.
fn cell_number(cell: &str) -> Option<Option<f64>> {
    if cell.is_empty() {
        return Some(None);
    }
    cell.parse::<f64>().ok().filter(|value| value.is_finite()).map(Some)
}

fn column_order(header: &[String], order: &[String]) -> Result<Vec<usize>, String> {
    if order.is_empty() {
        return Ok((0..header.len()).collect());
    }
    let place = |name: &String| {
        header
            .iter()
            .position(|cell| cell == name)
            .ok_or_else(|| format!("There is no sample called “{name}” in the header."))
    };
    order.iter().map(place).collect()
}

fn complete(table: &Table) -> Result<Vec<Vec<f64>>, String> {
    let rows: Option<Vec<Vec<f64>>> = table.rows.iter().map(|row| row.iter().copied().collect()).collect();
    rows.ok_or_else(|| "Some cells are empty. Complete the table or use --test durbin.".to_owned())
}

fn statistic_text(what: &str, statistic: f64, df: f64, p: f64, rank_sums: &[f64], table: &Table) -> String {
    let sums = sums_text(&table.samples, rank_sums);
    format!("{what} = {} on {df} degrees of freedom, p {}. {sums}", fixed(statistic, 3), p_value(p))
}

fn sums_text(samples: &[String], rank_sums: &[f64]) -> String {
    let sums: Vec<String> = samples.iter().zip(rank_sums).map(|(sample, sum)| format!("{sample} {sum}")).collect();
    format!("Rank sums: {}.", sums.join(", "))
}
