//! Texts with `{names}` of amounts that were worked out.

use crate::dose::{Situation, water};
use crate::facts::Text;
use crate::knowledge::Rates;
use crate::quantity::show_litres;
use jiff::civil::Date;
use jiff::{Span, ToSpan};

/// The amounts that texts may name.
pub(super) struct Amounts {
    flush: String,
    flush_weeks: String,
    flush_date: String,
}

impl Amounts {
    pub(super) fn new(
        rates: &Rates,
        situation: Option<&Situation>,
        known: bool,
        wash: Option<f64>,
        resume: Date,
    ) -> Self {
        let flush = match situation {
            _ if wash.is_some() => show_litres(wash.unwrap_or_default()),
            Some(s) if known => show_litres(water::flush_litres(rates, s)),
            _ => "twice the pot's volume".to_owned(),
        };
        Self {
            flush,
            flush_weeks: situation.map_or_else(String::new, |s| {
                format!(
                    "{:.0}",
                    water::reservoir_flush_weeks(rates, s.water_measured.then_some(s.water_ec))
                        .floor()
                )
            }),
            flush_date: resume.to_string(),
        }
    }

    /// Puts the amounts into a text.
    pub(super) fn fill(&self, text: &Text) -> Text {
        // Few texts name an amount; the others are not copied.
        if !text.contains('{') {
            return text.clone();
        }
        text.replace("{flush}", &self.flush)
            .replace("{flush_weeks}", &self.flush_weeks)
            .replace("{flush_date}", &self.flush_date)
            .into()
    }
}

/// A text with its `{names}` in general words, for where no tree is at hand.
#[must_use]
pub fn in_general(text: &str) -> String {
    text.replace("{flush}", "twice the pot's volume")
        .replace("{flush_weeks}", "some")
        .replace("{flush_date}", "the wait is over")
        .replace("{epsom}", "as much as precheck works out for the pot")
}

/// A day later by so many days; the last day of the calendar where it would run out.
pub(super) fn later(today: Date, days: u16) -> Date {
    let span: Span = i64::from(days).days();
    today.checked_add(span).unwrap_or(Date::MAX)
}

/// Days as a whole number, upwards; at most ten years.
pub(super) fn whole_days(days: f64) -> u16 {
    let days = days.ceil().clamp(0.0, 3650.0);
    // The clamp makes the conversion exact.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let whole = days as u16;
    whole
}
