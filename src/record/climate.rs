//! The months of a site: mean temperature and rain, season, and how far off the cold is.
//!
//! Where a grower has no figures of the place, a broad pattern stands in (`knowledge/climates.yaml`, own choice). Between the
//! middles of two months the mean runs straight; rain falls evenly through its month.

use super::between::whole;
use crate::knowledge::{Months, Rates};
use jiff::ToSpan;
use jiff::civil::Date;

/// Half of the earth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hemisphere {
    /// Summer in July.
    North,
    /// Summer in January.
    South,
}

impl Hemisphere {
    /// Reads `north` or `south`.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        match word {
            "north" => Some(Self::North),
            "south" => Some(Self::South),
            _ => None,
        }
    }
}

/// Months of the northern hemisphere as they fall in this one.
#[must_use]
pub(super) fn placed(mut months: Months, hemisphere: Hemisphere) -> Months {
    if hemisphere == Hemisphere::South {
        months.rotate_left(6);
    }
    months
}

/// The twelve months as text, and back.
///
/// # Errors
/// Not twelve numbers, or numbers out of range.
pub fn read_months(text: &str, least: f64, most: f64) -> Result<Months, String> {
    let numbers: Vec<f64> = text
        .split([' ', ';', '\t'])
        .flat_map(|piece| {
            // "9,5" is a decimal comma where semicolons or spaces part the months; "9,10,13" parts them itself.
            if text.contains([' ', ';', '\t']) {
                vec![piece.trim_end_matches(',').replace(',', ".")]
            } else {
                piece.split(',').map(str::to_owned).collect()
            }
        })
        .filter(|p| !p.is_empty())
        .map(|p| {
            p.parse::<f64>()
                .ok()
                .filter(|x| (least..=most).contains(x))
                .ok_or_else(|| format!("{p}: not a number from {least} to {most}"))
        })
        .collect::<Result<_, _>>()?;
    let found = numbers.len();
    numbers.try_into().map_err(|_| {
        format!("these are {found} numbers; give twelve, January first, such as 23 23 21 18 14 11 10 12 15 18 20 22")
    })
}

/// How the months of a broad climate begin where they are kept: they are those of the north, and fall where the half of the earth
/// that stands that day lets them fall.
const BY: &str = "by ";

/// The months of a broad climate as they are kept.
#[must_use]
pub fn by_climate(id: &str, north: &Months) -> String {
    format!("{BY}{id}: {}", write_months(north))
}

/// Reads months that were kept: a grower's own figures as they stand, those of a broad climate placed in this half.
///
/// # Errors
/// As [`read_months`], and a climate where the half of the earth is not known.
pub fn read_placed(
    text: &str,
    half: Option<Hemisphere>,
    least: f64,
    most: f64,
) -> Result<Months, String> {
    match text.strip_prefix(BY).and_then(|t| t.split_once(": ")) {
        Some((_, north)) => {
            let months = read_months(north, least, most)?;
            half.map(|half| placed(months, half))
                .ok_or_else(|| "the half of the earth is not known".into())
        }
        None => read_months(text, least, most),
    }
}

/// So much warmer in the wrong half of the year, °C, months belong to the other half of the earth (own choice: well above what tells
/// the seasons of the tropics apart).
const WARMER: f64 = 3.0;

/// Whether a grower's own temperatures cannot be those of this half of the earth: clearly warmest in its winter.
#[must_use]
pub fn misplaced(text: &str, half: Hemisphere) -> bool {
    if text.starts_with(BY) {
        return false;
    }
    let Ok([jan, feb, mar, apr, may, jun, jul, aug, sep, oct, nov, dec]) =
        read_months(text, -60.0, 60.0)
    else {
        return false;
    };
    let middle = (apr + may + jun + jul + aug + sep) / 6.0;
    let ends = (oct + nov + dec + jan + feb + mar) / 6.0;
    match half {
        Hemisphere::North => ends - middle > WARMER,
        Hemisphere::South => middle - ends > WARMER,
    }
}

