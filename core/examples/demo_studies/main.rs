//! Writes the invented demo studies into `public/demo/`: `cargo run -p likeness-core --example demo_studies`.

mod generator;

fn main() -> std::io::Result<()> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../public/demo");
    std::fs::create_dir_all(folder)?;
    for demo in generator::all() {
        std::fs::write(format!("{folder}/{}", demo.file_name), demo.csv())?;
        println!("{}: {} assessors, {} samples", demo.file_name, demo.assessors.len(), demo.samples.len());
    }
    Ok(())
}
