//! Putting a decision into words.

use super::advisor::{Advisor, Decision};
use super::text::{Amounts, later, whole_days};
use super::{CautionKind, FORMAT, KnowledgeStamp, Plan, PlanAdvice, PlanCaution, PlanNote};
use crate::dose::{Situation, working};
use crate::facts::{Findings, Role, Sheet, Standing, Text, View};
use crate::knowledge::{AdvicePart, Feeding, Gate, Level};
use crate::quantity::Truth;
use crate::safety::{Fired, Reason, Verdict};
use crate::walk::{Purpose, Walk};

/// How much of a plan is put into words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Extent {
    /// What a feeding day reads.
    Brief,
    /// All but the workings, which take as long as the rest together.
    Page,
    /// Everything.
    Whole,
}

impl Advisor<'_> {
    /// The plan for these answers.
    #[must_use]
    pub fn plan(&self, walk: &Walk, answers: &Sheet) -> Plan {
        let decision = self.decide(walk, answers);
        self.put_into_words(walk, &decision)
    }

    /// The plan for these answers as far as a feeding day reads it, for many trees at once: verdict, cautions, dose, advice,
    /// notes and the next day, without findings, checks, echo, workings and answers.
    #[must_use]
    pub fn brief(&self, walk: &Walk, answers: &Sheet) -> Plan {
        let decision = self.decide(walk, answers);
        self.words(walk, &decision, Extent::Brief)
    }

    /// The plan for these answers without its workings, for a page that does not show them.
    #[must_use]
    pub fn page(&self, walk: &Walk, answers: &Sheet) -> Plan {
        let decision = self.decide(walk, answers);
        self.words(walk, &decision, Extent::Page)
    }

    /// The plan for a decision.
    #[must_use]
    pub fn put_into_words(&self, walk: &Walk, d: &Decision) -> Plan {
        self.words(walk, d, Extent::Whole)
    }

    fn words(&self, walk: &Walk, d: &Decision, extent: Extent) -> Plan {
        let k = self.knowledge;
        let whole = extent > Extent::Brief;
        let situations = Situation::all(&self.ids, &k.vocabulary, &k.rates, &d.sheet);
        let amounts = Amounts::new(
            &k.rates,
            d.proposal
                .as_ref()
                .map(|p| &p.situation)
                .or(situations.first()),
            d.sheet.value(self.ids.pot_volume).is_known(),
            self.wash,
            later(self.today, whole_days(self.rescue_days(d))),
        );
        let feeds = walk.feeds();
        let first_aid = walk.purpose == Purpose::FirstAid;
        let reported = self.ahead(d).is_some_and(|f| f.notifiable);
        let mut cautions = Vec::new();
        let mut notes = Vec::new();
        for fired in &d.review.fired {
            match fired.reason {
                // How to pour is no matter where nothing is poured.
                Reason::Caution(at)
                    if d.review.verdict >= Verdict::Hold
                        && self.is_about_pouring(at, fired.level) => {}
                // What was meant to be poured is not what is poured.
                Reason::Caution(at)
                    if d.review.verdict == Verdict::Reduce
                        && fired.level == Level::Care
                        && self.is_about_the_planned(at) => {}
                Reason::Caution(at) if fired.level == Level::Note => {
                    notes.extend(k.cautions.get(at).map(|c| PlanNote {
                        id: c.id.clone(),
                        text: amounts.fill(&c.summary),
                    }));
                }
                // First aid goes by what comes first; a gate keeps nobody from it.
                _ if first_aid && fired.level < Level::Stop => {}
                // A tree that may not be moved is not repotted, flushed or looked into for any other reason.
                Reason::Caution(at)
                    if reported && k.cautions.get(at).is_some_and(|c| c.touches) => {}
                Reason::Missing(..) | Reason::Open(..) if reported => {}
                _ => cautions.extend(self.caution(d, fired, &amounts)),
            }
        }
        let dose = d.dose.as_ref().map(|dose| self.dose(d, dose));
        Plan {
            format: FORMAT,
            walk: walk.id.clone().into(),
            purpose: walk.purpose,
            today: self.today.to_string(),
            knowledge: KnowledgeStamp {
                version: k.version.clone(),
                origin: k.origin.clone(),
            },
            verdict: d.review.verdict,
            headline: if feeds {
                self.headline(walk, d, dose.as_ref())
            } else {
                self.first_aid(d, &amounts)
            },
            echo: if whole {
                self.echoes(&d.sheet)
            } else {
                Vec::new()
            },
            findings: match (whole, self.findings(walk, d, &amounts)) {
                (false, _) => Vec::new(),
                (true, all) if !first_aid => all,
                // First aid has steps of its own; what must be reported is told all the same.
                (true, all) => all.into_iter().filter(|f| f.notifiable).collect(),
            },
            next: self.next(d, feeds, &cautions),
            advice: self.advice(walk, d, &amounts),
            cautions,
            notes,
            checks: if whole && !first_aid {
                self.checks(d)
            } else {
                Vec::new()
            },
            answers: if whole {
                self.answers(&d.sheet)
            } else {
                Vec::new()
            },
            unsure: if whole {
                self.unsure(walk, d, feeds)
            } else {
                Vec::new()
            },
            working: d
                .dose
                .as_ref()
                .filter(|_| extent == Extent::Whole)
                .map(|dose| working::figures(k, &self.ids, &d.sheet, dose))
                .unwrap_or_default(),
            dose,
        }
    }

    /// Whether a rule is about a can that is not poured: it goes by what was worked out for that can. What stands on the shelf,
    /// such as a feed that also kills weeds, is a matter whether anything is poured today or not.
    fn is_about_pouring(&self, caution: usize, level: Level) -> bool {
        let vocabulary = &self.knowledge.vocabulary;
        level == Level::Care
            && self.knowledge.cautions.get(caution).is_some_and(|rule| {
                let worked = |fact| vocabulary.get(fact).role == Role::Worked;
                rule.gate == Gate::Dose && rule.when.any_fact(worked)
            })
    }

    /// Whether a rule judges the can or the amount that the grower had in mind.
    fn is_about_the_planned(&self, caution: usize) -> bool {
        let ids = &self.ids;
        let judged = [
            ids.can_nitrogen,
            ids.can_salt,
            ids.can_chloride,
            ids.planned_over_pot,
            ids.planned_over_label,
        ];
        self.knowledge
            .cautions
            .get(caution)
            .is_some_and(|c| c.when.any_fact(|fact| judged.contains(&fact)))
    }

    pub(super) fn caution(
        &self,
        d: &Decision,
        fired: &Fired,
        amounts: &Amounts,
    ) -> Option<PlanCaution> {
        let k = self.knowledge;
        let is_likely = matches!(fired.reason, Reason::Finding(at) if d.shortlist.standing(at) == Some(Standing::Likely));
        // A look that comes first.
        let check = |fact| {
            let fact = k.vocabulary.get(fact);
            PlanCaution {
                id: format!("check_{}", fact.id).into(),
                kind: CautionKind::Look(fact.id.clone()),
                level: fired.level,
                summary: format!("First find out: {}", lower_first(&fact.short)).into(),
                detail: format!("{} {}", fact.ask, fact.find_out).into(),
                lifts: Text::default(),
                source: Vec::new(),
                mark: "",
            }
        };
        match fired.reason {
            Reason::Caution(at) => k.cautions.get(at).map(|c| PlanCaution {
                id: c.id.clone(),
                kind: CautionKind::Rule,
                level: fired.level,
                summary: amounts.fill(&c.summary),
                detail: amounts.fill(&c.detail),
                lifts: c.lifts.clone(),
                source: c.source.clone(),
                mark: c.mark.words(),
            }),
            Reason::Missing(fact, at) => {
                let rule = k.cautions.get(at)?;
                Some(PlanCaution {
                    lifts: format!(
                        "The answer is known. Not known, it may be this: {}",
                        rule.summary
                    )
                    .into(),
                    source: rule.source.clone(),
                    mark: rule.mark.words(),
                    ..check(fact)
                })
            }
            Reason::Open(fact, at) => {
                let finding = k.findings.get(at)?;
                Some(PlanCaution {
                    lifts: format!(
                        "The answer is known. It decides whether this may be {}; no feed goes on that.",
                        lower_first(&finding.name)
                    )
                    .into(),
                    source: finding.sources.clone(),
                    mark: "published",
                    ..check(fact)
                })
            }
            Reason::Finding(at) => k.findings.get(at).map(|f| PlanCaution {
                id: format!("finding_{}", f.id).into(),
                kind: CautionKind::Finding(f.id.clone()),
                level: fired.level,
                summary: match f.feed {
                    Feeding::NeverCure => format!("{}: feed is no cure for it.", f.name).into(),
                    Feeding::Less => format!("{}: feed less.", f.name).into(),
                    _ if is_likely => format!("{}: mend this before you feed.", f.name).into(),
                    _ => format!("{} is possible: look into it before you feed.", f.name).into(),
                },
                // What to do stands with the finding itself.
                detail: String::new().into(),
                lifts: format!(
                    "This shows: {}",
                    lower_first(first_clause(&f.words.after.sign))
                )
                .into(),
                source: f.sources.clone(),
                mark: "published",
            }),
        }
    }

    fn advice(&self, walk: &Walk, d: &Decision, amounts: &Amounts) -> Vec<PlanAdvice> {
        let view = View {
            sheet: &d.sheet,
            findings: &d.shortlist,
        };
        let lead = self.lead(d);
        let mut advice: Vec<PlanAdvice> = self
            .knowledge
            .advice
            .iter()
            .filter(|a| a.walks.is_empty() || a.walks.contains(&walk.id))
            .filter(|a| a.when.test(view) == Truth::Yes)
            .filter(|a| a.with.is_empty() || lead.is_some_and(|lead| a.with.contains(&lead.id)))
            .filter(|a| {
                use AdvicePart::{Apply, Lead, Practice, Remark, Rescue, Shop, Watch};
                match a.part {
                    Apply => d.dose.is_some(),
                    // What people do is told where the planned amount is too much, or to a beginner.
                    Practice => {
                        d.review.verdict == Verdict::Reduce
                            || (d.dose.is_some() && walk.purpose == Purpose::Lesson)
                    }
                    Watch => d.dose.is_some() || walk.purpose == Purpose::FirstAid,
                    // A shopping list only for somebody who was asked for the feed and had none.
                    Shop => d.sheet.answered(self.ids.product_kind),
                    Remark | Rescue => true,
                    // Its one line is the verdict.
                    Lead => false,
                }
            })
            .map(|a| PlanAdvice {
                id: a.id.clone(),
                part: a.part,
                text: amounts.fill(&a.text),
                why: a.why.clone(),
                mark: a.mark.words(),
                source: a.source.clone(),
            })
            .collect();
        advice.sort_by_key(|a| a.part);
        advice
    }
}

/// A sign without what stands behind its semicolon: what stays as it is lifts nothing.
fn first_clause(sign: &str) -> &str {
    sign.split(';').next().unwrap_or(sign)
}

/// A text with a small letter at its start.
#[must_use]
pub(crate) fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| {
        c.to_lowercase().chain(chars).collect::<String>()
    })
}
