//! The proposal: the program's own amounts for one situation, capped before safety sees them.

use super::epsom::{self, Epsom};
use super::feed::{Acts, Feed};
use super::need;
use super::next::{interval_days, ready_days, slow_days};
use super::planned::Planned;
use super::situation::Situation;
use super::strength;
use super::water::{can_litres, usual_can_litres};
use crate::knowledge::Rates;
use crate::quantity::{LabelRate, Per, floor_sig};

/// Digits of the litres of a can, rounded down.
const CAN_DIGITS: u8 = 2;

/// What limited an amount, in the order of the limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// Nothing: the need is met.
    Need,
    /// The most in one go per litre of mix.
    OneGo,
    /// Nitrogen in the can.
    CanNitrogen,
    /// Salt in the can.
    CanSalt,
    /// Phosphate.
    Phosphate,
    /// Potash.
    Potash,
    /// Ready and slow feed together.
    Together,
    /// Chloride in the can.
    Chloride,
    /// The label's rate.
    Label,
    /// The label is not known: half.
    LabelUnknown,
}

/// Ready feed for one tree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ready {
    /// Grams of feed, rounded down.
    pub grams: f64,
    /// Litres of the can, rounded down.
    pub can_litres: f64,
    /// mg of nitrogen.
    pub n_mg: f64,
    /// What limited it.
    pub limit: Limit,
}

impl Ready {
    /// mg N per litre of the can.
    #[must_use]
    pub fn n_per_litre(&self) -> f64 {
        if self.can_litres > 0.0 {
            self.n_mg / self.can_litres
        } else {
            0.0
        }
    }
}

/// Slow feed for one tree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slow {
    /// Grams of feed, rounded down.
    pub grams: f64,
    /// mg of nitrogen in all.
    pub n_mg: f64,
    /// Days until it may be given again.
    pub days: f64,
    /// What limited it.
    pub limit: Limit,
    /// Weeks of life of a coated feed; `None` for an organic one.
    pub life_weeks: Option<f64>,
}

/// Which of the two feeds on the shelf gives an amount.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The feed asked about.
    Main,
    /// The second feed.
    Other,
}

/// The program's own amounts for one tree. Never shown; see [`crate::safety`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Proposal {
    /// The situation it was worked out for: the one with the smallest dose.
    pub situation: Situation,
    /// Need in mg N a week.
    pub weekly_mg: f64,
    /// Ready feed, with which feed on the shelf.
    pub ready: Option<(Role, Ready)>,
    /// Slow feed, with which feed on the shelf.
    pub slow: Option<(Role, Slow)>,
    /// Epsom salt.
    pub epsom: Option<Epsom>,
    /// Ready feed was left out because heavy rain is due and slow feed may carry on.
    pub ready_left_out: bool,
    /// The amount the grower means to give.
    pub planned: Option<Planned>,
    /// Days to the next feed.
    pub next_days: f64,
    /// Whether the lower edge of the band of need is met.
    pub band_met: bool,
}

impl Proposal {
    /// mg of nitrogen that it brings in all.
    #[must_use]
    pub fn n_mg(&self) -> f64 {
        self.ready.map_or(0.0, |(_, r)| r.n_mg) + self.slow.map_or(0.0, |(_, s)| s.n_mg)
    }

    /// Whether it brings anything.
    #[must_use]
    pub fn is_something(&self) -> bool {
        self.ready.is_some_and(|(_, r)| r.grams > 0.0)
            || self.slow.is_some_and(|(_, s)| s.grams > 0.0)
            || self.epsom.is_some_and(|e| e.grams > 0.0)
    }
}

/// What is to be given.
#[derive(Debug, Clone, Copy)]
pub struct Wanted<'k> {
    /// The feed asked about.
    pub main: Option<Feed<'k>>,
    /// A second one.
    pub other: Option<Feed<'k>>,
    /// Epsom salt instead of a feed.
    pub epsom: bool,
}

