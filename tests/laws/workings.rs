//! The workings of a plan read back from the page: each printed formula, reckoned anew from its printed numbers, gives the
//! figure beside it; each constant is the one of the tables; each limit that is named is the one that binds.

use super::trees::{seeded, told};
use super::{bank, good_day, knowledge, with};
use std::collections::{BTreeMap, BTreeSet};
use tubgrove::dose::Figure;
use tubgrove::facts::Sheet;
use tubgrove::plan::{Advisor, Plan};

/// What a printed number stands for: it was rounded to four digits, so a stretch around it. 2.3 may be 2.2999.
type Stretch = (f64, f64);

fn printed(x: f64) -> Stretch {
    if x == 0.0 {
        return (x, x);
    }
    let unit = 10_f64.powf(x.abs().log10().floor() - 3.0);
    (x - unit / 2.0, x + unit / 2.0)
}

fn both(a: Stretch, b: Stretch, f: impl Fn(f64, f64) -> f64) -> Stretch {
    let all = [f(a.0, b.0), f(a.0, b.1), f(a.1, b.0), f(a.1, b.1)];
    (
        all.iter().copied().fold(f64::INFINITY, f64::min),
        all.iter().copied().fold(f64::NEG_INFINITY, f64::max),
    )
}

/// One entry of a list, with the words behind it.
struct Entry {
    value: Stretch,
    words: String,
}

/// Reads a formula from left to right.
struct Reader<'t> {
    rest: &'t str,
    /// Every number with its words.
    numbers: Vec<(f64, String)>,
    /// The entries of the outermost list.
    list: Vec<Entry>,
}

impl<'t> Reader<'t> {
    fn new(text: &'t str) -> Self {
        Reader {
            rest: text,
            numbers: Vec::new(),
            list: Vec::new(),
        }
    }

