//! From texts to the checked model: read with `serde_yaml`, link every id, prove the walks.

use std::collections::HashSet;

use super::model::{Advice, Caution, Knowledge, Level};
use super::problem::{Place, Problem, Problems};
use super::rates::Rates;
use super::raw::{
    AdviceFile, CautionsFile, CitrusFile, FactsFile, FindingsFile, LeafPicturesFile, MaterialsFile,
    QuestionsFile, RatesFile, RawCaution, RawEvidence, RawFact, RawForm, RawKind, RawQuestion,
    RawStep, SourcesFile, WalkFile,
};
use super::source::Mark;
use super::{Evidence, File, Files, Finding, LeafPicture, Material, overlay};
use crate::facts::{
    Band, Choice, Condition, Fact, FactId, Form, Kind, Names, NumberRange, Part, Question, Row,
    Value, Vocabulary, parse_condition,
};
use crate::walk::graph::expand;
use crate::walk::proof::prove;
use crate::walk::{Ending, Step, StepKind, Walk};
use serde::de::DeserializeOwned;

/// A condition may name at most so many facts, so that everything about it can be enumerated.
const MOST_FACTS: usize = 5;
/// Longest one-line summary of a caution, in characters.
const SUMMARY: usize = 140;
/// The file of the leaf pictures.
const LEAF_PICTURES: &str = "leaf_pictures.yaml";
/// Files larger than this are refused before they are parsed.
const LARGEST: usize = 4 << 20;

/// Reads, links and proves the files, then lays the overlays over them.
///
/// # Errors
/// All problems in one go, each with file, line and how to mend it.
pub fn load(files: &Files, overlays: &[Files]) -> Result<Knowledge, Problems> {
    let mut problems = Problems::default();
    let read = Reader { files };
    let local = overlay::materials(overlays, &mut problems);
    let knowledge = read.knowledge(local, &mut problems);
    let Some(mut knowledge) = knowledge.filter(|_| problems.is_empty()) else {
        problems.sort();
        return Err(problems);
    };
    for local in overlays {
        overlay::lay(&mut knowledge, local, &mut problems);
    }
    for walk in &knowledge.walks {
        for flaw in prove(&knowledge, walk) {
            let name = format!("walks/{}.yaml", walk.id);
            let text = files.text(&name).unwrap_or("");
            let caution = knowledge.cautions.iter().find(|c| c.id == flaw.about);
            let place = match caution {
                Some(c) => Place {
                    file: &c.file,
                    text: files.text(&c.file).unwrap_or(""),
                    id: &flaw.about,
                    key: "",
                },
                None => Place {
                    file: &name,
                    text,
                    id: "",
                    key: &flaw.about,
                },
            };
            problems.at(place, format!("{}: {}", flaw.about, flaw.what), flaw.mend);
        }
    }
    if let Some(diagnose) = knowledge.walk("diagnose").filter(|_| problems.is_empty()) {
        for (id, why) in crate::diagnose::unreachable(&knowledge, diagnose) {
            let file = knowledge
                .findings
                .iter()
                .find(|f| f.id == id)
                .map_or("", |f| f.file.as_str());
            problems.at(
                Place {
                    file,
                    text: files.text(file).unwrap_or(""),
                    id: &id,
                    key: "needs",
                },
                format!("{id} can never be listed: {why}"),
                "make its needs more specific, or let the walk ask for them",
            );
        }
    }
    let lacking = crate::dose::Ids::find(&knowledge.vocabulary).err();
    for id in lacking.unwrap_or_default() {
        problems.at(
            Place {
                file: "facts.yaml",
                text: files.text("facts.yaml").unwrap_or(""),
                id: "",
                key: "facts:",
            },
            format!("the fact {id} is missing; a formula reads it"),
            "put it back",
        );
    }
    if problems.is_empty() {
        Ok(knowledge)
    } else {
        problems.sort();
        Err(problems)
    }
}

