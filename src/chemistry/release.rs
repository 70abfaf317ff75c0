//! How slow feeds give off their nitrogen, week by week.
//!
//! **Organic feeds.** Of four materials of 11.7 to 15.8 % N, incubated at 10 to 25 °C, 47 to 60 % of the organic nitrogen
//! was mineral within two weeks; after eight weeks 56 % at 10 °C and 66 % at 25 °C on average, and by material feather meal
//! 60, seabird guano 61, fish powder 62, blood meal 66 % (Hartz and Johnstone 2006, published). The band here runs straight
//! from nothing through those points; the low edge is taken as the cool one. After eight weeks it gains 1 % a week (own
//! choice) to week 26, which ends at 74 to 84 %.
//!
//! **Coated feeds.** share = ∫ 2^((T − T₀)/10) ÷ life, 1.5 times that over the first four weeks, until all is out. That
//! warmth drives release, that nitrogen comes early and that a label's life holds for one temperature is published (Jacobs
//! 2005, RMRS-P-35); the doubling in 10 °C and the 1.5 are own choice.
//!
//! **Limits.** Composts, manures and coarse horn are slower than the four materials; a dry mix stops an organic feed and
//! hardly slows a coated one. Coated feeds differ by make: field release may be far off (same source).

use super::feed::Range;
use super::mixing::between;

/// Weeks that are followed.
pub const LAST_WEEK: f64 = 26.0;

/// Points of the published band: weeks, cool edge, warm edge.
const ORGANIC: [(f64, f64, f64); 4] = [
    (0.0, 0.0, 0.0),
    (2.0, 0.47, 0.60),
    (8.0, 0.56, 0.66),
    (LAST_WEEK, 0.74, 0.84),
];

/// Share of an organic feed's nitrogen that is free after so many weeks, 0 to 1.
#[must_use]
pub fn organic(weeks: f64) -> Range {
    let at = weeks.clamp(0.0, LAST_WEEK);
    let edge = |pick: fn(&(f64, f64, f64)) -> f64| {
        let line: Vec<(f64, f64)> = ORGANIC.iter().map(|row| (row.0, pick(row))).collect();
        between(&line, at).unwrap_or(0.0)
    };
    Range {
        low: edge(|row| row.1),
        high: edge(|row| row.2),
    }
}

/// Weeks at the start in which a coated feed gives more.
const EARLY_WEEKS: f64 = 4.0;
/// How much more.
const EARLY: f64 = 1.5;
/// Degrees in which release doubles.
const DOUBLING: f64 = 10.0;

/// A coated feed: weeks of life on its label, at the temperature the label states, °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coated {
    /// Weeks of life, above 0.
    pub life: f64,
    /// °C for which the life holds.
    pub label: f64,
}

impl Coated {
    /// Share of the nitrogen a week after the first month, at a mix temperature in °C.
    fn weekly(self, mix: f64) -> f64 {
        ((mix - self.label) / DOUBLING).exp2() / self.life
    }

    /// Share of its nitrogen that is out after so many weeks at a mix temperature in °C, 0 to 1. `None` without a life.
    #[must_use]
    pub fn released(self, weeks: f64, mix: f64) -> Option<f64> {
        if !(self.life > 0.0 && weeks >= 0.0) {
            return None;
        }
        let early = weeks.min(EARLY_WEEKS);
        let out = self.weekly(mix) * (EARLY * early + (weeks - early));
        Some(out.min(1.0))
    }

    /// Weeks until all is out at a mix temperature in °C. `None` without a life.
    #[must_use]
    pub fn weeks_until_empty(self, mix: f64) -> Option<f64> {
        if self.life <= 0.0 {
            return None;
        }
        let weekly = self.weekly(mix);
        let early = EARLY * EARLY_WEEKS * weekly;
        Some(if early >= 1.0 {
            1.0 / (EARLY * weekly)
        } else {
            EARLY_WEEKS + (1.0 - early) / weekly
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Hartz and Johnstone 2006: 47 to 60 % within two weeks, 56 to 66 % after eight; the four materials between.
    #[test]
    fn organics_follow_the_published_band() {
        let (two, eight) = (organic(2.0), organic(8.0));
        assert!((two.low - 0.47).abs() < 1e-9 && (two.high - 0.60).abs() < 1e-9);
        assert!((eight.low - 0.56).abs() < 1e-9 && (eight.high - 0.66).abs() < 1e-9);
        for material in [0.60, 0.61, 0.62, 0.66] {
            assert!(material >= eight.low && material <= eight.high + 1e-9);
        }
        let weeks = |w: i32| organic(f64::from(w));
        for w in 0..30 {
            assert!(weeks(w).low <= weeks(w).high);
            assert!(weeks(w + 1).low >= weeks(w).low && weeks(w + 1).high <= 1.0);
        }
    }

    // By hand: 24 weeks of life at its own temperature, 4 × 1.5/24 = 1/4 in the first month, the rest in 18 more weeks;
    // 10 °C warmer 1/2 in the first month and the rest in 6 weeks.
    #[test]
    fn coated_feeds_empty_sooner_in_the_warm() {
        let feed = Coated {
            life: 24.0,
            label: 21.0,
        };
        let near = |a: Option<f64>, b: f64| assert!((a.unwrap() - b).abs() < 1e-9, "{a:?} {b}");
        near(feed.released(4.0, 21.0), 0.25);
        near(feed.weeks_until_empty(21.0), 22.0);
        near(feed.released(4.0, 31.0), 0.5);
        near(feed.weeks_until_empty(31.0), 10.0);
        near(feed.released(22.0, 21.0), 1.0);
        near(feed.weeks_until_empty(61.0), 1.0);
        assert!(
            Coated {
                life: 0.0,
                label: 21.0
            }
            .released(1.0, 21.0)
            .is_none()
        );
    }

    // The ten-week trial of 0.353 g N a litre (Auburn 2020) gives 35 mg a litre and week on average, the base need.
    #[test]
    fn the_trial_gives_the_base_need() {
        let feed = Coated {
            life: 10.0,
            label: 21.0,
        };
        let empty = feed.weeks_until_empty(21.0).unwrap();
        let weekly = 353.0 / empty;
        assert!(empty < 10.0 && weekly > 35.3 && weekly < 52.0, "{weekly}");
    }
}