    fn takes(&mut self, what: &str) -> bool {
        match self.rest.strip_prefix(what) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    fn line(&mut self) -> Stretch {
        let list = ["smaller", "smallest", "larger", "largest"]
            .into_iter()
            .find(|word| self.takes(&format!("the {word} of: ")));
        let mut value = match list {
            None => self.sum(),
            Some(word) => {
                let mut all = Vec::new();
                loop {
                    let before = self.numbers.len();
                    let value = self.sum();
                    let words = match &self.numbers[before..] {
                        [(_, words)] => words.clone(),
                        _ => String::new(),
                    };
                    all.push(Entry { value, words });
                    if !self.takes("; ") {
                        break;
                    }
                }
                assert_eq!(all.len() == 2, word.ends_with('r'), "{word}: {}", all.len());
                let end = |f: fn(&Stretch) -> f64| {
                    let all = all.iter().map(|e| f(&e.value));
                    if word.starts_with('s') {
                        all.fold(f64::INFINITY, f64::min)
                    } else {
                        all.fold(f64::NEG_INFINITY, f64::max)
                    }
                };
                let value = (end(|s| s.0), end(|s| s.1));
                self.list = all;
                value
            }
        };
        if self.takes(", rounded down") {
            // To two digits at the coarsest.
            let unit = 10_f64.powf(value.0.log10().floor() - 1.0);
            if value.0 > 0.0 {
                value.0 = (value.0 / unit * (1.0 + 1e-9)).floor() * unit;
            }
        } else if self.takes(", rounded up") {
            value.1 = (value.1 - 1e-9).ceil();
        }
        value
    }

    fn sum(&mut self) -> Stretch {
        let mut value = self.product();
        loop {
            if self.takes(" + ") {
                value = both(value, self.product(), |a, b| a + b);
            } else if self.takes(" − ") {
                value = both(value, self.product(), |a, b| a - b);
            } else {
                return value;
            }
        }
    }

    fn product(&mut self) -> Stretch {
        let mut value = self.factor();
        loop {
            if self.takes(" × ") {
                value = both(value, self.factor(), |a, b| a * b);
            } else if self.takes(" ÷ ") {
                value = both(value, self.factor(), |a, b| a / b);
            } else {
                return value;
            }
        }
    }

    fn factor(&mut self) -> Stretch {
        if self.takes("−ln(") {
            let (low, high) = self.line();
            assert!(self.takes(")"), "{}", self.rest);
            return (-high.ln(), -low.ln());
        }
        for (name, f) in [
            ("∛(", f64::cbrt as fn(f64) -> f64),
            ("2^(", f64::exp2),
            ("(", |x| x),
        ] {
            if self.takes(name) {
                let (low, high) = self.line();
                assert!(self.takes(")"), "{}", self.rest);
                return (f(low), f(high));
            }
        }
        let end = self
            .rest
            .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-'))
            .unwrap_or(self.rest.len());
        let number: f64 = self.rest[..end]
            .parse()
            .unwrap_or_else(|e| panic!("{e}: {}", self.rest));
        self.rest = &self.rest[end..];
        // A unit runs up to what comes next; words stand in brackets behind it.
        let stops = [" × ", " ÷ ", " + ", " − ", "; ", ", rounded", ")", " ("];
        let end = stops
            .iter()
            .filter_map(|s| self.rest.find(s))
            .min()
            .unwrap_or(self.rest.len());
        self.rest = &self.rest[end..];
        let mut words = String::new();
        if self.takes(" (") {
            let end = self.rest.find(')').expect("a closing bracket");
            words = self.rest[..end].to_owned();
            self.rest = &self.rest[end + 1..];
        }
        self.numbers.push((number, words));
        printed(number)
    }
}

/// A formula with what it says it was limited by.
fn parts(f: &Figure) -> (&str, Option<&str>) {
    match f.formula.split_once(". Limited by: ") {
        Some((formula, by)) => (formula, Some(by)),
        None => (&f.formula, None),
    }
}

/// Constants as `From:` prints them, and rows of the temperature table.
fn constants() -> BTreeSet<String> {
    let k = knowledge();
    k.numbers
        .iter()
        .map(|n| format!("{} {} ", tubgrove::quantity::show_number(n.value), n.unit))
        .collect()
}

#[derive(Default)]
struct Seen {
    figures: usize,
    limits: BTreeMap<String, usize>,
    names: BTreeMap<String, usize>,
    /// Doses whose printed digits leave open which of two limits is the lower.
    ties: usize,
}

/// What is wrong with the workings of a plan.
fn faults(plan: &Plan, constants: &BTreeSet<String>, seen: &mut Seen) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut known: BTreeMap<&str, &Figure> = BTreeMap::new();
    let bare = |name: &str| name.rsplit(": ").next().unwrap_or_default().to_owned();
    for f in &plan.working {
        seen.figures += 1;
        *seen.names.entry(f.name.clone()).or_default() += 1;
        let (formula, _) = parts(f);
        let mut reader = Reader::new(formula);
        let (low, high) = reader.line();
        let said = printed(f.value);
        let slack = 1e-9 * (1.0 + f.value.abs());
        if !reader.rest.is_empty() {
            wrong.push(format!("{}: cannot read “{}”", f.name, reader.rest));
        } else if !(low <= said.1 + slack && high >= said.0 - slack) {
            wrong.push(format!(
                "{} = {}: {formula} is {low} to {high}",
                f.name, f.value
            ));
        }
        // A number with the name of an earlier figure has its value.
        for (number, words) in &reader.numbers {
            let named = plan.working.iter().filter(|g| {
                let own = g.name.strip_prefix("our own ").unwrap_or(&g.name);
                own == words || bare(&g.name) == *words
            });
            let values: Vec<f64> = named.map(|g| g.value).collect();
            if !values.is_empty() && !values.contains(number) {
                wrong.push(format!("{}: {number} ({words}) is {values:?}", f.name));
            }
        }
        for line in f.source.split("; ") {
            let constant = line.split_once('(').map(|(constant, _)| constant);
            let Some(constant) = constant.filter(|c| c.starts_with(|c: char| c.is_ascii_digit()))
            else {
                continue;
            };
            let value: f64 = constant.split(' ').next().unwrap().parse().unwrap();
            let used = |x: &(f64, String)| (x.0 - value).abs() <= 1e-3 * value.abs();
            if !constants.contains(constant) {
                wrong.push(format!("{}: no constant {constant}", f.name));
            } else if !reader.numbers.iter().any(used) {
                wrong.push(format!("{}: {constant} is not in {formula}", f.name));
            }
        }
        known.insert(&f.name, f);
    }
    let Some(dose) = &plan.dose else {
        return wrong;
    };
    // A feed that would meet the cold is put off, and the plan then says when the last one is used up.
    let next = ["next feed", "next Epsom salt"].map(|n| known.get(n).map(|f| f.value));
    let next: Vec<f64> = next.into_iter().flatten().collect();
    if !plan.next.why.starts_with("It is used up") && next != [f64::from(plan.next.days)] {
        wrong.push(format!("next {next:?}, but in {} days", plan.next.days));
    }
    for portion in &dose.portions {
        let of = match portion.how {
            "top_dress" => "slow feed",
            "epsom" => "Epsom salt",
            _ => "ready feed",
        };
        if portion.as_typed.is_some() {
            continue;
        }
        let planned = known.get(format!("{of}: no more than planned").as_str());
        let shown = planned.or_else(|| known.get(of));
        let Some(shown) = shown else {
            wrong.push(format!("no figure for {of}"));
            continue;
        };
        if (shown.value - portion.g).abs() > 1e-3 * portion.g {
            wrong.push(format!("{of} {} on a dose of {}", shown.value, portion.g));
        }
        let by = match (planned, of) {
            (Some(_), _) => vec!["what you planned".to_owned()],
            (None, "Epsom salt") => binding(&known, of)
                .into_iter()
                .map(|words| match words.as_str() {
                    "the label" => words,
                    _ => "twice a year at most".to_owned(),
                })
                .collect(),
            (None, _) => binding(&known, &format!("{of}: before rounding")),
        };
        *seen
            .limits
            .entry(format!("{of}: {}", portion.limit))
            .or_default() += 1;
        seen.ties += usize::from(by.len() > 1);
        if !by.contains(&portion.limit) {
            wrong.push(format!("{of}: “{}”, but {by:?} binds", portion.limit));
        }
        for name in [of.to_owned(), format!("{of}: before rounding")] {
            let said = known.get(name.as_str()).and_then(|f| parts(f).1);
            if said.is_some_and(|said| planned.is_none() && said != portion.limit) {
                wrong.push(format!("{name}: limited by {said:?}, not {by:?}"));
            }
        }
    }
    wrong
}

