//! Small parts that several views use. A part shows what it is given; it knows no study and no action.

pub mod copy_and_save;
pub mod disclosure;
pub mod figure;
pub mod folded;
pub mod follow;
pub mod grid;
pub mod next_step;
pub mod notices;
pub mod numerals;
pub mod run_progress;
pub mod selection;
pub mod table;
pub mod verdict_icon;