/// Writes twelve months the way [`read_months`] reads them.
#[must_use]
pub fn write_months(months: &Months) -> String {
    months.map(|m| m.to_string()).join(" ")
}

/// The figure of the month of a day.
#[must_use]
pub(super) fn of_month(months: &Months, day: Date) -> f64 {
    usize::try_from(day.month())
        .ok()
        .and_then(|m| months.get(m.checked_sub(1)?))
        .copied()
        .unwrap_or(f64::NAN)
}

/// Typical mean temperature of a day: straight lines between the middles of months.
#[must_use]
pub(super) fn mean_on(months: &Months, day: Date) -> f64 {
    let length = f64::from(day.days_in_month());
    let at = (f64::from(day.day()) - 0.5) / length - 0.5;
    let other = if at < 0.0 {
        day.first_of_month().checked_sub(1.day())
    } else {
        day.last_of_month().checked_add(1.day())
    };
    let here = of_month(months, day);
    let there = other.map_or(here, |d| of_month(months, d));
    here + (there - here) * at.abs()
}

/// Whether a day lies in the cold season: its typical mean is too low for growth.
#[must_use]
pub(super) fn is_cold(rates: &Rates, months: &Months, day: Date) -> bool {
    mean_on(months, day) < rates.rests_below()
}

/// Id of the season: by the calendar of the hemisphere, or warm all year.
#[must_use]
pub fn season(
    rates: &Rates,
    hemisphere: Hemisphere,
    months: Option<&Months>,
    day: Date,
) -> &'static str {
    if months.is_some_and(|m| m.iter().all(|t| *t >= rates.warm_all_year_from)) {
        return "warm_all_year";
    }
    let south = hemisphere == Hemisphere::South;
    match (day.month(), south) {
        (3..=5, false) | (9..=11, true) => "spring",
        (6..=8, false) | (12 | 1 | 2, true) => "summer",
        (9..=11, false) | (3..=5, true) => "autumn",
        _ => "winter",
    }
}

/// Days ahead that are looked at: the rest of this cold season, and the way to the next.
const AHEAD: i32 = 400;

/// Days from this one to the cold season; 0 in it. In spring, the tail of the last one counts no more: the warmth of the day
/// itself decides, and the cold ahead is the next. `None` where none comes.
#[must_use]
pub(super) fn days_to_cold(rates: &Rates, months: &Months, day: Date, spring: bool) -> Option<i32> {
    let is = |cold: bool, n: &i32| {
        day.checked_add(n.days())
            .is_ok_and(|d| is_cold(rates, months, d) == cold)
    };
    let going = (0..=whole(rates.cold_going))
        .find(|n| is(false, n))
        .filter(|_| spring);
    (going.unwrap_or(0)..=AHEAD).find(|n| is(true, n))
}

/// Id of how far the cold season is off, by the days to it.
#[must_use]
pub(super) fn cold_ahead(rates: &Rates, days: Option<i32>) -> &'static str {
    match days.map(f64::from) {
        Some(days) if days <= rates.nitrogen_ends => "within_six_weeks",
        Some(days) if days <= rates.slow_ends => "six_to_eight_weeks",
        _ => "later",
    }
}

#[cfg(test)]
mod tests {
    use super::{
        Hemisphere, cold_ahead, days_to_cold, is_cold, mean_on, placed, read_months, season,
    };
    use crate::knowledge::{Files, load};
    use jiff::civil::date;

    #[test]
    fn the_climates_are_plausible_and_fall_half_a_year_later_in_the_south() {
        for c in load(&Files::shipped(), &[]).unwrap().climates.iter() {
            assert!(c.temperature.iter().all(|t| (-20.0..40.0).contains(t)));
            assert!(c.rain.iter().all(|r| (0.0..500.0).contains(r)));
            let south = placed(c.temperature, Hemisphere::South);
            assert_eq!(south[0].to_bits(), c.temperature[6].to_bits());
        }
    }

