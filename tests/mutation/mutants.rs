//! Small wrongs done to a rule: what a slip in the YAML could look like.

use tubgrove::facts::{Compare, Condition, Kind};
use tubgrove::knowledge::{Knowledge, Level, TemperatureRow};

/// Where the wrong is done.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Place {
    /// The condition of the caution at this place.
    Caution(usize, Condition),
    /// The level of the caution at this place.
    Level(usize, Level),
    /// The needs of the finding at this place.
    Needs(usize, Condition),
    /// The temperature table.
    Temperature(Vec<TemperatureRow>),
}

/// One wrong.
#[derive(Debug, Clone)]
pub(crate) struct Mutant {
    /// Such as `caution fed_lately: days_since_feed < 15`.
    pub(crate) name: String,
    /// Where.
    pub(crate) place: Place,
}

/// A condition that never holds.
pub(crate) fn never() -> Condition {
    Condition::Not(Box::new(Condition::Always))
}

/// The smallest step by which a number of this unit is told.
fn step(unit: &str) -> f64 {
    match unit {
        "°C" | "dS/m" | "pH" | "L" => 0.1,
        _ => 1.0,
    }
}

/// The condition in the words of the YAML.
pub(crate) fn words(k: &Knowledge, when: &Condition) -> String {
    let name = |f| k.vocabulary.get(f).id.clone();
    let picked = |f, mask: u64| {
        let choices = k.vocabulary.get(f).choices();
        let ids: Vec<&str> = choices
            .iter()
            .enumerate()
            .filter(|(i, _)| mask >> i & 1 == 1)
            .map(|(_, c)| c.id.as_str())
            .collect();
        ids.join("/")
    };
    let joined = |parts: &[Condition], with: &str| {
        let parts: Vec<String> = parts.iter().map(|p| words(k, p)).collect();
        format!("({})", parts.join(with))
    };
    match when {
        Condition::Always => "always".into(),
        Condition::Is(f, mask) => format!("{} is {}", name(*f), picked(*f, *mask)),
        Condition::Has(f, mask) => format!("{} has {}", name(*f), picked(*f, *mask)),
        Condition::Number(f, compare, at) => {
            let sign = match compare {
                Compare::Below => "<",
                Compare::AtMost => "<=",
                Compare::Above => ">",
                Compare::AtLeast => ">=",
            };
            format!("{} {sign} {}", name(*f), (at * 1000.0).round() / 1000.0)
        }
        Condition::Known(f, true) => format!("{} known", name(*f)),
        Condition::Known(f, false) => format!("{} unknown", name(*f)),
        Condition::AnyFinding(standing) => format!("finding any is {standing:?}"),
        Condition::Finding(at, standing) => {
            format!("finding {} is {standing:?}", k.findings[*at].id)
        }
        Condition::Not(inner) => format!("not {}", words(k, inner)),
        Condition::Perhaps(inner) => format!("perhaps {}", words(k, inner)),
        Condition::All(parts) => joined(parts, " and "),
        Condition::Any(parts) => joined(parts, " or "),
    }
}

/// Every way to do one wrong somewhere inside a condition.
fn wrongs(k: &Knowledge, when: &Condition) -> Vec<Condition> {
    let mut found = Vec::new();
    match when {
        Condition::Number(f, compare, at) => {
            let Kind::Number(range) = &k.vocabulary.get(*f).kind else {
                return found;
            };
            let step = step(&range.unit);
            found.extend([at - step, at + step].map(|at| Condition::Number(*f, *compare, at)));
            let other = match compare {
                Compare::Below => Compare::AtMost,
                Compare::AtMost => Compare::Below,
                Compare::Above => Compare::AtLeast,
                Compare::AtLeast => Compare::Above,
            };
            found.push(Condition::Number(*f, other, *at));
        }
        Condition::Not(inner) => {
            found.push((**inner).clone());
            found.extend(
                wrongs(k, inner)
                    .into_iter()
                    .map(|w| Condition::Not(Box::new(w))),
            );
        }
        Condition::Perhaps(inner) => {
            found.push((**inner).clone());
            found.extend(
                wrongs(k, inner)
                    .into_iter()
                    .map(|w| Condition::Perhaps(Box::new(w))),
            );
        }
        Condition::All(parts) | Condition::Any(parts) => {
            let all = matches!(when, Condition::All(_));
            let join = |parts: Vec<Condition>, all| {
                if all {
                    Condition::All(parts)
                } else {
                    Condition::Any(parts)
                }
            };
            found.push(join(parts.clone(), !all));
            for at in 0..parts.len() {
                let mut fewer = parts.clone();
                fewer.remove(at);
                found.push(join(fewer, all));
                for wrong in wrongs(k, &parts[at]) {
                    let mut changed = parts.clone();
                    changed[at] = wrong;
                    found.push(join(changed, all));
                }
            }
        }
        // A choice too few in a list is a slip too.
        Condition::Is(f, mask) | Condition::Has(f, mask) if mask.count_ones() > 1 => {
            for bit in (0..64).filter(|b| mask >> b & 1 == 1) {
                let fewer = mask & !(1_u64 << bit);
                found.push(match when {
                    Condition::Is(..) => Condition::Is(*f, fewer),
                    _ => Condition::Has(*f, fewer),
                });
            }
        }
        _ => {}
    }
    found
}