/// Parses one file; a problem of syntax or shape comes with line and column.
pub(super) fn parse<T: DeserializeOwned>(file: &File, problems: &mut Problems) -> Option<T> {
    let mut fail = |line, column, what: String, mend: &str| {
        problems.add(Problem {
            file: file.name.clone(),
            line,
            column,
            what,
            mend: mend.to_owned(),
        });
    };
    if file.text.len() > LARGEST {
        fail(0, 0, "the file is larger than 4 MiB".into(), "split it");
        return None;
    }
    match serde_yaml::from_str(&file.text) {
        Ok(parsed) => Some(parsed),
        Err(error) => {
            let (line, column) = error
                .location()
                .map_or((0, 0), |at| (at.line(), at.column()));
            fail(
                line,
                column,
                error.to_string(),
                "docs/writing-knowledge.md shows the shape of an entry",
            );
            None
        }
    }
}

struct Reader<'a> {
    files: &'a Files,
}

impl<'a> Reader<'a> {
    fn parse<T: DeserializeOwned>(&self, name: &str, problems: &mut Problems) -> Option<T> {
        match self.files.files.iter().find(|f| f.name == name) {
            Some(file) => parse(file, problems),
            None => {
                problems.add(Problem {
                    file: name.into(),
                    line: 0,
                    column: 0,
                    what: "the file is missing".into(),
                    mend: "a knowledge directory holds every file of the shipped set".into(),
                });
                None
            }
        }
    }

    fn place<'b>(&'b self, file: &'b str, id: &'b str, key: &'b str) -> Place<'b> {
        Place {
            file,
            text: self.files.text(file).unwrap_or(""),
            id,
            key,
        }
    }

    /// Reads and links everything; `local` are materials that overlays add.
    fn knowledge(&self, local: Vec<Material>, problems: &mut Problems) -> Option<Knowledge> {
        let facts: Option<FactsFile> = self.parse("facts.yaml", problems);
        let questions: Option<QuestionsFile> = self.parse("questions.yaml", problems);
        let cautions: Option<CautionsFile> = self.parse("cautions.yaml", problems);
        let advice: Option<AdviceFile> = self.parse("advice.yaml", problems);
        let rates: Option<RatesFile> = self.parse("rates.yaml", problems);
        let materials: Option<MaterialsFile> = self.parse("materials.yaml", problems);
        let citrus: Option<CitrusFile> = self.parse("citrus.yaml", problems);
        let sources: Option<SourcesFile> = self.parse("sources.yaml", problems);
        let pictures: Option<LeafPicturesFile> = self.parse(LEAF_PICTURES, problems);
        let mut walk_files: Vec<(&File, WalkFile)> = Vec::new();
        let mut finding_files: Vec<(&File, FindingsFile)> = Vec::new();
        let mut files: Vec<&File> = self.files.files.iter().collect();
        files.sort_by(|a, b| a.name.cmp(&b.name));
        for file in files {
            if file.name.starts_with("walks/") {
                walk_files.extend(parse(file, problems).map(|w| (file, w)));
            } else if file.name.starts_with("findings/") {
                finding_files.extend(parse(file, problems).map(|f| (file, f)));
            }
        }
        let (facts, questions, cautions, advice) = (facts?, questions?, cautions?, advice?);
        let (rates, mut materials, citrus, sources) = (rates?, materials?, citrus?, sources?);
        materials.materials.extend(local);

        let vocabulary = self.vocabulary(facts, &materials.materials, problems);
        let finding_ids: Vec<String> = finding_files
            .iter()
            .flat_map(|(_, f)| f.findings.iter().map(|f| f.id.clone()))
            .collect();
        let names = Names {
            vocabulary: &vocabulary,
            findings: &finding_ids,
        };
        let link = Linker {
            reader: self,
            names: &names,
        };
        let questions = link.questions(questions, problems);
        let findings = link.findings(finding_files, problems);
        let walks = link.walks(&walk_files, &questions, problems);
        let advice = link.advice(advice, problems);
        let cautions = cautions
            .cautions
            .into_iter()
            .filter_map(|c| link.caution("cautions.yaml", c, problems))
            .collect();
        let pictures = pictures.map_or_else(Vec::new, |file| file.leaf_pictures);
        let text = self.files.text(LEAF_PICTURES).unwrap_or("");
        let leaf_pictures = pictures
            .into_iter()
            .filter_map(|p| LeafPicture::link(p, &vocabulary, LEAF_PICTURES, text, problems))
            .collect();
        let mut rates_model = Rates::default();
        let temperature_source = self.rates(&rates, &mut rates_model, problems);
        let knowledge = Knowledge {
            version: self.files.version(),
            origin: self.files.origin.clone(),
            questions,
            walks,
            findings,
            cautions,
            advice,
            rates: rates_model,
            numbers: rates.numbers,
            temperature_source,
            materials: materials.materials,
            reactions: materials.reactions,
            types: citrus.types,
            leaf_pictures,
            sources: sources.sources,
            vocabulary,
        };
        self.references(&knowledge, problems);
        Some(knowledge)
    }

