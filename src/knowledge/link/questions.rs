//! Questions: groups of facts asked in one line or as one tick list; every other fact is a question of its own.

use super::Linker;
use crate::facts::{FactId, Form, Part, Question, Row, Value};
use crate::knowledge::ProblemKind;
use crate::knowledge::problem::Problems;
use crate::knowledge::raw::{QuestionsFile, RawForm, RawQuestion, Settings};

impl Linker<'_> {
    pub(super) fn questions(&self, file: QuestionsFile, problems: &mut Problems) -> Vec<Question> {
        let mut questions: Vec<Question> = file
            .questions
            .into_iter()
            .filter_map(|raw| self.question(raw, problems))
            .collect();
        for (id, fact) in self.names.vocabulary.iter() {
            if fact.role != crate::facts::Role::Worked {
                questions.push(Question {
                    id: fact.id.clone(),
                    short: fact.short.clone(),
                    ask: fact.ask.clone(),
                    why: fact.why.clone(),
                    find_out: fact.find_out.clone(),
                    form: Form::Single(id),
                });
            }
        }
        questions
    }

    fn question(&self, raw: RawQuestion, problems: &mut Problems) -> Option<Question> {
        let file = "questions.yaml";
        let form = match raw.form {
            RawForm::Line => Form::Line {
                parts: raw
                    .parts
                    .iter()
                    .filter_map(|part| {
                        Some(Part {
                            fact: self.fact(file, &raw.id, &part.fact, problems)?,
                            optional: part.optional,
                            when: match &part.when {
                                Some(text) => Some(self.condition(file, &raw.id, text, problems)?),
                                None => None,
                            },
                        })
                    })
                    .collect(),
                example: raw.example,
            },
            RawForm::Ticks => {
                let rows: Vec<Row> = raw
                    .rows
                    .iter()
                    .map(|row| Row {
                        id: row.id.clone(),
                        say: row.say.clone(),
                        sets: self.settings(file, &raw.id, &row.sets, problems),
                    })
                    .collect();
                let none = self.settings(file, &raw.id, &raw.none, problems);
                for row in &rows {
                    for (fact, _) in &row.sets {
                        if !none.iter().any(|(f, _)| f == fact) {
                            problems.at(
                                ProblemKind::Gap,
                                self.reader.place(file, &raw.id, &row.id),
                                format!(
                                    "{}: none says nothing about {}",
                                    raw.id,
                                    self.names.vocabulary.get(*fact).id
                                ),
                                "say what holds when none of its rows is ticked",
                            );
                        }
                    }
                }
                Form::Ticks { rows, none }
            }
        };
        Some(Question {
            id: raw.id,
            short: raw.short,
            ask: raw.ask,
            why: raw.why,
            find_out: raw.find_out,
            form,
        })
    }

    pub(super) fn settings(
        &self,
        file: &str,
        id: &str,
        map: &Settings,
        problems: &mut Problems,
    ) -> Vec<(FactId, Value)> {
        let mut list = Vec::new();
        for (key, value) in &map.0 {
            let Some(fact) = self.fact(file, id, key, problems) else {
                continue;
            };
            match Value::read(self.names.vocabulary.get(fact), value) {
                Ok(value) => list.push((fact, value)),
                Err(error) => problems.at(
                    ProblemKind::UnknownWord,
                    self.reader.place(file, id, key),
                    format!("{id}: {error}"),
                    "correct the value",
                ),
            }
        }
        list
    }
}
