//! The verdict on a can for one tree.

use super::super::epsom;
use super::super::situation::Situation;
use super::super::strength::{self, Strength};
use super::{Contents, trace};
use crate::knowledge::Rates;

/// The verdict on a can for one tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Judged {
    /// Nitrogen.
    pub nitrogen: Strength,
    /// Salt.
    pub salt: Strength,
    /// Chloride.
    pub chloride: Strength,
    /// Epsom salt, which has a limit of its own far below the salt that burns.
    pub epsom: Strength,
    /// Sodium of the feeds.
    pub sodium: Strength,
    /// The worst of the trace elements that the labels print.
    pub trace: Strength,
}

impl Judged {
    /// The worst of all.
    #[must_use]
    pub fn worst(self) -> Strength {
        self.nitrogen
            .max(self.salt)
            .max(self.chloride)
            .max(self.epsom)
            .max(self.sodium)
            .max(self.trace)
    }
}

/// Judges a can against the limits for this tree. What is only possible asks for less; only what is sure stops.
#[must_use]
pub fn judge(rates: &Rates, s: &Situation, c: &Contents) -> Judged {
    let sure = |low: Strength, high: Strength| {
        if low == Strength::Stop {
            low
        } else {
            high.min(Strength::Reduce)
        }
    };
    let nitrogen = strength::nitrogen(rates, s);
    let salt = strength::salt(rates, s);
    let added = strength::salt_added(rates, s);
    let with_added = |added_now: f64, total: f64| {
        let by_total = salt.judge(total);
        if added_now > added * (1.0 + 1e-9) {
            by_total.max(Strength::Care)
        } else {
            by_total
        }
    };
    Judged {
        nitrogen: sure(nitrogen.judge(c.n.0), nitrogen.judge(c.n.1)),
        salt: sure(
            with_added(c.ec_added.0, c.ec.0),
            with_added(c.ec_added.1, c.ec.1),
        ),
        chloride: strength::chloride(rates).judge(c.chloride),
        epsom: if c.epsom.1 * (1.0 - 1e-9) > epsom::most_per_litre(rates, s) {
            Strength::Reduce
        } else {
            Strength::Fine
        },
        sodium: trace::sodium_limits(rates).judge(trace::sodium(c)),
        trace: trace::traces(rates, c)
            .map(|t| sure(t.strength.0, t.strength.1))
            .max()
            .unwrap_or(Strength::Fine),
    }
}