    fn vocabulary(
        &self,
        file: FactsFile,
        materials: &[Material],
        problems: &mut Problems,
    ) -> Vocabulary {
        let mut vocabulary = Vocabulary::default();
        let lists: Vec<(String, Vec<Choice>)> = file
            .facts
            .iter()
            .map(|f| (f.id.clone(), choices(f)))
            .collect();
        for raw in file.facts {
            let id = raw.id.clone();
            let kind = match self.kind(&raw, &lists, materials, problems) {
                Some(kind) => kind,
                None => continue,
            };
            let fact = Fact {
                id: raw.id,
                role: raw.role,
                kind,
                short: raw.short,
                ask: raw.ask,
                why: raw.why,
                find_out: raw.find_out,
                picture: raw.picture,
                picture_says: raw.picture_says,
                fresh_for: raw.fresh_for,
                optional: raw.optional,
            };
            if fact.role != crate::facts::Role::Worked
                && (fact.ask.is_empty() || fact.why.is_empty() || fact.find_out.is_empty())
            {
                problems.at(
                    self.place("facts.yaml", &id, ""),
                    format!("{id} lacks ask, why or find_out"),
                    "a question says what it asks, why, and how to find out",
                );
            }
            if fact.picture.is_some() != fact.picture_says.is_some() {
                problems.at(
                    self.place("facts.yaml", &id, "picture"),
                    format!("{id}: a picture and picture_says go together"),
                    "describe the drawing in words",
                );
            }
            if vocabulary.add(fact).is_none() {
                problems.at(
                    self.place("facts.yaml", &id, ""),
                    format!("{id} stands there twice"),
                    "give each fact an id of its own",
                );
            }
        }
        vocabulary
    }

    fn kind(
        &self,
        raw: &RawFact,
        lists: &[(String, Vec<Choice>)],
        materials: &[Material],
        problems: &mut Problems,
    ) -> Option<Kind> {
        let place = self.place("facts.yaml", &raw.id, "kind");
        let list = match &raw.choices_from {
            Some(from) => lists
                .iter()
                .find(|(id, _)| id == from)
                .map(|(_, list)| list.clone())
                .unwrap_or_default(),
            None => choices(raw),
        };
        let kind = match raw.kind {
            RawKind::Choice | RawKind::YesNo => Kind::Choice(list),
            RawKind::Material => Kind::Choice(
                materials
                    .iter()
                    .map(|m| Choice {
                        id: m.id.clone(),
                        say: m.name.clone(),
                        words: m.words.iter().map(|w| w.to_lowercase()).collect(),
                    })
                    .collect(),
            ),
            RawKind::Several => {
                let none = raw
                    .none
                    .as_ref()
                    .and_then(|none| list.iter().position(|c| &c.id == none))
                    .and_then(|at| u8::try_from(at).ok());
                if raw.none.is_some() != none.is_some() {
                    problems.at(
                        place,
                        format!("{}: none names no choice of it", raw.id),
                        "name one of its choices",
                    );
                }
                Kind::Several { rows: list, none }
            }
            RawKind::Number => return self.number(raw, problems).map(Kind::Number),
            RawKind::Grade => Kind::Grade,
            RawKind::Rate => Kind::Rate,
            RawKind::Amount => Kind::Amount,
        };
        if let Kind::Choice(list) | Kind::Several { rows: list, .. } = &kind {
            if list.is_empty() || list.len() > 60 {
                problems.at(
                    place,
                    format!("{} needs 1 to 60 choices", raw.id),
                    "add choices",
                );
                return None;
            }
            let mut seen = HashSet::new();
            for choice in list {
                if !seen.insert(&choice.id) {
                    problems.at(
                        place,
                        format!("{}: the choice {} stands there twice", raw.id, choice.id),
                        "give each choice an id of its own",
                    );
                }
            }
        }
        Some(kind)
    }