/// The words of the smallest entry of a figure's list, followed into the figure that the entry stands for; several where the
/// printed digits do not tell them apart.
fn binding(known: &BTreeMap<&str, &Figure>, name: &str) -> Vec<String> {
    let Some(figure) = known.get(name) else {
        return Vec::new();
    };
    let (formula, _) = parts(figure);
    if formula.contains("(label not known)") {
        return vec!["the label not being known: half".into()];
    }
    let mut reader = Reader::new(formula);
    reader.line();
    let words: Vec<String> = if reader.list.is_empty() {
        reader
            .numbers
            .first()
            .map(|(_, words)| words.clone())
            .into_iter()
            .collect()
    } else {
        let least = reader.list.iter().map(|e| e.value.1);
        let least = least.fold(f64::INFINITY, f64::min);
        let lowest = reader.list.iter().filter(|e| e.value.0 <= least);
        lowest.map(|e| e.words.clone()).collect()
    };
    let of = name.split(": ").next().unwrap_or_default();
    words
        .into_iter()
        .flat_map(|words| match words.as_str() {
            "by its nitrogen" | "its nitrogen, at most" => {
                binding(known, &format!("{of}: {words}"))
            }
            _ => vec![words],
        })
        .collect()
}

fn check(plans: impl Iterator<Item = (String, Plan)>) -> (usize, Seen) {
    let constants = constants();
    let (mut doses, mut seen, mut wrong) = (0, Seen::default(), Vec::new());
    for (name, plan) in plans {
        if plan.working.is_empty() {
            assert!(plan.dose.is_none(), "{name}: a dose without workings");
            continue;
        }
        doses += 1;
        let faults = faults(&plan, &constants, &mut seen);
        wrong.extend(faults.into_iter().map(|w| format!("{name}: {w}")));
    }
    println!(
        "{doses} doses, {} figures, {} ties, {:?}, {:?}",
        seen.figures, seen.ties, seen.limits, seen.names
    );
    let some: Vec<&String> = wrong.iter().take(40).collect();
    assert!(wrong.is_empty(), "{}: {some:#?}", wrong.len());
    (doses, seen)
}

