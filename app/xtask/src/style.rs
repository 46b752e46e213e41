//! The stylesheet in parts: read in the order of app/index.html, each held to be whole, joined to one sheet.
//! It must not know what a rule dresses, nor which parts there are: app/index.html names them.

use crate::run::Failure;
use std::path::Path;

/// Where the parts lie, from the root of the workspace.
const FOLDER: &str = "public/style";

/// The parts joined to one sheet, in the order of their links.
///
/// # Errors
/// When a part can't be read, is not whole, or lies in public/style without a link.
pub fn sheet(root: &Path) -> Result<String, Failure> {
    let index = read(&root.join("app/index.html"))?;
    let links = links(&index)?;
    refuse_unnamed(root, &links)?;
    let mut sheet = String::new();
    for link in links {
        let text = read(&root.join("app").join(link))?;
        whole(&text).map_err(|why| Failure(format!("{}: {why}", link.trim_start_matches("../"))))?;
        sheet.push_str(text.trim_end());
        sheet.push_str("\n\n");
    }
    Ok(sheet)
}

fn read(path: &Path) -> Result<String, Failure> {
    std::fs::read_to_string(path).map_err(|error| Failure(format!("{} can't be read: {error}", path.display())))
}

/// The addresses of the parts, as the links for Trunk name them. A stylesheet that is linked past Trunk is refused: it would
/// be lost when the parts are joined.
fn links(index: &str) -> Result<Vec<&str>, Failure> {
    let mut addresses = Vec::new();
    for tag in index.split("<link").skip(1).filter_map(|rest| rest.split('>').next()) {
        if tag.contains("rel=\"stylesheet\"") {
            return Err(Failure(format!(
                "app/index.html: <link{tag}> must be a link for Trunk: data-trunk rel=\"css\""
            )));
        }
        if tag.contains("rel=\"css\"") {
            let address = tag.split_once("href=\"").and_then(|(_, rest)| rest.split_once('"'));
            let none = || Failure(format!("app/index.html: <link{tag}> has no href"));
            addresses.push(address.ok_or_else(none)?.0);
        }
    }
    Ok(addresses)
}

/// A part that no link names would be neither served nor shipped.
fn refuse_unnamed(root: &Path, links: &[&str]) -> Result<(), Failure> {
    for entry in std::fs::read_dir(root.join(FOLDER))? {
        let name = entry?.file_name().to_string_lossy().into_owned();
        if name.ends_with(".css") && !links.contains(&format!("../{FOLDER}/{name}").as_str()) {
            return Err(Failure(format!("{FOLDER}/{name} has no link in app/index.html, so nobody would see it")));
        }
    }
    Ok(())
}

/// Holds that every brace, comment and string of a part is closed. A brace that is lost when two branches meet would else
/// swallow the parts behind it.
///
/// # Errors
/// What is open or too much, with its line.
fn whole(text: &str) -> Result<(), String> {
    let mut open = Vec::new();
    let mut line = 1;
    let mut rest = text;
    while let Some(sign) = rest.chars().next() {
        let length = match sign {
            '/' if rest.starts_with("/*") => {
                let end = rest[2..].find("*/");
                end.ok_or_else(|| format!("the comment that begins in line {line} has no end"))? + 4
            }
            '"' | '\'' => string_length(rest, sign).ok_or_else(|| format!("the string in line {line} has no end"))?,
            '\\' => 1 + rest[1..].chars().next().map_or(0, char::len_utf8),
            other => other.len_utf8(),
        };
        match sign {
            '{' => open.push(line),
            '}' if open.pop().is_none() => return Err(format!("the }} in line {line} closes nothing")),
            _ => {}
        }
        line += rest[..length].matches('\n').count();
        rest = &rest[length..];
    }
    match open.pop() {
        Some(line) => Err(format!("the {{ in line {line} is never closed")),
        None => Ok(()),
    }
}

/// The bytes of the string that opens the text, both quotes included; `None` when its line ends first.
fn string_length(text: &str, quote: char) -> Option<usize> {
    let mut signs = text.char_indices().skip(1);
    while let Some((place, sign)) = signs.next() {
        match sign {
            '\\' => {
                signs.next();
            }
            '\n' => return None,
            sign if sign == quote => return Some(place + 1),
            _ => {}
        }
    }
    None
}

#[cfg(test)]
#[path = "style_tests.rs"]
mod tests;
