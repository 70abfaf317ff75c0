//! Numbers that remember how they came about, for the workings.

use super::reckoning::{Func, Reckon};
use crate::knowledge::TemperatureRow;
use std::rc::Rc;

/// Two numbers together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Op {
    Times,
    Over,
    Plus,
    Less,
    Least,
    Most,
}

/// How a number came about.
#[derive(Debug)]
pub(super) enum How {
    /// From an answer, a label, or another part of the program with its source (may be empty).
    Said {
        unit: &'static str,
        what: &'static str,
        from: &'static str,
    },
    /// From `rates.yaml`.
    Rate {
        id: &'static str,
        what: &'static str,
    },
    /// A row of the temperature table.
    Row(Option<TemperatureRow>),
    /// A plain number.
    Bare,
    /// Two numbers together.
    Two(Op, Traced, Traced),
    /// One number changed.
    Apply(Func, Traced),
    /// Another figure as it is.
    Same(Traced),
}

/// The name of a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Name {
    pub(super) of: &'static str,
    pub(super) name: &'static str,
    pub(super) unit: &'static str,
}

/// A number with its making.
#[derive(Debug)]
pub(super) struct Node {
    pub(super) value: f64,
    pub(super) how: How,
    pub(super) name: Option<Name>,
    pub(super) limited: &'static str,
}

/// A number that remembers how it came about.
#[derive(Debug, Clone)]
pub(super) struct Traced(pub(super) Rc<Node>);

impl Traced {
    fn new(value: f64, how: How) -> Self {
        Self(Rc::new(Node {
            value,
            how,
            name: None,
            limited: "",
        }))
    }

    /// The sum itself is worked out by the plain numbers.
    fn two(op: Op, a: Self, b: Self) -> Self {
        let (x, y) = (a.0.value, b.0.value);
        let value = match op {
            Op::Times => x.times(y),
            Op::Over => x.over(y),
            Op::Plus => x.plus(y),
            Op::Less => x.less(y),
            Op::Least => x.least(y),
            Op::Most => x.most(y),
        };
        Self::new(value, How::Two(op, a, b))
    }

    /// A factor that only says "as it is".
    fn is_one(&self) -> bool {
        matches!(self.0.how, How::Bare) && self.0.value.total_cmp(&1.0).is_eq()
    }
}

impl Reckon for Traced {
    fn said(value: f64, unit: &'static str, what: &'static str) -> Self {
        Self::found(value, unit, what, "")
    }
    fn found(value: f64, unit: &'static str, what: &'static str, from: &'static str) -> Self {
        Self::new(value, How::Said { unit, what, from })
    }
    fn rate(value: f64, id: &'static str, what: &'static str) -> Self {
        Self::new(value, How::Rate { id, what })
    }
    fn row(value: f64, row: Option<TemperatureRow>) -> Self {
        Self::new(value, How::Row(row))
    }
    fn bare(value: f64) -> Self {
        Self::new(value, How::Bare)
    }
    fn value(&self) -> f64 {
        self.0.value
    }
    fn times(self, by: Self) -> Self {
        if by.is_one() {
            self
        } else if self.is_one() {
            by
        } else {
            Self::two(Op::Times, self, by)
        }
    }
    fn over(self, by: Self) -> Self {
        if by.is_one() {
            self
        } else {
            Self::two(Op::Over, self, by)
        }
    }
    fn plus(self, more: Self) -> Self {
        Self::two(Op::Plus, self, more)
    }
    fn less(self, by: Self) -> Self {
        Self::two(Op::Less, self, by)
    }
    fn least(self, other: Self) -> Self {
        Self::two(Op::Least, self, other)
    }
    fn most(self, other: Self) -> Self {
        Self::two(Op::Most, self, other)
    }
    fn apply(self, func: Func) -> Self {
        Self::new(func.of(self.0.value), How::Apply(func, self))
    }
    fn named(self, of: &'static str, name: &'static str, unit: &'static str) -> Self {
        let name = Some(Name { of, name, unit });
        // A figure that has its name keeps it; the new one says that it is the same.
        let known = match Rc::try_unwrap(self.0) {
            Ok(node) if node.name.is_none() => {
                return Self(Rc::new(Node { name, ..node }));
            }
            Ok(node) => Self(Rc::new(node)),
            Err(shared) => Self(shared),
        };
        Self(Rc::new(Node {
            value: known.0.value,
            how: How::Same(known),
            name,
            limited: "",
        }))
    }
    fn limited(self, by: &'static str) -> Self {
        match Rc::try_unwrap(self.0) {
            Ok(node) => Self(Rc::new(Node {
                limited: by,
                ..node
            })),
            Err(shared) => Self(shared),
        }
    }
}
