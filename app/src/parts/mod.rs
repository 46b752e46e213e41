//! Small parts that several views use. A part shows what it is given; it knows no study and no action.

pub mod disclosure;
pub mod figure;
pub mod folded;
pub mod follow;
pub mod grid;
pub mod leaving;
pub mod long_work;
pub mod mark;
pub mod marking;
pub mod notices;
pub mod numerals;
pub mod table;
