//! Reading a condition from its one line of text.
//!
//! ```text
//! any  := all ("or" all)*          all := one ("and" one)*
//! one  := "not" one | "(" any ")" | test
//! test := FACT "is" ["not"] CHOICE("/"CHOICE)*   | FACT "has" ROW("/"ROW)*
//!       | FACT ("<"|"<="|">"|">=") NUMBER        | FACT ("known"|"unknown")
//!       | "finding" ID "is" ("likely"|"possible")
//! ```

use super::condition::Compare;
use super::vocabulary::nearest;
use super::{Condition, FactId, Kind, Standing, Vocabulary};

/// Why a text is no condition; `at` is the column (counted in characters from 1) where it goes wrong.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("column {at}: {problem}")]
pub struct ConditionError {
    /// Column in the condition's own text.
    pub at: usize,
    /// What is wrong and how to mend it.
    pub problem: String,
}

/// The names a condition may use.
pub struct Names<'a> {
    /// The facts.
    pub vocabulary: &'a Vocabulary,
    /// Ids of the findings in order.
    pub findings: &'a [String],
}

/// How deep brackets and `not` may nest: far more than a rule needs, far less than the stack holds.
const DEPTH: usize = 20;

/// Reads a condition.
///
/// # Errors
/// The first problem with its column; unknown names come with the nearest known one.
pub fn parse_condition(names: &Names<'_>, text: &str) -> Result<Condition, ConditionError> {
    let words = split(text);
    let mut reader = Reader {
        names,
        words: &words,
        next: 0,
        end: text.chars().count().saturating_add(1),
    };
    let condition = reader.any(0)?;
    match reader.peek() {
        None => Ok(condition),
        Some(word) => Err(reader.wrong(&format!("\"{word}\" is not expected here"))),
    }
}

/// Splits into words with their columns; brackets, slashes and comparisons are words of their own.
fn split(text: &str) -> Vec<(usize, String)> {
    let mut words: Vec<(usize, String)> = Vec::new();
    let mut word = String::new();
    let mut start = 0;
    let mut flush = |word: &mut String, start: usize| {
        if !word.is_empty() {
            words.push((start, std::mem::take(word)));
        }
    };
    let mut previous = ' ';
    for (i, c) in text.chars().enumerate() {
        let column = i.saturating_add(1);
        let mark = matches!(c, '(' | ')' | '/' | '<' | '>' | '=');
        if c.is_whitespace() {
            flush(&mut word, start);
        } else if mark {
            if !(c == '=' && matches!(previous, '<' | '>')) {
                flush(&mut word, start);
                start = column;
            }
            word.push(c);
            if !matches!(c, '<' | '>') {
                flush(&mut word, start);
            }
        } else {
            if matches!(previous, '<' | '>') {
                flush(&mut word, start);
            }
            if word.is_empty() {
                start = column;
            }
            word.push(c);
        }
        previous = c;
    }
    flush(&mut word, start);
    words
}

struct Reader<'a> {
    names: &'a Names<'a>,
    words: &'a [(usize, String)],
    next: usize,
    end: usize,
}

