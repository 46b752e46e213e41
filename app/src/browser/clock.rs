//! The clock of this machine.

/// Local date and time to the minute, such as "2026-03-14 09:26".
pub fn local_time() -> String {
    let now = js_sys::Date::new_0();
    format!(
        "{:04}-{:02}-{:02} {:02}:{:02}",
        now.get_full_year(),
        now.get_month() + 1,
        now.get_date(),
        now.get_hours(),
        now.get_minutes()
    )
}

/// Milliseconds since 1970, for keys that are new.
pub fn epoch_milliseconds() -> u64 {
    js_sys::Date::now() as u64
}

/// Milliseconds since the page was opened, for measuring; 0 where the browser has no such clock.
pub fn milliseconds() -> f64 {
    gloo::utils::window().performance().map_or(0.0, |clock| clock.now())
}
