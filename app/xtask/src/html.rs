//! Changing the page that Trunk wrote: stylesheet, icon and start script are inlined or renamed, and the policy is put in.
//! Trunk links the stylesheet in its parts; the shipped page has one.
//! Pure text in, text out; it must not touch files.

use crate::run::Failure;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

/// Where the parts of the page come from once it is bundled.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Form {
    /// Everything inside one file.
    SingleFile,
    /// A page with its stylesheet, icon and script beside it.
    Folder,
}

/// One part of the page besides its HTML.
pub struct Part {
    pub file_name: String,
    pub text: String,
}

/// The page in pieces.
pub struct Page<'a> {
    /// What Trunk wrote.
    pub trunk_html: &'a str,
    pub style: &'a Part,
    pub icon: &'a Part,
    pub script: &'a Part,
}

const START_OPEN: &str = "<!-- start: quick -->";
const START_CLOSE: &str = "<!-- start: end -->";

/// The page in its shipped form.
///
/// # Errors
/// When Trunk's page is not as Trunk.toml and app/index.html make it, or a part can't be inlined safely.
pub fn assemble(page: &Page, form: Form) -> Result<String, Failure> {
    let mut html = page.trunk_html.replace("\r\n", "\n");
    // Links first: what is inlined later is not markup and may hold anything.
    html = replace_links(&html, "icon", &icon_element(page.icon, form))?;
    html = replace_links(&html, "stylesheet", &style_element(page.style, form)?)?;
    html = replace_start(&html, &script_element(page.script, form)?)?;
    refuse_leftovers(&html)?;
    let policy = policy(&html, form)?;
    let meta = format!("<meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\">");
    let charset = "<meta charset=\"utf-8\">";
    if html.matches(charset).count() != 1 {
        return Err(Failure(format!("app/index.html must have {charset} exactly once: the policy is put behind it")));
    }
    Ok(html.replace(charset, &format!("{charset}\n    {meta}")))
}

/// What the page may do. Scripts of the page are named by their hashes, so that no other can run.
fn policy(html: &str, form: Form) -> Result<String, Failure> {
    let own = match form {
        Form::SingleFile => "",
        Form::Folder => " 'self'",
    };
    let hashes: String = inline_scripts(html)?
        .iter()
        .map(|text| format!(" 'sha256-{}'", STANDARD.encode(Sha256::digest(text.as_bytes()))))
        .collect();
    Ok(format!(
        "default-src 'none'; script-src{own}{hashes} 'wasm-unsafe-eval'; style-src{own} 'unsafe-inline'; \
         img-src{own} data: blob:; connect-src 'none'; base-uri 'none'; form-action 'none'"
    ))
}

/// The texts of all inline scripts, byte for byte as a browser hashes them.
fn inline_scripts(html: &str) -> Result<Vec<&str>, Failure> {
    let mut texts = Vec::new();
    let mut rest = html;
    while let Some(start) = rest.find("<script") {
        let tag_end = start + end_of_tag(&rest[start..])?;
        let length =
            rest[tag_end..].find("</script>").ok_or_else(|| Failure("a script in the page has no end".to_string()))?;
        if !rest[start..tag_end].contains(" src=") {
            texts.push(&rest[tag_end..tag_end + length]);
        }
        rest = &rest[tag_end + length..];
    }
    Ok(texts)
}

fn script_element(script: &Part, form: Form) -> Result<String, Failure> {
    if form == Form::Folder {
        return Ok(format!("<script src=\"{}\"></script>", script.file_name));
    }
    // Inside a script element these two would end it or change how its end is found.
    for forbidden in ["</script", "<!--"] {
        if script.text.to_ascii_lowercase().contains(forbidden) {
            return Err(Failure(format!("the page's script contains `{forbidden}` and can't be inlined as it is")));
        }
    }
    Ok(format!("<script>\n{}</script>", script.text))
}

