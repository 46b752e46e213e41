//! Short tones for people whose eyes are on paper. A browser that has no sound stays silent. The audio interface is
//! reached by name: it is small here, and its bindings would be large.

use js_sys::{Array, Function, Reflect};
use std::cell::RefCell;
use wasm_bindgen::{JsCast, JsValue};

/// A tone of this height and length, `after_s` seconds from now.
pub fn tone(height_hz: f64, length_s: f64, after_s: f64) {
    CONTEXT.with_borrow_mut(|context| {
        // A page may make sounds only after a key was pressed, so the context is made at the first tone.
        if context.is_none() {
            *context = new_context().ok();
        }
        if let Some(context) = context {
            let _ = play(context, height_hz, length_s, after_s);
        }
    });
}

thread_local! {
    static CONTEXT: RefCell<Option<JsValue>> = const { RefCell::new(None) };
}

fn new_context() -> Result<JsValue, JsValue> {
    let maker: Function = get(&gloo::utils::window(), "AudioContext")?.dyn_into()?;
    Reflect::construct(&maker, &Array::new())
}

fn play(context: &JsValue, height_hz: f64, length_s: f64, after_s: f64) -> Result<(), JsValue> {
    let oscillator = call(context, "createOscillator", &[])?;
    let volume = call(context, "createGain", &[])?;
    set(&get(&oscillator, "frequency")?, "value", height_hz)?;
    // Quiet: others taste or type in the same room.
    set(&get(&volume, "gain")?, "value", 0.08)?;
    call(&oscillator, "connect", std::slice::from_ref(&volume))?;
    call(&volume, "connect", &[get(context, "destination")?])?;
    let start = get(context, "currentTime")?.as_f64().unwrap_or(0.0) + after_s;
    call(&oscillator, "start", &[start.into()])?;
    call(&oscillator, "stop", &[(start + length_s).into()])?;
    Ok(())
}

fn get(of: &JsValue, name: &str) -> Result<JsValue, JsValue> {
    Reflect::get(of, &name.into())
}

fn set(of: &JsValue, name: &str, value: f64) -> Result<bool, JsValue> {
    Reflect::set(of, &name.into(), &value.into())
}

fn call(of: &JsValue, name: &str, arguments: &[JsValue]) -> Result<JsValue, JsValue> {
    let method: Function = get(of, name)?.dyn_into()?;
    Reflect::apply(&method, of, &arguments.iter().collect())
}
