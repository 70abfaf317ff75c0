//! Conditions: a rule's test over facts and findings, with three outcomes.
//!
//! An answer that is missing or "not sure" leaves a test undecided unless the rest of the condition settles it (Kleene's
//! three-valued logic). Only `known`/`unknown` tests are always decided.

use super::{FactId, Sheet, Value};
use crate::packed::packed_enum;
use crate::quantity::Truth;

/// How a finding stands on the shortlist.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// All its needs hold and its score is at least the lower limit.
    Possible,
    /// Score at least the upper limit and at least half the leader's.
    Likely,
}

/// Where conditions learn how findings stand.
pub trait Findings {
    /// The standing of the finding at this place of the knowledge, `None` if it is not on the shortlist.
    fn standing(&self, finding: usize) -> Option<Standing>;
    /// The best standing of any finding, `None` if the shortlist is empty.
    fn best(&self) -> Option<Standing>;
}

/// No finding at all: for conditions that are tested before the findings are weighed.
pub struct NoFindings;

impl Findings for NoFindings {
    fn standing(&self, _: usize) -> Option<Standing> {
        None
    }

    fn best(&self) -> Option<Standing> {
        None
    }
}

/// What a condition looks at: the answers, and how the findings stand.
#[derive(Clone, Copy)]
pub struct View<'a> {
    /// The answers.
    pub sheet: &'a Sheet,
    /// The shortlist.
    pub findings: &'a dyn Findings,
}

impl<'a> View<'a> {
    /// A view of answers alone.
    #[must_use]
    pub fn of(sheet: &'a Sheet) -> Self {
        Self {
            sheet,
            findings: &NoFindings,
        }
    }
}

/// How a number is compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Compare {
    /// `<`
    Below,
    /// `<=`
    AtMost,
    /// `>`
    Above,
    /// `>=`
    AtLeast,
}

/// A test over facts and findings.
#[derive(Debug, Clone, PartialEq)]
pub enum Condition {
    /// Always holds: a rule without a condition.
    Always,
    /// The choice is one of those in the mask.
    Is(FactId, u64),
    /// At least one of the rows in the mask was ticked.
    Has(FactId, u64),
    /// The number compares so.
    Number(FactId, Compare, f64),
    /// There is a definite answer (`true`) or there is none (`false`).
    Known(FactId, bool),
    /// The finding stands at least so.
    Finding(usize, Standing),
    /// Some finding stands at least so.
    AnyFinding(Standing),
    /// The contrary.
    Not(Box<Condition>),
    /// It cannot be ruled out: holds wherever the inner one does or may.
    Perhaps(Box<Condition>),
    /// All of them.
    All(Vec<Condition>),
    /// One of them.
    Any(Vec<Condition>),
}

impl Condition {
    /// Tests the condition.
    #[must_use]
    pub fn test(&self, view: View<'_>) -> Truth {
        match self {
            Self::Always => Truth::Yes,
            Self::Is(fact, mask) => match view.sheet.value(*fact) {
                Value::Choice(c) => Truth::from(mask >> c & 1 == 1),
                _ => Truth::Unknown,
            },
            Self::Has(fact, mask) => match view.sheet.value(*fact) {
                Value::Several { yes, .. } if yes & mask != 0 => Truth::Yes,
                Value::Several { unknown, .. } if unknown & mask == 0 => Truth::No,
                _ => Truth::Unknown,
            },
            Self::Number(fact, compare, at) => match view.sheet.value(*fact) {
                Value::Number(n) => match compare {
                    Compare::Below => n.below(*at),
                    Compare::AtMost => n.at_most(*at),
                    Compare::Above => n.above(*at),
                    Compare::AtLeast => n.at_least(*at),
                },
                _ => Truth::Unknown,
            },
            Self::Known(fact, wanted) => Truth::from(view.sheet.value(*fact).is_known() == *wanted),
            Self::Finding(finding, at_least) => Truth::from(
                view.findings
                    .standing(*finding)
                    .is_some_and(|s| s >= *at_least),
            ),
            Self::AnyFinding(at_least) => {
                Truth::from(view.findings.best().is_some_and(|s| s >= *at_least))
            }
            Self::Not(inner) => inner.test(view).not(),
            Self::Perhaps(inner) => Truth::from(inner.test(view) != Truth::No),
            Self::All(parts) => {
                let mut all = Truth::Yes;
                for part in parts {
                    all = all.and(part.test(view));
                    if all == Truth::No {
                        break;
                    }
                }
                all
            }
            Self::Any(parts) => {
                let mut any = Truth::No;
                for part in parts {
                    any = any.or(part.test(view));
                    if any == Truth::Yes {
                        break;
                    }
                }
                any
            }
        }
    }

