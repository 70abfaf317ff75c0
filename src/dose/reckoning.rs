//! A number in a formula of the dose: plain, or one that remembers how it came about.
//!
//! Every formula behind a dose is written once, for any [`Reckon`]. With `f64` it is the sum and nothing else, as fast as if it
//! stood there bare. With `Traced` the same lines leave behind what they multiplied, divided and compared, and
//! `--working` prints that. So a formula on the page cannot differ from the one that worked the figure out.

use super::ceiling::show_down;
use crate::knowledge::TemperatureRow;
use crate::quantity::floor_sig;

/// What is done to one number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Func {
    /// −ln.
    NegLn,
    /// Cube root.
    CubeRoot,
    /// Two to the power of it.
    PowerOfTwo,
    /// Rounded down to so many digits.
    Down(u8),
    /// Rounded down to what is shown of an amount.
    ShownDown,
    /// Rounded up to a whole number.
    Up,
}

impl Func {
    /// The value.
    #[must_use]
    pub fn of(self, x: f64) -> f64 {
        match self {
            Self::NegLn => -x.ln(),
            Self::CubeRoot => x.cbrt(),
            Self::PowerOfTwo => 2.0_f64.powf(x),
            Self::Down(digits) => floor_sig(x, digits),
            Self::ShownDown => show_down(x),
            Self::Up => x.ceil(),
        }
    }
}

/// A number in a formula.
pub trait Reckon: Clone {
    /// A figure from the answers or a label, in its unit, and what it is.
    fn said(value: f64, unit: &'static str, what: &'static str) -> Self;
    /// A figure that another part of the program found, and the source that part stands on.
    fn found(value: f64, unit: &'static str, what: &'static str, from: &'static str) -> Self;
    /// A number of `rates.yaml`, its id, and why it counts here (may be empty).
    fn rate(value: f64, id: &'static str, what: &'static str) -> Self;
    /// A factor from a row of the temperature table; `None` where none holds.
    fn row(value: f64, row: Option<TemperatureRow>) -> Self;
    /// A plain number of the formula itself, such as the days of a week.
    fn bare(value: f64) -> Self;
    /// Its value.
    fn value(&self) -> f64;
    /// Product.
    #[must_use]
    fn times(self, by: Self) -> Self;
    /// Quotient.
    #[must_use]
    fn over(self, by: Self) -> Self;
    /// Sum.
    #[must_use]
    fn plus(self, more: Self) -> Self;
    /// Difference.
    #[must_use]
    fn less(self, by: Self) -> Self;
    /// The smaller one; this one where the other cannot be compared.
    #[must_use]
    fn least(self, other: Self) -> Self;
    /// The larger one; this one where the other cannot be compared.
    #[must_use]
    fn most(self, other: Self) -> Self;
    /// Nothing where it is below nothing.
    #[must_use]
    fn not_negative(self) -> Self {
        if self.value() < 0.0 {
            self.most(Self::bare(0.0))
        } else {
            self
        }
    }
    /// What is done to one number.
    #[must_use]
    fn apply(self, func: Func) -> Self;
    /// A figure of its own, with the feed it belongs to (may be empty), its name and its unit.
    #[must_use]
    fn named(self, of: &'static str, name: &'static str, unit: &'static str) -> Self;
    /// What limited it, said beside its formula.
    #[must_use]
    fn limited(self, by: &'static str) -> Self;
}

impl Reckon for f64 {
    #[inline]
    fn said(value: f64, _: &'static str, _: &'static str) -> Self {
        value
    }
    #[inline]
    fn found(value: f64, _: &'static str, _: &'static str, _: &'static str) -> Self {
        value
    }
    #[inline]
    fn rate(value: f64, _: &'static str, _: &'static str) -> Self {
        value
    }
    #[inline]
    fn row(value: f64, _: Option<TemperatureRow>) -> Self {
        value
    }
    #[inline]
    fn bare(value: f64) -> Self {
        value
    }
    #[inline]
    fn value(&self) -> f64 {
        *self
    }
    #[inline]
    fn times(self, by: Self) -> Self {
        self * by
    }
    #[inline]
    fn over(self, by: Self) -> Self {
        self / by
    }
    #[inline]
    fn plus(self, more: Self) -> Self {
        self + more
    }
    #[inline]
    fn less(self, by: Self) -> Self {
        self - by
    }
    #[inline]
    fn least(self, other: Self) -> Self {
        if other < self { other } else { self }
    }
    #[inline]
    fn most(self, other: Self) -> Self {
        if other > self { other } else { self }
    }
    #[inline]
    fn apply(self, func: Func) -> Self {
        func.of(self)
    }
    #[inline]
    fn named(self, _: &'static str, _: &'static str, _: &'static str) -> Self {
        self
    }
    #[inline]
    fn limited(self, _: &'static str) -> Self {
        self
    }
}

/// A number of `rates.yaml` in a formula, by the name of its field; a second text says why it counts.
macro_rules! rate {
    ($rates:ident . $name:ident) => {
        $crate::dose::reckoning::Reckon::rate($rates.$name, stringify!($name), "")
    };
    ($rates:ident . $name:ident, $why:expr) => {
        $crate::dose::reckoning::Reckon::rate($rates.$name, stringify!($name), $why)
    };
}
pub(crate) use rate;