/// Works out the amounts in every situation that the answers allow, and takes the smallest.
#[must_use]
pub fn propose(
    rates: &Rates,
    situations: &[Situation],
    wanted: &Wanted<'_>,
    planned: Option<crate::quantity::PlannedAmount>,
) -> Option<Proposal> {
    situations
        .iter()
        .map(|s| for_situation(rates, s, wanted, planned))
        .min_by(|a, b| {
            let size = |p: &Proposal| p.n_mg() + p.epsom.map_or(0.0, |e| e.grams);
            size(a).total_cmp(&size(b))
        })
}

fn for_situation(
    rates: &Rates,
    s: &Situation,
    wanted: &Wanted<'_>,
    planned: Option<crate::quantity::PlannedAmount>,
) -> Proposal {
    let weekly = need::weekly(rates, s);
    let interval = interval_days(rates, s);
    let feeds = [(Role::Main, wanted.main), (Role::Other, wanted.other)];
    let pick = |slow: bool| {
        feeds
            .iter()
            .find_map(|(role, feed)| feed.filter(|f| f.is_slow() == slow).map(|f| (*role, f)))
    };
    let slow_feed = pick(true);
    let left_out = s.rain_due
        && s.place == super::situation::Place::Outdoors
        && slow_feed.is_some()
        && pick(false).is_some();
    let ready_feed = pick(false).filter(|_| !left_out);
    let both = ready_feed.is_some() && slow_feed.is_some();
    let ready = ready_feed.map(|(role, feed)| (role, ready(rates, s, &feed, both)));
    let ready_mg = ready.map_or(0.0, |(_, r)| r.n_mg);
    let slow =
        slow_feed.map(|(role, feed)| (role, slow(rates, s, &feed, both, ready_mg, interval)));
    let epsom = wanted.epsom.then(|| epsom::amount(rates, s));
    let label_days = feeds
        .iter()
        .filter_map(|(_, f)| f.and_then(|f| f.label_days))
        .fold(0.0, f64::max);
    let next_days = next(rates, weekly, s, ready, slow, interval).max(label_days);
    let given = ready_mg + slow.map_or(0.0, |(_, s)| s.n_mg * rates.organic_released);
    let lowest = weekly * (rates.base_need_low / need::base(rates, s)) * need::pot_share(rates, s);
    Proposal {
        situation: *s,
        weekly_mg: weekly,
        ready,
        slow,
        epsom,
        ready_left_out: left_out,
        planned: planned
            .zip(wanted.main)
            .map(|(p, feed)| super::planned::weigh(rates, s, &feed, p)),
        next_days: next_days.ceil(),
        band_met: given >= lowest * next_days / 7.0 * (1.0 - 1e-9),
    }
}

/// Next feed: after a slow one when it no longer works, else the earlier of washout and the day the feed is used up.
fn next(
    rates: &Rates,
    weekly: f64,
    s: &Situation,
    ready: Option<(Role, Ready)>,
    slow: Option<(Role, Slow)>,
    interval: f64,
) -> f64 {
    match (ready, slow) {
        (Some((_, r)), None) if weekly > 0.0 => {
            ready_days(rates, interval, r.n_mg, weekly * need::pot_share(rates, s))
        }
        (None, Some((_, s))) => s.days,
        // The same two feeds again: not while the slow one still works.
        (Some(_), Some((_, s))) => interval.max(s.days),
        _ => interval,
    }
}

/// Keeps the smaller of two amounts and remembers what limited it.
fn cap(amount: &mut f64, limit: &mut Limit, most: f64, by: Limit) {
    if most < *amount {
        *amount = most.max(0.0);
        *limit = by;
    }
}

