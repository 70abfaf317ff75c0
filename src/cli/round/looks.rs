//! What was seen along the pots: by flags, or asked once for all trees.

use crate::cli::ask::{Asker, LOOKED_NONE, Prompt, Reply, Ticked, said};
use crate::cli::garden::day_args::RoundArgs;
use crate::cli::here::fail::Failure;
use crate::facts::{Form, Origin, Question, Sheet};
use crate::knowledge::{Knowledge, Look};
use crate::record::folded;
use crate::round::Seen;
use std::collections::HashMap;

/// The looks as the flags give them.
///
/// # Errors
/// A name that is no tree of the round, or a pot that is both dry and wet.
pub(in crate::cli) fn by_flags(
    knowledge: &Knowledge,
    args: &RoundArgs,
    names: &[String],
) -> Result<Seen, Failure> {
    let flags: [(&str, &Vec<String>); 5] = [
        ("dry", &args.dry),
        ("wet", &args.wet),
        ("signs", &args.signs),
        ("lately", &args.lately),
        ("unseen", &args.unseen),
    ];
    let mut seen = Seen::default();
    for look in &knowledge.round.looks {
        let named = flags.iter().find(|(id, _)| *id == look.id);
        let mut ticked = Vec::new();
        for name in named.into_iter().flat_map(|(_, list)| list.iter()) {
            ticked.push(position(names, name, &look.id)?);
        }
        seen.ticked.push(ticked);
        // A look that no flag can speak of is not sure for anybody.
        if named.is_none() {
            seen.unsure.push(seen.ticked.len().saturating_sub(1));
        }
    }
    both(knowledge, &seen, names).map_or(Ok(seen), |what| Err(Failure::Usage(what)))
}

fn position(names: &[String], name: &str, flag: &str) -> Result<usize, Failure> {
    let wanted = folded(name);
    names
        .iter()
        .position(|n| folded(n) == wanted)
        .ok_or_else(|| {
            Failure::Usage(format!(
                "--{flag} {name}: there is no tree of this name in the round; there are {}",
                names.join(", ")
            ))
        })
}

/// A pot cannot be dry and wet.
fn both(knowledge: &Knowledge, seen: &Seen, names: &[String]) -> Option<String> {
    let of = |id: &str| {
        let at = knowledge.round.looks.iter().position(|l| l.id == id)?;
        seen.ticked.get(at)
    };
    let (dry, wet) = (of("dry")?, of("wet")?);
    let tree = dry.iter().find(|t| wet.contains(t))?;
    Some(format!(
        "{}: a pot cannot be both dry and wet; put a finger in again",
        names.get(*tree)?
    ))
}

/// What a person who looked at every tree says below the list of those not looked at.
const LOOKED_AT_ALL: &str = "I looked at all of them";
/// The look that asks which trees were not looked at.
const UNSEEN: &str = "unseen";

/// What was ticked along the pots: kept for going back and for the review.
#[derive(Default)]
pub(in crate::cli) struct Walked {
    /// What was ticked for each look, as far as they were asked.
    got: Vec<Ticked>,
    /// What was ticked for a look that was gone back to: it opens with that.
    before: HashMap<usize, Ticked>,
}

impl Walked {
    /// Goes on from what was ticked before.
    pub(in crate::cli) fn resumed(got: Vec<Ticked>) -> Self {
        Self {
            before: got.iter().cloned().enumerate().collect(),
            got,
        }
    }

    /// What was ticked so far.
    pub(in crate::cli) fn so_far(&self) -> &[Ticked] {
        &self.got
    }

    /// Asks one look after the other, from the first that is open; `keep` is given all of them after each.
    ///
    /// # Errors
    /// Somebody left, or nobody answers any more.
    pub(in crate::cli) fn ask(
        &mut self,
        knowledge: &Knowledge,
        names: &[String],
        asker: &mut dyn Asker,
        keep: &dyn Fn(&[Ticked]),
    ) -> Result<Seen, Failure> {
        while self.got.len() < knowledge.round.looks.len() {
            match self.look(self.got.len(), knowledge, names, asker) {
                Ok(ticks) => {
                    self.got.push(ticks);
                    if let Some(what) = both(knowledge, &seen(&self.got), names) {
                        asker.tell(&what);
                        self.got.pop();
                    }
                    keep(&self.got);
                }
                Err(Reply::Back) => {
                    if !self.back()
                        && asker.yes_no("This is the first question. Leave?") != Some(false)
                    {
                        return Err(Failure::Interrupted("Left.".into()));
                    }
                }
                Err(reply) => return Err(gone(&reply)),
            }
        }
        Ok(seen(&self.got))
    }

