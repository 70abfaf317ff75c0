//! Putting a decision into words.

use super::advisor::{Advisor, Decision};
use super::look_again::days_left;
use super::portion::{Portion, how, small_dose, spoons_for, spoons_of};
use super::text::{Amounts, later, whole_days};
use super::{
    FORMAT, KnowledgeStamp, Next, Plan, PlanAdvice, PlanAnswer, PlanCaution, PlanCheck, PlanDose,
    PlanFinding, PlanLookalike, PlanNote, Unsure,
};
use crate::diagnose::best_checks;
use crate::dose::epsom::{self, DENSITY as EPSOM_DENSITY};
use crate::dose::feed::{self, Feed};
use crate::dose::next::washed_by;
use crate::dose::proposal::Role as FeedRole;
use crate::dose::{Dose, Situation, working};
use crate::facts::{FactId, Findings, Origin, Role, Sheet, Standing, Text, Value, View};
use crate::knowledge::{AdvicePart, Feeding, Gate, Level};
use crate::quantity::{Interval, SpoonSystem, Truth, floor_sig, show_litres};
use crate::safety::{Fired, Reason, Verdict};
use crate::walk::{Ending, StepKind, Walk};

/// Said of the day of the next slow feed, where it would come too late before the cold.
pub(crate) const TOO_LATE: &str = " That day is too late for a slow feed: the cold season is less than six weeks off. Give none again before spring.";

