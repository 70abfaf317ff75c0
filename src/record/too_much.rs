//! Too much at once: what was given against what a pot takes at most.
//!
//! Measured are nitrogen, phosphate and potash of the feeds of two weeks per litre of mix, dissolved and slow ones apart, the
//! strength of the can, and Epsom salt per litre of mix. What is not on record never counts as the safe case: a pot of unknown
//! size counts as a small one, a feed of unknown strength as a strong one. What follows from it stands in `aftermath`.

use super::between::days_between;
use super::event::{Event, Kind};
use super::garden::{Product, Story};
use super::washing::flush_volume;
use crate::knowledge::Rates;
use crate::quantity::{Grade, GradeBasis, LabelRate, Measure, Per};

/// What was measured of an entry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strong {
    /// How many times what this pot takes.
    pub times: f64,
    /// mg of nitrogen in a litre of the can, where that alone is past the limit of harm.
    pub can: Option<f64>,
    /// The pot itself takes what was given: only the can was too strong.
    pub only_can: bool,
    /// Whether earlier feeds of the two weeks count in it.
    pub together: bool,
    /// Too much: first aid is named.
    pub rescue: bool,
    /// Far too much: past what stops a plan. It holds the feed.
    pub far: bool,
}

/// What of a tree decides how much it takes.
pub(super) struct Pot {
    pub(super) litres: f64,
    reservoir: bool,
    gentle: bool,
}

impl Pot {
    pub(super) fn of(rates: &Rates, story: &Story) -> Self {
        let reservoir = story.word("pot_kind") == Some("reservoir");
        Self {
            litres: story
                .word("pot_volume")
                .and_then(|v| crate::quantity::parse_in_unit(v, "L").ok())
                .and_then(crate::quantity::Interval::mid)
                .filter(|l| *l > 0.0)
                .unwrap_or(rates.pot_unknown),
            reservoir,
            gentle: reservoir
                || story.word("tree_stage") == Some("seedling")
                || story.word("place") == Some("indoors"),
        }
    }
}

pub(super) fn is_slow(e: &Event) -> bool {
    matches!(
        e.what.as_deref(),
        Some("organic_granular" | "coated" | "compost_manure")
    )
}

/// mg of nitrogen of a feed; of unknown strength as of a strong one.
fn nitrogen(rates: &Rates, e: &Event) -> Option<f64> {
    e.n_mg
        .or_else(|| e.grams.map(|g| g * rates.grade_unknown * 10.0))
}

fn product<'g>(e: &Event, shelf: &'g [Product]) -> Option<&'g Product> {
    shelf.iter().find(|p| Some(p.subject.id) == e.product)
}

/// Weeks that coated beads last, as their label says.
pub(super) fn bead_weeks(rates: &Rates, e: &Event, shelf: &[Product]) -> f64 {
    product(e, shelf)
        .and_then(|p| p.word("coated_life_weeks"))
        .and_then(|v| crate::quantity::parse_in_unit(v, "weeks").ok())
        .map_or(rates.coated_weeks_unknown, crate::quantity::Interval::lo)
}

/// mg of P2O5 and K2O of a feed, as far as the shelf knows them; numbers of unknown basis count as oxides.
fn phosphate_and_potash(e: &Event, shelf: &[Product]) -> [f64; 2] {
    product(e, shelf)
        .and_then(|p| p.word("product_grade"))
        .and_then(|g| Grade::parse(g, GradeBasis::Oxide).ok())
        .zip(e.grams)
        .map_or([0.0; 2], |(g, grams)| {
            [g.p2o5() * grams * 10.0, g.k2o() * grams * 10.0]
        })
}

/// Measures an entry against pot and can of its tree; `None` where nothing can be measured or it is not too much. `before`
/// are the tree's events before it, oldest first: dissolved feeds of the two weeks before count with it.
#[must_use]
pub fn measure(
    rates: &Rates,
    story: &Story,
    shelf: &[Product],
    before: &[Event],
    e: &Event,
) -> Option<Strong> {
    against(rates, &Pot::of(rates, story), shelf, before, e)
}

