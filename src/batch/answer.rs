//! The answer to one line: a plan, or an error object that says which line and what is wrong.

use super::ERROR_FORMAT;
use super::case::{Case, CaseId, CaseProblem};
use super::lines::{LONGEST, Line, Text};
use crate::facts::Sheet;
use crate::plan::{Advisor, Plan, contradiction, prefer_spoons};
use crate::report::style::{escaped, harmless};
use crate::walk::{Next, Session, Walk};
use serde::Serialize;

/// What is common to all lines of a run.
#[derive(Debug, Clone)]
pub struct Batch<'a> {
    /// Knowledge, formulas and the day.
    pub advisor: &'a Advisor<'a>,
    /// The walk that every case goes.
    pub walk: &'a Walk,
    /// Answers that hold for every case.
    pub common: Sheet,
    /// Whose spoons, where no answer says so: a choice of `spoon_system`.
    pub spoons: Option<&'a str>,
    /// Whether what a case does not answer is taken as not sure.
    pub rest_not_sure: bool,
}

/// What came of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// A plan.
    Plan,
    /// The line cannot be read.
    Bad,
    /// The line lacks answers.
    Missing,
}

/// An error object.
#[derive(Debug, Serialize)]
struct BadLine<'a> {
    format: &'static str,
    line: u64,
    error: &'a str,
    #[serde(skip_serializing_if = "<[&str]>::is_empty")]
    missing: &'a [&'a str],
}

impl Batch<'_> {
    /// Answers a line and appends the answer, one line of JSON, to `out`.
    pub fn answer(&self, line: &Line, out: &mut Vec<u8>) -> Outcome {
        let text = match &line.text {
            Text::Whole(text) => text,
            Text::TooLong => {
                let what = format!("it is longer than {} KiB", LONGEST / 1024);
                return bad(line.number, None, &what, &[], out);
            }
        };
        let case = match Case::read(&self.advisor.knowledge.vocabulary, &self.common, text) {
            Ok(case) => case,
            Err(CaseProblem { id, what }) => {
                return bad(line.number, id.as_ref(), &what, &[], out);
            }
        };
        match self.plan(case.sheet) {
            Ok(plan) => {
                object(case.id.as_ref(), &plan, out);
                Outcome::Plan
            }
            Err(Refused::Contradiction(what)) => {
                bad(line.number, case.id.as_ref(), &what, &[], out)
            }
            Err(Refused::Missing(facts)) => {
                let what = "answers are missing; not_sure is an answer too";
                bad(line.number, case.id.as_ref(), what, &facts, out)
            }
        }
    }

    fn plan(&self, mut sheet: Sheet) -> Result<Plan, Refused<'_>> {
        let knowledge = self.advisor.knowledge;
        if let Some(what) = contradiction(knowledge, &sheet) {
            return Err(Refused::Contradiction(what));
        }
        prefer_spoons(knowledge, self.spoons, &mut sheet);
        let opens = |sheet: &Sheet, gate| self.advisor.opens(sheet, gate);
        let complete = |sheet: &mut Sheet| self.advisor.complete(sheet);
        let mut session = Session::new(knowledge, self.walk, sheet, &opens, &complete);
        let sheet = if self.rest_not_sure {
            session.rest_not_sure()
        } else {
            match session.state() {
                (Next::Done { .. }, sheet) => sheet,
                (Next::Ask { .. }, _) => {
                    let facts = session.missing();
                    let ids = facts
                        .iter()
                        .map(|f| knowledge.vocabulary.get(*f).id.as_str());
                    return Err(Refused::Missing(ids.collect()));
                }
            }
        };
        Ok(self.advisor.plan(self.walk, &sheet))
    }
}

enum Refused<'k> {
    Contradiction(String),
    Missing(Vec<&'k str>),
}

fn bad(
    line: u64,
    id: Option<&CaseId>,
    error: &str,
    missing: &[&str],
    out: &mut Vec<u8>,
) -> Outcome {
    let error = harmless(error);
    let object_of_error = BadLine {
        format: ERROR_FORMAT,
        line,
        error: &error,
        missing,
    };
    object(id, &object_of_error, out);
    if missing.is_empty() {
        Outcome::Bad
    } else {
        Outcome::Missing
    }
}

/// Writes an object on one line, the case's id first.
fn object(id: Option<&CaseId>, object: &impl Serialize, out: &mut Vec<u8>) {
    let start = out.len();
    if serde_json::to_writer(&mut *out, object).is_err() {
        // A plan has a JSON form; should one ever lack it, the line is an empty object rather than half of one.
        out.truncate(start);
        out.extend_from_slice(b"{}");
    }
    if let Some(id) = id {
        let named = format!("\"id\":{},", write_id(id));
        let at = start.saturating_add(1).min(out.len());
        out.splice(at..at, named.into_bytes());
    }
    out.push(b'\n');
}

/// The id as JSON; what could steer a terminal is written as an escape.
fn write_id(id: &CaseId) -> String {
    match id {
        CaseId::Number(number) => number.to_string(),
        CaseId::Text(text) => {
            escaped(&serde_json::to_string(text).unwrap_or_default()).into_owned()
        }
    }
}
