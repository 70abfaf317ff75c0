//! The looks of a feeding day, with the questions whose rows they read out.

use super::Linker;
use crate::facts::{FactId, Form, Question, Value};
use crate::knowledge::ProblemKind;
use crate::knowledge::problem::Problems;
use crate::knowledge::round::{Look, Looks, RawLook, RoundFile};

const FILE: &str = "round.yaml";

impl Linker<'_> {
    pub(super) fn round(
        &self,
        file: RoundFile,
        questions: &[Question],
        problems: &mut Problems,
    ) -> Looks {
        let mut day = Vec::new();
        let mut of_day = Vec::new();
        for id in &file.day {
            if let Some((at, question)) = self.question_of(id, "day", false, questions, problems) {
                day.push(at);
                of_day.extend(question.facts());
            }
        }
        let mut looks: Vec<Look> = Vec::new();
        for raw in file.looks {
            let mut look = self.look(&raw, questions, &of_day, problems);
            if raw.unseen {
                let mut all: Vec<FactId> = looks
                    .iter()
                    .flat_map(|l| l.ticked.iter().chain(&l.otherwise))
                    .map(|(fact, _)| *fact)
                    .collect();
                all.sort_unstable();
                all.dedup();
                look.ticked
                    .extend(all.into_iter().map(|f| (f, Value::NotSure)));
            }
            if look.ticked.is_empty() {
                problems.at(
                    ProblemKind::MissingText,
                    self.reader.place(FILE, &look.id, "id"),
                    format!("{}: a tick settles nothing", look.id),
                    "give it ticked, of or unseen",
                );
            }
            looks.push(look);
        }
        Looks { looks, day }
    }

    fn look(
        &self,
        raw: &RawLook,
        questions: &[Question],
        of_day: &[FactId],
        problems: &mut Problems,
    ) -> Look {
        let mut look = Look {
            id: raw.id.clone(),
            short: raw.short.clone(),
            ask: raw.ask.clone(),
            why: raw.why.clone(),
            find_out: raw.find_out.clone(),
            rows: Vec::new(),
            ticked: self.settings(FILE, &raw.id, &raw.ticked, problems),
            otherwise: self.settings(FILE, &raw.id, &raw.otherwise, problems),
            says: raw.says.clone(),
            after: raw.after,
        };
        let of = raw.of.as_ref();
        if let Some((_, question)) =
            of.and_then(|q| self.question_of(q, &raw.id, true, questions, problems))
            && let Form::Ticks { rows, none } = &question.form
        {
            for (fact, value) in none.iter().filter(|(f, _)| !of_day.contains(f)) {
                look.ticked.push((*fact, Value::NotSure));
                look.otherwise.push((*fact, *value));
            }
            look.rows = rows
                .iter()
                .filter(|row| row.sets.iter().any(|(f, _)| !of_day.contains(f)))
                .map(|row| row.say.clone())
                .collect();
        }
        look
    }

    /// The question of this id, where wanted one that is a list to tick.
    fn question_of<'q>(
        &self,
        id: &str,
        place: &str,
        ticks: bool,
        questions: &'q [Question],
        problems: &mut Problems,
    ) -> Option<(usize, &'q Question)> {
        let found = questions
            .iter()
            .enumerate()
            .find(|(_, q)| q.id == id && (!ticks || matches!(q.form, Form::Ticks { .. })));
        if found.is_none() {
            let what = if ticks { "list to tick" } else { "question" };
            problems.at(
                ProblemKind::UnknownId,
                self.reader.place(FILE, place, id),
                format!("{place}: there is no {what} named {id}"),
                "name a question of questions.yaml, or a fact",
            );
        }
        found
    }
}
