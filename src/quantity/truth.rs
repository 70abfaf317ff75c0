//! Three-valued truth: yes, no, or not known.
//!
//! An answer that is missing must never count as the safe one, so conditions over facts are
//! worked out in the strong logic of Kleene: "unknown" spreads unless the other side decides.

use serde::Serialize;

/// Whether something holds, as far as is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Truth {
    /// It holds whatever the open answers turn out to be.
    Yes,
    /// It does not hold whatever the open answers turn out to be.
    No,
    /// It depends on something that is not known.
    Unknown,
}

impl Truth {
    /// Both hold. `No` on either side decides.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::No, _) | (_, Self::No) => Self::No,
            (Self::Yes, Self::Yes) => Self::Yes,
            _ => Self::Unknown,
        }
    }

    /// At least one holds. `Yes` on either side decides.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        match (self, other) {
            (Self::Yes, _) | (_, Self::Yes) => Self::Yes,
            (Self::No, Self::No) => Self::No,
            _ => Self::Unknown,
        }
    }

    /// The opposite; what is unknown stays unknown.
    #[must_use]
    #[allow(clippy::should_implement_trait)] // also offered as `!`, through `Not`
    pub fn not(self) -> Self {
        match self {
            Self::Yes => Self::No,
            Self::No => Self::Yes,
            Self::Unknown => Self::Unknown,
        }
    }

    /// Certainly so.
    #[must_use]
    pub fn is_yes(self) -> bool {
        self == Self::Yes
    }

    /// Certainly not so.
    #[must_use]
    pub fn is_no(self) -> bool {
        self == Self::No
    }

    /// Not decided.
    #[must_use]
    pub fn is_unknown(self) -> bool {
        self == Self::Unknown
    }
}

impl std::ops::Not for Truth {
    type Output = Self;

    fn not(self) -> Self {
        Truth::not(self)
    }
}

impl From<bool> for Truth {
    fn from(value: bool) -> Self {
        if value { Self::Yes } else { Self::No }
    }
}

#[cfg(test)]
mod tests {
    use super::Truth::{self, No, Unknown, Yes};

    // Kleene's strong tables, worked from their definition: `and` is the lesser and `or` the
    // greater in the order No < Unknown < Yes.
    fn rank(truth: Truth) -> u8 {
        match truth {
            No => 0,
            Unknown => 1,
            Yes => 2,
        }
    }

    #[test]
    fn the_tables_are_least_and_greatest() {
        for a in [Yes, No, Unknown] {
            for b in [Yes, No, Unknown] {
                assert_eq!(rank(a.and(b)), rank(a).min(rank(b)));
                assert_eq!(rank(a.or(b)), rank(a).max(rank(b)));
                assert_eq!(!a.and(b), (!a).or(!b));
            }
            assert_eq!(rank(a.not()), 2 - rank(a));
        }
    }
}