    #[test]
    fn the_mean_runs_straight_between_the_middles_of_months() {
        let mut months = [10.0; 12];
        months[1] = 20.0;
        // The middle of February, and the last instant of January: half way.
        assert!((mean_on(&months, date(2026, 2, 14)) - 19.8).abs() < 0.2);
        assert!((mean_on(&months, date(2026, 1, 31)) - 14.84).abs() < 0.01);
        assert!((mean_on(&months, date(2028, 2, 29)) - 15.17).abs() < 0.01);
        assert!((mean_on(&months, date(2026, 12, 31)) - 10.0).abs() < 1e-9);
    }

    #[test]
    fn seasons_turn_with_the_hemisphere() {
        let rates = load(&Files::shipped(), &[]).unwrap().rates;
        assert_eq!(
            season(&rates, Hemisphere::South, None, date(2026, 1, 20)),
            "summer"
        );
        assert_eq!(
            season(&rates, Hemisphere::North, None, date(2026, 1, 20)),
            "winter"
        );
        assert_eq!(
            season(&rates, Hemisphere::South, None, date(2026, 7, 1)),
            "winter"
        );
        assert_eq!(
            season(&rates, Hemisphere::South, None, date(2026, 4, 1)),
            "autumn"
        );
        assert_eq!(
            season(
                &rates,
                Hemisphere::North,
                Some(&[25.0; 12]),
                date(2026, 1, 1)
            ),
            "warm_all_year"
        );
    }

    #[test]
    fn the_cold_is_found_ahead() {
        let rates = load(&Files::shipped(), &[]).unwrap().rates;
        let months = [
            23.0, 23.0, 21.0, 18.0, 14.0, 11.0, 10.0, 12.0, 15.0, 18.0, 20.0, 22.0,
        ];
        let cold = date(2026, 1, 1)
            .series(jiff::Span::new().days(1))
            .find(|d| is_cold(&rates, &months, *d))
            .unwrap();
        // From 14 in the middle of May to 11 in the middle of June: 13 is a third of the way, passed when
        // (day − 0.5) ÷ 31 − 0.5 exceeds 1/3: after the 26th.
        assert_eq!(cold, date(2026, 5, 27));
        let ahead = |day, spring| cold_ahead(&rates, days_to_cold(&rates, &months, day, spring));
        assert_eq!(ahead(date(2026, 4, 15), false), "within_six_weeks");
        assert_eq!(ahead(date(2026, 4, 14), false), "six_to_eight_weeks");
        assert_eq!(ahead(date(2026, 3, 31), false), "later");
        // From 12 in the middle of August to 15 in the middle of September: 13 is a third of the way, on the 27th of August. By
        // the calendar spring begins five days later; had it begun before, the rest of the cold would not count.
        assert_eq!(ahead(date(2026, 8, 20), false), "within_six_weeks");
        assert_eq!(ahead(date(2026, 8, 20), true), "later");
        // Its next cold begins on 27 May: 280 days on.
        assert_eq!(
            days_to_cold(&rates, &months, date(2026, 8, 20), true),
            Some(280)
        );
        // A spring that stays cold for longer than six weeks is no spring yet.
        assert_eq!(ahead(date(2026, 7, 1), true), "within_six_weeks");
        assert_eq!(
            days_to_cold(&rates, &[20.0; 12], date(2026, 7, 1), false),
            None
        );
        assert!(!is_cold(&rates, &[20.0; 12], date(2026, 1, 1)));
    }

    #[test]
    fn months_are_read_as_people_type_them() {
        assert!(read_months("9,10,13,17,20,23,24,24,22,18,14,10", -40.0, 50.0).is_ok());
        assert!(read_months("9,5 10 13 17 20 23 24 24 22 18 14 10", -40.0, 50.0).is_ok());
        assert!(
            read_months("9 10 13", -40.0, 50.0)
                .unwrap_err()
                .contains("3 numbers")
        );
        assert!(read_months("9 10 13 17 20 23 24 nan 22 18 14 10", -40.0, 50.0).is_err());
    }
}
