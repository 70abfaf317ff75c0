//! How long the warmth lasts, and how long coated beads would go on feeding: they cannot be taken back.
//!
//! Days to the cold come from the record where it knows the climate of the place. Else the careful reading of the answers: what
//! "later than eight weeks" promises, and winter by the calendar of the half of the earth that the named season belongs to
//! (own choice). Indoors, and where it is warm all year, no cold comes.

use super::feed::Feed;
use super::ids::{Ids, Read};
use super::situation::Situation;
use super::slow::coated_speed;
use crate::facts::Value;
use crate::knowledge::Rates;
use jiff::civil::{Date, date};

/// No cold comes.
const NEVER: f64 = 3650.0;
/// Days of a season, where the calendar does not fit the named one (own choice).
const A_SEASON: f64 = 90.0;

/// Days to the cold that its answer "later" promises at the least: one more than those without slow feed.
#[must_use]
pub(crate) fn later_than_slow(rates: &Rates) -> f64 {
    rates.slow_ends + 1.0
}

/// Days from today until the cold season reaches the tree, at the least.
#[must_use]
pub(super) fn warm_days(rates: &Rates, ids: &Ids, read: Read<'_>, today: Date) -> f64 {
    if read.is(ids.place, "indoors") || read.is(ids.season, "warm_all_year") {
        return NEVER;
    }
    match read.choice(ids.frost_ahead) {
        Some("later") => match read.sheet.value(ids.days_to_cold) {
            Value::Number(days) => days.lo(),
            _ => by_calendar(read.choice(ids.season), today),
        }
        .max(later_than_slow(rates)),
        Some("six_to_eight_weeks") => rates.nitrogen_ends,
        _ => 0.0,
    }
}

/// Days to the first of winter where the named season is that of the calendar on one half of the earth; else what is sure to
/// follow the season before winter.
fn by_calendar(season: Option<&str>, today: Date) -> f64 {
    let Some(season) = season else {
        return 0.0;
    };
    // Winter, spring, summer, autumn in the north; two further on in the south.
    let quarter = today.month().rem_euclid(12).div_euclid(3);
    let named = |ahead: i8| match quarter.saturating_add(ahead).rem_euclid(4) {
        0 => "winter",
        1 => "spring",
        2 => "summer",
        _ => "autumn",
    };
    let winter = [(0, 12), (2, 6)]
        .into_iter()
        .find(|(ahead, _)| named(*ahead) == season)
        .map(|(_, month)| month);
    match (season, winter) {
        ("winter", _) => 0.0,
        (_, Some(month)) => {
            let this = date(today.year(), month, 1);
            let next = date(today.year().saturating_add(1).min(9999), month, 1);
            let first = if this > today { this } else { next };
            today.until(first).map_or(0.0, |s| f64::from(s.get_days()))
        }
        ("spring", None) => 2.0 * A_SEASON,
        ("summer", None) => A_SEASON,
        _ => 0.0,
    }
}

/// The next first day of spring on the half of the earth where the calendar has the named season on that day; `None` where it fits
/// neither.
#[must_use]
pub(crate) fn spring_by_calendar(season: &str, today: Date) -> Option<Date> {
    const SEASONS: [&str; 4] = ["winter", "spring", "summer", "autumn"];
    let named = SEASONS.iter().position(|s| *s == season)?;
    let quarter = usize::from(today.month().rem_euclid(12).div_euclid(3).unsigned_abs());
    // March in the north; September in the south, where the same quarter has the season two further on.
    let month = match named.abs_diff(quarter) {
        0 => 3,
        2 => 9,
        _ => return None,
    };
    let this = date(today.year(), month, 1);
    let next = date(today.year().saturating_add(1).min(9999), month, 1);
    Some(if this > today { this } else { next })
}

/// Days that coated beads go on feeding: their life on the label, longer in a mix cooler than the label's, but for spring, when
/// warmer weeks follow (own choice); where it is not known,
/// the label's interval if that is long enough to be a life, else as long as the rules keep other feed off them.
#[must_use]
pub(super) fn coat_days(rates: &Rates, s: &Situation, feed: &Feed<'_>, spring: bool) -> f64 {
    let life = match (feed.coated_weeks, feed.label_days) {
        (Some(weeks), _) => weeks * 7.0,
        (None, Some(days)) if days >= rates.bead_life_least => days,
        (None, _) => rates.coated_days,
    };
    if spring {
        life
    } else {
        life / coated_speed(rates, s).min(1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::{by_calendar, spring_by_calendar};
    use jiff::civil::date;

    // By hand: 20 January to 1 June 2026 is 11 + 28 + 31 + 30 + 31 + 1 = 132 days; 20 June to 1 December 10 + 31 + 31 + 30 +
    // 31 + 30 + 1 = 164.
    #[test]
    fn winter_by_the_calendar_of_the_named_season() {
        let (january, june) = (date(2026, 1, 20), date(2026, 6, 20));
        for (season, today, days) in [
            ("summer", january, 132.0),
            ("summer", june, 164.0),
            ("spring", date(2026, 11, 30), 183.0),
            ("autumn", date(2026, 4, 1), 61.0),
            ("autumn", date(2026, 5, 31), 1.0),
            ("winter", january, 0.0),
            ("winter", june, 0.0),
            // The weather is ahead of the calendar, or behind it.
            ("spring", january, 180.0),
            ("autumn", january, 0.0),
        ] {
            let found = by_calendar(Some(season), today);
            assert!((found - days).abs() < 1e-9, "{season} {today}: {found}");
        }
        assert!(by_calendar(None, january) < 1e-9);
    }

    /// Read off a calendar: autumn in April is the south's, whose spring begins in September; winter in December the north's.
    #[test]
    fn the_first_of_spring_is_that_of_the_named_season() {
        for (season, today, spring) in [
            ("autumn", date(2026, 4, 5), Some(date(2026, 9, 1))),
            ("winter", date(2026, 7, 19), Some(date(2026, 9, 1))),
            ("winter", date(2026, 12, 20), Some(date(2027, 3, 1))),
            ("autumn", date(2026, 11, 1), Some(date(2027, 3, 1))),
            ("autumn", date(2026, 1, 20), None),
            ("warm_all_year", date(2026, 4, 5), None),
        ] {
            assert_eq!(
                spring_by_calendar(season, today),
                spring,
                "{season} {today}"
            );
        }
    }
}
