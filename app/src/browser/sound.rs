//! Short tones for people whose eyes are on paper. A browser that has no sound stays silent.

use std::cell::RefCell;
use wasm_bindgen::JsValue;
use web_sys::AudioContext;

/// A tone of this height and length, `after_s` seconds from now.
pub fn tone(height_hz: f32, length_s: f64, after_s: f64) {
    CONTEXT.with_borrow_mut(|context| {
        // A page may make sounds only after a key was pressed, so the context is made at the first tone.
        if context.is_none() {
            *context = AudioContext::new().ok();
        }
        if let Some(context) = context {
            let _ = play(context, height_hz, length_s, after_s);
        }
    });
}

thread_local! {
    static CONTEXT: RefCell<Option<AudioContext>> = const { RefCell::new(None) };
}

fn play(context: &AudioContext, height_hz: f32, length_s: f64, after_s: f64) -> Result<(), JsValue> {
    let (oscillator, volume) = (context.create_oscillator()?, context.create_gain()?);
    oscillator.frequency().set_value(height_hz);
    // Quiet: others taste or type in the same room.
    volume.gain().set_value(0.08);
    oscillator.connect_with_audio_node(&volume)?;
    volume.connect_with_audio_node(&context.destination())?;
    let start = context.current_time() + after_s;
    oscillator.start_with_when(start)?;
    oscillator.stop_with_when(start + length_s)
}