    fn number(&self, raw: &RawFact, problems: &mut Problems) -> Option<NumberRange> {
        let place = self.place("facts.yaml", &raw.id, "min");
        let (Some(min), Some(max)) = (raw.min, raw.max) else {
            problems.at(
                place,
                format!("{} lacks min or max", raw.id),
                "a number has a range",
            );
            return None;
        };
        let cuts = [min]
            .into_iter()
            .chain(raw.bins.iter().copied())
            .chain([max]);
        let rising = cuts.clone().zip(cuts.skip(1)).all(|(a, b)| a < b);
        if !(min.is_finite() && max.is_finite() && rising) {
            problems.at(
                place,
                format!("{}: min, bins and max must rise and be finite", raw.id),
                "put them in rising order",
            );
            return None;
        }
        let mut next = min;
        let mut bands = Vec::new();
        for (i, band) in raw.bands.iter().enumerate() {
            let last = i.saturating_add(1) == raw.bands.len();
            let from = band.from.unwrap_or(min);
            let below = band.below.unwrap_or(max);
            let closes = !last || band.below.is_none();
            if from.total_cmp(&next).is_ne() || below <= from || !closes {
                problems.at(
                    self.place("facts.yaml", &raw.id, &band.id),
                    format!("{}: the band {} leaves a gap or overlaps", raw.id, band.id),
                    "each band begins where the one before ends; the last has no end",
                );
            }
            next = below;
            bands.push(Band {
                id: band.id.clone(),
                say: band.say.clone(),
                from,
                below,
            });
        }
        Some(NumberRange {
            unit: raw.unit.clone(),
            min,
            max,
            bins: raw.bins.clone(),
            bands,
        })
    }

    fn rates(
        &self,
        file: &RatesFile,
        rates: &mut Rates,
        problems: &mut Problems,
    ) -> (Mark, Vec<String>) {
        let mut seen = HashSet::new();
        for number in &file.numbers {
            let place = self.place("rates.yaml", &number.id, "");
            if !number.value.is_finite() || number.value < 0.0 {
                problems.at(
                    place,
                    format!("{} is not a finite number from 0 up", number.id),
                    "write a plain number",
                );
            }
            if !seen.insert(&number.id) {
                problems.at(
                    place,
                    format!("{} stands there twice", number.id),
                    "keep one of them",
                );
            }
            if !rates.put(&number.id, number.value) {
                let hint = crate::facts::nearest_of(&number.id, Rates::NAMES);
                problems.at(
                    place,
                    format!("no formula knows {}{hint}", number.id),
                    "correct the id",
                );
            }
            if matches!(number.mark, Mark::Published | Mark::SecondHand) && number.source.is_empty()
            {
                problems.at(
                    place,
                    format!(
                        "{} is marked {} without a source",
                        number.id,
                        number.mark.words()
                    ),
                    "name the source, or change the mark",
                );
            }
            if number.mark == Mark::Derived && number.test.is_none() {
                problems.at(
                    place,
                    format!("{} is derived but names no test", number.id),
                    "name the test that works it out again",
                );
            }
        }
        for name in Rates::NAMES {
            if !file.numbers.iter().any(|n| n.id == *name) {
                problems.at(
                    self.place("rates.yaml", "", "numbers"),
                    format!("{name} is missing"),
                    "every formula needs its number",
                );
            }
        }
        let Some(table) = &file.temperature else {
            problems.at(
                self.place("rates.yaml", "", ""),
                "the temperature table is missing",
                "add it",
            );
            return (Mark::OwnChoice, Vec::new());
        };
        let mut next = None;
        for (i, row) in table.rows.iter().enumerate() {
            let first = i == 0;
            let last = i.saturating_add(1) == table.rows.len();
            let whole = [row.resting, row.growing]
                .iter()
                .all(|f| (0.0..=1.0).contains(f));
            if row.from != next
                || first != row.from.is_none()
                || last != row.below.is_none()
                || !whole
            {
                problems.at(
                    self.place("rates.yaml", "", "temperature"),
                    "the temperature rows leave a gap, overlap, or hold a factor outside 0 to 1",
                    "each row begins where the one before ends",
                );
            }
            next = row.below;
        }
        rates.temperature.clone_from(&table.rows);
        (table.mark, table.source.clone())
    }

