//! What a can holds, as text and as JSON.

mod as_json;
mod brief;
mod lines;
mod pot_lines;
mod text;
mod trace;

pub use as_json::json;
pub use text::text;

use crate::chemistry::precipitation::Deposit;
use crate::dose::can::{
    Can, Contents, InMix, Judged, Less, Sediment, Slow, Trace, judge, sodium_limits,
};
use crate::dose::situation::{Place, Stage};
use crate::dose::strength::{self, Strength};
use crate::dose::{Situation, epsom};
use crate::knowledge::{Rates, Reaction};
use crate::quantity::{GradeBasis, Interval};

/// What is told.
#[derive(Debug, Clone)]
pub struct Page<'a> {
    /// What goes in, in words.
    pub names: &'a [String],
    /// Whether each of them dissolves.
    pub dissolves: Vec<bool>,
    /// The can.
    pub can: &'a Can<'a>,
    /// What a litre holds.
    pub contents: &'a Contents,
    /// The verdict.
    pub judged: Judged,
    /// Limits of this tree and of the two kinds of pot.
    pub limits: Limits,
    /// The verdict in a pot with drain holes and in a self-watering one.
    pub by_pot: [Strength; 2],
    /// What this pot gets, where the pot is known.
    pub pot: Option<Pot>,
    /// Whether the strictest tree that the answers allow was taken.
    pub strictest: bool,
    /// Trace elements that the labels print.
    pub traces: Vec<Trace>,
    /// What reacts.
    pub reacting: &'a [&'a Reaction],
    /// What clouds or does not dissolve.
    pub sediment: Sediment,
    /// How much less makes it fine.
    pub less: Option<Less>,
    /// Verdicts with the bags at the lower and the upper edge of the tolerance.
    pub edges: [Strength; 2],
    /// What P and K were taken as, for each grade typed, and whether that was said.
    pub bases: &'a [(GradeBasis, bool)],
    /// What does not dissolve, in order.
    pub slow: &'a [Slow],
    /// Temperature of the mix that slow feeds were followed at, °C.
    pub mix_temperature: f64,
}

impl Page<'_> {
    /// The verdict with all that reacts and all that does not dissolve.
    #[must_use]
    pub fn verdict(&self) -> Strength {
        if self.refused() {
            return Strength::Stop;
        }
        // Calcium with phosphate or bicarbonate is a matter for a jar test, not for the verdict: no constant is used there.
        let solids = !self.sediment.undissolved.is_empty()
            || self.sediment.deposits.contains(&Deposit::Gypsum);
        let spread = !self.slow.is_empty();
        let heaped = self
            .slow
            .iter()
            .any(|s| s.most_mg.is_some_and(|most| s.n_mg.1 > most));
        let by_solids = if heaped {
            Strength::Reduce
        } else if solids || spread || !self.reacting.is_empty() || self.unfit() {
            Strength::Care
        } else {
            Strength::Fine
        };
        self.judged.worst().max(by_solids)
    }

    /// Whether something in it is for leaves only or made with sodium, or nobody told what it holds.
    #[must_use]
    pub fn unfit(&self) -> bool {
        self.can
            .dissolved()
            .any(|item| item.for_leaves() || item.of_sodium() || item.untold())
    }

    /// Whether nothing but a trace element stops it; only boron does.
    #[must_use]
    pub fn only_boron_stops(&self) -> bool {
        let but_trace = crate::dose::can::Judged {
            trace: Strength::Fine,
            ..self.judged
        };
        self.judged.trace == Strength::Stop && but_trace.worst() < Strength::Stop
    }

    /// Whether gypsum is reckoned to stay dissolved at this strength.
    #[must_use]
    pub fn gypsum_dissolved(&self) -> bool {
        self.sediment.gypsum > 0.0 && self.sediment.gypsum < 1.0
    }

    /// Whether two feeds in it bring calcium and sulfate, and gypsum is reckoned to stay dissolved.
    #[must_use]
    pub fn jar_test(&self) -> bool {
        self.reacting.iter().any(|r| self.only_tested(r))
    }

    /// Whether this pair only asks for a jar test: calcium beside sulfate where gypsum is reckoned to stay dissolved.
    #[must_use]
    pub fn only_tested(&self, r: &Reaction) -> bool {
        self.gypsum_dissolved() && r.a == "calcium" && r.b == "sulfate"
    }

    /// Whether two feeds in it must not meet in a can.
    #[must_use]
    pub fn refused(&self) -> bool {
        self.reacting
            .iter()
            .any(|r| r.verdict == "refuse" && !self.only_tested(r))
    }
}

/// What one pot gets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pot {
    /// Litres of mix.
    pub volume: f64,
    /// Litres that it takes up in one watering.
    pub takes: f64,
    /// Litres of this can that it gets.
    pub litres: f64,
    /// mg of nitrogen in them.
    pub n_mg: (f64, f64),
    /// mg of nitrogen that it needs a week; 0 at rest.
    pub weekly_mg: f64,
    /// Salt of the mix after it.
    pub in_mix: Option<InMix>,
}

/// Limits for one tree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// mg/L of nitrogen.
    pub nitrogen: strength::Limits,
    /// dS/m in all.
    pub salt: strength::Limits,
    /// dS/m that the feed may add.
    pub added: f64,
    /// me/L of chloride.
    pub chloride: strength::Limits,
    /// me/L of sodium.
    pub sodium: strength::Limits,
    /// g/L of Epsom salt.
    pub epsom: f64,
}

impl Limit {
    fn of(rates: &Rates, s: &Situation) -> Self {
        Self {
            nitrogen: strength::nitrogen(rates, s),
            salt: strength::salt(rates, s),
            added: strength::salt_added(rates, s),
            chloride: strength::chloride(rates),
            sodium: sodium_limits(rates),
            epsom: epsom::most_per_litre(rates, s),
        }
    }
}

/// Limits side by side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Of the tree that was judged.
    pub here: Limit,
    /// Of a grown tree in the warm outdoors, pot with drain holes.
    pub draining: (Limit, Situation),
    /// The same in a self-watering pot.
    pub reservoir: (Limit, Situation),
}

impl Limits {
    /// The limits of a tree, and of the two kinds of pot.
    #[must_use]
    pub fn all(rates: &Rates, s: &Situation) -> Self {
        let grown = |reservoir: bool| {
            let grown = Situation {
                stage: Stage::Young,
                place: Place::Outdoors,
                temperature: Interval::point(rates.gentle_below + 4.0),
                reservoir,
                ..*s
            };
            (Limit::of(rates, &grown), grown)
        };
        Self {
            here: Limit::of(rates, s),
            draining: grown(false),
            reservoir: grown(true),
        }
    }

    /// The verdict on a can in a draining and in a self-watering pot.
    #[must_use]
    pub fn verdicts(&self, rates: &Rates, c: &Contents) -> [Strength; 2] {
        [self.draining.1, self.reservoir.1].map(|s| judge(rates, &s, c).worst())
    }
}

/// The word for a verdict.
#[must_use]
pub fn word(strength: Strength) -> &'static str {
    match strength {
        Strength::Fine => "FINE",
        Strength::Care => "MIND",
        Strength::Reduce => "LESS",
        Strength::Stop => "STOP",
    }
}
