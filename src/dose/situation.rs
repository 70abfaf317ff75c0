//! The situation: one tree on one day in plain numbers.
//!
//! Where an answer that scales the amount is not known, the situation is worked out for each of its values and the one
//! with the smallest dose is taken: "not sure" never gives more than the smallest sure answer.

use super::epsom::{self, EpsomLabel};
use super::ids::{Ids, Read};
use super::reckoning::{Reckon, rate};
use crate::facts::{Sheet, Vocabulary};
use crate::knowledge::Rates;
use crate::quantity::Interval;

/// Age of the tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Under a year.
    Seedling,
    /// Not bearing yet.
    Young,
    /// Bearing.
    Bearing,
    /// Large and old.
    LargeOld,
}

/// Where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// In the rain.
    Outdoors,
    /// Out of the rain, in outdoor air.
    UnderCover,
    /// Indoors.
    Indoors,
}

/// Moisture of the mix.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moisture {
    /// Dry.
    Dry,
    /// Moist, or not known (then a gate holds the dose).
    Moist,
    /// Wet.
    Wet,
}

/// One tree on one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Situation {
    /// Age.
    pub stage: Stage,
    /// Whether the pot is self-watering.
    pub reservoir: bool,
    /// Where it stands.
    pub place: Place,
    /// Litres of mix in the pot.
    pub mix_litres: f64,
    /// Litres of mix the roots can use.
    pub litres: f64,
    /// Litres the tank holds, where known.
    pub tank_litres: Option<f64>,
    /// Mean air temperature, °C.
    pub temperature: Interval,
    /// Whether new growth shows; `None` counts as no.
    pub growing: Option<bool>,
    /// Mending from cold.
    pub recovering: bool,
    /// Moisture.
    pub moisture: Moisture,
    /// EC of the water in dS/m, and whether it was measured.
    pub water_ec: f64,
    /// Whether the water was measured.
    pub water_measured: bool,
    /// Rain on the pot, mm a month; 0 under a roof.
    pub rain_mm: f64,
    /// Heavy rain due.
    pub rain_due: bool,
    /// Roots fill the pot.
    pub pot_bound: bool,
    /// A likely finding asks for less feed.
    pub less: bool,
    /// An organic top-dress of the last weeks still releases nitrogen.
    pub organic_at_work: bool,
    /// What the packet of Epsom salt allows, where that is what is given.
    pub epsom_label: Option<EpsomLabel>,
}

impl Situation {
    /// Whether the gentler limits hold: self-watering pot, seedling, indoors, or cool.
    #[must_use]
    pub fn gentle(&self, rates: &Rates) -> bool {
        self.reservoir
            || self.stage == Stage::Seedling
            || self.place == Place::Indoors
            || self.temperature.lo() < rates.gentle_below
    }

    /// Every situation that the answers allow: one where all that scales the amount is known.
    #[must_use]
    pub fn all(ids: &Ids, vocabulary: &Vocabulary, rates: &Rates, sheet: &Sheet) -> Vec<Self> {
        let read = Read { vocabulary, sheet };
        let stages: &[Stage] = match read.choice(ids.tree_stage) {
            Some("seedling") => &[Stage::Seedling],
            Some("young") => &[Stage::Young],
            Some("bearing") => &[Stage::Bearing],
            Some("large_old") => &[Stage::LargeOld],
            _ => &[
                Stage::Seedling,
                Stage::Young,
                Stage::Bearing,
                Stage::LargeOld,
            ],
        };
        let pots: &[bool] = match read.choice(ids.pot_kind) {
            Some("reservoir") => &[true],
            Some(_) => &[false],
            None => &[true, false],
        };
        let places: &[Place] = match read.choice(ids.place) {
            Some("outdoors") => &[Place::Outdoors],
            Some("under_cover") => &[Place::UnderCover],
            Some("indoors") => &[Place::Indoors],
            _ => &[Place::Outdoors, Place::UnderCover, Place::Indoors],
        };
        let mix_litres = mix_litres(ids, read);
        let growing = read.yes_no(ids.new_growth);
        let rain = match read.choice(ids.rain_pattern) {
            Some("dry") => rates.rain_dry,
            Some("heavy") => rates.rain_heavy,
            _ => rates.rain_moderate,
        };
        let water = read.number(ids.water_ec);
        let base = Self {
            stage: Stage::Young,
            reservoir: false,
            place: Place::Outdoors,
            mix_litres,
            litres: usable(ids, read, rates),
            tank_litres: read.number(ids.reservoir_volume).map(Interval::lo),
            temperature: read
                .number(ids.air_temperature)
                .unwrap_or(Interval::UNKNOWN),
            growing,
            recovering: !read.is(ids.cold_event, "none"),
            moisture: match read.choice(ids.mix_moisture) {
                Some("dry") => Moisture::Dry,
                Some("wet") => Moisture::Wet,
                _ => Moisture::Moist,
            },
            water_ec: water.map_or(rates.water_ec_default, Interval::hi),
            water_measured: water.is_some(),
            rain_mm: rain,
            rain_due: read.is(ids.rain_due, "yes"),
            pot_bound: read.is(ids.pot_bound, "yes"),
            less: false,
            organic_at_work: read.is(ids.slow_feed_at_work, "organic")
                || read.is(ids.last_feed_kind, "organic_granular"),
            epsom_label: epsom::label(ids, read),
        };
        let mut all = Vec::with_capacity(
            stages
                .len()
                .saturating_mul(pots.len())
                .saturating_mul(places.len()),
        );
        for stage in stages {
            for reservoir in pots {
                for place in places {
                    all.push(Self {
                        stage: *stage,
                        reservoir: *reservoir,
                        place: *place,
                        rain_mm: if *place == Place::Outdoors {
                            base.rain_mm
                        } else {
                            0.0
                        },
                        ..base
                    });
                }
            }
        }
        all
    }
}

/// Where a figure comes from that no table holds.
const ANSWERS: &str = "your answers";

/// Litres of mix in the pot, at the least.
fn mix_litres(ids: &Ids, read: Read<'_>) -> f64 {
    let smallest = match &read.vocabulary.get(ids.pot_volume).kind {
        crate::facts::Kind::Number(range) => range.min,
        _ => 0.0,
    };
    read.number(ids.pot_volume).map_or(smallest, Interval::lo)
}

/// Litres of mix the roots can use: in the first year after potting on at most twice the old ball, and for a tree under
/// 60 cm at most 10 × (height / 60)² litres (own choice).
pub(super) fn usable<N: Reckon>(ids: &Ids, read: Read<'_>, rates: &Rates) -> N {
    let mut litres = N::found(mix_litres(ids, read), "L", "mix in the pot", ANSWERS);
    let within_a_year = read
        .number(ids.days_since_repot)
        .is_some_and(|d| d.lo() < rates.old_ball_days);
    if within_a_year && let Some(old) = read.number(ids.old_pot_volume) {
        let times: N = rate!(rates.repot_litres_factor);
        litres = litres.least(times.times(N::found(old.lo(), "L", "the old pot", ANSWERS)));
    }
    if let Some(height) = read.number(ids.tree_height).map(Interval::lo)
        && height < rates.small_tree_height
    {
        let part = N::found(height, "cm", "the tree", ANSWERS).over(rate!(rates.small_tree_height));
        let most: N = rate!(rates.small_tree_litres);
        litres = litres.least(most.times(part.clone()).times(part));
    }
    litres.named("", "litres that count", "L")
}