    /// Every source that is named exists, and ids of one kind are unique.
    fn references(&self, k: &Knowledge, problems: &mut Problems) {
        let known: HashSet<&str> = k.sources.iter().map(|s| s.id.as_str()).collect();
        let mut check = |file: &str, id: &str, sources: &[String]| {
            for source in sources {
                if !known.contains(source.as_str()) {
                    let hint = crate::facts::nearest_of(
                        source,
                        &known.iter().copied().collect::<Vec<_>>(),
                    );
                    problems.at(
                        self.place(file, id, source),
                        format!("{id} names the source {source}, which sources.yaml lacks{hint}"),
                        "add the source, or correct the id",
                    );
                }
            }
        };
        for c in &k.cautions {
            check(&c.file, &c.id, &c.source);
        }
        for f in &k.findings {
            check(&f.file, &f.id, &f.sources);
        }
        for a in &k.advice {
            check("advice.yaml", &a.id, &a.source);
        }
        for p in &k.leaf_pictures {
            check(LEAF_PICTURES, &p.name, &p.source);
        }
        for n in &k.numbers {
            check("rates.yaml", &n.id, &n.source);
        }
        for m in &k.materials {
            for figure in [&m.n, &m.p2o5, &m.k2o].into_iter().chain(&m.acidity) {
                check("materials.yaml", &m.id, &figure.source);
            }
            check("materials.yaml", &m.id, &m.density.source);
        }
        for m in &k.materials {
            if m.words.iter().any(|w| {
                crate::quantity::Grade::parse(w, crate::quantity::GradeBasis::Oxide).is_ok()
            }) {
                problems.at(
                    self.place("materials.yaml", &m.id, "words"),
                    format!("{}: a grade is no other word for a material", m.id),
                    "take it out; the bag in hand may be made of something else",
                );
            }
        }
        let lists: [(&str, Vec<&str>); 6] = [
            (
                "cautions.yaml",
                k.cautions.iter().map(|c| c.id.as_str()).collect(),
            ),
            (
                "findings",
                k.findings.iter().map(|f| f.id.as_str()).collect(),
            ),
            (
                "advice.yaml",
                k.advice.iter().map(|a| a.id.as_str()).collect(),
            ),
            (
                "materials.yaml",
                k.materials.iter().map(|m| m.id.as_str()).collect(),
            ),
            (
                "sources.yaml",
                k.sources.iter().map(|s| s.id.as_str()).collect(),
            ),
            (
                "questions.yaml",
                k.questions.iter().map(|q| q.id.as_str()).collect(),
            ),
        ];
        for (file, ids) in lists {
            let mut seen = HashSet::new();
            for id in ids {
                if !seen.insert(id) {
                    problems.at(
                        self.place(file, id, ""),
                        format!("{id} stands there twice"),
                        "give each entry an id of its own",
                    );
                }
            }
        }
        for finding in &k.findings {
            for other in &finding.lookalikes {
                if !k.findings.iter().any(|f| f.id == other.of) {
                    problems.at(
                        self.place(&finding.file, &finding.id, &other.of),
                        format!("{}: the look-alike {} is no finding", finding.id, other.of),
                        "correct the id",
                    );
                }
            }
        }
    }
}

