//! Too much at once: what was given against what a pot takes at most.
//!
//! Measured are nitrogen, phosphate and potash of the feeds of two weeks per litre of mix, dissolved and slow ones apart, the
//! strength of the can, and Epsom salt per litre of mix. What is not on record never counts as the safe case: a pot of unknown
//! size counts as a small one, a feed of unknown strength as a strong one. Pot and bag count as they were when it was entered
//! (`then`) or as they are said today, whichever is the stricter. What follows from it stands in `aftermath`.

use super::between::days_between;
use super::event::{Event, Kind};
use super::garden::{Product, Story, product};
use super::then::{Bag, litres};
use super::washing::flush_volume;
use crate::knowledge::{ProductKind, Rates};
use crate::quantity::{Interval, Measure, Per, SpoonSystem};

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
#[derive(Clone, Copy)]
pub(super) struct Pot {
    pub(super) litres: f64,
    /// Litres that a flush has to wash through: of two sizes the larger.
    pub(super) to_wash: f64,
    reservoir: bool,
    gentle: bool,
}

impl Pot {
    pub(super) fn of(rates: &Rates, story: &Story) -> Self {
        let reservoir = story.word("pot_kind") == Some("reservoir");
        let litres = story
            .word("pot_volume")
            .and_then(litres)
            .unwrap_or(rates.pot_unknown);
        Self {
            litres,
            to_wash: litres,
            reservoir,
            gentle: reservoir
                || story.word("tree_stage") == Some("seedling")
                || story.word("place") == Some("indoors"),
        }
    }

    /// The pot of an entry: as it was, and no less strict than it is said to be today unless the tree got fresh mix since.
    pub(super) fn of_entry(rates: &Rates, story: &Story, e: &Event) -> Self {
        let now = Self::of(rates, story);
        let Some(reservoir) = e.then.reservoir else {
            return now;
        };
        let litres = e.then.pot_litres.filter(|l| *l > 0.0);
        let litres = litres.or(story.first_pot).unwrap_or(rates.pot_unknown);
        let then = Self {
            litres,
            to_wash: litres,
            reservoir,
            gentle: reservoir || e.then.gentle == Some(true),
        };
        let after = |o: &Event| (o.day, o.seq) > (e.day, e.seq);
        if story
            .events
            .iter()
            .any(|o| o.kind == Kind::Repot && after(o))
        {
            return then;
        }
        Self {
            litres: then.litres.min(now.litres),
            to_wash: then.to_wash.max(now.to_wash),
            reservoir: then.reservoir || now.reservoir,
            gentle: then.gentle || now.gentle,
        }
    }
}

/// mg of nitrogen of a feed; of unknown strength as of a strong one.
fn nitrogen(rates: &Rates, e: &Event) -> Option<f64> {
    e.n_mg
        .or_else(|| e.grams.map(|g| g * rates.grade_unknown * 10.0))
}

/// What the shelf says today of the product of an entry.
fn bag(e: &Event, products: &[Product]) -> Bag {
    product(e, products).map_or_else(Bag::default, |p| Bag::of(|what| p.word(what)))
}

/// Weeks over which coated beads spread what is in them: the least that their label says.
fn spread_weeks(rates: &Rates, e: &Event, products: &[Product]) -> f64 {
    let now = bag(e, products).weeks.map(Interval::lo);
    let told = [e.then.weeks_least, now, e.amount];
    told.into_iter()
        .flatten()
        .filter(|weeks| *weeks > 0.0)
        .reduce(f64::min)
        .unwrap_or(rates.coated_weeks_unknown)
}

/// mg of P2O5 and K2O of a feed, as far as they are known, at most: numbers of unknown basis may be elements.
fn phosphate_and_potash(e: &Event, products: &[Product]) -> [f64; 2] {
    let [p, k] = bag(e, products)
        .phosphate_and_potash
        .zip(e.grams)
        .map_or([0.0; 2], |(per_gram, grams)| per_gram.map(|x| x * grams));
    [
        p.max(e.then.p2o5_mg.unwrap_or(0.0)),
        k.max(e.then.k2o_mg.unwrap_or(0.0)),
    ]
}