/// From this share washed out between two feeds the plan points to slow feed or shelter (own choice).
const HALF_GONE: f64 = 0.45;

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
        self.words(walk, &decision, false)
    }

    /// The plan for a decision.
    #[must_use]
    pub fn put_into_words(&self, walk: &Walk, d: &Decision) -> Plan {
        self.words(walk, d, true)
    }

    fn words(&self, walk: &Walk, d: &Decision, whole: bool) -> Plan {
        let k = self.knowledge;
        let situations = Situation::all(&self.ids, &k.vocabulary, &k.rates, &d.sheet);
        let amounts = Amounts::new(
            &k.rates,
            d.proposal
                .as_ref()
                .map(|p| &p.situation)
                .or(situations.first()),
            d.sheet.value(self.ids.pot_volume).is_known(),
            later(self.today, whole_days(self.rescue_days(d))),
        );
        let mut cautions = Vec::new();
        let mut notes = Vec::new();
        for fired in &d.review.fired {
            match fired.reason {
                // How to pour is no matter where nothing is poured.
                Reason::Caution(at)
                    if d.review.verdict >= Verdict::Hold
                        && self.is_about_pouring(at, fired.level) => {}
                Reason::Caution(at) if fired.level == Level::Note => {
                    notes.extend(k.cautions.get(at).map(|c| PlanNote {
                        id: c.id.clone(),
                        text: amounts.fill(&c.summary).into(),
                    }));
                }
                _ => cautions.extend(self.caution(d, fired, &amounts)),
            }
        }
        let feeds = walk
            .steps
            .iter()
            .any(|s| s.kind == StepKind::End(Ending::Fed));
        let dose = d.dose.as_ref().map(|dose| self.dose(d, dose));
        Plan {
            format: FORMAT,
            walk: walk.id.clone().into(),
            today: self.today.to_string(),
            knowledge: KnowledgeStamp {
                version: k.version.clone(),
                origin: k.origin.clone(),
            },
            verdict: d.review.verdict,
            headline: if feeds {
                self.headline(walk, d, dose.as_ref())
            } else {
                self.first_aid(walk, d, &amounts)
            },
            echo: if whole {
                self.echoes(&d.sheet)
            } else {
                Vec::new()
            },
            findings: if whole {
                self.findings(d, &amounts)
            } else {
                Vec::new()
            },
            next: self.next(d, feeds, &cautions),
            advice: self.advice(walk, d, &amounts),
            cautions,
            notes,
            checks: if whole { self.checks(d) } else { Vec::new() },
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
                .filter(|_| whole)
                .map(|dose| working::figures(k, dose.proposal()))
                .unwrap_or_default(),
            dose,
        }
    }

    fn is_about_pouring(&self, caution: usize, level: Level) -> bool {
        let gate = self.knowledge.cautions.get(caution).map(|c| c.gate);
        level == Level::Care && gate == Some(Gate::Dose)
    }

    fn caution(&self, d: &Decision, fired: &Fired, amounts: &Amounts) -> Option<PlanCaution> {
        let k = self.knowledge;
        let is_likely = matches!(fired.reason, Reason::Finding(at) if d.shortlist.standing(at) == Some(Standing::Likely));
        match fired.reason {
            Reason::Caution(at) => k.cautions.get(at).map(|c| PlanCaution {
                id: c.id.clone(),
                level: fired.level,
                summary: amounts.fill(&c.summary).into(),
                detail: amounts.fill(&c.detail).into(),
                lifts: c.lifts.clone(),
                source: c.source.clone(),
                mark: c.mark.words(),
            }),
            Reason::Missing(fact, at) => {
                let rule = k.cautions.get(at)?;
                let fact = k.vocabulary.get(fact);
                Some(PlanCaution {
                    id: format!("check_{}", fact.id).into(),
                    level: fired.level,
                    summary: format!("First find out: {}", lower_first(&fact.short)).into(),
                    detail: format!("{} {}", fact.ask, fact.find_out).into(),
                    lifts: format!("The answer is known. It decides this: {}", rule.summary).into(),
                    source: rule.source.clone(),
                    mark: rule.mark.words(),
                })
            }
            Reason::Open(fact, at) => {
                let finding = k.findings.get(at)?;
                let fact = k.vocabulary.get(fact);
                Some(PlanCaution {
                    id: format!("check_{}", fact.id).into(),
                    level: fired.level,
                    summary: format!("First find out: {}", lower_first(&fact.short)).into(),
                    detail: format!("{} {}", fact.ask, fact.find_out).into(),
                    lifts: format!(
                        "The answer is known. It decides whether this can be {}, which no feed may meet.",
                        lower_first(&finding.name)
                    )
                    .into(),
                    source: finding.sources.clone(),
                    mark: "published",
                })
            }
            Reason::Finding(at) => k.findings.get(at).map(|f| PlanCaution {
                id: format!("finding_{}", f.id).into(),
                level: fired.level,
                summary: match f.feed {
                    Feeding::NeverCure => format!("{}: feed is no cure for it.", f.name).into(),
                    Feeding::Less => format!("{}: feed less.", f.name).into(),
                    _ if is_likely => format!("{}: mend this before you feed.", f.name).into(),
                    _ => format!("{} is possible: look into it before you feed.", f.name).into(),
                },
                // What to do stands with the finding itself.
                detail: String::new().into(),
                lifts: format!("This shows: {}", lower_first(&f.words.after.sign)).into(),
                source: f.sources.clone(),
                mark: "published",
            }),
        }
    }

    /// A text with the amount of Epsom salt for this pot in place of `{epsom}`.
    fn with_epsom(&self, text: &str, d: &Decision) -> Text {
        const NAME: &str = "{epsom}";
        if !text.contains(NAME) {
            return text.to_owned().into();
        }
        let k = self.knowledge;
        let known = d.sheet.value(self.ids.pot_volume).is_known();
        let least = Situation::all(&self.ids, &k.vocabulary, &k.rates, &d.sheet)
            .iter()
            .map(|s| epsom::amount(&k.rates, s))
            .filter(|e| known && e.grams > 0.0)
            .min_by(|a, b| a.grams.total_cmp(&b.grams));
        let amount = least.map_or_else(
            || "as much as tubgrove precheck works out for the pot".to_owned(),
            |e| {
                format!(
                    "{} in {} of plain water",
                    crate::quantity::show_grams_down(e.grams),
                    show_litres(e.litres)
                )
            },
        );
        text.replace(NAME, &amount).into()
    }

    fn findings(&self, d: &Decision, amounts: &Amounts) -> Vec<PlanFinding> {
        let k = self.knowledge;
        d.shortlist
            .candidates
            .iter()
            .filter_map(|c| {
                let f = k.findings.get(c.finding)?;
                let says = |list: &[crate::knowledge::Evidence], which: &[usize]| {
                    which
                        .iter()
                        .filter_map(|i| list.get(*i).map(|e| e.says.clone()))
                        .collect()
                };
                Some(PlanFinding {
                    id: f.id.clone(),
                    name: f.name.clone(),
                    likelihood: match c.standing {
                        Standing::Likely => "likely",
                        Standing::Possible => "possible",
                    },
                    r#for: says(&f.evidence.fits, &c.fits),
                    against: says(&f.evidence.against, &c.against),
                    what: f.words.what.clone(),
                    confirm: f.words.confirm.clone(),
                    today: f
                        .words
                        .today
                        .iter()
                        .map(|t| self.with_epsom(&amounts.fill(t), d))
                        .collect(),
                    do_not: f.words.do_not.clone(),
                    lookalikes: f
                        .words
                        .lookalikes
                        .iter()
                        .map(|l| PlanLookalike {
                            id: l.of.clone(),
                            name: k
                                .findings
                                .iter()
                                .find(|f| f.id == l.of)
                                .map_or_else(Text::default, |f| f.name.clone()),
                            sign: l.sign.clone(),
                        })
                        .collect(),
                    feed: f.feed,
                    after: f.words.after.clone(),
                    refer: f.words.refer.clone(),
                    notifiable: f.notifiable,
                    source: f.sources.clone(),
                })
            })
            .collect()
    }

    fn dose(&self, d: &Decision, dose: &Dose) -> PlanDose {
        let k = self.knowledge;
        let main = feed::main(&self.ids, k, &d.sheet);
        let other = feed::other(&self.ids, k, &d.sheet);
        // Where nobody said whose spoons, the largest tablespoon counts: any other holds less, never more.
        let system = feed::spoons(&self.ids, k, &d.sheet).unwrap_or(SpoonSystem::Australian);
        let of = |role: FeedRole| match role {
            FeedRole::Main => (
                main,
                self.feed_name(&d.sheet, self.ids.product_kind, self.ids.product_grade),
            ),
            FeedRole::Other => (
                other,
                self.feed_name(
                    &d.sheet,
                    self.ids.other_product_kind,
                    self.ids.other_product_grade,
                ),
            ),
        };
        let mut portions = Vec::new();
        let water = dose.proposal().situation.water_ec;
        if let (Some(planned), Some(main)) = (dose.as_planned(), main) {
            let slow = main.is_slow();
            portions.push(Portion {
                feed: of(FeedRole::Main).1,
                how: how(main.acts),
                g: floor_sig(planned.grams.hi(), 3),
                ml: None,
                spoons: None,
                can_litres: (!slow).then(|| floor_sig(planned.litres, 2)),
                g_per_litre: None,
                n_mg_per_litre: (!slow).then(|| planned.n_per_litre.round()),
                ec: (!slow).then(|| [round(planned.ec.0), round(planned.ec.1)]),
                small: None,
                as_typed: Some(planned.amount.to_string()),
                limit: "what you planned".into(),
                density: main.density,
            });
        }
        if let Some((role, ready)) = dose.ready().filter(|(_, r)| r.grams > 0.0)
            && let (Some(feed), name) = of(role)
        {
            let n = ready.n_per_litre();
            let (low, high) = feed.ec_added(n);
            portions.push(Portion {
                can_litres: Some(floor_sig(ready.can_litres, 2)),
                g_per_litre: Some(floor_sig(ready.grams / ready.can_litres, 2)),
                n_mg_per_litre: Some(n.round()),
                ec: Some([round(water + low), round(water + high)]),
                limit: working::limit_words(ready.limit).into(),
                ..portion(name, &feed, ready.grams, ready.can_litres, system)
            });
        }
        if let Some((role, slow)) = dose.slow().filter(|(_, s)| s.grams > 0.0)
            && let (Some(feed), name) = of(role)
        {
            portions.push(Portion {
                limit: working::limit_words(slow.limit).into(),
                ..portion(name, &feed, slow.grams, 0.0, system)
            });
        }
        if let Some(epsom) = dose.epsom() {
            let density = Interval::spanning(EPSOM_DENSITY.0, EPSOM_DENSITY.1);
            let spoons = spoons_of(density, epsom.grams, system);
            portions.push(Portion {
                feed: "Epsom salt (crystals)".into(),
                how: "epsom",
                g: epsom.grams,
                ml: None,
                small: (spoons.ml <= 0.0)
                    .then(|| small_dose(density, epsom.grams, epsom.litres, system))
                    .flatten(),
                spoons: Some(spoons),
                can_litres: Some(floor_sig(epsom.litres, 3)),
                g_per_litre: None,
                n_mg_per_litre: None,
                ec: None,
                as_typed: None,
                limit: "twice a year at most".into(),
                density,
            });
        }
        PlanDose {
            as_planned: dose.as_planned().is_some(),
            nitrogen_mg: dose.n_mg().round(),
            litres_counted: floor_sig(dose.proposal().situation.litres, 3),
            band_met: dose.as_planned().is_some()
                || dose.epsom().is_some()
                || dose.proposal().band_met,
            portions,
        }
    }

    /// Such as `soluble 24-8-16`, or the name of a plain material.
    fn feed_name(&self, sheet: &Sheet, kind: FactId, grade: FactId) -> String {
        let vocabulary = &self.knowledge.vocabulary;
        let grade = match sheet.value(grade) {
            Value::Grade(g) => g.to_string(),
            _ => String::new(),
        };
        if kind == self.ids.product_kind
            && let Value::Choice(c) = sheet.value(self.ids.material)
            && let Some(material) = self.knowledge.material(usize::from(c))
        {
            return format!("{} {grade}", material.name);
        }
        let kind = match sheet.value(kind) {
            Value::Choice(c) => vocabulary
                .get(kind)
                .choices()
                .get(usize::from(c))
                .and_then(|c| c.words.first().cloned().or(Some(c.id.clone()))),
            _ => None,
        };
        format!("{} {grade}", kind.unwrap_or_default())
            .trim()
            .to_owned()
    }

    /// Days without feed after too much of it: the wait after a flush, as long as dry feed goes on feeding, or longer where
    /// roots must heal first. Where nobody knows what was given, meal may be in it.
    fn rescue_days(&self, d: &Decision) -> f64 {
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
            .fold(wait, f64::max)
    }

    /// Whether the next slow feed would come too late before the cold, in words.
    fn too_late(&self, sheet: &Sheet, days: f64) -> &'static str {
        let then = later(self.today, whole_days(days));
        let place = self.knowledge.vocabulary.find("place");
        let indoors = place.is_some_and(|place| {
            let fact = self.knowledge.vocabulary.get(place);
            sheet.value(place).write(fact) == "indoors"
        });
        match self.late {
            Some((from, to)) if !indoors && from <= then && then < to => TOO_LATE,
            _ => "",
        }
    }

    /// Days to the end of a rule that the record knows.
    fn days_to_end(&self, rule: &str) -> Option<u16> {
        let (_, end) = self.ends.iter().find(|(id, _)| *id == rule)?;
        u16::try_from(self.today.until(*end).ok()?.get_days()).ok()
    }

    fn next(&self, d: &Decision, feeds: bool, cautions: &[PlanCaution]) -> Next {
        let k = self.knowledge;
        let (days, action, why) = if let (true, Some(dose)) = (feeds, &d.dose) {
            let p = dose.proposal();
            if p.epsom.is_some() {
                (
                    k.rates.epsom_days,
                    "Epsom salt again at the earliest".to_owned(),
                    "At most twice a year, and only while the signs last.".to_owned(),
                )
            } else {
                let s = &p.situation;
                let why = if p.slow.is_some() {
                    format!(
                        "Until then the slow feed still works; never under the label's interval.{}",
                        self.too_late(&d.sheet, p.next_days)
                    )
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
                    p.next_days,
                    "Feed again, if all is well that day".to_owned(),
                    why,
                )
            }
        } else if !feeds {
            (
                self.rescue_days(d),
                "Look again; feed at half at the earliest, if it grows".to_owned(),
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

    fn advice(&self, walk: &Walk, d: &Decision, amounts: &Amounts) -> Vec<PlanAdvice> {
        let view = View {
            sheet: &d.sheet,
            findings: &d.shortlist,
        };
        let mut advice: Vec<PlanAdvice> = self
            .knowledge
            .advice
            .iter()
            .filter(|a| a.walks.is_empty() || a.walks.contains(&walk.id))
            .filter(|a| a.when.test(view) == Truth::Yes)
            .filter(|a| {
                use AdvicePart::{Apply, Lead, Practice, Remark, Rescue, Shop, Watch};
                match a.part {
                    Apply => d.dose.is_some(),
                    // What people do is told where the planned amount is too much, or to a beginner.
                    Practice => {
                        d.review.verdict == Verdict::Reduce
                            || (d.dose.is_some() && walk.id == "first-feed")
                    }
                    Watch => d.dose.is_some() || walk.id == "rescue",
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
                text: amounts.fill(&a.text).into(),
                why: a.why.clone(),
                mark: a.mark.words(),
                source: a.source.clone(),
            })
            .collect();
        advice.sort_by_key(|a| a.part);
        advice
    }

    fn checks(&self, d: &Decision) -> Vec<PlanCheck> {
        let k = self.knowledge;
        if d.shortlist.candidates.is_empty() {
            return Vec::new();
        }
        best_checks(k, self.readers(), &d.sheet, &d.shortlist, 2)
            .into_iter()
            .map(|c| {
                let fact = k.vocabulary.get(c.fact);
                PlanCheck {
                    fact: fact.id.clone(),
                    ask: fact.ask.clone(),
                    how: fact.find_out.clone(),
                }
            })
            .collect()
    }

    fn answers(&self, sheet: &Sheet) -> Vec<PlanAnswer> {
        sheet
            .iter()
            .filter(|(_, e)| e.from != Origin::WorkedOut)
            .map(|(id, entry)| {
                let fact = self.knowledge.vocabulary.get(id);
                PlanAnswer {
                    fact: fact.id.clone(),
                    value: entry.value.write(fact),
                    short: fact.short.clone(),
                    said: entry.value.say(fact),
                    from: entry.from.word(),
                }
            })
            .collect()
    }

    /// What the walk asked for and did not learn.
    fn unsure(&self, walk: &Walk, d: &Decision, feeds: bool) -> Vec<Unsure> {
        let k = self.knowledge;
        let view = View::of(&d.sheet);
        let blocked = d.proposal.is_none() && d.review.verdict >= Verdict::Hold;
        let mut list: Vec<Unsure> = Vec::new();
        for (_, question, step) in walk.questions() {
            let Some(question) = k.questions.get(question) else {
                continue;
            };
            if step
                .when
                .as_ref()
                .is_some_and(|w| w.test(view) == Truth::No)
            {
                continue;
            }
            for fact_id in question.facts() {
                let fact = k.vocabulary.get(fact_id);
                let wanted = question
                    .part_condition(fact_id)
                    .is_none_or(|w| w.test(view) != Truth::No);
                if !wanted || d.sheet.value(fact_id).is_known() {
                    continue;
                }
                // A feed that was named by its three numbers needs no name of a plain material.
                if fact_id == self.ids.material && d.sheet.value(self.ids.product_grade).is_known()
                {
                    continue;
                }
                // Behind a shut gate nobody was asked for the feed.
                if blocked && !d.sheet.answered(fact_id) {
                    continue;
                }
                if fact.optional || (question.is_optional(fact_id) && !d.sheet.answered(fact_id)) {
                    continue;
                }
                let meaning = match fact.role {
                    // First aid feeds nothing, so nothing waits for it.
                    Role::Gate if !feeds => "These were not known; the advice covers both cases:",
                    Role::Gate | Role::Sign if d.review.hangs_on(fact_id) => {
                        "No feed before these are known; it takes minutes to find out:"
                    }
                    Role::Scale => "The smallest amount that the answer allows was taken:",
                    Role::Meter => "A cautious assumption was made for:",
                    // Rules about a gate answer that are settled by the rest do not wait for it.
                    Role::Gate | Role::Sign | Role::Past | Role::Worked => {
                        "These counted neither for nor against anything:"
                    }
                };
                if !list.iter().any(|u| u.fact == fact.id) {
                    list.push(Unsure {
                        fact: fact.id.clone(),
                        short: fact.short.clone(),
                        meaning: meaning.to_owned(),
                    });
                }
            }
        }
        list
    }
}

fn portion(
    name: String,
    feed: &Feed<'_>,
    grams: f64,
    can_litres: f64,
    system: SpoonSystem,
) -> Portion {
    let spoons = spoons_for(feed, grams, system);
    let liquid = feed.density.lo() >= 1.0 && how(feed.acts) == "can";
    Portion {
        feed: name,
        how: how(feed.acts),
        g: grams,
        ml: liquid.then(|| floor_sig(grams / feed.density.hi(), 2)),
        small: (spoons.ml <= 0.0)
            .then(|| small_dose(feed.density, grams, can_litres, system))
            .flatten(),
        spoons: Some(spoons),
        can_litres: None,
        g_per_litre: None,
        n_mg_per_litre: None,
        ec: None,
        as_typed: None,
        limit: String::new(),
        density: feed.density,
    }
}

pub(super) fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| {
        c.to_lowercase().chain(chars).collect::<String>()
    })
}

fn round(x: f64) -> f64 {
    (x * 100.0).round() / 100.0
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