fn choices(raw: &RawFact) -> Vec<Choice> {
    if raw.kind == RawKind::YesNo {
        return [("yes", "Yes"), ("no", "No")]
            .map(|(id, say)| Choice {
                id: id.into(),
                say: say.into(),
                words: Vec::new(),
            })
            .into();
    }
    raw.choices
        .iter()
        .map(|c| Choice {
            id: c.id.clone(),
            say: c.say.clone(),
            words: c.words.iter().map(|w| w.to_lowercase()).collect(),
        })
        .collect()
}

/// Links conditions and ids against the vocabulary.
pub(super) struct Linker<'a> {
    reader: &'a Reader<'a>,
    names: &'a Names<'a>,
}

impl Linker<'_> {
    fn condition(
        &self,
        file: &str,
        id: &str,
        text: &str,
        problems: &mut Problems,
    ) -> Option<Condition> {
        condition(
            self.names,
            self.reader.place(file, id, text),
            text,
            problems,
        )
    }

    fn fact(&self, file: &str, id: &str, fact: &str, problems: &mut Problems) -> Option<FactId> {
        let found = self.names.vocabulary.find(fact);
        if found.is_none() {
            let hint = self
                .names
                .vocabulary
                .nearest(fact)
                .map_or_else(String::new, |n| format!("; did you mean {n}?"));
            problems.at(
                self.reader.place(file, id, fact),
                format!("{id}: there is no fact {fact}{hint}"),
                "correct the id",
            );
        }
        found
    }

    fn questions(&self, file: QuestionsFile, problems: &mut Problems) -> Vec<Question> {
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
                        sets: self.settings(&raw.id, &row.sets, problems),
                    })
                    .collect();
                let none = self.settings(&raw.id, &raw.none, problems);
                for row in &rows {
                    for (fact, _) in &row.sets {
                        if !none.iter().any(|(f, _)| f == fact) {
                            problems.at(
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

    fn settings(
        &self,
        id: &str,
        map: &serde_yaml::Mapping,
        problems: &mut Problems,
    ) -> Vec<(FactId, Value)> {
        let mut list = Vec::new();
        for (key, value) in map {
            let (Some(key), Some(value)) = (key.as_str(), scalar(value)) else {
                problems.at(
                    self.reader.place("questions.yaml", id, ""),
                    format!("{id}: settings are fact: value"),
                    "write them as fact: value",
                );
                continue;
            };
            let Some(fact) = self.fact("questions.yaml", id, key, problems) else {
                continue;
            };
            match Value::read(self.names.vocabulary.get(fact), &value) {
                Ok(value) => list.push((fact, value)),
                Err(error) => problems.at(
                    self.reader.place("questions.yaml", id, key),
                    format!("{id}: {error}"),
                    "correct the value",
                ),
            }
        }
        list
    }

    fn findings(&self, files: Vec<(&File, FindingsFile)>, problems: &mut Problems) -> Vec<Finding> {
        let mut findings = Vec::new();
        for (file, list) in files {
            for raw in list.findings {
                let mut evidence = |list: Vec<RawEvidence>| -> Vec<Evidence> {
                    list.into_iter()
                        .filter_map(|e| {
                            Some(Evidence {
                                when: self.condition(&file.name, &raw.id, &e.r#if, problems)?,
                                weight: e.r#as,
                                says: e.says,
                            })
                        })
                        .collect()
                };
                let fits = evidence(raw.fits);
                let against = evidence(raw.against);
                let Some(needs) = self.condition(&file.name, &raw.id, &raw.needs, problems) else {
                    continue;
                };
                findings.push(Finding {
                    id: raw.id,
                    name: raw.name,
                    shows: raw.shows,
                    needs,
                    fits,
                    against,
                    what: raw.what,
                    confirm: raw.confirm,
                    today: raw.today,
                    do_not: raw.do_not,
                    lookalikes: raw.lookalikes,
                    feed: raw.feed,
                    after: raw.after,
                    refer: raw.refer,
                    notifiable: raw.notifiable,
                    sources: raw.sources,
                    file: file.name.clone(),
                });
            }
        }
        findings
    }

    fn walks(
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
                Some(condition(
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

    fn advice(&self, file: AdviceFile, problems: &mut Problems) -> Vec<Advice> {
        file.advice
            .into_iter()
            .filter_map(|raw| {
                let when = match &raw.when {
                    Some(text) => self.condition("advice.yaml", &raw.id, text, problems)?,
                    None => Condition::Always,
                };
                Some(Advice {
                    id: raw.id,
                    part: raw.part,
                    walks: raw.walks,
                    when,
                    text: raw.text,
                    why: raw.why,
                    mark: raw.mark,
                    source: raw.source,
                })
            })
            .collect()
    }

    fn caution(&self, file: &str, raw: RawCaution, problems: &mut Problems) -> Option<Caution> {
        caution(
            self.names,
            file,
            self.reader.files.text(file).unwrap_or(""),
            raw,
            problems,
        )
    }
}

/// Links one caution; also used for those of an overlay.
pub(super) fn caution(
    names: &Names<'_>,
    file: &str,
    text: &str,
    raw: RawCaution,
    problems: &mut Problems,
) -> Option<Caution> {
    let place = |key| Place {
        file,
        text,
        id: &raw.id,
        key,
    };
    let when = condition(names, place(&raw.when), &raw.when, problems)?;
    if raw.summary.chars().count() >= SUMMARY {
        problems.at(
            place("summary"),
            format!("{}: the summary has {SUMMARY} characters or more", raw.id),
            "shorten it; the detail may be longer",
        );
    }
    if raw.level >= Level::Hold && raw.until.is_none() {
        problems.at(
            place("level"),
            format!("{}: a stop or hold says until when", raw.id),
            "add until: {days: N}",
        );
    }
    if matches!(raw.mark, Mark::Published | Mark::SecondHand) && raw.source.is_empty() {
        problems.at(
            place("mark"),
            format!("{} is marked {} without a source", raw.id, raw.mark.words()),
            "name the source, or change the mark",
        );
    }
    Some(Caution {
        level: raw.level,
        gate: raw.gate,
        when,
        hazard: raw.hazard,
        summary: raw.summary,
        detail: raw.detail,
        lifts: raw.lifts,
        days: raw.until.map(|u| u.days),
        mark: raw.mark,
        source: raw.source,
        file: file.to_owned(),
        id: raw.id,
    })
}

fn condition(
    names: &Names<'_>,
    place: Place<'_>,
    text: &str,
    problems: &mut Problems,
) -> Option<Condition> {
    match parse_condition(names, text) {
        Ok(condition) => {
            let facts = condition.facts().len();
            if facts > MOST_FACTS {
                problems.at(
                    place,
                    format!("\"{text}\" names {facts} facts; at most {MOST_FACTS} are allowed"),
                    "split the rule in two",
                );
            }
            Some(condition)
        }
        Err(error) => {
            problems.at(
                place,
                format!("in \"{text}\", {error}"),
                "docs/writing-knowledge.md explains conditions",
            );
            None
        }
    }
}

/// A YAML scalar as text.
pub(super) fn scalar(value: &serde_yaml::Value) -> Option<String> {
    match value {
        serde_yaml::Value::String(s) => Some(s.clone()),
        serde_yaml::Value::Number(n) => Some(n.to_string()),
        serde_yaml::Value::Bool(b) => Some(if *b { "yes" } else { "no" }.into()),
        _ => None,
    }
}
