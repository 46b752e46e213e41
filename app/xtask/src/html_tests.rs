//! What the assembled page must look like, on a page as Trunk writes it.

use super::*;

const TRUNK_PAGE: &str = r#"<!DOCTYPE html><html><head>
    <meta charset="utf-8">
    <link rel="stylesheet" href="./base-1.css" integrity="sha384-x">
    <link rel="stylesheet" href="./print-2.css" integrity="sha384-y">
    <link rel="icon" href="./likeness-3.svg">
  </head><body><script>first()</script>
<!-- start: quick --><script src="./likeness-app.js"></script><script>quick()</script><!-- start: end -->
</body></html>"#;

fn assembled(trunk_html: &str, script: &str, form: Form) -> Result<String, Failure> {
    let part = |file_name: &str, text: &str| Part { file_name: file_name.to_string(), text: text.to_string() };
    assemble(
        &Page {
            trunk_html,
            style: &part("page-9.css", "p { color: red }"),
            icon: &part("icon-9.svg", "<svg/>"),
            script: &part("page-9.js", script),
        },
        form,
    )
}

#[test]
fn the_single_file_holds_everything() {
    let html = assembled(TRUNK_PAGE, "go()", Form::SingleFile).expect("assembles");
    assert_eq!(html.matches("<style>\np { color: red }</style>").count(), 1);
    assert!(!html.contains("rel=\"stylesheet\""));
    assert!(html.contains("<script>\ngo()</script>"));
    // "<svg/>" in base64, by coreutils 9.1: printf '<svg/>' | base64
    assert!(html.contains("href=\"data:image/svg+xml;base64,PHN2Zy8+\""));
    assert!(!html.contains("quick()"));
    assert!(!html.contains(" src="));
}

#[test]
fn the_folder_names_its_files_without_a_leading_slash() {
    let html = assembled(TRUNK_PAGE, "go()", Form::Folder).expect("assembles");
    assert!(html.contains("<script src=\"page-9.js\"></script>"));
    assert!(html.contains("<link rel=\"stylesheet\" href=\"page-9.css\">"));
    assert_eq!(html.matches("rel=\"stylesheet\"").count(), 1);
    assert!(html.contains("href=\"icon-9.svg\""));
}

#[test]
fn each_inline_script_is_named_by_its_hash_and_nothing_may_connect() {
    let html = assembled(TRUNK_PAGE, "go()", Form::Folder).expect("assembles");
    // By OpenSSL 3.0: printf 'first()' | openssl dgst -sha256 -binary | base64
    let hash = "fDYmfWjvur9AxjhDbjHe6RvExc05MbXhhrbgz2vvy/A=";
    assert!(html.contains(&format!("script-src 'self' 'sha256-{hash}' 'wasm-unsafe-eval';")));
    let single = assembled(TRUNK_PAGE, "go()", Form::SingleFile).expect("assembles");
    assert!(!single.contains("'self'"));
    assert_eq!(single.matches("'sha256-").count(), 2);
    for page in [html, single] {
        assert!(page.contains("default-src 'none';"));
        assert!(page.contains("connect-src 'none';"));
    }
}

#[test]
fn a_script_that_would_end_its_element_is_refused() {
    let refused = assembled(TRUNK_PAGE, "x = '</script>'", Form::SingleFile);
    assert!(refused.is_err_and(|failure| failure.0.contains("`</script`")));
}

#[test]
fn a_page_with_something_more_to_fetch_is_refused() {
    let more = TRUNK_PAGE.replace("</head>", "<link rel=\"modulepreload\" href=\"a.js\"></head>");
    let refused = assembled(&more, "go()", Form::Folder);
    assert!(refused.is_err_and(|failure| failure.0.contains("`preload`")));
}

#[test]
fn a_page_without_a_stylesheet_is_refused() {
    let refused = assembled(&TRUNK_PAGE.replace("stylesheet", "author"), "go()", Form::Folder);
    assert!(refused.is_err_and(|failure| failure.0.contains("rel=\"stylesheet\"")));
}

#[test]
fn a_page_without_start_marks_is_refused() {
    let refused = assembled(&TRUNK_PAGE.replace("start: quick", ""), "go()", Form::Folder);
    assert!(refused.is_err_and(|failure| failure.0.contains("Trunk.toml")));
}
