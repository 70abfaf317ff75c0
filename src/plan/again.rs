//! When again: the next feed, the day to look again, the wait after too much, and what comes too late for a slow feed.

use super::advisor::{Advisor, Decision};
use super::build::lower_first;
use super::look_again::days_left;
use super::text::{later, whole_days};
use super::{Next, PlanCaution};
use crate::dose::next::washed_by;
use crate::dose::warmth::{later_than_slow, spring_by_calendar};
use crate::facts::{Sheet, Value};
use crate::knowledge::{Caution, Level};
use crate::safety::{Fired, Reason};
use jiff::ToSpan;
use jiff::civil::Date;

/// How the reason ends where the next feed is put off until the cold season is over.
pub(crate) const AFTER_THE_COLD: &str = "this is the first day after it.";
/// Said where a slow feed would meet the cold season.
const NO_SLOW: &str = "That is too late for a slow feed, which would meet the cold season";
/// Said where a dissolved feed would fall into the time without nitrogen.
const NO_NITROGEN: &str = "From six weeks before the cold season to its end no nitrogen is given";
/// Days of a winter by the calendar, three months.
const WINTER_DAYS: f64 = 92.0;

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

    /// Why it takes so long: what was harmed, or who decides.
    fn what_heals(&self, d: &Decision) -> &'static str {
        let given = self.knowledge.vocabulary.get(self.ids.overdose_feed);
        let given = given.chosen(d.sheet.value(self.ids.overdose_feed));
        if self.ahead(d).is_some_and(|f| f.notifiable) {
            "The authority decides what is done with the tree."
        } else if given.is_some_and(|choice| choice.id == "sprayed") {
            "Burnt leaves stay as they are; new ones show whether it is over."
        } else {
            "Harmed roots need time."
        }
    }

    /// The days to the first one after the cold season, where a feed given after `days` would meet it: a slow feed of so many days
    /// of work, or a dissolved one in the time without nitrogen.
    fn put_off(&self, sheet: &Sheet, days: f64, works: Option<f64>) -> Option<f64> {
        let place = sheet.value(self.ids.place);
        if place.write(self.knowledge.vocabulary.get(self.ids.place)) == "indoors" {
            return None;
        }
        // Winter by the calendar keeps only slow feed back: where it is mild, a dissolved one may go.
        let by_climate = sheet.value(self.ids.days_to_cold).is_known();
        let Some((from, warm)) = self.late.filter(|_| by_climate || works.is_some()) else {
            return self.put_off_by_calendar(sheet, days, works);
        };
        // The span of the record begins with the days without nitrogen before the cold.
        let without = i64::from(whole_days(self.knowledge.rates.nitrogen_ends));
        let cold = from.checked_add(without.days()).ok()?;
        let then = later(self.today, whole_days(days));
        let meets = match works {
            Some(works) => {
                cold <= later(
                    then,
                    whole_days(works.max(self.knowledge.rates.organic_days)),
                )
            }
            None => from <= then,
        };
        (meets && then < warm).then(|| self.days_to(warm))
    }

    fn days_to(&self, day: Date) -> f64 {
        self.today
            .until(day)
            .map_or(0.0, |span| f64::from(span.get_days()))
    }

    /// The same where no climate is known: from the first day of winter by the calendar to its last. An answer that the cold is six
    /// to eight weeks off leaves no day for another feed before it.
    fn put_off_by_calendar(&self, sheet: &Sheet, days: f64, works: Option<f64>) -> Option<f64> {
        let rates = &self.knowledge.rates;
        let Some(cold) = self.first_of_winter(sheet) else {
            let later = later_than_slow(rates);
            let near = matches!(sheet.value(self.ids.warm_days_left),
                Value::Number(warm) if (1.0..later).contains(&warm.lo()));
            return (near && works.is_none())
                .then(|| self.spring(sheet).unwrap_or(later + WINTER_DAYS));
        };
        let spring = cold + WINTER_DAYS;
        let meets = match works {
            Some(works) => cold <= days + works.max(rates.organic_days),
            None => cold <= days + rates.nitrogen_ends,
        };
        (meets && days < spring).then_some(spring)
    }

    /// Days to the first of winter by the calendar. What an answer only promises at the least names no day.
    fn first_of_winter(&self, sheet: &Sheet) -> Option<f64> {
        match sheet.value(self.ids.warm_days_left) {
            Value::Number(warm) if warm.lo() > later_than_slow(&self.knowledge.rates) => {
                Some(warm.lo())
            }
            _ => None,
        }
    }

    /// Days to the first of spring by the calendar of the half of the earth that the named season belongs to.
    fn spring(&self, sheet: &Sheet) -> Option<f64> {
        let season = sheet.value(self.ids.season);
        let season = self
            .knowledge
            .vocabulary
            .get(self.ids.season)
            .chosen(season)?;
        spring_by_calendar(&season.id, self.today).map(|day| self.days_to(day))
    }

    /// Days to spring by the calendar, for a rule about what would meet the cold.
    fn days_to_spring(&self, rule: &Caution, sheet: &Sheet) -> Option<u16> {
        let about = |fact| rule.when.any_fact(|f| f == fact);
        let days = if about(self.ids.beads_outlast_warmth) {
            self.first_of_winter(sheet)? + WINTER_DAYS
        } else if about(self.ids.frost_ahead) {
            self.spring(sheet)?
        } else {
            return None;
        };
        Some(whole_days(days))
    }

    /// What decides when to look again: of the strictest rules the one that lasts longest, with its days.
    fn lasts_longest(&self, d: &Decision) -> Option<(u16, String)> {
        let k = self.knowledge;
        let holds = || d.review.fired.iter().filter(|f| f.level >= Level::Hold);
        let strictest = holds().map(|f| f.level).max()?;
        let of_rules = holds().any(|f| matches!(f.reason, Reason::Caution(_)));
        let is_look = |f: &&Fired| matches!(f.reason, Reason::Missing(..) | Reason::Open(..));
        let looks = holds().any(|f| is_look(&f));
        let days = |f: &Fired| match f.reason {
            Reason::Caution(at) => k.cautions.get(at).map(|c| {
                let days = self
                    .days_to_end(&c.id)
                    .or_else(|| self.days_to_spring(c, &d.sheet))
                    .or_else(|| days_left(self, c, &d.sheet, &d.shortlist))
                    .or(c.days)
                    .unwrap_or_else(|| whole_days(k.rates.look_again_days));
                (days, c.id.to_string())
            }),
            Reason::Missing(fact, _) | Reason::Open(fact, _) => {
                Some((0, format!("check_{}", k.vocabulary.get(fact).id)))
            }
            // A rule's own days, and a look of minutes, come before the general ones of a finding.
            Reason::Finding(at) => k.findings.get(at).map(|f| {
                (
                    if of_rules || looks {
                        0
                    } else {
                        whole_days(k.rates.finding_again_days)
                    },
                    format!("finding_{}", f.id),
                )
            }),
        };
        let mut longest: Option<(u16, String)> = None;
        let is_finding = |f: &&Fired| matches!(f.reason, Reason::Finding(_));
        let first = holds().filter(|f| !is_finding(f));
        let listed = first.chain(holds().filter(is_finding));
        for (days, id) in listed.filter(|f| f.level == strictest).filter_map(days) {
            if longest.as_ref().is_none_or(|(most, _)| days > *most) {
                longest = Some((days, id));
            }
        }
        longest
    }

    /// Days to the end of a rule that the record knows.
    pub(super) fn days_to_end(&self, rule: &str) -> Option<u16> {
        let ends = self.ends.iter().filter(|(id, _)| *id == rule);
        let end = ends.map(|(_, end)| *end).max()?;
        u16::try_from(self.today.until(end).ok()?.get_days()).ok()
    }

    pub(super) fn next(&self, d: &Decision, feeds: bool, cautions: &[PlanCaution]) -> Next {
        let k = self.knowledge;
        let (days, action, why) = if let (true, Some(dose)) = (feeds, &d.dose) {
            let p = dose.proposal();
            if p.epsom.is_some() {
                let feed = later(self.today, whole_days(k.rates.interval_least));
                (
                    p.next_days,
                    format!("Epsom salt again at the earliest. No feed before {feed}"),
                    "At most twice in twelve months, and only while the signs last; two weeks lie between it and a feed."
                        .to_owned(),
                )
            } else {
                let s = &p.situation;
                let works = p.slow.map_or(0.0, |(_, slow)| match slow.life_weeks {
                    Some(weeks) => weeks * 7.0,
                    None => k.rates.organic_days,
                });
                let slow = p.slow.is_some();
                let put_off = self.put_off(&d.sheet, p.next_days, slow.then_some(works));
                let why = if put_off.is_some() {
                    format!(
                        "It is used up by {}. {}; {AFTER_THE_COLD}",
                        later(self.today, whole_days(p.next_days)),
                        if slow { NO_SLOW } else { NO_NITROGEN }
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
                        if gone >= k.rates.washed_much {
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
                if self.ahead(d).is_some_and(|f| f.notifiable) {
                    "Look again; nothing before the authority has looked".to_owned()
                } else if self.lead(d).is_some_and(|lead| lead.wait.is_some()) {
                    "Look again; no feed before it grows in fresh mix".to_owned()
                } else {
                    "Look again; feed at half at the earliest, if it grows".to_owned()
                },
                self.what_heals(d).to_owned(),
            )
        } else {
            let (days, id) = self
                .lasts_longest(d)
                .unwrap_or_else(|| (whole_days(k.rates.look_again_days), String::new()));
            let told = cautions.iter().find(|c| c.id == id).or(cautions.first());
            let action = match told {
                Some(c) if c.is_look() => {
                    format!("{} Then run this again.", c.detail)
                }
                Some(_) => "Look again and run this check anew".to_owned(),
                None => "Look again".to_owned(),
            };
            (
                f64::from(days),
                action,
                told.map_or_else(String::new, |c| {
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
        s if s >= 0.45 => "about half",
        s if s >= 0.29 => "about a third",
        s if s >= 0.22 => "about a quarter",
        s if s >= 0.17 => "about a fifth",
        _ => "a little",
    }
}
