//! Days as people type them: `2026-10-26`, `2026/10/26`, `26 Oct 2026`, `yesterday`.
//!
//! `26/10/2026` is refused: in one country `3/10/2026` is a day in March, in another one in October.

use jiff::ToSpan;
use jiff::civil::Date;

/// How a day is written.
const HOW: &str = "write it as YYYY-MM-DD, such as 2026-01-20";

/// Months by the first three letters of their English names.
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Reads a day; `today` is what `today` and `yesterday` count from, where they may be said.
///
/// # Errors
/// Says what is wrong with it and how to write it.
pub fn read_day(typed: &str, today: Option<Date>) -> Result<Date, String> {
    let text = typed.trim().to_lowercase();
    if let Some(today) = today {
        match text.as_str() {
            "today" => return Ok(today),
            "yesterday" => return Ok(today.yesterday().unwrap_or(today)),
            "the day before yesterday" => {
                return Ok(today.checked_sub(2.days()).unwrap_or(today));
            }
            _ => {}
        }
    }
    let parts: Vec<&str> = text
        .split(|c: char| matches!(c, '-' | '/' | '.' | ',') || c.is_whitespace())
        .filter(|p| !p.is_empty())
        .collect();
    let &[a, b, c] = parts.as_slice() else {
        return Err(format!("not a date; {HOW}"));
    };
    let number = |t: &str| {
        t.parse::<i16>()
            .ok()
            .filter(|_| t.chars().all(|c| c.is_ascii_digit()))
    };
    let year = |t: &str| number(t).filter(|_| t.len() == 4);
    let found = match (year(a), number(b), number(c)) {
        (Some(y), Some(m), Some(d)) => Some((y, m, d)),
        _ => named(a, b, c, &number, &year),
    };
    let Some((y, m, d)) = found else {
        if number(a).is_some() && number(b).is_some() && year(c).is_some() {
            return Err(format!("day first or month first? Countries differ; {HOW}"));
        }
        return Err(format!("not a date; {HOW}"));
    };
    valid(y, m, d)
}

/// A day with the month by its name: `26 Oct 2026`, `Oct 26 2026`, `2026 Oct 26`.
fn named(
    a: &str,
    b: &str,
    c: &str,
    number: &dyn Fn(&str) -> Option<i16>,
    year: &dyn Fn(&str) -> Option<i16>,
) -> Option<(i16, i16, i16)> {
    let day = |t: &str| {
        let bare = t.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        let ending = t.get(bare.len()..)?;
        number(bare).filter(|_| matches!(ending, "" | "st" | "nd" | "rd" | "th"))
    };
    if let (Some(d), Some(m), Some(y)) = (day(a), month(b), year(c)) {
        return Some((y, m, d));
    }
    if let (Some(m), Some(d), Some(y)) = (month(a), day(b), year(c)) {
        return Some((y, m, d));
    }
    Some((year(a)?, month(b)?, day(c)?))
}

/// The number of a month of that name, or of its first three letters or more.
fn month(text: &str) -> Option<i16> {
    if text.len() < 3 {
        return None;
    }
    (1_i16..)
        .zip(MONTHS)
        .find(|(_, name)| name.to_lowercase().starts_with(text))
        .map(|(n, _)| n)
}

fn valid(y: i16, m: i16, d: i16) -> Result<Date, String> {
    let (Ok(month), Ok(day)) = (i8::try_from(m), i8::try_from(d)) else {
        return Err(format!("there is no such day; {HOW}"));
    };
    if let Ok(date) = Date::new(y, month, day) {
        return Ok(date);
    }
    let name = usize::try_from(m)
        .ok()
        .and_then(|m| MONTHS.get(m.checked_sub(1)?));
    match (name, Date::new(y, month, 1)) {
        (Some(name), Ok(first)) => Err(format!(
            "{name} {y} has {} days; {HOW}",
            first.days_in_month()
        )),
        _ => Err(format!("a year has 12 months; {HOW}")),
    }
}

#[cfg(test)]
mod tests {
    use super::read_day;
    use jiff::civil::date;

    #[test]
    fn days_are_read_as_people_write_them() {
        let today = date(2026, 3, 1);
        for typed in [
            "2026-10-26",
            "2026/10/26",
            "26 Oct 2026",
            "26 october 2026",
            "Oct 26, 2026",
            "26th Oct 2026",
            " 2026-10-26 ",
        ] {
            assert_eq!(read_day(typed, None), Ok(date(2026, 10, 26)), "{typed}");
        }
        assert_eq!(read_day("2025-9-1", None), Ok(date(2025, 9, 1)));
        assert_eq!(read_day("Yesterday", Some(today)), Ok(date(2026, 2, 28)));
        assert_eq!(read_day("today", Some(today)), Ok(today));
    }

    #[test]
    fn what_may_be_two_days_or_none_is_refused_with_a_reason() {
        for (typed, says) in [
            ("26/10/2026", "day first or month first"),
            ("3.4.2026", "day first or month first"),
            ("2026-02-29", "February 2026 has 28 days"),
            ("31 Apr 2026", "April 2026 has 30 days"),
            ("2026-13-01", "12 months"),
            ("2026-10-00", "October 2026 has 31 days"),
            ("yesterday", "YYYY-MM-DD"),
            ("soon", "YYYY-MM-DD"),
            ("26-10", "YYYY-MM-DD"),
            ("", "YYYY-MM-DD"),
        ] {
            assert!(read_day(typed, None).unwrap_err().contains(says), "{typed}");
        }
    }
}
