//! Reading a condition from its one line of text.
//!
//! ```text
//! any  := all ("or" all)*          all := one ("and" one)*
//! one  := "not" one | "(" any ")" | test
//! test := FACT "is" ["not"] CHOICE("/"CHOICE)*   | FACT "has" ROW("/"ROW)*
//!       | FACT ("<"|"<="|">"|">=") NUMBER        | FACT ("known"|"unknown")
//!       | "finding" (ID | "any") "is" ("likely"|"possible")
//! ```

use super::condition::Compare;
use super::vocabulary::nearest;
use super::{Condition, FactId, Kind, Standing, Text, Vocabulary};

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
    pub findings: &'a [Text],
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
        text,
        words: &words,
        next: 0,
    };
    let condition = reader.any(0)?;
    match reader.peek() {
        None => Ok(condition),
        Some(word) => Err(reader.wrong(&format!("\"{word}\" is not expected here"))),
    }
}

/// Splits into words with the byte where each begins; brackets, slashes and comparisons are words of their own.
fn split(text: &str) -> Vec<(usize, &str)> {
    let mut words: Vec<(usize, &str)> = Vec::with_capacity(12);
    let mut start = None;
    let mut flush = |start: &mut Option<usize>, end: usize| {
        if let Some(from) = start.take()
            && let Some(word) = text.get(from..end)
        {
            words.push((from, word));
        }
    };
    let mut previous = ' ';
    for (at, c) in text.char_indices() {
        let mark = matches!(c, '(' | ')' | '/' | '<' | '>' | '=');
        if c.is_whitespace() {
            flush(&mut start, at);
        } else if mark {
            if !(c == '=' && matches!(previous, '<' | '>')) {
                flush(&mut start, at);
            }
            start = start.or(Some(at));
            if !matches!(c, '<' | '>') {
                flush(&mut start, at.saturating_add(1));
            }
        } else {
            if matches!(previous, '<' | '>') {
                flush(&mut start, at);
            }
            start = start.or(Some(at));
        }
        previous = c;
    }
    flush(&mut start, text.len());
    words
}

struct Reader<'a> {
    names: &'a Names<'a>,
    text: &'a str,
    words: &'a [(usize, &'a str)],
    next: usize,
}

impl<'a> Reader<'a> {
    fn peek(&self) -> Option<&'a str> {
        self.words.get(self.next).map(|(_, w)| *w)
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
        self.wrong_at(self.next, problem)
    }

    /// A problem at the word of this number, or at the end.
    fn wrong_at(&self, word: usize, problem: &str) -> ConditionError {
        let before = match self.words.get(word) {
            Some((at, _)) => self.text.get(..*at).unwrap_or(self.text),
            None => self.text,
        };
        ConditionError {
            at: before.chars().count().saturating_add(1),
            problem: problem.into(),
        }
    }

    fn any(&mut self, depth: usize) -> Result<Condition, ConditionError> {
        let first = self.all(depth)?;
        if self.peek() != Some("or") {
            return Ok(first);
        }
        let mut parts = vec![first];
        while self.eat("or") {
            parts.push(self.all(depth)?);
        }
        Ok(Condition::Any(parts))
    }

    fn all(&mut self, depth: usize) -> Result<Condition, ConditionError> {
        let first = self.one(depth)?;
        if self.peek() != Some("and") {
            return Ok(first);
        }
        let mut parts = vec![first];
        while self.eat("and") {
            parts.push(self.one(depth)?);
        }
        Ok(Condition::All(parts))
    }

    fn one(&mut self, depth: usize) -> Result<Condition, ConditionError> {
        if depth > DEPTH {
            return Err(self.wrong("too many brackets inside one another"));
        }
        let deeper = depth.saturating_add(1);
        if self.eat("not") {
            return Ok(Condition::Not(Box::new(self.one(deeper)?)));
        }
        if self.eat("perhaps") {
            return Ok(Condition::Perhaps(Box::new(self.one(deeper)?)));
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
        let here = self.next;
        let Some(id) = self.take() else {
            return Err(self.wrong_at(here, "the id of a finding is missing"));
        };
        let any = id == "any";
        let Some(at) = self
            .names
            .findings
            .iter()
            .position(|f| f == id)
            .or(any.then_some(0))
        else {
            let hint = nearest(id, self.names.findings.iter().map(Text::as_str))
                .map_or_else(String::new, |n| format!("; did you mean {n}?"));
            return Err(self.wrong_at(here, &format!("there is no finding {id}{hint}")));
        };
        if !self.eat("is") {
            return Err(self.wrong("write is likely or is possible"));
        }
        let standing = match self.take() {
            Some("likely") => Standing::Likely,
            Some("possible") => Standing::Possible,
            _ => return Err(self.wrong("write is likely or is possible")),
        };
        Ok(if any {
            Condition::AnyFinding(standing)
        } else {
            Condition::Finding(at, standing)
        })
    }

    fn test(&mut self) -> Result<Condition, ConditionError> {
        let here = self.next;
        let Some(id) = self.take() else {
            return Err(self.wrong_at(here, "a fact is missing"));
        };
        let Some(fact) = self.names.vocabulary.find(id) else {
            let hint = self
                .names
                .vocabulary
                .nearest(id)
                .map_or_else(String::new, |n| format!("; did you mean {n}?"));
            return Err(self.wrong_at(here, &format!("there is no fact {id}{hint}")));
        };
        let after = self.next;
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
            _ => Err(self.wrong_at(
                after,
                "write is, has, known, unknown or a comparison after the fact",
            )),
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
            let here = self.next;
            let Some(word) = self.take() else {
                return Err(self.wrong_at(here, "an answer of the fact is missing"));
            };
            let Some(at) = fact.choice_index(word) else {
                let hint = nearest(word, fact.choices().iter().map(|c| c.id.as_str()))
                    .map_or_else(String::new, |n| format!("; did you mean {n}?"));
                let problem = format!("{} has no answer {word}{hint}", fact.id);
                return Err(self.wrong_at(here, &problem));
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
        let here = self.next;
        let number = self.take().and_then(|w| w.parse::<f64>().ok());
        match number {
            Some(n) if n.is_finite() && n >= range.min && n <= range.max => {
                Ok(Condition::Number(fact, compare, n))
            }
            Some(_) => Err(self.wrong_at(
                here,
                &format!(
                    "the number lies outside {} to {}, the range of {}",
                    range.min, range.max, known.id
                ),
            )),
            None => Err(self.wrong_at(here, "a number is missing")),
        }
    }
}