/// Every story of the bank.
#[test]
fn a_printed_formula_gives_its_figure_in_every_story() {
    let (doses, seen) = check(told(knowledge()));
    assert!(doses > 100 && seen.figures > 2000, "{doses}");
}

/// And thousands of random trees, which meet every limit there is.
#[test]
fn a_printed_formula_gives_its_figure_for_random_trees() {
    let k = knowledge();
    let advisor = Advisor::new(k, jiff::civil::date(2026, 12, 5)).unwrap();
    let walk = k.walk("precheck").unwrap();
    let plans = seeded(6000).map(|(name, changes)| {
        let changes: Vec<(&str, &str)> = changes.iter().map(|(f, v)| (*f, *v)).collect();
        let sheet: Sheet = with(&start(&changes), &changes);
        (name, advisor.plan(walk, &sheet))
    });
    let (doses, seen) = check(plans);
    assert!(doses > 1500 && seen.ties < doses / 10, "{doses}");
    for met in [
        "ready feed: the need",
        "ready feed: the nitrogen of the can",
        "ready feed: the salt of the can",
        "ready feed: its phosphate",
        "ready feed: its potash",
        "ready feed: the label",
        "ready feed: the label not being known: half",
        "ready feed: what both feeds give together",
        "ready feed: what you planned",
        "slow feed: the need",
        "slow feed: the most in one go",
        "slow feed: what both feeds give together",
        "slow feed: the label",
        "Epsom salt: the label",
        "Epsom salt: what you planned",
        "Epsom salt: twice a year at most",
    ] {
        assert!(seen.limits.contains_key(met), "{met}: {:?}", seen.limits);
    }
}

/// The law itself: a figure, a number, a constant or a limit that is wrong is told.
#[test]
fn a_wrong_working_is_found() {
    let k = knowledge();
    let advisor = Advisor::new(k, jiff::civil::date(2026, 12, 5)).unwrap();
    let plan = || advisor.plan(k.walk("precheck").unwrap(), &good_day());
    let found = |plan: &Plan| faults(plan, &constants(), &mut Seen::default()).len();
    assert_eq!(found(&plan()), 0);
    for at in 0..plan().working.len() {
        let mut wrong = plan();
        wrong.working[at].value *= 1.01;
        // A rounded-up or rounded-down figure may hide a hundredth in its own line, never in the next.
        assert!(found(&wrong) > 0, "{:?}", wrong.working[at]);
    }
    let swap = |of: &str, from: &str, to: &str| {
        let mut wrong = plan();
        let figure = wrong.working.iter_mut().find(|f| f.name == of).expect(of);
        for text in [&mut figure.formula, &mut figure.source] {
            *text = text.replace(from, to);
        }
        found(&wrong)
    };
    assert!(swap("need a week", "×", "÷") > 0);
    assert!(swap("can", "0.15", "0.3") > 0);
    assert!(swap("base need", "35", "36") > 0);
    let mut wrong = plan();
    for portion in &mut wrong.dose.as_mut().unwrap().portions {
        portion.limit = "its potash".into();
    }
    assert!(found(&wrong) > 0);
}

fn start(changes: &[(&str, &str)]) -> Sheet {
    if changes.contains(&("product_kind", "epsom_salt")) {
        bank::sheet(knowledge(), &[&bank::bases()["epsom_day"]])
    } else {
        good_day()
    }
}
