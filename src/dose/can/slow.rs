//! Feeds that do not dissolve: what they give off in the two weeks after they are spread, and later.

use super::super::need;
use super::super::situation::Situation;
use super::super::slow;
use super::InCan;
use crate::chemistry::release::{self, Coated};
use crate::knowledge::{Rates, Release};

/// What a slow feed does for one pot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slow {
    /// mg of nitrogen in all, lightest and heaviest.
    pub n_mg: (f64, f64),
    /// Shares of it that are free after 2 and after 8 weeks, lowest and highest; `None` for what is no feed.
    pub free: Option<[(f64, f64); 2]>,
    /// Weeks until a coated feed is empty.
    pub empty_weeks: Option<f64>,
    /// mg of nitrogen that a pot of this size takes in one top-dress at most; `None` where the pot is not known.
    pub most_mg: Option<f64>,
}

/// Follows a feed that does not dissolve. `mix` is the temperature of the mix, °C.
#[must_use]
pub fn slow(rates: &Rates, s: Option<&Situation>, item: &InCan<'_>, mix: f64) -> Slow {
    let [n, ..] = item.grade;
    let n_mg = (item.grams.lo() * n * 10.0, item.grams.hi() * n * 10.0);
    let coated = Coated {
        life: item.life_weeks.unwrap_or(rates.coated_weeks_unknown),
        label: rates.coated_label_temperature,
    };
    let weeks = [2.0, 8.0];
    let free = match item.release {
        Release::Organic => Some(weeks.map(|w| {
            let band = release::organic(w);
            (band.low, band.high)
        })),
        Release::Coated => Some(weeks.map(|w| {
            let out = coated.released(w, mix).unwrap_or(1.0);
            (out, out)
        })),
        Release::Ready | Release::None => None,
    };
    let empty_weeks = (item.release == Release::Coated)
        .then(|| coated.weeks_until_empty(mix))
        .flatten();
    let most_mg = s.and_then(|s| match item.release {
        Release::Organic => Some(rates.organic_once * s.litres * need::pot_share(rates, s)),
        Release::Coated => {
            Some(slow::coated_most(rates, s, coated.life) * s.litres * need::pot_share(rates, s))
        }
        Release::Ready | Release::None => None,
    });
    Slow {
        n_mg,
        free,
        empty_weeks,
        most_mg,
    }
}
