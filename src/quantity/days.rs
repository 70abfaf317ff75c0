//! Spans of time between feedings, in days.
//!
//! A month counts 30 days and a year 365. "Every 4 to 6 weeks" stays a range: whoever asks
//! decides which end is the careful one.

use super::entry::tidy;
use super::error::QuantityError;
use super::interval::Interval;
use super::scan::{Sign, take_interval};

/// Days in a week.
pub const WEEK_DAYS: f64 = 7.0;
/// Days that a month counts (own choice).
pub const MONTH_DAYS: f64 = 30.0;
/// Days that a year counts.
pub const YEAR_DAYS: f64 = 365.0;
/// Spans above this many days are taken for a slip (own choice): a hundred years.
const LONGEST_DAYS: f64 = 36_500.0;

/// Words that only say that the span is not to be shortened, or not meant to the day.
pub(super) const LIMITING: [&str; 6] = [
    "up to ",
    "at most ",
    "no more than ",
    "not more than ",
    "no more often than ",
    "about ",
];

/// Days from `14 days`, `2 weeks`, `weekly`, `every 4-6 weeks`, `every other week`,
/// `twice a year` (182) or `once a month`. A bare number counts days.
///
/// # Errors
/// Words that mean no span, words that mean two ("biweekly"), and zero as an interval.
pub fn parse_days(typed: &str) -> Result<Interval, QuantityError> {
    let text = tidy(typed)?;
    let days = span(&text, typed)?;
    let top = if days.hi().is_finite() {
        days.hi()
    } else {
        days.lo()
    };
    if top <= LONGEST_DAYS {
        return Ok(days);
    }
    Err(QuantityError::new(
        typed,
        "this is longer than a tree lives in a pot",
        "Check the number",
    ))
}

fn span(text: &str, typed: &str) -> Result<Interval, QuantityError> {
    let text = LIMITING
        .iter()
        .find_map(|words| text.strip_prefix(words))
        .unwrap_or(text);
    let text = text.strip_suffix(" ago").unwrap_or(text);
    if let Some(days) = single_word(text) {
        return Ok(Interval::point(days));
    }
    if text.starts_with("biweekly") || text.starts_with("bimonthly") || text.starts_with("bi-") {
        return Err(QuantityError::new(
            typed,
            "this could mean twice in the time or every second time",
            "Type the days, such as every 14 days",
        ));
    }
    for start in ["once every ", "every ", "each ", "per "] {
        if let Some(every) = text.strip_prefix(start) {
            return every_span(every, typed);
        }
    }
    for joint in [" a ", " an ", " per ", " each ", " every "] {
        if let Some((count, unit)) = text.split_once(joint) {
            let days = unit_days(unit).ok_or_else(|| unclear(typed))?;
            return times(count, days, typed);
        }
    }
    // "twice weekly"
    if let Some((count, days)) = text
        .rsplit_once(' ')
        .and_then(|(count, word)| Some((count, single_word(word)?)))
    {
        return times(count, days, typed);
    }
    counted(text, typed)
}

fn single_word(word: &str) -> Option<f64> {
    Some(match word {
        "daily" => 1.0,
        "weekly" => WEEK_DAYS,
        "fortnightly" => 2.0 * WEEK_DAYS,
        "monthly" => MONTH_DAYS,
        "quarterly" => (YEAR_DAYS / 4.0).floor(),
        "yearly" | "annually" => YEAR_DAYS,
        _ => return None,
    })
}

pub(super) fn unit_days(word: &str) -> Option<f64> {
    Some(match word.trim_end_matches('.') {
        "d" | "day" | "days" => 1.0,
        "w" | "wk" | "wks" | "week" | "weeks" => WEEK_DAYS,
        "fortnight" | "fortnights" => 2.0 * WEEK_DAYS,
        "month" | "months" => MONTH_DAYS,
        "y" | "yr" | "yrs" | "year" | "years" => YEAR_DAYS,
        _ => return None,
    })
}

/// What follows "every": `week`, `other week`, `second day`, `4-6 weeks`.
fn every_span(text: &str, typed: &str) -> Result<Interval, QuantityError> {
    let nth = [
        ("other ", 2.0),
        ("second ", 2.0),
        ("2nd ", 2.0),
        ("third ", 3.0),
        ("3rd ", 3.0),
        ("", 1.0),
    ];
    for (word, factor) in nth {
        if let Some(days) = text.strip_prefix(word).and_then(unit_days) {
            return Ok(Interval::point(factor * days));
        }
    }
    let days = counted(text, typed)?;
    if days.lo() > 0.0 {
        return Ok(days);
    }
    Err(QuantityError::new(
        typed,
        "there has to be at least some time between two feedings",
        "Type the days, such as every 14 days",
    ))
}