impl<'a> Reader<'a> {
    fn peek(&self) -> Option<&'a str> {
        self.words.get(self.next).map(|(_, w)| w.as_str())
    }

    fn take(&mut self) -> Option<&'a str> {
        let word = self.peek();
        self.next = self.next.saturating_add(1);
        word
    }

    fn eat(&mut self, word: &str) -> bool {
        let hit = self.peek() == Some(word);
        if hit {
            self.next = self.next.saturating_add(1);
        }
        hit
    }

    fn wrong(&self, problem: &str) -> ConditionError {
        ConditionError {
            at: self.words.get(self.next).map_or(self.end, |(at, _)| *at),
            problem: problem.into(),
        }
    }

    fn any(&mut self, depth: usize) -> Result<Condition, ConditionError> {
        let mut parts = vec![self.all(depth)?];
        while self.eat("or") {
            parts.push(self.all(depth)?);
        }
        Ok(single_or(parts, Condition::Any))
    }

    fn all(&mut self, depth: usize) -> Result<Condition, ConditionError> {
        let mut parts = vec![self.one(depth)?];
        while self.eat("and") {
            parts.push(self.one(depth)?);
        }
        Ok(single_or(parts, Condition::All))
    }

    fn one(&mut self, depth: usize) -> Result<Condition, ConditionError> {
        if depth > DEPTH {
            return Err(self.wrong("too many brackets inside one another"));
        }
        let deeper = depth.saturating_add(1);
        if self.eat("not") {
            return Ok(Condition::Not(Box::new(self.one(deeper)?)));
        }
        if self.eat("(") {
            let inner = self.any(deeper)?;
            if !self.eat(")") {
                return Err(self.wrong("a closing bracket is missing"));
            }
            return Ok(inner);
        }
        if self.eat("finding") {
            return self.finding();
        }
        self.test()
    }

    fn finding(&mut self) -> Result<Condition, ConditionError> {
        let here = self.wrong("the id of a finding is missing");
        let Some(id) = self.take() else {
            return Err(here);
        };
        let Some(at) = self.names.findings.iter().position(|f| f == id) else {
            let hint = nearest(id, self.names.findings.iter().map(String::as_str))
                .map_or_else(String::new, |n| format!("; did you mean {n}?"));
            return Err(ConditionError {
                problem: format!("there is no finding {id}{hint}"),
                ..here
            });
        };
        if !self.eat("is") {
            return Err(self.wrong("write is likely or is possible"));
        }
        match self.take() {
            Some("likely") => Ok(Condition::Finding(at, Standing::Likely)),
            Some("possible") => Ok(Condition::Finding(at, Standing::Possible)),
            _ => Err(self.wrong("write is likely or is possible")),
        }
    }

    fn test(&mut self) -> Result<Condition, ConditionError> {
        let here = self.wrong("a fact is missing");
        let Some(id) = self.take() else {
            return Err(here);
        };
        let Some(fact) = self.names.vocabulary.find(id) else {
            let hint = self
                .names
                .vocabulary
                .nearest(id)
                .map_or_else(String::new, |n| format!("; did you mean {n}?"));
            return Err(ConditionError {
                problem: format!("there is no fact {id}{hint}"),
                ..here
            });
        };
        let after = self.wrong("write is, has, known, unknown or a comparison after the fact");
        match self.take() {
            Some("is") => {
                let negated = self.eat("not");
                let mask = self.choices(fact, false)?;
                let is = Condition::Is(fact, mask);
                Ok(if negated {
                    Condition::Not(Box::new(is))
                } else {
                    is
                })
            }
            Some("has") => Ok(Condition::Has(fact, self.choices(fact, true)?)),
            Some("known") => Ok(Condition::Known(fact, true)),
            Some("unknown") => Ok(Condition::Known(fact, false)),
            Some("<") => self.number(fact, Compare::Below),
            Some("<=") => self.number(fact, Compare::AtMost),
            Some(">") => self.number(fact, Compare::Above),
            Some(">=") => self.number(fact, Compare::AtLeast),
            _ => Err(after),
        }
    }

    fn choices(&mut self, fact: FactId, several: bool) -> Result<u64, ConditionError> {
        let fact = self.names.vocabulary.get(fact);
        if several != matches!(fact.kind, Kind::Several { .. }) || fact.choices().is_empty() {
            let word = match fact.kind {
                Kind::Several { .. } => "has",
                Kind::Choice(_) => "is",
                _ => "a comparison, known or unknown",
            };
            return Err(self.wrong(&format!("{} is tested with {word}", fact.id)));
        }
        let mut mask = 0;
        loop {
            let here = self.wrong("an answer of the fact is missing");
            let Some(word) = self.take() else {
                return Err(here);
            };
            let Some(at) = fact.choice_index(word) else {
                let hint = nearest(word, fact.choices().iter().map(|c| c.id.as_str()))
                    .map_or_else(String::new, |n| format!("; did you mean {n}?"));
                return Err(ConditionError {
                    problem: format!("{} has no answer {word}{hint}", fact.id),
                    ..here
                });
            };
            mask |= 1 << at;
            if !self.eat("/") {
                return Ok(mask);
            }
        }
    }

    fn number(&mut self, fact: FactId, compare: Compare) -> Result<Condition, ConditionError> {
        let known = self.names.vocabulary.get(fact);
        let Kind::Number(range) = &known.kind else {
            return Err(self.wrong(&format!("{} is not a number", known.id)));
        };
        let here = self.wrong("a number is missing");
        let number = self.take().and_then(|w| w.parse::<f64>().ok());
        match number {
            Some(n) if n.is_finite() && n >= range.min && n <= range.max => {
                Ok(Condition::Number(fact, compare, n))
            }
            Some(_) => Err(ConditionError {
                problem: format!(
                    "the number lies outside {} to {}, the range of {}",
                    range.min, range.max, known.id
                ),
                ..here
            }),
            None => Err(here),
        }
    }
}

fn single_or(mut parts: Vec<Condition>, many: fn(Vec<Condition>) -> Condition) -> Condition {
    match (parts.len(), parts.pop()) {
        (1, Some(only)) => only,
        (_, last) => {
            parts.extend(last);
            many(parts)
        }
    }
}
