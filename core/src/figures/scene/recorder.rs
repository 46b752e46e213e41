//! A backend that keeps what it is asked to draw, and what must hold of it at any pixel ratio.

use crate::figures::fixtures::{Flavour, Invented, invented};
use crate::figures::{PaintSettings, Scene, SpiderOptions, paint, spider};
use plotters_backend::{BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind};

type Painted<B> = Result<(), DrawingErrorKind<<B as DrawingBackend>::ErrorType>>;

/// A backend that keeps what it was asked for.
#[derive(Default)]
struct Recorder {
    size: (u32, u32),
    places: Vec<BackendCoord>,
    widths: Vec<u32>,
    font_sizes: Vec<f64>,
}

impl DrawingBackend for Recorder {
    type ErrorType = std::io::Error;

    fn get_size(&self) -> (u32, u32) {
        self.size
    }

    fn ensure_prepared(&mut self) -> Painted<Self> {
        Ok(())
    }

    fn present(&mut self) -> Painted<Self> {
        Ok(())
    }

    fn draw_pixel(&mut self, at: BackendCoord, _color: BackendColor) -> Painted<Self> {
        self.places.push(at);
        Ok(())
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Painted<Self> {
        self.places.extend(path);
        self.widths.push(style.stroke_width());
        Ok(())
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        upper_left: BackendCoord,
        lower_right: BackendCoord,
        _style: &S,
        _fill: bool,
    ) -> Painted<Self> {
        assert!(upper_left.0 <= lower_right.0 && upper_left.1 <= lower_right.1);
        self.places.extend([upper_left, lower_right]);
        Ok(())
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        center: BackendCoord,
        _radius: u32,
        _style: &S,
        _fill: bool,
    ) -> Painted<Self> {
        self.places.push(center);
        Ok(())
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        corners: I,
        _style: &S,
    ) -> Painted<Self> {
        self.places.extend(corners);
        Ok(())
    }

    fn draw_text<S: BackendTextStyle>(&mut self, _text: &str, style: &S, at: BackendCoord) -> Painted<Self> {
        self.places.push(at);
        self.font_sizes.push(style.size());
        Ok(())
    }
}

fn painted(scene: &Scene, ratio: f64) -> Recorder {
    let size = ((scene.width_px * ratio).round() as u32, (scene.height_px * ratio).round() as u32);
    let mut recorder = Recorder { size, ..Recorder::default() };
    paint(scene, &mut recorder, PaintSettings::canvas(ratio)).expect("the recorder takes everything");
    recorder
}

#[test]
fn everything_scales_with_the_pixel_ratio_and_stays_on_the_canvas() {
    let wish = Invented { seed: 3, attributes: 14, samples: 4, flavour: Flavour::Usual };
    let scene = spider(&invented(wish), &SpiderOptions::default());
    let single = painted(&scene, 1.0);
    for ratio in [1.0, 1.25, 1.5, 2.0, 3.0] {
        let recorder = painted(&scene, ratio);
        let (width, height) = (recorder.size.0 as i32, recorder.size.1 as i32);
        assert!(recorder.places.iter().all(|&(x, y)| (0..=width).contains(&x) && (0..=height).contains(&y)));
        assert!(recorder.widths.iter().all(|&width| width >= 1));
        let widest = |recorder: &Recorder| recorder.widths.iter().copied().max().unwrap_or(0);
        // The target's intervals are bars of 6 px.
        assert!((f64::from(widest(&recorder)) - 6.0 * ratio).abs() <= 0.5);
        for (scaled, plain) in recorder.font_sizes.iter().zip(&single.font_sizes) {
            assert!((scaled - plain * ratio).abs() < 1e-9);
        }
    }
}
