//! Keys as a terminal sends them.

pub(crate) const DOWN: &str = "\x1b[B";
pub(crate) const UP: &str = "\x1b[A";
pub(crate) const RIGHT: &str = "\x1b[C";
pub(crate) const ENTER: &str = "\r";
pub(crate) const ESC: &str = "\x1b";
pub(crate) const CTRL_C: &str = "\x03";