/// The wrongs of one condition as a whole and inside it.
fn of_condition(k: &Knowledge, when: &Condition) -> Vec<(String, Condition)> {
    let mut found = vec![
        ("dropped".to_owned(), never()),
        ("negated".to_owned(), Condition::Not(Box::new(when.clone()))),
    ];
    found.extend(wrongs(k, when).into_iter().map(|w| (words(k, &w), w)));
    found
}

fn lower(level: Level) -> Option<Level> {
    match level {
        Level::Stop => Some(Level::Hold),
        Level::Hold => Some(Level::Reduce),
        Level::Reduce => Some(Level::Care),
        Level::Care => Some(Level::Note),
        Level::Note => None,
    }
}

/// The table with one edge moved, one edge on the other side, or one factor a step away.
fn of_temperature(rows: &[TemperatureRow]) -> Vec<(String, Vec<TemperatureRow>)> {
    let mut found = Vec::new();
    for at in 1..rows.len() {
        let edge = rows[at].from.unwrap();
        // Below a degree's tenth there is no difference between "below" and "at most" but the edge itself.
        for (moved, name) in [
            (edge - 0.1, "a tenth lower"),
            (edge + 0.1, "a tenth higher"),
            (edge + 1e-9, "the edge itself below"),
        ] {
            let mut table = rows.to_vec();
            table[at - 1].below = Some(moved);
            table[at].from = Some(moved);
            found.push((format!("edge {edge}: {name}"), table));
        }
    }
    for at in 0..rows.len() {
        for (growing, name) in [(true, "growing"), (false, "resting")] {
            for other in [0.0, 0.5, 0.75, 1.0] {
                let mut table = rows.to_vec();
                let factor = if growing {
                    &mut table[at].growing
                } else {
                    &mut table[at].resting
                };
                // One step up or down the ladder of factors.
                if *factor != other && (*factor - other).abs() <= 0.5 {
                    *factor = other;
                    let from = rows[at].from.unwrap_or(f64::NEG_INFINITY);
                    found.push((format!("row from {from}, {name}: {other}"), table));
                }
            }
        }
    }
    found
}

/// Every mutant of the rules.
pub(crate) fn all(k: &Knowledge) -> Vec<Mutant> {
    let mut mutants = Vec::new();
    for (at, c) in k.cautions.iter().enumerate() {
        for (what, when) in of_condition(k, &c.when) {
            mutants.push(Mutant {
                name: format!("caution {}: {what}", c.id),
                place: Place::Caution(at, when),
            });
        }
        if let Some(level) = lower(c.level) {
            mutants.push(Mutant {
                name: format!("caution {}: {level:?}", c.id),
                place: Place::Level(at, level),
            });
        }
    }
    for (at, f) in k.findings.iter().enumerate() {
        for (what, needs) in of_condition(k, &f.needs) {
            mutants.push(Mutant {
                name: format!("finding {}: {what}", f.id),
                place: Place::Needs(at, needs),
            });
        }
    }
    for (what, table) in of_temperature(&k.rates.temperature) {
        mutants.push(Mutant {
            name: format!("temperature {what}"),
            place: Place::Temperature(table),
        });
    }
    mutants
}
