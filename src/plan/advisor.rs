//! The advisor: knowledge and formulas put together. Every command goes through it.

use crate::diagnose::{Readers, Shortlist, weigh};
use crate::dose::{self, Dose, Ids, Proposal};
use crate::facts::{OnRecord, Sheet, Standing, Value};
use crate::knowledge::{Feeding, Gate, Knowledge, Level};
use crate::safety::{Reason, Review, Verdict, review};
use crate::walk::Walk;
use jiff::civil::Date;
use std::sync::OnceLock;

/// Knowledge with the facts that formulas read, for one day.
#[derive(Debug, Clone)]
pub struct Advisor<'k> {
    /// The knowledge.
    pub knowledge: &'k Knowledge,
    /// The facts that formulas read.
    pub ids: Ids,
    /// The day.
    pub today: Date,
    /// What the record knows of the tree that no other answer may soften.
    pub on_record: OnRecord,
    /// Rules whose end the record knows, by id, with the first day after them.
    pub ends: Vec<(&'static str, Date)>,
    /// Litres of plain water that the record asks for to wash too much out of this pot.
    pub wash: Option<f64>,
    /// The coming span in which it is too late for a slow feed outdoors, where the record knows the place.
    pub late: Option<(Date, Date)>,
    /// Which findings read which fact, once somebody wants to know.
    readers: OnceLock<Readers>,
}

/// What is decided for one tree: everything a plan says, before it is put into words.
#[derive(Debug, Clone)]
pub struct Decision {
    /// The answers with what was worked out from them.
    pub sheet: Sheet,
    /// The findings.
    pub shortlist: Shortlist,
    /// What fired, and the verdict.
    pub review: Review,
    /// The dose, where safety cleared one.
    pub dose: Option<Dose>,
    /// The workings; nothing of it is shown without a dose but the need.
    pub(crate) proposal: Option<Proposal>,
}

impl<'k> Advisor<'k> {
    /// Puts knowledge and formulas together.
    ///
    /// # Errors
    /// The ids of facts that a formula reads and the vocabulary lacks.
    pub fn new(knowledge: &'k Knowledge, today: Date) -> Result<Self, Vec<&'static str>> {
        Ok(Self {
            knowledge,
            ids: Ids::find(&knowledge.vocabulary)?,
            today,
            on_record: OnRecord::default(),
            ends: Vec::new(),
            wash: None,
            late: None,
            readers: OnceLock::new(),
        })
    }

    /// Which findings read which fact.
    pub(crate) fn readers(&self) -> &Readers {
        self.readers.get_or_init(|| Readers::of(self.knowledge))
    }

    /// Puts in what the record holds to, and what follows from other answers.
    pub fn complete(&self, sheet: &mut Sheet) {
        self.on_record.hold(&self.knowledge.vocabulary, sheet);
        dose::complete(&self.ids, self.knowledge, self.today, sheet);
    }

    /// Whether a gate opens for these answers. The dose gate includes the tree gate.
    #[must_use]
    pub fn opens(&self, sheet: &Sheet, gate: Gate) -> bool {
        let mut sheet = sheet.clone();
        let shortlist = weigh(self.knowledge, &sheet);
        match gate {
            Gate::Tree => {
                crate::safety::tree_opens(self.knowledge, &sheet, &shortlist, &[Gate::Tree])
            }
            Gate::Dose => {
                let less = self.less(&sheet, &shortlist);
                let _ = dose::judge(&self.ids, self.knowledge, &mut sheet, less);
                crate::safety::tree_opens(
                    self.knowledge,
                    &sheet,
                    &shortlist,
                    &[Gate::Tree, Gate::Dose],
                )
            }
        }
    }

    /// Decides: findings, verdict and dose for these answers. The one function behind every walk.
    #[must_use]
    pub fn decide(&self, walk: &Walk, answers: &Sheet) -> Decision {
        let mut sheet = answers.clone();
        self.complete(&mut sheet);
        let shortlist = weigh(self.knowledge, &sheet);
        let doses = walk.feeds();
        let (gates, proposal): (&[Gate], Option<Proposal>) = if !doses {
            (&[Gate::Tree], None)
        } else if crate::safety::tree_opens(self.knowledge, &sheet, &shortlist, &[Gate::Tree]) {
            let less = self.less(&sheet, &shortlist);
            let proposal = dose::judge(&self.ids, self.knowledge, &mut sheet, less);
            (&[Gate::Tree, Gate::Dose], proposal)
        } else {
            // The tree may not be fed: what is known of the feed is judged too, but no product question was asked.
            (&[Gate::Tree], None)
        };
        let mut review = review(
            self.knowledge,
            &sheet,
            &shortlist,
            gates,
            proposal.filter(Proposal::is_something),
        );
        if !doses {
            // First aid never feeds: what was not asked holds nothing up, and the verdict is never better than hold.
            review.fired.retain(|f| {
                matches!(f.level, Level::Stop | Level::Note)
                    && !matches!(f.reason, Reason::Missing(..) | Reason::Open(..))
            });
            review.verdict = review.verdict.max(Verdict::Hold);
        }
        let dose = review.outcome.ok().map(Dose::from);
        Decision {
            sheet,
            shortlist,
            review,
            dose,
            proposal,
        }
    }

    /// Whether a likely finding asks for less feed, or it is the first one after too much.
    fn less(&self, sheet: &Sheet, shortlist: &Shortlist) -> bool {
        let vocabulary = &self.knowledge.vocabulary;
        let first = vocabulary.find("after_too_much").is_some_and(|fact| {
            let yes = vocabulary.get(fact).choice_index("yes").map(Value::Choice);
            yes.is_some_and(|yes| sheet.value(fact) == yes)
        });
        first
            || shortlist.candidates.iter().any(|c| {
                c.standing == Standing::Likely
                    && self
                        .knowledge
                        .findings
                        .get(c.finding)
                        .is_some_and(|f| f.feed == Feeding::Less)
            })
    }
}
