//! When again: the next feed, the day to look again, the wait after too much, and what comes too late for a slow feed.

use super::advisor::{Advisor, Decision};
use super::build::lower_first;
use super::look_again::days_left;
use super::text::{later, whole_days};
use super::{Next, PlanCaution};
use crate::dose::next::washed_by;
use crate::dose::warmth::AFTER_EIGHT_WEEKS;
use crate::facts::{Sheet, Value};
use crate::knowledge::{Caution, Level};
use crate::safety::Reason;
use jiff::ToSpan;

/// Said where the next slow feed would meet the cold season and is put off until that is over.
pub(crate) const TOO_LATE: &str = " That is too late for a slow feed, which would meet the cold season; this is the first day after it.";
/// The span of the record begins so many days before the cold.
const BEFORE_THE_COLD: i64 = 42;

/// Days of a winter by the calendar, three months.
const WINTER_DAYS: f64 = 92.0;
/// From this share washed out between two feeds the plan points to slow feed or shelter (own choice).
const HALF_GONE: f64 = 0.45;

impl Advisor<'_> {
    /// Days without feed after too much of it: the wait after a flush, as long as dry feed goes on feeding, or longer where
    /// roots must heal first. Where nobody knows what was given, meal may be in it.
    pub(super) fn rescue_days(&self, d: &Decision) -> f64 {
        let r = &self.knowledge.rates;
        let given = self.knowledge.vocabulary.get(self.ids.overdose_feed);
        let wait = match d.sheet.value(self.ids.overdose_feed) {
            Value::Choice(c) => match given.choices().get(usize::from(c)).map(|c| c.id.as_str()) {
                Some("coated") => r.rescue_beads_wait,
                Some("dry") => r.rescue_meal_wait,
                _ => r.flush_wait,
            },
            _ if d.sheet.answered(self.ids.overdose_feed) => r.rescue_meal_wait,
            _ => r.flush_wait,
        };
        d.review
            .fired
            .iter()
            .filter(|f| f.level >= Level::Hold)
            .filter_map(|f| match f.reason {
                Reason::Caution(at) => self.knowledge.cautions.get(at)?.days.map(f64::from),
                _ => None,
            })
            .chain(self.lead(d).and_then(|a| a.wait).map(f64::from))
            .fold(wait, f64::max)
    }

    /// The days to the first one after the cold season, where a slow feed of so many days of work, given after `days`, would meet
    /// it.
    fn put_off(&self, sheet: &Sheet, days: f64, works: f64) -> Option<f64> {
        let place = sheet.value(self.ids.place);
        if place.write(self.knowledge.vocabulary.get(self.ids.place)) == "indoors" {
            return None;
        }
        let Some((from, warm)) = self.late else {
            return self.put_off_by_calendar(sheet, days, works);
        };
        let cold = from.checked_add(BEFORE_THE_COLD.days()).ok()?;
        let then = later(self.today, whole_days(days));
        let used_up = later(
            then,
            whole_days(works.max(self.knowledge.rates.organic_days)),
        );
        (cold <= used_up && then < warm).then(|| {
            let days = self.today.until(warm).map_or(0, |span| span.get_days());
            f64::from(days)
        })
    }

    /// The same where no climate is known: from the first day of winter by the calendar to its last.
    fn put_off_by_calendar(&self, sheet: &Sheet, days: f64, works: f64) -> Option<f64> {
        let cold = self.first_of_winter(sheet)?;
        let spring = cold + WINTER_DAYS;
        let used_up = days + works.max(self.knowledge.rates.organic_days);
        (cold <= used_up && days < spring).then_some(spring)
    }

    /// Days to the first of winter by the calendar. What an answer only promises at the least names no day.
    fn first_of_winter(&self, sheet: &Sheet) -> Option<f64> {
        match sheet.value(self.ids.warm_days_left) {
            Value::Number(warm) if warm.lo() > AFTER_EIGHT_WEEKS => Some(warm.lo()),
            _ => None,
        }
    }

    /// Days to spring by the calendar, for a rule about what would outlast the warmth.
    fn days_to_spring(&self, rule: &Caution, sheet: &Sheet) -> Option<u16> {
        let about_it = rule
            .when
            .any_fact(|fact| fact == self.ids.beads_outlast_warmth);
        let cold = self.first_of_winter(sheet).filter(|_| about_it)?;
        Some(whole_days(cold + WINTER_DAYS))
    }

    /// Days to the end of a rule that the record knows.
    pub(super) fn days_to_end(&self, rule: &str) -> Option<u16> {
        let (_, end) = self.ends.iter().find(|(id, _)| *id == rule)?;
        u16::try_from(self.today.until(*end).ok()?.get_days()).ok()
    }

    pub(super) fn next(&self, d: &Decision, feeds: bool, cautions: &[PlanCaution]) -> Next {
        let k = self.knowledge;
        let (days, action, why) = if let (true, Some(dose)) = (feeds, &d.dose) {
            let p = dose.proposal();
            if p.epsom.is_some() {
                let label = match d.sheet.value(self.ids.label_interval_days) {
                    Value::Number(days) => days.hi(),
                    _ => 0.0,
                };
                (
                    k.rates.epsom_days.max(label),
                    "Epsom salt again at the earliest".to_owned(),
                    "At most twice a year, and only while the signs last.".to_owned(),
                )
            } else {
                let s = &p.situation;
                let works = p.slow.map_or(0.0, |(_, slow)| match slow.life_weeks {
                    Some(weeks) => weeks * 7.0,
                    None => k.rates.organic_days,
                });
                let put_off = p
                    .slow
                    .and_then(|_| self.put_off(&d.sheet, p.next_days, works));
                let why = if put_off.is_some() {
                    format!(
                        "It is used up by {}.{TOO_LATE}",
                        later(self.today, whole_days(p.next_days))
                    )
                } else if p.slow.is_some() {
                    "Until then the slow feed still works; never under the label's interval."
                        .to_owned()
                } else if s.reservoir {
                    "By then the feed is used up; never under the label's interval.".to_owned()
                } else if s.rain_mm > 0.0 {
                    let gone = washed_by(&k.rates, s, p.next_days);
                    format!(
                        "By then {} of it may be washed out at {} mm of rain a month, and the tree uses the rest; never under the label's interval.{}",
                        share_words(gone),
                        s.rain_mm,
                        if gone >= HALF_GONE {
                            " A slow feed or a roof keeps more of it in the pot; a stronger can does not."
                        } else {
                            ""
                        }
                    )
                } else {
                    "By then the feed is used up or partly drained away; never under the label's interval."
                        .to_owned()
                };
                (
                    put_off.unwrap_or(p.next_days),
                    "Feed again, if all is well that day".to_owned(),
                    why,
                )
            }
        } else if !feeds {
            (
                self.rescue_days(d),
                // An act that brings a wait of its own gives fresh mix, and no flush decides.
                if self.lead(d).is_some_and(|lead| lead.wait.is_some()) {
                    "Look again; no feed before it grows in fresh mix".to_owned()
                } else {
                    "Look again; feed at half at the earliest, if it grows".to_owned()
                },
                "Harmed roots need time.".to_owned(),
            )
        } else {
            let by_rule = d
                .review
                .fired
                .iter()
                .any(|f| f.level >= Level::Hold && matches!(f.reason, Reason::Caution(_)));
            let days = d
                .review
                .fired
                .iter()
                .filter(|f| f.level >= Level::Hold)
                .map(|f| match f.reason {
                    Reason::Caution(at) => k.cautions.get(at).map_or(7, |c| {
                        self.days_to_end(&c.id)
                            .or_else(|| self.days_to_spring(c, &d.sheet))
                            .or_else(|| days_left(self, c, &d.sheet, &d.shortlist))
                            .or(c.days)
                            .unwrap_or(7)
                    }),
                    Reason::Missing(..) | Reason::Open(..) => 0,
                    // A rule's own days come before the general ones of a finding.
                    Reason::Finding(_) if by_rule => 0,
                    Reason::Finding(_) => 14,
                })
                .max()
                .unwrap_or(7);
            let first = cautions.first();
            let action = match first {
                Some(c) if c.id.starts_with("check_") => {
                    format!("{} Then run this again.", c.detail)
                }
                Some(_) => "Look again and run this check anew".to_owned(),
                None => "Look again".to_owned(),
            };
            (
                f64::from(days),
                action,
                first.map_or_else(String::new, |c| {
                    format!("What lifts it: {}", lower_first(&c.lifts))
                }),
            )
        };
        let days = whole_days(days);
        Next {
            date: later(self.today, days).to_string(),
            days,
            action,
            why,
        }
    }
}

/// A share as a grower would say it.
fn share_words(share: f64) -> &'static str {
    match share {
        s if s >= 0.85 => "nearly all",
        s if s >= 0.6 => "about two thirds",
        s if s >= HALF_GONE => "about half",
        s if s >= 0.29 => "about a third",
        s if s >= 0.22 => "about a quarter",
        s if s >= 0.17 => "about a fifth",
        _ => "a little",
    }
}
