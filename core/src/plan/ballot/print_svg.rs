//! Pages at true size for printing: a scene as SVG whose user unit is one millimetre, and pages as one document that a
//! browser prints at 100 %. It knows nothing of what is on a page.

use super::geometry::Paper;
use super::pages::{BallotPage, PX_PER_MM, ballot_scene};
use crate::figures::{Align, Color, Label, Point, Primitive, Rectangle, Rotation, Scene, Stroke};

/// A ballot page as SVG: width and height in mm and a view box of the same numbers, so that one unit is 1 mm.
pub fn ballot_svg(page: &BallotPage) -> String {
    true_size_svg(&ballot_scene(page))
}

/// A scene in CSS pixels as SVG whose unit is 1 mm. The same scene gives the same bytes.
pub fn true_size_svg(scene: &Scene) -> String {
    let (width, height) = (mm(scene.width_px), mm(scene.height_px));
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" \
         role=\"img\" aria-label=\"{}\" font-family=\"sans-serif\">\n<title>{}</title>\n<desc>{}</desc>\n",
        escaped(&scene.title),
        escaped(&scene.title),
        escaped(&scene.summary)
    );
    scene.primitives.iter().for_each(|primitive| write_primitive(&mut svg, primitive));
    svg.push_str("</svg>\n");
    svg
}

/// Pages as one HTML document that prints one page a sheet without margins. It loads nothing and runs nothing.
pub fn print_document(title: &str, paper: Paper, pages: &[BallotPage]) -> String {
    let mut html = format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{}</title>\n<style>{}</style>\n\
         </head>\n<body>\n",
        escaped(title),
        print_style(paper)
    );
    pages.iter().for_each(|page| html.push_str(&ballot_svg(page)));
    html.push_str("</body>\n</html>\n");
    html
}

/// The style sheet that makes a browser print pages at true size.
pub fn print_style(paper: Paper) -> String {
    format!(
        "@page{{size:{};margin:0}}html,body{{margin:0;padding:0}}svg{{display:block;break-after:page;break-inside:avoid}}\
         svg:last-of-type{{break-after:auto}}",
        paper.css_name()
    )
}

fn write_primitive(svg: &mut String, primitive: &Primitive) {
    let element = match primitive {
        Primitive::Line { from, to, stroke } => line(*from, *to, stroke),
        Primitive::Polyline { points, stroke } => {
            format!("<polyline points=\"{}\" fill=\"none\" {}/>", listed(points), stroked(stroke))
        }
        Primitive::Polygon { points, fill } => {
            format!("<polygon points=\"{}\" fill=\"{}\"/>", listed(points), colour(*fill))
        }
        Primitive::Circle { center, radius, stroke } => {
            circle(*center, *radius, &format!("fill=\"none\" {}", stroked(stroke)))
        }
        // Print pages mark places with round dots only; other shapes belong to figures on the screen.
        Primitive::Marker { center, radius, fill, .. } => {
            circle(*center, *radius, &format!("fill=\"{}\"", colour(*fill)))
        }
        Primitive::Rectangle { area, fill } => rectangle(area, *fill),
        Primitive::Text(label) => text(label),
    };
    svg.push_str(&element);
    svg.push('\n');
}

fn line(from: Point, to: Point, stroke: &Stroke) -> String {
    let (from_x, from_y, to_x, to_y) = (mm(from.x), mm(from.y), mm(to.x), mm(to.y));
    format!("<line x1=\"{from_x}\" y1=\"{from_y}\" x2=\"{to_x}\" y2=\"{to_y}\" {}/>", stroked(stroke))
}

fn circle(center: Point, radius_px: f64, paint: &str) -> String {
    format!("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" {paint}/>", mm(center.x), mm(center.y), mm(radius_px))
}

fn rectangle(area: &Rectangle, fill: Color) -> String {
    let (left, top, width, height) = (mm(area.left), mm(area.top), mm(area.width), mm(area.height));
    let fill = colour(fill);
    format!("<rect x=\"{left}\" y=\"{top}\" width=\"{width}\" height=\"{height}\" fill=\"{fill}\"/>")
}

/// The label's point is the middle of its height; the baseline lies about .35 of the size below it.
fn text(label: &Label) -> String {
    let anchor = match label.align {
        Align::Start => "start",
        Align::Middle => "middle",
        Align::End => "end",
    };
    let (x, y) = (mm(label.at.x), mm(label.at.y + 0.35 * label.size_px));
    let (size, fill) = (mm(label.size_px), colour(label.color));
    let weight = if label.bold { " font-weight=\"bold\"" } else { "" };
    let (rotation, words) = (rotated(label), escaped(&label.text));
    format!(
        "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" text-anchor=\"{anchor}\" fill=\"{fill}\"{weight}{rotation}>{words}</text>"
    )
}

/// The attribute that rotates a label about its point.
fn rotated(label: &Label) -> String {
    match label.rotation {
        Rotation::None => String::new(),
        Rotation::Clockwise90 => format!(" transform=\"rotate(90 {} {})\"", mm(label.at.x), mm(label.at.y)),
        Rotation::CounterClockwise90 => format!(" transform=\"rotate(-90 {} {})\"", mm(label.at.x), mm(label.at.y)),
    }
}

fn stroked(stroke: &Stroke) -> String {
    // Flat ends: a line is as long as its ends say.
    format!("stroke=\"{}\" stroke-width=\"{}\" stroke-linecap=\"butt\"", colour(stroke.color), mm(stroke.width_px))
}

fn listed(points: &[Point]) -> String {
    points.iter().map(|point| format!("{},{}", mm(point.x), mm(point.y))).collect::<Vec<_>>().join(" ")
}

fn colour(color: Color) -> String {
    format!("#{:02x}{:02x}{:02x}", color.red, color.green, color.blue)
}

/// Millimetres to a tenth of a micrometre, without idle zeros.
fn mm(length_px: f64) -> String {
    let text = format!("{:.4}", length_px / PX_PER_MM);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '&' => safe.push_str("&amp;"),
            '"' => safe.push_str("&quot;"),
            '\t' | '\n' | '\r' => safe.push(' '),
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => {}
            other => safe.push(other),
        }
    }
    safe
}