    /// One look back; `false` at the first.
    pub(in crate::cli) fn back(&mut self) -> bool {
        self.got.pop().is_some()
    }

    /// Puts one look again, to be changed; what was ticked stays where somebody goes back.
    ///
    /// # Errors
    /// Somebody left, or nobody answers any more.
    pub(in crate::cli) fn change(
        &mut self,
        at: usize,
        knowledge: &Knowledge,
        names: &[String],
        asker: &mut dyn Asker,
    ) -> Result<(), Failure> {
        loop {
            let new = match self.look(at, knowledge, names, asker) {
                Ok(ticks) => ticks,
                Err(Reply::Back) => return Ok(()),
                Err(reply) => return Err(gone(&reply)),
            };
            let mut trial = self.got.clone();
            if let Some(slot) = trial.get_mut(at) {
                *slot = new;
            }
            match both(knowledge, &seen(&trial), names) {
                Some(what) => asker.tell(&what),
                None => {
                    self.got = trial;
                    return Ok(());
                }
            }
        }
    }

    fn look(
        &mut self,
        at: usize,
        knowledge: &Knowledge,
        names: &[String],
        asker: &mut dyn Asker,
    ) -> Result<Ticked, Reply> {
        let looks = &knowledge.round.looks;
        let Some(look) = looks.get(at) else {
            return Err(Reply::Back);
        };
        let nothing = Sheet::new(knowledge.vocabulary.len());
        let question = question(look);
        let rows = look.rows.join("\n");
        let prompt = Prompt {
            knowledge,
            question: &question,
            heading: format!("Look {} of {}", at.saturating_add(1), looks.len()),
            lesson: (!rows.is_empty()).then_some(rows.as_str()),
            known: &nothing,
            old: &nothing,
        };
        let none = if look.id == UNSEEN {
            LOOKED_AT_ALL
        } else {
            LOOKED_NONE
        };
        let ticks = asker.tick(&prompt, names, none, self.before.get(&at))?;
        self.before.insert(at, ticks.clone());
        Ok(ticks)
    }

    /// What was ticked for whom, a line for each look.
    pub(in crate::cli) fn says(&self, knowledge: &Knowledge, names: &[String]) -> Vec<String> {
        let looks = knowledge.round.looks.iter();
        looks
            .zip(&self.got)
            .map(|(look, (ticks, unsure))| {
                let mut said: Vec<&str> = ticks
                    .iter()
                    .filter_map(|t| names.get(*t).map(String::as_str))
                    .collect();
                if *unsure {
                    said.push("the rest cannot be told");
                } else if said.is_empty() {
                    said.push("none");
                }
                format!("{}: {}", look.short, said.join(", "))
            })
            .collect()
    }
}

/// What is said where somebody left, or nobody answers any more.
fn gone(reply: &Reply) -> Failure {
    match reply {
        Reply::End => Failure::Missing(vec![
            "what you saw along the pots  (--looked, with --dry, --wet, --signs, --lately, --unseen TREE)"
                .into(),
        ]),
        _ => Failure::Interrupted("Left.".into()),
    }
}

fn seen(got: &[Ticked]) -> Seen {
    Seen {
        ticked: got.iter().map(|(ticks, _)| ticks.clone()).collect(),
        unsure: got
            .iter()
            .enumerate()
            .filter(|(_, (_, unsure))| *unsure)
            .map(|(at, _)| at)
            .collect(),
    }
}

fn question(look: &Look) -> Question {
    Question {
        id: look.id.clone(),
        short: look.short.clone(),
        ask: look.ask.clone(),
        why: look.why.clone(),
        find_out: look.find_out.clone(),
        form: Form::Ticks {
            rows: Vec::new(),
            none: Vec::new(),
        },
    }
}