/// Ready feed: two weeks' need, or half of it beside a slow feed, under every cap; a tree that is to get less gets its share of that.
fn ready(rates: &Rates, s: &Situation, feed: &Feed<'_>, both: bool) -> Ready {
    // What is shown is what counts: litres are rounded down first, so that no cap is passed by the rounding. And the
    // water that salty water needs on top for leaching never carries more feed.
    let poured = floor_sig(can_litres(rates, s), CAN_DIGITS);
    let can = poured.min(floor_sig(usual_can_litres(rates, s), CAN_DIGITS));
    let two_weeks = need::sound_weekly(rates, s) * rates.ready_days / 7.0;
    let share = if both { rates.ready_share_both } else { 1.0 };
    let factor = need::sound_factor(rates, s);
    let pot = need::pot_share(rates, s);
    let mut n = two_weeks * share * pot * cool_share(rates, s, feed);
    let mut limit = Limit::Need;
    cap(
        &mut n,
        &mut limit,
        rates.ready_once * s.litres * factor * pot,
        Limit::OneGo,
    );
    cap(
        &mut n,
        &mut limit,
        ready_beside_organic(rates, s) * s.litres * factor * pot,
        Limit::Together,
    );
    cap(
        &mut n,
        &mut limit,
        strength::nitrogen(rates, s).fine * can,
        Limit::CanNitrogen,
    );
    let room = strength::salt_added(rates, s)
        .min(strength::salt(rates, s).fine - s.water_ec)
        .max(0.0);
    let within = feed.n_within(room);
    if within.is_finite() {
        cap(&mut n, &mut limit, within * can, Limit::CanSalt);
    }
    let mut grams = n / feed.n_mg_per_g();
    let by_share = |most_mg: f64, percent: f64| {
        if percent > 0.0 {
            most_mg / (percent * 10.0)
        } else {
            f64::INFINITY
        }
    };
    cap(
        &mut grams,
        &mut limit,
        by_share(rates.ready_p2o5 * s.litres * factor * pot, feed.p2o5_most),
        Limit::Phosphate,
    );
    cap(
        &mut grams,
        &mut limit,
        by_share(rates.ready_k2o * s.litres * factor * pot, feed.k2o_most),
        Limit::Potash,
    );
    cap(
        &mut grams,
        &mut limit,
        by_share(
            rates.chloride_fine * super::planned::CHLORIDE_MG_PER_ME * can,
            feed.chloride,
        ),
        Limit::Chloride,
    );
    label_cap(rates, s, feed, can, &mut grams, &mut limit);
    let grams = show_down(grams * need::ease(rates, s));
    Ready {
        grams,
        can_litres: poured,
        n_mg: grams * feed.n_mg_per_g(),
        limit,
    }
}

/// Slow feed: the need until the next one over what is released, under every cap; a tree that is to get less gets its share of that.
fn slow(
    rates: &Rates,
    s: &Situation,
    feed: &Feed<'_>,
    both: bool,
    ready_mg: f64,
    interval: f64,
) -> Slow {
    let factor = need::sound_factor(rates, s);
    let pot = need::pot_share(rates, s);
    let share = if both {
        1.0 - rates.ready_share_both
    } else {
        1.0
    };
    let mut limit = Limit::Need;
    let (mut n, days) = if feed.acts == Acts::Coated {
        let weeks = feed.coated_weeks.unwrap_or(rates.coated_weeks_unknown);
        let warm = coated_speed(rates, s);
        let mut n = need::sound_weekly(rates, s) * weeks * share * pot;
        cap(
            &mut n,
            &mut limit,
            coated_most(rates, s, weeks) * s.litres * factor * pot,
            Limit::OneGo,
        );
        cap(
            &mut n,
            &mut limit,
            rates.season_total * s.litres * pot,
            Limit::OneGo,
        );
        (n, weeks * 7.0 / warm)
    } else {
        let need = need::sound_weekly(rates, s) * interval / 7.0 * share * pot;
        let mut n = need / rates.organic_released;
        cap(
            &mut n,
            &mut limit,
            rates.organic_once * s.litres * pot,
            Limit::OneGo,
        );
        // Ready feed and what slow feed releases within 14 days, together.
        let room =
            rates.together_14_days * s.litres * factor * pot - ready_mg / need::ease(rates, s);
        cap(
            &mut n,
            &mut limit,
            room / rates.organic_released,
            Limit::Together,
        );
        (n, interval)
    };
    n = n.max(0.0);
    let mut grams = n / feed.n_mg_per_g();
    for (most, percent, by) in [
        (rates.slow_p2o5, feed.p2o5_most, Limit::Phosphate),
        (rates.slow_k2o, feed.k2o_most, Limit::Potash),
    ] {
        // A coated feed spreads its phosphate and potash over its life, two weeks at a time.
        let times = if feed.acts == Acts::Coated {
            (days / rates.ready_days).max(1.0)
        } else {
            1.0
        };
        if percent > 0.0 {
            cap(
                &mut grams,
                &mut limit,
                most * times * s.litres * factor * pot / (percent * 10.0),
                by,
            );
        }
    }
    label_cap(rates, s, feed, can_litres(rates, s), &mut grams, &mut limit);
    let grams = show_down(grams * need::ease(rates, s));
    Slow {
        grams,
        n_mg: grams * feed.n_mg_per_g(),
        days: slow_days(
            rates,
            (feed.acts == Acts::Coated).then_some(days / 7.0),
            feed.coated_weeks,
        ),
        limit,
        life_weeks: (feed.acts == Acts::Coated)
            .then(|| feed.coated_weeks.unwrap_or(rates.coated_weeks_unknown)),
    }
}

