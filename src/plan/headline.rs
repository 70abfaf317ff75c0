//! The verdict in words: what a plan begins and ends with.

use super::PlanDose;
use super::advisor::{Advisor, Decision};
use super::build::lower_first;
use super::epsom_word::wants_epsom;
use super::text::Amounts;
use crate::dose::{Dose, Ids};
use crate::facts::{Standing, Value, View};
use crate::knowledge::{
    Advice, AdvicePart, Feeding, Finding, Gate, Knowledge, Lacks, Level, Shows,
};
use crate::quantity::{Measure, PlannedAmount, Truth, show_litres, show_litres_down, show_number};
use crate::safety::{Reason, Verdict};
use crate::walk::{Purpose, Walk};

impl Advisor<'_> {
    /// What a troubled tree likely has, where it may be fed: the verdict begins with it, the feed comes second. A stop begins
    /// with itself.
    fn likely(&self, walk: &Walk, d: &Decision) -> Option<&Finding> {
        d.shortlist
            .candidates
            .iter()
            .find(|c| c.standing == Standing::Likely)
            .filter(|_| walk.purpose == Purpose::Cause && d.review.verdict < Verdict::Hold)
            .and_then(|c| self.knowledge.findings.get(c.finding))
    }

    pub(super) fn headline(&self, walk: &Walk, d: &Decision, dose: Option<&PlanDose>) -> String {
        let likely = self.likely(walk, d);
        // Epsom salt is given for one trouble alone, and no other feed mends that.
        let epsom = d
            .dose
            .as_ref()
            .is_some_and(|d| d.proposal().epsom.is_some());
        let mends = likely.is_none_or(|f| {
            f.shows == Shows::Normal
                || if epsom {
                    wants_epsom(f)
                } else {
                    f.feed == Feeding::Cure && self.brings(d, f.lacks)
                }
        });
        let rest = headline(
            self.knowledge,
            &self.ids,
            d,
            dose,
            match (mends, epsom) {
                (true, _) => "Go",
                (false, true) => "For the signs of magnesium shortage",
                (false, false) if d.review.verdict == Verdict::Reduce => {
                    "Less than the usual feed may go on"
                }
                (false, false) => "The usual feed may go on",
            },
        );
        match likely {
            None => rest,
            Some(f) if mends => format!("Likely: {}. {rest}", lower_first(&f.name)),
            Some(f) => format!(
                "Likely: {}, which {} does not mend. {rest}",
                lower_first(&f.name),
                match (epsom, wants_epsom(f) || f.feed == Feeding::Cure) {
                    (true, _) => "Epsom salt",
                    (false, true) => "this feed",
                    (false, false) => "feed",
                }
            ),
        }
    }

    /// Whether the feed brings what a tree lacks; a feed whose numbers are not known is not dosed.
    fn brings(&self, d: &Decision, lacks: Option<Lacks>) -> bool {
        let Value::Grade(grade) = d.sheet.value(self.ids.product_grade) else {
            return true;
        };
        let share = match lacks {
            None => return true,
            Some(Lacks::Nitrogen) => grade.n(),
            Some(Lacks::Phosphate) => grade.p2o5(),
            Some(Lacks::Potash) => grade.k2o(),
        };
        share > 0.0
    }

    /// The act that comes first: of those that begin a plan the first that holds.
    pub(super) fn lead(&self, d: &Decision) -> Option<&Advice> {
        let view = View {
            sheet: &d.sheet,
            findings: &d.shortlist,
        };
        self.knowledge
            .advice
            .iter()
            .filter(|a| a.part == AdvicePart::Lead)
            .find(|a| a.when.test(view) == Truth::Yes)
    }

    /// The act that comes first after too much feed.
    pub(super) fn first_aid(&self, d: &Decision, amounts: &Amounts) -> String {
        self.lead(d).map_or_else(
            || "First aid after too much feed".to_owned(),
            |a| amounts.fill(&a.text).to_string(),
        )
    }
}

fn stops_are_about_the_feed(k: &Knowledge, d: &Decision) -> bool {
    d.review
        .fired
        .iter()
        .filter(|f| f.level == Level::Stop)
        .all(|f| match f.reason {
            Reason::Caution(at) => k.cautions.get(at).is_some_and(|c| c.gate == Gate::Dose),
            _ => false,
        })
}

/// The verdict in words; `go` is how a feed that may be given begins.
fn headline(k: &Knowledge, ids: &Ids, d: &Decision, dose: Option<&PlanDose>, go: &str) -> String {
    let first = dose.and_then(|d| d.portions.first());
    match (d.review.verdict, first) {
        // A stop about the feed says nothing against the tree.
        (Verdict::Stop, _) if stops_are_about_the_feed(k, d) => "Do not give this feed".into(),
        (Verdict::Stop, _) => "Do not feed this tree now".into(),
        (Verdict::Hold, _) => "Not yet".into(),
        (_, Some(p)) => {
            let typed_grams = match d.sheet.value(ids.planned_amount) {
                Value::Amount(PlannedAmount {
                    amount: Measure::Grams(grams),
                    ..
                }) => Some(grams),
                _ => None,
            };
            let word = match d.review.verdict {
                // All of it, in more water.
                Verdict::Reduce if typed_grams.is_some_and(|typed| p.g >= typed) => {
                    format!("{go}, but weaker")
                }
                Verdict::Reduce => format!("{go}, with less"),
                _ => go.to_owned(),
            };
            let main = match (&p.as_typed, p.can_litres) {
                (Some(typed), litres) => {
                    let poured = litres.filter(|l| {
                        d.dose
                            .as_ref()
                            .and_then(Dose::as_planned)
                            .and_then(|p| p.amount.water_litres)
                            .is_some_and(|w| w > l * 1.05)
                    });
                    match poured {
                        Some(litres) => format!(
                            "{word}: pour {} of your can ({typed}, {})",
                            show_litres_down(litres),
                            p.feed
                        ),
                        // "3 g": nobody said in how much water.
                        None if !typed.contains(" in ") && litres.is_some() => format!(
                            "{word}: {typed} in {}, {}",
                            show_litres_down(litres.unwrap_or_default()),
                            p.feed
                        ),
                        None => format!("{word}: {typed}, {}", p.feed),
                    }
                }
                // What no scales show is mixed for several trees; the part for this one is what to do.
                (None, Some(_)) if p.small.is_some() => {
                    p.small.as_ref().map_or_else(String::new, |small| {
                        format!(
                            "{word}: {} mL of a can of {} of {} in {}",
                            show_number(small.ml_for_tree),
                            small.spoon,
                            p.feed,
                            show_litres(small.litres)
                        )
                    })
                }
                (None, Some(litres)) => format!(
                    "{word}: {} of {} in {}",
                    crate::quantity::show_grams_down(p.g),
                    p.feed,
                    show_litres_down(litres)
                ),
                (None, None) => format!(
                    "{word}: {} of {}",
                    crate::quantity::show_grams_down(p.g),
                    p.feed
                ),
            };
            // The other feed of the day: who reads one line must not forget it.
            match dose.and_then(|d| d.portions.get(1)) {
                Some(other) => format!(
                    "{main}, and {} of {}",
                    crate::quantity::show_grams_down(other.g),
                    other.feed
                ),
                None => main,
            }
        }
        (_, None) => "Nothing to feed with yet".into(),
    }
}
