//! Walks: each step is a question, a gate, a weighing, a dose or an end.

use super::{Linker, rules};
use crate::facts::Question;
use crate::knowledge::File;
use crate::knowledge::problem::{Place, Problems};
use crate::knowledge::raw::{RawStep, WalkFile};
use crate::walk::graph::expand;
use crate::walk::{Ending, Step, StepKind, Walk};

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
                let mut steps = |list: &[RawStep]| -> Vec<Step> {
                    list.iter()
                        .filter_map(|step| self.step(&file.name, step, questions, problems))
                        .collect()
                };
                let open = steps(&raw.steps);
                let blocked = steps(&raw.blocked);
                Walk {
                    id: raw.id.clone(),
                    title: raw.title.clone(),
                    intro: raw.intro.clone(),
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
        file: &str,
        raw: &RawStep,
        questions: &[Question],
        problems: &mut Problems,
    ) -> Option<Step> {
        let mut wrong = |key: &str, what: String, mend: &str| {
            problems.at(self.reader.place(file, "", key), what, mend);
        };
        let (kind, when, say) = match raw {
            RawStep::Word(word) => match word.as_str() {
                "weigh" => (StepKind::Weigh, None, None),
                "dose" => (StepKind::Dose, None, None),
                _ => {
                    wrong(word, format!("there is no step {word}"), "weigh or dose");
                    return None;
                }
            },
            RawStep::Keyed(step) => {
                let kind = match (&step.ask, step.gate, &step.end) {
                    (Some(ask), None, None) => {
                        let Some(at) = questions.iter().position(|q| &q.id == ask) else {
                            let ids: Vec<&str> = questions.iter().map(|q| q.id.as_str()).collect();
                            let hint = crate::facts::nearest_of(ask, &ids);
                            wrong(
                                ask,
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
                            wrong(
                                end,
                                format!("there is no end {end}"),
                                "fed, not_fed, rescued",
                            );
                            return None;
                        }
                    },
                    _ => {
                        wrong(
                            "steps",
                            "a step is one of ask, gate, end".into(),
                            "split it",
                        );
                        return None;
                    }
                };
                (kind, step.when.clone(), step.say.clone())
            }
        };
        let when = match when {
            Some(text) => {
                let key = match raw {
                    RawStep::Keyed(s) => s.ask.as_deref().unwrap_or(""),
                    RawStep::Word(_) => "",
                };
                Some(rules::condition(
                    self.names,
                    Place {
                        file,
                        text: self.reader.files.text(file).unwrap_or(""),
                        id: "",
                        key,
                    },
                    &text,
                    problems,
                )?)
            }
            None => None,
        };
        Some(Step { kind, when, say })
    }
}