/// Measures an entry against pot and can of its tree; `None` where nothing can be measured or it is not too much. `before`
/// are the tree's events before it, oldest first: dissolved feeds of the two weeks before count with it.
#[must_use]
pub fn measure(
    rates: &Rates,
    story: &Story,
    products: &[Product],
    before: &[Event],
    e: &Event,
) -> Option<Strong> {
    against(rates, &Pot::of_entry(rates, story, e), products, before, e)
}

pub(super) fn against(
    rates: &Rates,
    pot: &Pot,
    products: &[Product],
    before: &[Event],
    e: &Event,
) -> Option<Strong> {
    let share = if pot.reservoir {
        rates.reservoir_share
    } else {
        1.0
    };
    let own = Given::of(rates, e, products)?;
    let lately = lately(rates, pot, before, e)
        .filter_map(|o| Given::of(rates, o, products))
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
        Kind::Feed if e.goes_on_working() => {
            let (n, weeks) = if e.product_kind() == Some(ProductKind::Coated) {
                let weeks = spread_weeks(rates, e, products);
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
        .max(label_times(rates, pot, products, e));
    (times >= rates.slip_times || can.is_some()).then_some(Strong {
        times,
        can,
        only_can: times < rates.slip_times,
        together: all.times(most, share * pot.litres) > own.times(most, share * pot.litres) + 1e-9
            && times > label_times(rates, pot, products, e),
        rescue: times >= rates.rescue_times || can.is_some(),
        far: times > rates.garden_rate || can.is_some(),
    })
}

/// How many times what its label allows a slow feed was, where the label speaks of a pot or of litres of mix; 0 elsewhere.
fn label_times(rates: &Rates, pot: &Pot, products: &[Product], e: &Event) -> f64 {
    let Some(grams) = e.grams.filter(|_| e.goes_on_working()) else {
        return 0.0;
    };
    let now = allowed_today(rates, pot, products, e);
    let then = [
        e.then.label_pot_g,
        e.then.label_litre_g.map(|g| g * pot.litres),
    ];
    then.into_iter()
        .chain([now])
        .flatten()
        .filter(|allowed| *allowed > 0.0)
        .map(|allowed| grams / allowed)
        .fold(0.0, f64::max)
}

/// Grams that the label of its product allows this pot as the shelf says it today. A spoon weighs what was weighed, or as much as it
/// can.
fn allowed_today(rates: &Rates, pot: &Pot, products: &[Product], e: &Event) -> Option<f64> {
    let bag = bag(e, products);
    let rate = bag.rate?;
    let grams = match rate.amount {
        Measure::Grams(grams) => grams,
        amount => {
            let heaviest = if e.product_kind() == Some(ProductKind::Coated) {
                rates.density_mineral_high
            } else {
                rates.density_organic_high
            };
            amount.millilitres(SpoonSystem::Australian)? * bag.density.unwrap_or(heaviest)
        }
    };
    match rate.per {
        Per::Pot => Some(grams),
        Per::LitresOfMix(l) | Per::LitresOfWater(l) => Some(grams / l * pot.litres),
        Per::Tree => None,
    }
}

/// What was given of the same in the two weeks before, and is in the mix still: neither flushed out nor thrown away with it.
fn lately<'e>(
    rates: &Rates,
    pot: &Pot,
    before: &'e [Event],
    e: &Event,
) -> impl Iterator<Item = &'e Event> {
    let (kind, slow, what, day) = (e.kind, e.goes_on_working(), e.what.clone(), e.day);
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
        .filter(move |o| o.kind == kind && o.goes_on_working() == slow && (!slow || o.what == what))
}

/// What an entry gave: mg of nitrogen, phosphate and potash, and grams of Epsom salt.
#[derive(Clone, Copy, Default)]
struct Given([f64; 4]);

impl Given {
    /// `None` where nothing of it can be measured.
    fn of(rates: &Rates, e: &Event, products: &[Product]) -> Option<Self> {
        if e.kind == Kind::Epsom {
            return e.grams.map(Self::salt);
        }
        let [p2o5, k2o] = phosphate_and_potash(e, products);
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
