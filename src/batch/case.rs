//! One case: a line of JSON read into a sheet. The words for what is wrong are those of an answers file.

use crate::facts::{Fact, FactId, Origin, Role, Sheet, Value, Vocabulary};
use serde::de::{DeserializeSeed, Deserializer, Error, IgnoredAny, MapAccess, Visitor};
use serde_json::Value as Json;
use std::borrow::Cow;
use std::fmt;

/// Longest id in bytes.
const LONGEST_ID: usize = 200;
/// Most rows read of an answer with several; no fact has as many.
const MOST_ROWS: usize = 200;

/// The caller's name for a case, given back with its plan.
#[derive(Debug, Clone, PartialEq)]
pub enum CaseId {
    /// A text of at most 200 bytes.
    Text(String),
    /// A number.
    Number(serde_json::Number),
}

/// One case.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// The caller's name for it.
    pub id: Option<CaseId>,
    /// Its answers, laid over those that hold for every case.
    pub sheet: Sheet,
}

/// What is wrong with a line.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseProblem {
    /// The case's id where it could be read.
    pub id: Option<CaseId>,
    /// What is wrong, in words.
    pub what: String,
}

impl Case {
    /// Reads a line; `common` holds the answers of every case.
    ///
    /// # Errors
    /// The first problem of the line.
    pub fn read(vocabulary: &Vocabulary, common: &Sheet, line: &[u8]) -> Result<Self, CaseProblem> {
        let wrong = |id, what: String| CaseProblem { id, what };
        let text =
            std::str::from_utf8(line).map_err(|_| wrong(None, "it is not UTF-8 text".into()))?;
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let mut reading = Reading {
            vocabulary,
            common,
            sheet: common.clone(),
            given: vec![false; vocabulary.len()],
            id: None,
            problem: None,
        };
        let mut json = serde_json::Deserializer::from_str(text);
        let read = json.deserialize_map(&mut reading).and_then(|()| json.end());
        let Reading {
            id, problem, sheet, ..
        } = reading;
        if let Err(error) = read {
            return Err(wrong(id, syntax(&error)));
        }
        match problem {
            Some(what) => Err(wrong(id, what)),
            None => Ok(Self { id, sheet }),
        }
    }
}

/// A problem of syntax with its column; the number of the line is the caller's.
fn syntax(error: &serde_json::Error) -> String {
    let said = error.to_string();
    let place = format!(" at line {} column {}", error.line(), error.column());
    match said.strip_suffix(&place) {
        Some(what) if error.column() > 0 => format!("column {}: {what}", error.column()),
        _ => said,
    }
}

struct Reading<'a> {
    vocabulary: &'a Vocabulary,
    common: &'a Sheet,
    sheet: Sheet,
    given: Vec<bool>,
    id: Option<CaseId>,
    problem: Option<String>,
}

impl Reading<'_> {
    /// Keeps the first problem; the rest of the line is still read for the id.
    fn wrong(&mut self, what: String) {
        self.problem.get_or_insert(what);
    }

    fn name(&mut self, given: Json) {
        match given {
            _ if self.id.is_some() => self.wrong("id is given twice".into()),
            Json::String(text) if text.len() > LONGEST_ID => {
                self.wrong(format!("id is longer than {LONGEST_ID} bytes"));
            }
            Json::String(text) => self.id = Some(CaseId::Text(text)),
            Json::Number(number) => self.id = Some(CaseId::Number(number)),
            _ => self.wrong("id must be a text or a number".into()),
        }
    }

    fn answer(&mut self, id: FactId, read: Result<Value, String>) {
        let vocabulary = self.vocabulary;
        let fact = vocabulary.get(id);
        let value = match read {
            Ok(value) => value,
            Err(what) => return self.wrong(what),
        };
        if let Some(given) = self.given.get_mut(id.index())
            && std::mem::replace(given, true)
        {
            return self.wrong(format!("{} is given twice", fact.id));
        }
        if let Some(old) = self.common.entry(id)
            && old.value != value
        {
            return self.wrong(format!(
                "{}: {} says {} for every case, this line says {}; take one of them out",
                fact.id,
                match old.from {
                    Origin::Flag => "--set",
                    Origin::Site | Origin::Record => "the record",
                    Origin::File | Origin::Asked | Origin::WorkedOut => "the answers file",
                },
                old.value.write(fact),
                value.write(fact)
            ));
        }
        self.sheet.set(id, value, Origin::File);
    }
}

impl<'de> Visitor<'de> for &mut Reading<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object of fact: value")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(), A::Error> {
        while let Some(key) = map.next_key_seed(Word)? {
            let found = self.vocabulary.find(&key);
            let askable = found.filter(|f| self.vocabulary.get(*f).role != Role::Worked);
            if let Some(id) = askable {
                let given: Json = map.next_value()?;
                self.answer(id, read_answer(self.vocabulary.get(id), &given));
            } else if key == "id" {
                self.name(map.next_value()?);
            } else {
                map.next_value::<IgnoredAny>()?;
                // Answers of questions that were not on the path are kept apart in an answers file.
                if key != "off_path" {
                    let known = self.vocabulary;
                    self.wrong(known.no_such_fact(&key));
                }
            }
        }
        Ok(())
    }
}

