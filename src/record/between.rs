//! Days between two days.

use jiff::ToSpan;
use jiff::civil::Date;

/// Days from one day to another; negative where the other lies before it.
#[must_use]
pub fn days_between(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}

/// So many days later; the last day there is where the calendar ends.
pub(super) fn later(day: Date, days: impl Into<i64>) -> Date {
    day.checked_add(days.into().days()).unwrap_or(Date::MAX)
}

/// Whole days of a figure that is one; at most ten years.
#[allow(clippy::cast_possible_truncation)]
pub(super) fn whole(days: f64) -> i32 {
    days.clamp(0.0, 3650.0) as i32
}

#[cfg(test)]
mod tests {
    use super::days_between;
    use jiff::civil::date;

    #[test]
    fn leap_day_and_years_end_are_counted() {
        assert_eq!(days_between(date(2028, 2, 28), date(2028, 3, 1)), 2);
        assert_eq!(days_between(date(2027, 12, 31), date(2028, 1, 1)), 1);
        assert_eq!(days_between(date(2026, 5, 2), date(2026, 5, 1)), -1);
    }
}
