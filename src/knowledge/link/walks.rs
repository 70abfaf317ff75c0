//! Walks: each step is a question, a gate, a weighing, a dose or an end.

use super::{Linker, rules};
use crate::facts::{Question, nearest_of};
use crate::knowledge::place::Place;
use crate::knowledge::problem::Problems;
use crate::knowledge::raw::{RawStep, WalkFile};
use crate::knowledge::{File, ProblemKind};
use crate::walk::graph::expand;
use crate::walk::{Ending, Purpose, Step, StepKind, Walk};

impl Linker<'_> {
    pub(super) fn walks(
        &self,
        files: &[(&File, WalkFile)],
        questions: &[Question],
        problems: &mut Problems,
    ) -> Vec<Walk> {
        files
            .iter()
            .map(|(file, raw)| {
                let mut steps = |list: &[RawStep], key: &str| -> Vec<Step> {
                    list.iter()
                        .enumerate()
                        .filter_map(|(at, step)| {
                            let place = Place::of(self.reader.files, &file.name).item(key, at);
                            self.step(place, step, questions, problems)
                        })
                        .collect()
                };
                let open = steps(&raw.steps, "steps");
                let blocked = steps(&raw.blocked, "blocked");
                let rescued = |s: &Step| s.kind == StepKind::End(Ending::Rescued);
                Walk {
                    id: raw.id.clone(),
                    title: raw.title.clone(),
                    intro: raw.intro.clone(),
                    purpose: if open.iter().any(rescued) {
                        Purpose::FirstAid
                    } else {
                        raw.purpose
                    },
                    limit: raw.limit,
                    limit_three_symptoms: raw.limit_three_symptoms,
                    graph: expand(&open, &blocked),
                    steps: open,
                    blocked,
                }
            })
            .collect()
    }

    fn step(
        &self,
        place: Place<'_>,
        raw: &RawStep,
        questions: &[Question],
        problems: &mut Problems,
    ) -> Option<Step> {
        let step = match raw {
            RawStep::Word(word) => {
                let kind = match word.as_str() {
                    "weigh" => StepKind::Weigh,
                    "dose" => StepKind::Dose,
                    _ => {
                        let hint = nearest_of(word, &["weigh", "dose"]);
                        problems.at(
                            ProblemKind::UnknownWord,
                            place.key(word),
                            format!("there is no step {word}{hint}"),
                            "weigh, dose, or ask, gate or end with its name",
                        );
                        return None;
                    }
                };
                return Some(Step {
                    kind,
                    when: None,
                    say: None,
                });
            }
            RawStep::Keyed(step) => step,
        };
        let kind = match (&step.ask, step.gate, &step.end) {
            (Some(ask), None, None) => {
                let Some(at) = questions.iter().position(|q| &q.id == ask) else {
                    let ids: Vec<&str> = questions.iter().map(|q| q.id.as_str()).collect();
                    let hint = nearest_of(ask, &ids);
                    problems.at(
                        ProblemKind::UnknownId,
                        place.key(ask),
                        format!("there is no question {ask}{hint}"),
                        "correct the id",
                    );
                    return None;
                };
                StepKind::Ask(at)
            }
            (None, Some(gate), None) => StepKind::Gate(gate),
            (None, None, Some(end)) => match end.as_str() {
                "fed" => StepKind::End(Ending::Fed),
                "not_fed" => StepKind::End(Ending::NotFed),
                "rescued" => StepKind::End(Ending::Rescued),
                _ => {
                    let hint = nearest_of(end, &["fed", "not_fed", "rescued"]);
                    problems.at(
                        ProblemKind::UnknownWord,
                        place.key(end),
                        format!("there is no end {end}{hint}"),
                        "fed, not_fed or rescued",
                    );
                    return None;
                }
            },
            _ => {
                problems.at(
                    ProblemKind::WrongType,
                    place,
                    "a step is exactly one of ask, gate and end",
                    "split it into several steps",
                );
                return None;
            }
        };
        let when = match &step.when {
            Some(text) => Some(rules::condition(
                self.names,
                place.key(text),
                text,
                problems,
            )?),
            None => None,
        };
        Some(Step {
            kind,
            when,
            say: step.say.clone(),
        })
    }
}
