//! Every touch of the browser: files, drops, pastes, clipboard, downloads, canvas, store, clock, timers. The rest of
//! the page asks here; here gloo is asked first, and the bare interfaces for what it lacks. Nothing here knows what a
//! study is.

pub mod canvas;
pub mod cells;
pub mod clipboard;
pub mod clock;
pub mod download;
pub mod drop;
pub mod events;
pub mod files;
pub mod indexed_db;
pub mod kept_texts;
pub mod local_storage;
pub mod page;
pub mod panic;
pub mod pictures;
pub mod sight;
pub mod slices;
pub mod sound;
pub mod tab;
pub mod timers;