fn style_element(style: &Part, form: Form) -> Result<String, Failure> {
    if form == Form::Folder {
        let name = &style.file_name;
        return Ok(format!("<link rel=\"stylesheet\" href=\"{name}\">"));
    }
    if style.text.to_ascii_lowercase().contains("</style") {
        return Err(Failure("the stylesheet contains `</style` and can't be inlined".to_string()));
    }
    Ok(format!("<style>\n{}</style>", style.text))
}

fn icon_element(icon: &Part, form: Form) -> String {
    let address = match form {
        Form::Folder => icon.file_name.clone(),
        Form::SingleFile => format!("data:image/svg+xml;base64,{}", STANDARD.encode(icon.text.as_bytes())),
    };
    format!("<link rel=\"icon\" type=\"image/svg+xml\" href=\"{address}\">")
}

fn replace_start(html: &str, with: &str) -> Result<String, Failure> {
    let (before, rest) = html.split_once(START_OPEN).ok_or_else(no_start)?;
    let (_, after) = rest.split_once(START_CLOSE).ok_or_else(no_start)?;
    Ok(format!("{before}{with}{after}"))
}

fn no_start() -> Failure {
    Failure(format!(
        "Trunk's page lacks the marks `{START_OPEN}` and `{START_CLOSE}` that Trunk.toml puts around the start script"
    ))
}

/// Puts one element in the place of the first `<link>` of this kind and takes the others away.
fn replace_links(html: &str, rel: &str, with: &str) -> Result<String, Failure> {
    let mark = format!("rel=\"{rel}\"");
    let (mut kept, mut rest, mut is_placed) = (String::new(), html, false);
    while let Some(start) = rest.find("<link") {
        let end = start + end_of_tag(&rest[start..])?;
        let is_meant = rest[start..end].contains(&mark);
        match (is_meant, is_placed) {
            (false, _) => kept.push_str(&rest[..end]),
            (true, false) => kept.extend([&rest[..start], with]),
            (true, true) => kept.push_str(rest[..start].trim_end()),
        }
        is_placed |= is_meant;
        rest = &rest[end..];
    }
    if !is_placed {
        return Err(Failure(format!("Trunk's page has no <link {mark}>: app/index.html must name one for Trunk")));
    }
    Ok(kept + rest)
}

/// A stylesheet left over, a preload or a module script would be fetched, which the policy forbids: better no bundle than a broken one.
fn refuse_leftovers(html: &str) -> Result<(), Failure> {
    for (text, allowed) in [("rel=\"stylesheet\"", 1), ("preload", 0), ("type=\"module\"", 0), ("data-trunk", 0)] {
        // Text of scripts and styles is not markup, so only what stands outside of them is counted.
        if markup_only(html)?.matches(text).count() > allowed {
            return Err(Failure(format!(
                "the page still has `{text}`, which `bundle` does not know how to ship: keep stylesheets, one icon and \
                 the rust link in app/index.html, and put other files into the program by include_str! or include_bytes!"
            )));
        }
    }
    Ok(())
}

fn markup_only(html: &str) -> Result<String, Failure> {
    let mut rest = html.to_string();
    for element in ["script", "style"] {
        let (open, close) = (format!("<{element}"), format!("</{element}>"));
        let mut kept = String::new();
        let mut remaining = rest.as_str();
        while let Some(start) = remaining.find(&open) {
            let tag_end = start + end_of_tag(&remaining[start..])?;
            kept.push_str(&remaining[..tag_end]);
            remaining = match remaining[tag_end..].find(&close) {
                Some(length) => &remaining[tag_end + length + close.len()..],
                None => "",
            };
        }
        kept.push_str(remaining);
        rest = kept;
    }
    Ok(rest)
}

fn end_of_tag(text: &str) -> Result<usize, Failure> {
    let end = text.find('>');
    end.map(|end| end + 1).ok_or_else(|| Failure("a tag in the page has no end".to_string()))
}

#[cfg(test)]
#[path = "html_tests.rs"]
mod tests;