/// A key, borrowed where it holds no escapes.
struct Word;

impl<'de> DeserializeSeed<'de> for Word {
    type Value = Cow<'de, str>;

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<Self::Value, D::Error> {
        from.deserialize_str(self)
    }
}

impl<'de> Visitor<'de> for Word {
    type Value = Cow<'de, str>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the name of a fact")
    }

    fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<Self::Value, E> {
        Ok(Cow::Borrowed(text))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Self::Value, E> {
        Ok(Cow::Owned(text.to_owned()))
    }
}

/// Reads an answer from JSON the way an answers file gives it.
fn read_answer(fact: &Fact, given: &Json) -> Result<Value, String> {
    let plain = |given: &Json| match given {
        Json::String(text) => Ok(text.clone()),
        Json::Number(number) => Ok(number.to_string()),
        Json::Bool(yes) => Ok(if *yes { "yes" } else { "no" }.to_owned()),
        Json::Null => Err(format!("{} has no value; write not_sure", fact.id)),
        Json::Array(_) | Json::Object(_) => Err(format!("{} takes a plain value", fact.id)),
    };
    match given {
        Json::Array(rows) => {
            let rows: Vec<String> = rows
                .iter()
                .take(MOST_ROWS)
                .map(plain)
                .collect::<Result<_, _>>()?;
            let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
            Value::read_several(fact, &rows).map_err(|e| e.to_string())
        }
        Json::String(text) => Value::read(fact, text).map_err(|e| e.to_string()),
        other => Value::read(fact, &plain(other)?).map_err(|e| e.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::knowledge::{Files, Knowledge, load};

    fn knowledge() -> Knowledge {
        load(&Files::shipped(), &[]).unwrap()
    }

    fn read(line: &str) -> Result<Case, CaseProblem> {
        let k = knowledge();
        Case::read(
            &k.vocabulary,
            &Sheet::new(k.vocabulary.len()),
            line.as_bytes(),
        )
    }

    #[test]
    fn a_line_reads_as_an_answers_file_does() {
        let k = knowledge();
        let case = read(
            r#"{"id": "kumquat 3", "pot_volume": 20, "salt_crust": false, "mix_moisture": "moist",
                "symptoms": ["pale_leaves", "leaf_drop"], "off_path": {"place": "indoors"}}"#,
        )
        .unwrap();
        assert_eq!(case.id, Some(CaseId::Text("kumquat 3".into())));
        let said: Vec<(&str, String)> = case
            .sheet
            .iter()
            .map(|(f, e)| {
                let fact = k.vocabulary.get(f);
                (fact.id.as_str(), e.value.write(fact))
            })
            .collect();
        let mut said: Vec<String> = said.iter().map(|(f, v)| format!("{f}={v}")).collect();
        said.sort();
        assert_eq!(
            said,
            [
                "mix_moisture=moist",
                "pot_volume=20",
                "salt_crust=no",
                "symptoms=pale_leaves, leaf_drop"
            ]
        );
    }

    #[test]
    fn each_problem_says_what_is_wrong_and_keeps_the_id() {
        for (line, says) in [
            ("[1, 2]", "expected an object of fact: value"),
            ("{\"a\"", "column"),
            ("{} {}", "trailing"),
            (
                r#"{"mix_moistur": "wet", "id": 7}"#,
                "did you mean mix_moisture?",
            ),
            (r#"{"pot_volume": -3, "id": 7}"#, "pot_volume"),
            (r#"{"pot_volume": null, "id": 7}"#, "write not_sure"),
            (
                r#"{"pot_volume": {"l": 3}, "id": 7}"#,
                "takes a plain value",
            ),
            (r#"{"symptoms": [["a"]], "id": 7}"#, "takes a plain value"),
            (
                r#"{"id": 7, "place": "indoors", "place": "indoors"}"#,
                "twice",
            ),
            (r#"{"id": 7, "id": 8}"#, "id is given twice"),
            (r#"{"id": [7]}"#, "id must be"),
            (
                r#"{"id": 7, "can_salt": "fine"}"#,
                "there is no fact can_salt",
            ),
        ] {
            let problem = read(line).unwrap_err();
            assert!(problem.what.contains(says), "{line}: {}", problem.what);
            assert_eq!(problem.id.is_some(), line.contains("\"id\": 7"), "{line}");
        }
    }

    #[test]
    fn deep_nesting_is_refused_and_not_followed() {
        for line in [
            "[".repeat(500_000),
            format!("{{\"pot_volume\": {}", "[".repeat(500_000)),
            format!("{{\"nothing\": {}", "{\"a\":".repeat(100_000)),
        ] {
            assert!(read(&line).is_err());
        }
    }

    #[test]
    fn an_answer_of_every_case_cannot_be_overridden() {
        let k = knowledge();
        let mut common = Sheet::new(k.vocabulary.len());
        let place = k.vocabulary.find("place").unwrap();
        common.set(place, Value::Choice(0), Origin::Flag);
        let read = |line: &str| Case::read(&k.vocabulary, &common, line.as_bytes());
        assert!(read(r#"{"place": "outdoors"}"#).is_ok());
        let problem = read(r#"{"place": "indoors"}"#).unwrap_err().what;
        assert!(problem.contains("--set says outdoors"), "{problem}");
    }
}
