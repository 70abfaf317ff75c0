//! How far the cold is off on each day of the coming year, worked out once for all trees.

use super::climate::is_cold;
use super::garden::Garden;
use crate::knowledge::Rates;
use jiff::ToSpan;

/// Days looked ahead: a year for the day itself, and as far again for the cold after it.
const DAYS: i64 = 2 * 366;

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
        let mut days: Vec<Option<i32>> = Vec::new();
        let mut next: Option<i32> = None;
        for n in (0..DAYS).rev() {
            let cold = garden
                .today
                .checked_add(n.days())
                .is_ok_and(|day| is_cold(rates, months, day));
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
        *self.days.get(usize::try_from(from_today).ok()?)?
    }
}
