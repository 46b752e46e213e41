//! What a part of the stylesheet must be, first on texts written for it, then on the parts of the page.

use super::*;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().nth(2).expect("xtask lies two folders below the root")
}

/// Name and text of each part of the page, in the order of the links.
fn parts() -> Vec<(String, String)> {
    let index = read(&root().join("app/index.html")).expect("the page is there");
    let links = links(&index).expect("each link has an address");
    let part = |link: &str| (link.to_string(), read(&root().join("app").join(link)).expect("the part is there"));
    links.into_iter().map(part).collect()
}

#[test]
fn braces_in_comments_and_strings_count_for_nothing() {
    let text = "/* } { \" */ a::after { content: \"} \\\" {\"; }\n@media print { b[c='}'] { d: e\\} } }\n";
    assert_eq!(whole(text), Ok(()));
}

#[test]
fn a_lost_closing_brace_is_named_by_the_line_that_opened_it() {
    assert_eq!(whole("a { b: c; }\n\nd {\n  e: f;\n"), Err("the { in line 3 is never closed".to_string()));
    // The last } closes the rule in the block, so it is the block that stays open.
    assert_eq!(whole("\n@media print {\n  a { b: c;\n}\n"), Err("the { in line 2 is never closed".to_string()));
}

#[test]
fn a_closing_brace_too_much_is_named_by_its_line() {
    assert_eq!(whole("a { b: c; }\n}\nd { e: f; }\n"), Err("the } in line 2 closes nothing".to_string()));
}

#[test]
fn an_open_comment_or_string_is_named_by_its_line() {
    assert_eq!(whole("a { }\n/* b { }\n"), Err("the comment that begins in line 2 has no end".to_string()));
    assert_eq!(whole("a {\n content: \"b;\n}\n"), Err("the string in line 2 has no end".to_string()));
    assert_eq!(whole("a { content: '\\"), Err("the string in line 1 has no end".to_string()));
}

#[test]
fn the_links_for_trunk_are_read_in_their_order() {
    let index = "<link data-trunk rel=\"css\" href=\"../b.css\">\n<link data-trunk rel=\"icon\" href=\"c.svg\">\n\
                 <link data-trunk rel=\"css\" href=\"../a.css\">";
    assert_eq!(links(index).expect("each has an address"), ["../b.css", "../a.css"]);
    assert!(links("<link data-trunk rel=\"css\">").is_err_and(|failure| failure.0.contains("no href")));
    let past_trunk = links("<link rel=\"stylesheet\" href=\"d.css\">");
    assert!(past_trunk.is_err_and(|failure| failure.0.contains("must be a link for Trunk")));
}

#[test]
fn the_parts_of_the_page_are_whole_and_make_one_sheet() {
    let sheet = sheet(root()).unwrap_or_else(|failure| panic!("{}", failure.0));
    let mut from = 0;
    for (name, text) in parts() {
        let found = sheet[from..].find(text.trim_end());
        from += found.unwrap_or_else(|| panic!("{name} is missing or out of its order")) + text.trim_end().len();
    }
}

#[test]
fn a_broken_part_and_a_part_without_a_link_are_refused() {
    let folder = std::env::temp_dir().join(format!("likeness-style-{}", std::process::id()));
    let style = folder.join(FOLDER);
    std::fs::create_dir_all(&style).expect("a folder can be made");
    std::fs::create_dir_all(folder.join("app")).expect("a folder can be made");
    let index = "<link data-trunk rel=\"css\" href=\"../public/style/a.css\">";
    std::fs::write(folder.join("app/index.html"), index).expect("a file can be written");
    std::fs::write(style.join("a.css"), "a {\n").expect("a file can be written");
    let broken = sheet(&folder);
    std::fs::write(style.join("a.css"), "a { }\n").expect("a file can be written");
    let good = sheet(&folder);
    std::fs::write(style.join("b.css"), "b { }\n").expect("a file can be written");
    let unnamed = sheet(&folder);
    std::fs::remove_dir_all(&folder).expect("the folder can be removed");
    assert!(broken.is_err_and(|failure| failure.0 == "public/style/a.css: the { in line 1 is never closed"));
    assert!(good.is_ok_and(|sheet| sheet == "a { }\n\n"));
    assert!(unnamed.is_err_and(|failure| failure.0.starts_with("public/style/b.css has no link")));
}

#[test]
fn breakpoints_and_print_stand_in_one_part_each_behind_all_others() {
    let parts = parts();
    let names: Vec<&str> = parts.iter().filter_map(|(name, _)| name.rsplit('/').next()).collect();
    assert_eq!(names[names.len() - 2..], ["narrow.css", "print.css"]);
    for (name, text) in parts {
        assert!(text.starts_with("/*"), "{name} does not open with what it dresses");
        assert!(!text.contains("@import"), "{name} would fetch another sheet");
        let is_narrow = name.ends_with("narrow.css");
        assert!(is_narrow || !has_width_query(&text), "{name} has a breakpoint");
        let is_print = name.ends_with("print.css");
        assert!(is_print || !(text.contains("@media print") || text.contains("@page")), "{name} has rules for paper");
    }
}

fn has_width_query(text: &str) -> bool {
    text.lines().any(|line| line.contains("@media") && line.contains("width"))
}
