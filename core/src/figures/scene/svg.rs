//! Scene -> SVG text, by the same painter as the screen: figures in CSS pixels, sheets to print in millimetres. The same
//! scene gives the same bytes.

use super::paint::{FONT_FAMILY, PaintSettings, paint};
use super::primitives::Scene;
use crate::text::markup::escape;
use plotters::backend::DrawingBackend;
use plotters_backend::text_anchor::HPos;
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingErrorKind, FontStyle, FontTransform,
};
use std::convert::Infallible;
use std::fmt::{Display, Write};

/// CSS pixels in a millimetre: an inch is 96 px and 25.4 mm, both by definition.
pub const PX_PER_MM: f64 = 96.0 / 25.4;

/// In which units an SVG is written. A painter's coordinates are whole numbers: here they are called steps.
struct SvgForm {
    steps_per_px: f64,
    /// Steps in one unit of the view box.
    steps_per_unit: f64,
    /// Steps in one unit of the width and height of the whole.
    steps_per_length: f64,
    /// What stands behind width and height.
    length_unit: &'static str,
    font_family: &'static str,
    fill_background: bool,
}

/// Figures: the view box is in tenths of a CSS pixel.
const FIGURE: SvgForm = SvgForm {
    steps_per_px: 10.0,
    steps_per_unit: 1.0,
    steps_per_length: 10.0,
    length_unit: "",
    font_family: FONT_FAMILY,
    fill_background: true,
};

/// Sheets to print: one unit is 1 mm, told to a tenth of a micrometre.
const TRUE_SIZE: SvgForm = SvgForm {
    steps_per_px: 10_000.0 / PX_PER_MM,
    steps_per_unit: 10_000.0,
    steps_per_length: 10_000.0,
    length_unit: "mm",
    font_family: "sans-serif",
    fill_background: false,
};

/// A figure as a self-contained SVG file with its title and summary.
pub fn to_svg(scene: &Scene) -> String {
    written(scene, &FIGURE)
}

/// A sheet as SVG whose unit is 1 mm, without its background: paper has its own.
pub fn to_svg_at_true_size(scene: &Scene) -> String {
    written(scene, &TRUE_SIZE)
}

fn written(scene: &Scene, form: &SvgForm) -> String {
    let steps = |length_px: f64| (length_px * form.steps_per_px).round().max(1.0);
    let mut backend = SvgBackend { form, size: (steps(scene.width_px), steps(scene.height_px)), svg: String::new() };
    backend.open(scene);
    let settings = PaintSettings::svg(form.steps_per_px, form.fill_background);
    let painted = paint(scene, &mut backend, settings);
    debug_assert!(painted.is_ok(), "writing into memory does not fail, and this backend draws text by itself");
    backend.svg.push_str("</svg>\n");
    backend.svg
}

/// What a painter draws on to write SVG.
struct SvgBackend<'a> {
    form: &'a SvgForm,
    /// Width and height in steps.
    size: (f64, f64),
    svg: String,
}

type Drawn = Result<(), DrawingErrorKind<Infallible>>;

impl SvgBackend<'_> {
    fn open(&mut self, scene: &Scene) {
        let SvgForm { steps_per_unit, steps_per_length, length_unit, font_family, .. } = self.form;
        let (width, height) = self.size;
        self.write(format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}{length_unit}\" height=\"{}{length_unit}\" \
             viewBox=\"0 0 {} {}\" role=\"img\" aria-label=\"{}\" font-family=\"{}\">\n<title>{}</title>\n\
             <desc>{}</desc>\n",
            width / steps_per_length,
            height / steps_per_length,
            width / steps_per_unit,
            height / steps_per_unit,
            escape(&scene.title),
            escape(font_family),
            escape(&scene.title),
            escape(&scene.summary)
        ));
    }

    fn write(&mut self, what: impl Display) {
        // Writing into a string doesn't fail.
        _ = write!(self.svg, "{what}");
    }

    /// Steps in units of the view box, told exactly: the shortest decimal of a quotient by a power of ten.
    fn units(&self, steps: impl Into<f64>) -> f64 {
        steps.into() / self.form.steps_per_unit
    }

    fn points(&self, path: impl IntoIterator<Item = BackendCoord>) -> String {
        let point = |(x, y): BackendCoord| format!("{},{}", self.units(x), self.units(y));
        path.into_iter().map(point).collect::<Vec<_>>().join(" ")
    }

    /// Flat ends: a line is as long as its ends say.
    fn stroke(&self, style: &impl BackendStyle) -> String {
        let width = self.units(style.stroke_width());
        format!("fill=\"none\" {} stroke-width=\"{width}\"", color_as("stroke", style.color()))
    }

    fn fill_or_stroke(&self, style: &impl BackendStyle, fill: bool) -> String {
        if fill { color_as("fill", style.color()) } else { self.stroke(style) }
    }

    fn transform(&self, style: &impl BackendTextStyle, (x, y): BackendCoord) -> String {
        let degrees = match style.transform() {
            FontTransform::None => return String::new(),
            FontTransform::Rotate90 => 90,
            FontTransform::Rotate180 => 180,
            FontTransform::Rotate270 => 270,
        };
        format!(" transform=\"rotate({degrees} {} {})\"", self.units(x), self.units(y))
    }
}