/// What holds for the whole place, as far as some tree lacks it.
pub(in crate::cli) struct WholePlace<'k> {
    knowledge: &'k Knowledge,
    /// The questions, with only the rows that speak of what is lacking.
    questions: Vec<Question>,
}

impl<'k> WholePlace<'k> {
    /// Looks what these trees lack.
    pub(in crate::cli) fn of(knowledge: &'k Knowledge, sheets: &[Sheet]) -> Self {
        let days = knowledge.round.day.iter();
        let questions = days
            .filter_map(|at| knowledge.questions.get(*at))
            .filter_map(|question| {
                // Rows about what the record answers for every tree are not asked for.
                let mut open = question.facts();
                open.retain(|f| sheets.iter().any(|s| !s.answered(*f)));
                (!open.is_empty()).then(|| narrowed(question, &open))
            })
            .collect();
        Self {
            knowledge,
            questions,
        }
    }

    /// What is lacking, where nobody can be asked.
    pub(in crate::cli) fn missing(&self) -> Vec<String> {
        let facts = self.questions.iter().flat_map(Question::facts);
        facts
            .map(|f| {
                let fact = self.knowledge.vocabulary.get(f);
                format!("{}  ({})", fact.id, fact.short)
            })
            .collect()
    }

    /// Asks what `answers` leave open; `false` where somebody goes back before the first of these.
    ///
    /// # Errors
    /// Somebody left, or nobody answers any more.
    pub(in crate::cli) fn ask(
        &self,
        answers: &mut Sheet,
        asker: &mut dyn Asker,
    ) -> Result<bool, Failure> {
        let open = |q: &Question, answers: &Sheet| q.any_fact(|f| !answers.answered(f));
        let wanted = self.questions.iter().enumerate();
        let wanted: Vec<usize> = wanted
            .filter(|(_, q)| open(q, answers))
            .map(|(at, _)| at)
            .collect();
        let mut at = 0_usize;
        while let Some(question) = wanted.get(at) {
            if self.change(*question, answers, asker)? {
                at = at.saturating_add(1);
            } else if let Some(before) = at.checked_sub(1) {
                at = before;
            } else {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// Puts one question, with what was answered before; `false` where somebody goes back.
    ///
    /// # Errors
    /// Somebody left, or nobody answers any more.
    pub(in crate::cli) fn change(
        &self,
        at: usize,
        answers: &mut Sheet,
        asker: &mut dyn Asker,
    ) -> Result<bool, Failure> {
        let Some(question) = self.questions.get(at) else {
            return Ok(false);
        };
        let nothing = Sheet::new(self.knowledge.vocabulary.len());
        let prompt = Prompt {
            knowledge: self.knowledge,
            question,
            heading: "For the whole place".into(),
            lesson: None,
            known: &nothing,
            old: answers,
        };
        match asker.ask(&prompt) {
            Reply::Answers(values) => {
                for (fact, value) in values {
                    answers.set(fact, value, Origin::Asked);
                }
                Ok(true)
            }
            Reply::Back => Ok(false),
            Reply::Leave => Err(Failure::Interrupted("Left.".into())),
            Reply::End => Err(Failure::Missing(
                self.missing()
                    .into_iter()
                    .map(|line| line.split("  ").next().unwrap_or_default().to_owned())
                    .collect(),
            )),
        }
    }

    /// What was answered, a line for each question.
    pub(in crate::cli) fn says(&self, answers: &Sheet) -> Vec<String> {
        let questions = self.questions.iter();
        questions
            .map(|q| format!("{}: {}", q.short, said(self.knowledge, answers, q)))
            .collect()
    }
}

/// Fills in what holds for the whole place where a tree lacks it.
pub(in crate::cli) fn fill_in(answers: &Sheet, sheets: &mut [Sheet]) {
    for sheet in sheets {
        for (fact, entry) in answers.iter() {
            if !sheet.answered(fact) {
                sheet.set(fact, entry.value, Origin::Asked);
            }
        }
    }
}

/// The question with only those rows that settle a fact which is open.
fn narrowed(question: &Question, open: &[crate::facts::FactId]) -> Question {
    let mut question = question.clone();
    if let Form::Ticks { rows, none } = &mut question.form {
        rows.retain(|r| r.sets.iter().any(|(f, _)| open.contains(f)));
        none.retain(|(f, _)| open.contains(f));
    }
    question
}