    /// Calls `visit` with every fact the condition names, repeats included.
    pub fn each_fact(&self, visit: &mut dyn FnMut(FactId)) {
        match self {
            Self::Always | Self::Finding(..) | Self::AnyFinding(_) => {}
            Self::Is(f, _) | Self::Has(f, _) | Self::Number(f, ..) | Self::Known(f, _) => visit(*f),
            Self::Not(inner) | Self::Perhaps(inner) => inner.each_fact(visit),
            Self::All(parts) | Self::Any(parts) => {
                for part in parts {
                    part.each_fact(visit);
                }
            }
        }
    }

    /// The rows of a tick list that it names, as a mask.
    #[must_use]
    pub fn rows_of(&self, list: FactId) -> u64 {
        match self {
            Self::Has(fact, mask) if *fact == list => *mask,
            Self::Not(inner) | Self::Perhaps(inner) => inner.rows_of(list),
            Self::All(parts) | Self::Any(parts) => {
                parts.iter().fold(0, |rows, part| rows | part.rows_of(list))
            }
            _ => 0,
        }
    }

    /// Whether it names a fact for which this holds.
    pub fn any_fact(&self, holds: impl Fn(FactId) -> bool) -> bool {
        let mut any = false;
        self.each_fact(&mut |fact| any |= holds(fact));
        any
    }

    /// Whether it asks if any finding at all is listed.
    #[must_use]
    pub fn asks_for_any_finding(&self) -> bool {
        match self {
            Self::AnyFinding(_) => true,
            Self::Not(inner) | Self::Perhaps(inner) => inner.asks_for_any_finding(),
            Self::All(parts) | Self::Any(parts) => parts.iter().any(Self::asks_for_any_finding),
            _ => false,
        }
    }

    /// The facts it names, each once.
    #[must_use]
    pub fn facts(&self) -> Vec<FactId> {
        let mut list = Vec::new();
        self.each_fact(&mut |f| {
            if !list.contains(&f) {
                list.push(f);
            }
        });
        list
    }

    /// Tests the condition the way a safety rule does: an unanswered fact for which `soft` holds (a reading nobody took, a
    /// sign nobody looked for) fires nothing, whichever side of a "not" it stands on; any other leaves it undecided.
    #[must_use]
    pub fn test_rule(&self, view: View<'_>, soft: &dyn Fn(FactId) -> bool) -> Truth {
        self.settle(view, soft, true)
    }

    fn settle(&self, view: View<'_>, soft: &dyn Fn(FactId) -> bool, positive: bool) -> Truth {
        match self {
            Self::Is(f, _) | Self::Has(f, _) | Self::Number(f, ..) => match self.test(view) {
                Truth::Unknown if soft(*f) => Truth::from(!positive),
                truth => truth,
            },
            Self::Not(inner) => inner.settle(view, soft, !positive).not(),
            Self::Perhaps(inner) => Truth::from(inner.settle(view, soft, positive) != Truth::No),
            Self::All(parts) => parts.iter().fold(Truth::Yes, |all, part| {
                all.and(part.settle(view, soft, positive))
            }),
            Self::Any(parts) => parts.iter().fold(Truth::No, |any, part| {
                any.or(part.settle(view, soft, positive))
            }),
            other => other.test(view),
        }
    }

    /// Calls `visit` with every fact that keeps [`Condition::test_rule`] undecided.
    pub fn each_undecided(
        &self,
        view: View<'_>,
        soft: &dyn Fn(FactId) -> bool,
        visit: &mut dyn FnMut(FactId),
    ) {
        self.open(view, soft, true, visit);
    }

    fn open(
        &self,
        view: View<'_>,
        soft: &dyn Fn(FactId) -> bool,
        positive: bool,
        visit: &mut dyn FnMut(FactId),
    ) {
        if self.settle(view, soft, positive) != Truth::Unknown {
            return;
        }
        match self {
            Self::Is(f, _) | Self::Has(f, _) | Self::Number(f, ..) => visit(*f),
            Self::Not(inner) => inner.open(view, soft, !positive, visit),
            Self::All(parts) | Self::Any(parts) => {
                for part in parts {
                    part.open(view, soft, positive, visit);
                }
            }
            Self::Always
            | Self::Known(..)
            | Self::Finding(..)
            | Self::AnyFinding(_)
            | Self::Perhaps(_) => {}
        }
    }
}

packed_enum! { Standing { 0 => Possible, 1 => Likely } }
packed_enum! { Compare { 0 => Below, 1 => AtMost, 2 => Above, 3 => AtLeast } }
packed_enum! { Condition {
    0 => Always, 1 => Is(fact, mask), 2 => Has(fact, mask), 3 => Number(fact, compare, at), 4 => Known(fact, known),
    5 => Finding(at, standing), 6 => Not(inner), 7 => All(parts), 8 => Any(parts),
    9 => AnyFinding(standing), 10 => Perhaps(inner),
} }