impl DrawingBackend for SvgBackend<'_> {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        (self.size.0 as u32, self.size.1 as u32)
    }

    fn ensure_prepared(&mut self) -> Drawn {
        Ok(())
    }

    fn present(&mut self) -> Drawn {
        Ok(())
    }

    fn draw_pixel(&mut self, (x, y): BackendCoord, color: BackendColor) -> Drawn {
        self.draw_rect((x, y), (x + 1, y + 1), &color, true)
    }

    fn draw_line<S: BackendStyle>(&mut self, from: BackendCoord, to: BackendCoord, style: &S) -> Drawn {
        let [x1, y1, x2, y2] = [from.0, from.1, to.0, to.1].map(|steps| self.units(steps));
        let stroke = self.stroke(style);
        self.write(format_args!("<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\" {stroke}/>\n"));
        Ok(())
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        upper_left: BackendCoord,
        lower_right: BackendCoord,
        style: &S,
        fill: bool,
    ) -> Drawn {
        let [x, y] = [upper_left.0, upper_left.1].map(|steps| self.units(steps));
        let sides = [lower_right.0 - upper_left.0, lower_right.1 - upper_left.1];
        let [width, height] = sides.map(|steps| self.units(steps));
        let look = self.fill_or_stroke(style, fill);
        self.write(format_args!("<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" {look}/>\n"));
        Ok(())
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(&mut self, path: I, style: &S) -> Drawn {
        let (points, stroke) = (self.points(path), self.stroke(style));
        self.write(format_args!("<polyline points=\"{points}\" {stroke}/>\n"));
        Ok(())
    }

    fn draw_circle<S: BackendStyle>(&mut self, center: BackendCoord, radius: u32, style: &S, fill: bool) -> Drawn {
        let (x, y, radius) = (self.units(center.0), self.units(center.1), self.units(radius));
        let look = self.fill_or_stroke(style, fill);
        self.write(format_args!("<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\" {look}/>\n"));
        Ok(())
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(&mut self, corners: I, style: &S) -> Drawn {
        let (points, fill) = (self.points(corners), color_as("fill", style.color()));
        self.write(format_args!("<polygon points=\"{points}\" {fill}/>\n"));
        Ok(())
    }

    fn draw_text<S: BackendTextStyle>(&mut self, text: &str, style: &S, at: BackendCoord) -> Drawn {
        let anchor = match style.anchor().h_pos {
            HPos::Left => "start",
            HPos::Center => "middle",
            HPos::Right => "end",
        };
        let (x, y, size) = (self.units(at.0), self.units(at.1), self.units(style.size().round()));
        let is_bold = matches!(style.style(), FontStyle::Bold);
        let bold = if is_bold { " font-weight=\"bold\"" } else { "" };
        let (fill, transform) = (color_as("fill", style.color()), self.transform(style, at));
        self.write(format_args!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" text-anchor=\"{anchor}\" {fill}{bold}{transform}>{}</text>\n",
            escape(text)
        ));
        Ok(())
    }
}

/// A colour as an attribute, with its opacity where something shines through.
fn color_as(attribute: &str, color: BackendColor) -> String {
    let (red, green, blue) = color.rgb;
    let opacity = if color.alpha < 1.0 { format!(" opacity=\"{}\"", color.alpha) } else { String::new() };
    format!("{attribute}=\"#{red:02x}{green:02x}{blue:02x}\"{opacity}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::scene::primitives::{Label, Point, Stroke};
    use crate::figures::scene::theme::Theme;

    fn scene() -> Scene {
        let theme = Theme::light();
        let mut scene = Scene::new(120.0, "Salt & <pepper>", theme.background);
        scene.height_px = 60.5;
        scene.summary = "A line and a \"word\".".to_owned();
        scene.line(Point::new(10.0, 10.0), Point::new(110.0, 10.0), Stroke::solid(theme.ink, 1.0));
        scene.text(Label::new(Point::new(10.0, 30.0), "a < b & c", 12.0, theme.ink));
        scene
    }

    #[test]
    fn an_svg_carries_its_size_title_and_summary() {
        let svg = to_svg(&scene());
        assert!(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"120\" height=\"60.5\""), "{svg}");
        assert!(svg.contains("viewBox=\"0 0 1200 605\""));
        assert!(svg.contains("<title>Salt &amp; &lt;pepper&gt;</title>"));
        assert!(svg.contains("<desc>A line and a &quot;word&quot;.</desc>"));
        assert!(svg.contains("a &lt; b &amp; c"));
        assert!(svg.trim_end().ends_with("</svg>"));
        assert!(svg.contains("sans-serif"));
    }

    #[test]
    fn the_same_scene_gives_the_same_bytes() {
        assert_eq!(to_svg(&scene()), to_svg(&scene()));
    }

    #[test]
    fn at_true_size_one_unit_is_a_millimetre() {
        let mut scene = scene();
        // A sheet 120 mm wide with a line from 10 to 110 mm.
        scene.width_px = 120.0 * PX_PER_MM;
        scene.line(
            Point::new(10.0 * PX_PER_MM, 20.0 * PX_PER_MM),
            Point::new(110.0 * PX_PER_MM, 20.0 * PX_PER_MM),
            Stroke::solid(scene.background, 0.35 * PX_PER_MM),
        );
        let svg = to_svg_at_true_size(&scene);
        assert!(svg.contains("width=\"120mm\""), "{svg}");
        assert!(svg.contains("<line x1=\"10\" y1=\"20\" x2=\"110\" y2=\"20\""), "{svg}");
        assert!(svg.contains("stroke-width=\"0.35\""), "{svg}");
    }
}