/// `4-6 weeks`, `14 days`, or a bare number of days.
fn counted(text: &str, typed: &str) -> Result<Interval, QuantityError> {
    let (number, word) = if unit_days(text).is_some() {
        (Interval::point(1.0), text)
    } else if let Some(unit) = text.strip_prefix("a ") {
        (Interval::point(1.0), unit)
    } else {
        take_interval(text, typed, Sign::Refused).map_err(|_| unclear(typed))?
    };
    let days = if word.is_empty() {
        Some(1.0)
    } else {
        unit_days(word)
    };
    days.map(|days| number.scale(days))
        .ok_or_else(|| unclear(typed))
}

/// `twice`, `3 times` or `2-3 times` in so many days. Whole days, rounded down.
fn times(count: &str, days: f64, typed: &str) -> Result<Interval, QuantityError> {
    let count = match count {
        "once" => Interval::point(1.0),
        "twice" => Interval::point(2.0),
        other => match take_interval(other, typed, Sign::Refused) {
            Ok((number, "times" | "time" | "x")) => number,
            _ => return Err(unclear(typed)),
        },
    };
    let gap = count.map(|count| (days / count).floor());
    if count.lo() > 0.0 && gap.lo() >= 1.0 {
        return Ok(gap);
    }
    Err(QuantityError::new(
        typed,
        "that is never, or more than once a day",
        "Type the days between two feedings, such as every 14 days",
    ))
}

fn unclear(typed: &str) -> QuantityError {
    QuantityError::new(
        typed,
        "this is not a span of time that can be read",
        "Type it as 14 days, 2 weeks, every 4-6 weeks, monthly or twice a year",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    // The calendar: 7 days a week, 365 a year. 30 days a month is a convention of our own.
    #[test]
    fn spans_are_read() {
        let cases = [
            ("14 days", 14.0, 14.0),
            ("14", 14.0, 14.0),
            ("0", 0.0, 0.0),
            ("2 weeks", 14.0, 14.0),
            ("a week", 7.0, 7.0),
            ("weekly", 7.0, 7.0),
            ("Fortnightly", 14.0, 14.0),
            ("monthly", 30.0, 30.0),
            ("every day", 1.0, 1.0),
            ("every 14 days", 14.0, 14.0),
            ("every other week", 14.0, 14.0),
            ("every 4-6 weeks", 28.0, 42.0),
            ("every 4 to 6 weeks", 28.0, 42.0),
            ("4–6 weeks", 28.0, 42.0),
            ("once every 2 weeks", 14.0, 14.0),
            ("once a month", 30.0, 30.0),
            ("twice a year", 182.0, 182.0),
            ("twice a month", 15.0, 15.0),
            ("3 times per year", 121.0, 121.0),
            ("once every month", 30.0, 30.0),
            ("2 months", 60.0, 60.0),
            ("two months", 60.0, 60.0),
            ("every two weeks", 14.0, 14.0),
            ("each month", 30.0, 30.0),
            ("about 3 weeks ago", 21.0, 21.0),
            ("every 3rd week", 21.0, 21.0),
            ("up to three times a year", 121.0, 121.0),
            ("twice monthly", 15.0, 15.0),
            ("2-3 times a year", 121.0, 182.0),
            ("28..", 28.0, f64::INFINITY),
        ];
        for (typed, lo, hi) in cases {
            assert_eq!(parse_days(typed), Interval::new(lo, hi), "{typed}");
        }
    }

    #[test]
    fn what_is_no_span_is_refused() {
        for bad in [
            "",
            "often",
            "biweekly",
            "bi-weekly",
            "-3 days",
            "every 0 days",
            "14 dogs",
            "0 times a year",
            "9 times a week",
            "every",
            "nan days",
            "500 years",
            "6-4 weeks",
        ] {
            assert!(parse_days(bad).is_err(), "{bad}");
        }
        let error = parse_days("biweekly").unwrap_err().to_string();
        assert!(error.contains("every 14 days"), "{error}");
    }
}