/// Grams of this feed alone that the program itself would give.
#[must_use]
pub fn own_grams(rates: &Rates, s: &Situation, feed: &Feed<'_>) -> f64 {
    if feed.is_slow() {
        slow(rates, s, feed, false, 0.0, interval_days(rates, s)).grams
    } else {
        ready(rates, s, feed, false).grams
    }
}

/// How much faster than its label a coated feed works: doubling each 10 °C.
#[must_use]
pub fn coated_speed(rates: &Rates, s: &Situation) -> f64 {
    let mix = s.temperature.mid().unwrap_or(s.temperature.lo());
    if !mix.is_finite() {
        return 1.0;
    }
    2.0_f64.powf((mix - rates.coated_label_temperature) / rates.coated_doubling)
}

/// Most nitrogen of a coated feed in mg per litre of mix.
#[must_use]
pub fn coated_most(rates: &Rates, s: &Situation, weeks: f64) -> f64 {
    rates.coated_band * weeks / (rates.coated_first_month * coated_speed(rates, s))
}

/// Most ready nitrogen in mg per litre of mix beside an organic top-dress that still works: what both may give together
/// in 14 days, less the most that the top-dress releases in them.
#[must_use]
pub fn ready_beside_organic(rates: &Rates, s: &Situation) -> f64 {
    if s.organic_at_work {
        (rates.together_14_days - rates.organic_once * rates.organic_released).max(0.0)
    } else {
        f64::INFINITY
    }
}

/// Half where the mix is cool and the nitrogen mostly ammonium or urea, or of unknown form.
#[must_use]
pub fn cool_share(rates: &Rates, s: &Situation, feed: &Feed<'_>) -> f64 {
    let cool = s.temperature.lo() < rates.gentle_below;
    let mostly = feed.ammonium_urea.is_none_or(|a| a > rates.ammonium_most);
    if cool && mostly && !feed.is_slow() {
        rates.ammonium_cool_share
    } else {
        1.0
    }
}

/// The label is the ceiling; where it is not known, half.
fn label_cap(
    rates: &Rates,
    s: &Situation,
    feed: &Feed<'_>,
    can: f64,
    grams: &mut f64,
    limit: &mut Limit,
) {
    match feed.label {
        Some(rate) => cap(grams, limit, label_grams(s, feed, rate, can), Limit::Label),
        None => {
            *grams *= rates.label_unknown_share;
            *limit = Limit::LabelUnknown;
        }
    }
}

/// Most grams for this tree that the label allows. Spoons count with the lightest density: never above the label.
#[must_use]
pub fn label_grams(s: &Situation, feed: &Feed<'_>, rate: LabelRate, can: f64) -> f64 {
    let grams = rate.amount.grams(feed.density, feed.smallest_spoons()).lo();
    match rate.per {
        Per::LitresOfWater(litres) => grams / litres * can,
        Per::LitresOfMix(litres) => grams / litres * s.mix_litres,
        Per::Pot | Per::Tree => grams,
    }
}

/// Rounds an amount down to what is shown: two digits below 10 g, three above.
#[must_use]
pub fn show_down(grams: f64) -> f64 {
    floor_sig(grams, if grams < 10.0 { 2 } else { 3 })
}
