//! The demo files that ship are what the generator writes, byte for byte.

#[path = "../examples/demo_studies/generator.rs"]
mod generator;

#[test]
fn the_shipped_demo_studies_are_what_the_generator_writes() {
    for demo in generator::all() {
        let path = format!("{}/../public/demo/{}", env!("CARGO_MANIFEST_DIR"), demo.file_name);
        let shipped = std::fs::read_to_string(&path).unwrap_or_else(|why| panic!("{path}: {why}"));
        assert_eq!(shipped, demo.csv(), "run `cargo run -p likeness-core --example demo_studies`");
    }
}

#[test]
fn every_demo_says_in_its_name_that_it_is_invented() {
    assert!(generator::all().iter().all(|demo| demo.file_name.starts_with("invented-")));
}