pub(super) fn against(
    rates: &Rates,
    pot: &Pot,
    shelf: &[Product],
    before: &[Event],
    e: &Event,
) -> Option<Strong> {
    let share = if pot.reservoir {
        rates.reservoir_share
    } else {
        1.0
    };
    let own = Given::of(rates, e, shelf)?;
    let lately = lately(rates, pot, before, e)
        .filter_map(|o| Given::of(rates, o, shelf))
        .fold(Given::default(), Given::and);
    let all = own.and(lately);
    let (most, can) = match e.kind {
        Kind::Epsom => {
            let most = if pot.reservoir {
                rates.epsom_reservoir_per_mix
            } else {
                rates.epsom_per_mix
            };
            // The half of a self-watering pot is in that figure.
            (Given::salt(most / share), None)
        }
        Kind::Feed if is_slow(e) => {
            let (n, weeks) = if e.what.as_deref() == Some("coated") {
                let weeks = bead_weeks(rates, e, shelf);
                let fortnights = (weeks * 7.0 / rates.ready_days).max(1.0);
                (rates.coated_band * weeks, fortnights)
            } else {
                (rates.organic_once / rates.organic_released, 1.0)
            };
            let most = Given([n, rates.slow_p2o5 * weeks, rates.slow_k2o * weeks, 1.0]);
            (most, None)
        }
        Kind::Feed => {
            let stop = if pot.gentle {
                rates.n_stop_gentle
            } else {
                rates.n_stop_draining
            };
            let can = e
                .litres
                .filter(|l| *l > 0.0)
                .map(|l| own.nitrogen() / l)
                .filter(|n| *n > stop);
            let most = [rates.ready_once, rates.ready_p2o5, rates.ready_k2o, 1.0];
            (Given(most), can)
        }
        _ => return None,
    };
    let times = all
        .times(most, share * pot.litres)
        .max(label_times(pot, shelf, e));
    (times >= rates.slip_times || can.is_some()).then_some(Strong {
        times,
        can,
        only_can: times < rates.slip_times,
        together: times > own.times(most, share * pot.litres),
        rescue: times >= rates.rescue_times || can.is_some(),
        far: times > rates.garden_rate || can.is_some(),
    })
}

/// How many times what its label allows a slow feed was, where the label speaks of a pot or of litres of mix; 0 elsewhere.
fn label_times(pot: &Pot, shelf: &[Product], e: &Event) -> f64 {
    let rate = product(e, shelf)
        .filter(|_| is_slow(e))
        .and_then(|p| p.word("label_rate"))
        .and_then(|r| LabelRate::parse(r).ok());
    let Some((rate, grams)) = rate.zip(e.grams) else {
        return 0.0;
    };
    let Measure::Grams(amount) = rate.amount else {
        return 0.0;
    };
    let allowed = match rate.per {
        Per::Pot => amount,
        Per::LitresOfMix(l) | Per::LitresOfWater(l) => amount / l * pot.litres,
        Per::Tree => return 0.0,
    };
    if allowed > 0.0 { grams / allowed } else { 0.0 }
}

/// What was given of the same in the two weeks before, and is in the mix still: neither flushed out nor thrown away with it.
fn lately<'e>(
    rates: &Rates,
    pot: &Pot,
    before: &'e [Event],
    e: &Event,
) -> impl Iterator<Item = &'e Event> {
    let (kind, slow, what, day) = (e.kind, is_slow(e), e.what.clone(), e.day);
    let enough = flush_volume(rates, pot, 0.0) * rates.flush_enough;
    let mut water = 0.0;
    // Nearer to each other than two feeds may be, they count as one.
    let together = rates.interval_least;
    before
        .iter()
        .rev()
        .take_while(move |o| {
            if o.kind == Kind::Flush {
                water += o.litres.unwrap_or(0.0);
            }
            let washed = water >= enough && !slow;
            f64::from(days_between(o.day, day)) < together && o.kind != Kind::Repot && !washed
        })
        .filter(move |o| o.kind == kind && is_slow(o) == slow && (!slow || o.what == what))
}

/// What an entry gave: mg of nitrogen, phosphate and potash, and grams of Epsom salt.
#[derive(Clone, Copy, Default)]
struct Given([f64; 4]);

impl Given {
    /// `None` where nothing of it can be measured.
    fn of(rates: &Rates, e: &Event, shelf: &[Product]) -> Option<Self> {
        if e.kind == Kind::Epsom {
            return e.grams.map(Self::salt);
        }
        let [p2o5, k2o] = phosphate_and_potash(e, shelf);
        Some(Self([nitrogen(rates, e)?, p2o5, k2o, 0.0]))
    }

    fn salt(grams: f64) -> Self {
        Self([0.0, 0.0, 0.0, grams])
    }

    fn nitrogen(self) -> f64 {
        let Self([n, ..]) = self;
        n
    }

    fn and(self, other: Self) -> Self {
        let Self([n, p, k, salt]) = self;
        let Self([n2, p2, k2, salt2]) = other;
        Self([n + n2, p + p2, k + k2, salt + salt2])
    }

    /// The largest of them against what a litre of mix takes of each.
    fn times(self, most: Self, litres: f64) -> f64 {
        self.0
            .into_iter()
            .zip(most.0)
            .filter(|(_, most)| *most > 0.0)
            .map(|(given, most)| given / (most * litres))
            .fold(0.0, f64::max)
    }
}

impl Strong {
    /// How many times, in words: "about 40 times".
    #[must_use]
    pub fn times_words(&self) -> String {
        let shown = if self.times < 10.0 {
            self.times.round()
        } else {
            crate::quantity::floor_sig(self.times, 2)
        };
        format!("about {shown} times")
    }

    /// What makes it too much, in words that follow "it is too much:".
    #[must_use]
    pub fn in_words(&self) -> String {
        match self.can {
            Some(n) if self.only_can => format!(
                "the can held {} mg of nitrogen a litre, which burns roots",
                crate::quantity::show_number(crate::quantity::round_sig(n, 2))
            ),
            _ => format!(
                "{}that is {} what this pot takes",
                if self.together {
                    "with what it got in the two weeks before, "
                } else {
                    ""
                },
                self.times_words()
            ),
        }
    }
}
