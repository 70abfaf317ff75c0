//! How far the cold is off on each day of the coming year, worked out once for all trees.

use super::climate::is_cold;
use super::garden::Garden;
use crate::knowledge::Rates;
use jiff::ToSpan;

/// Days looked ahead: a year for the day itself, and as far again for the cold after it.
const DAYS: i64 = 2 * YEAR;
const YEAR: i64 = 365;

/// Days to the cold, by days from today.
#[derive(Debug, Clone)]
pub(super) struct ColdAhead {
    /// `None` where no cold comes, or nothing is known of the temperatures.
    days: Vec<Option<i32>>,
}

impl ColdAhead {
    /// The coming year of a garden.
    pub(super) fn of(rates: &Rates, garden: &Garden) -> Self {
        let Some(months) = &garden.site.temperature else {
            return Self { days: Vec::new() };
        };
        let cold = |n: i64| {
            let day = garden.today.checked_add(n.days());
            day.is_ok_and(|day| is_cold(rates, months, day))
        };
        let mut days: Vec<Option<i32>> = Vec::new();
        // After the last of these days the year goes on as it began: none of them is far from the cold because the list ends.
        let mut next = (0..YEAR)
            .zip(0_i32..)
            .find_map(|(n, days)| cold(n).then_some(days));
        for n in (0..DAYS).rev() {
            let cold = cold(n);
            next = if cold {
                Some(0)
            } else {
                next.map(|d| d.saturating_add(1))
            };
            days.push(next);
        }
        days.reverse();
        Self { days }
    }

    /// Days from that day, counted from today, to the cold; 0 in it.
    pub(super) fn ahead(&self, from_today: i32) -> Option<i32> {
        let at = usize::try_from(from_today).ok()?;
        let year = self.days.len() / 2;
        let again = || self.days.get(at.checked_rem(year)?);
        *self.days.get(at).or_else(again)?
    }
}
