//! What was known when a feed was entered, written with its entry: phosphate and potash in it, its label, the life of its beads, and
//! the pot.
//!
//! Shelf, pot and place change afterwards: a bag is emptied and retired, a tree gets a larger pot. What was given stays what it was,
//! so nothing that is said later makes it less. Entries of older formats, and such that come in from outside without it, get it
//! from the words of their day.

use super::event::{Event, Kind};
use super::said::STANDS;
use super::subject::List;
use crate::quantity::{
    Grade, GradeBasis, Interval, LabelRate, Measure, Per, SpoonSystem, parse_days, parse_in_unit,
};
use rusqlite::{Connection, Row};
use std::collections::HashMap;

/// What an entry knows of its day; `None` where it was not on record then.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Then {
    /// mg of P2O5 in it, at most.
    pub p2o5_mg: Option<f64>,
    /// mg of K2O in it, at most.
    pub k2o_mg: Option<f64>,
    /// Days that its label says at least.
    pub label_days: Option<f64>,
    /// Grams for a pot, as its label says.
    pub label_pot_g: Option<f64>,
    /// Grams for a litre of mix, as its label says.
    pub label_litre_g: Option<f64>,
    /// Weeks that its beads last at least.
    pub weeks_least: Option<f64>,
    /// Weeks that its beads last at most.
    pub weeks_most: Option<f64>,
    /// Litres of the pot.
    pub pot_litres: Option<f64>,
    /// Whether the pot was a self-watering one; `None` only before it is written.
    pub reservoir: Option<bool>,
    /// Whether the tree bears weak cans only: a seedling, indoors, or in a self-watering pot.
    pub gentle: Option<bool>,
}

/// Its columns, in this order; they follow those of the event.
pub(super) const COLUMNS: [&str; 10] = [
    "p2o5_mg",
    "k2o_mg",
    "label_days",
    "label_pot_g",
    "label_litre_g",
    "weeks_least",
    "weeks_most",
    "pot_litres",
    "reservoir",
    "gentle",
];

/// What the words on a product say.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Bag {
    /// mg of nitrogen in a gram.
    pub(super) nitrogen: Option<f64>,
    /// mg of P2O5 and of K2O in a gram, at most.
    pub(super) phosphate_and_potash: Option<[f64; 2]>,
    pub(super) label_days: Option<f64>,
    pub(super) rate: Option<LabelRate>,
    pub(super) weeks: Option<Interval>,
    pub(super) density: Option<f64>,
}

impl Bag {
    pub(super) fn of<'w>(word: impl Fn(&str) -> Option<&'w str>) -> Self {
        let basis = match word("grade_basis") {
            Some("element") => Some(GradeBasis::Element),
            Some("oxide") => Some(GradeBasis::Oxide),
            _ => None,
        };
        let plain = word("material").is_some_and(|m| m != "not_sure");
        let grade = word("product_grade").and_then(|g| Grade::parse(g, GradeBasis::Oxide).ok());
        Self {
            nitrogen: grade.map(|g| g.n() * 10.0),
            phosphate_and_potash: grade
                .map(|g| g.phosphate_and_potash(basis, plain).1.map(|p| p * 10.0)),
            label_days: word("label_interval_days")
                .and_then(|v| parse_days(v).ok())
                .map(Interval::hi),
            rate: word("label_rate").and_then(|r| LabelRate::parse(r).ok()),
            weeks: word("coated_life_weeks").and_then(|v| parse_in_unit(v, "weeks").ok()),
            density: word("density").and_then(|d| d.parse().ok()),
        }
    }

    /// Grams that the label says, where it says them in grams or the product was weighed.
    fn label_grams(&self) -> Option<f64> {
        let amount = self.rate?.amount;
        match (amount, self.density) {
            (Measure::Grams(g), _) => Some(g),
            (_, Some(density)) => amount
                .millilitres(SpoonSystem::Australian)
                .map(|ml| ml * density),
            (_, None) => None,
        }
    }
}

/// Words as they stood on a day, by what they are about.
type Words = HashMap<String, String>;

/// The words on a tree or product as they stood on the day of an entry; what was only said later, but before it was entered,
/// is known, too.
fn words(db: &Connection, list: List, id: i64, e: &Event) -> rusqlite::Result<Words> {
    let (whose, which) = match list {
        List::Tree => ("tree", "'pot_volume', 'pot_kind', 'tree_stage', 'place'"),
        List::Product => (
            "product",
            "'product_grade', 'grade_basis', 'material', 'label_rate', 'label_interval_days', 'coated_life_weeks', 'density'",
        ),
    };
    let mut words = Words::new();
    let mut select = db.prepare(&format!(
        "SELECT what, value, day <= ?2 FROM said WHERE {whose} = ?1 AND what IN ({which})
         AND {STANDS} ORDER BY day, seq"
    ))?;
    let mut rows = select.query((id, e.day.to_string()))?;
    while let Some(row) = rows.next()? {
        let (what, value, by_then): (String, String, bool) =
            (row.get(0)?, row.get(1)?, row.get(2)?);
        if by_then {
            words.insert(what, value);
        } else {
            words.entry(what).or_insert(value);
        }
    }
    Ok(words)
}

impl Then {
    /// What the record knows of the day of an entry, and mg of nitrogen in it; what the entry brings itself stands.
    pub(super) fn of(db: &Connection, e: &Event) -> rusqlite::Result<(Self, Option<f64>)> {
        let brought = e.then;
        let (Kind::Feed | Kind::Epsom, Some(tree)) = (e.kind, e.tree) else {
            return Ok((brought, e.n_mg));
        };
        let pot = words(db, List::Tree, tree, e)?;
        let bag = match e.product {
            Some(product) => {
                let words = words(db, List::Product, product, e)?;
                Bag::of(|what| words.get(what).map(String::as_str))
            }
            None => Bag::default(),
        };
        let is = |what: &str, value: &str| pot.get(what).is_some_and(|v| v == value);
        let reservoir = is("pot_kind", "reservoir");
        let gentle = reservoir || is("tree_stage", "seedling") || is("place", "indoors");
        let other = bag
            .phosphate_and_potash
            .zip(e.grams)
            .map(|(per_gram, grams)| per_gram.map(|p| p * grams));
        let label = |per: fn(Per) -> Option<f64>| {
            bag.rate
                .and_then(|r| per(r.per))
                .zip(bag.label_grams())
                .map(|(of, grams)| grams / of)
        };
        let nitrogen = bag.nitrogen.zip(e.grams).map(|(n, grams)| n * grams);
        let n_mg = e.n_mg.or(nitrogen.filter(|_| e.kind == Kind::Feed));
        let then = Self {
            p2o5_mg: brought.p2o5_mg.or(other.map(|[p, _]| p)),
            k2o_mg: brought.k2o_mg.or(other.map(|[_, k]| k)),
            label_days: brought.label_days.or(bag.label_days),
            label_pot_g: brought
                .label_pot_g
                .or_else(|| label(|per| matches!(per, Per::Pot).then_some(1.0))),
            label_litre_g: brought.label_litre_g.or_else(|| {
                label(|per| match per {
                    Per::LitresOfMix(l) | Per::LitresOfWater(l) => Some(l).filter(|l| *l > 0.0),
                    Per::Pot | Per::Tree => None,
                })
            }),
            weeks_least: brought.weeks_least.or(bag.weeks.map(Interval::lo)),
            weeks_most: brought.weeks_most.or(bag.weeks.map(Interval::hi)),
            pot_litres: brought
                .pot_litres
                .or_else(|| litres(pot.get("pot_volume")?)),
            reservoir: brought.reservoir.or(Some(reservoir)),
            gentle: brought.gentle.or(Some(gentle)),
        };
        Ok((then, n_mg))
    }

    /// Reads the columns from this one on.
    pub(super) fn read(row: &Row<'_>, at: usize) -> rusqlite::Result<Self> {
        let figure = |n: usize| -> rusqlite::Result<Option<f64>> {
            let figure: Option<f64> = row.get(at.saturating_add(n))?;
            Ok(figure.filter(|x| x.is_finite() && *x >= 0.0))
        };
        Ok(Self {
            p2o5_mg: figure(0)?,
            k2o_mg: figure(1)?,
            label_days: figure(2)?,
            label_pot_g: figure(3)?,
            label_litre_g: figure(4)?,
            weeks_least: figure(5)?,
            weeks_most: figure(6)?,
            pot_litres: figure(7)?,
            reservoir: row.get(at.saturating_add(8))?,
            gentle: row.get(at.saturating_add(9))?,
        })
    }

    /// Figures and marks in the order of the columns.
    pub(super) fn from_values(values: [Option<f64>; 10]) -> Self {
        let mark = |x: Option<f64>| x.map(|x| x > 0.0);
        let [
            p2o5_mg,
            k2o_mg,
            label_days,
            label_pot_g,
            label_litre_g,
            weeks_least,
            weeks_most,
            pot_litres,
            reservoir,
            gentle,
        ] = values;
        Self {
            p2o5_mg,
            k2o_mg,
            label_days,
            label_pot_g,
            label_litre_g,
            weeks_least,
            weeks_most,
            pot_litres,
            reservoir: mark(reservoir),
            gentle: mark(gentle),
        }
    }

    /// Its figures and marks in the order of the columns.
    pub(super) fn values(&self) -> [Option<f64>; 10] {
        let mark = |yes: bool| if yes { 1.0 } else { 0.0 };
        [
            self.p2o5_mg,
            self.k2o_mg,
            self.label_days,
            self.label_pot_g,
            self.label_litre_g,
            self.weeks_least,
            self.weeks_most,
            self.pot_litres,
            self.reservoir.map(mark),
            self.gentle.map(mark),
        ]
    }
}

/// Litres of a size as it is kept, where it can be one.
pub(super) fn litres(size: &str) -> Option<f64> {
    parse_in_unit(size, "L")
        .ok()
        .and_then(Interval::mid)
        .filter(|l| *l > 0.0)
}

/// Writes with every feed that lacks it what the words of its day tell. The one change that rows of events ever see: their own
/// columns are left as they are.
pub(super) fn fill(db: &Connection) -> rusqlite::Result<()> {
    let lacking: Vec<Event> = db
        .prepare(&format!(
            "SELECT {} FROM event WHERE kind IN ('feed', 'epsom') AND tree IS NOT NULL AND reservoir IS NULL",
            super::event::COLUMNS
        ))?
        .query_map([], super::event::event)?
        .collect::<rusqlite::Result<_>>()?;
    if lacking.is_empty() {
        return Ok(());
    }
    db.execute_batch("DROP TRIGGER event_stays")?;
    let set = COLUMNS
        .iter()
        .enumerate()
        .map(|(n, c)| format!("{c} = ?{}", n.saturating_add(2)))
        .collect::<Vec<_>>()
        .join(", ");
    let mut update = db.prepare(&format!("UPDATE event SET {set} WHERE seq = ?1"))?;
    for e in lacking {
        let (then, _) = Then::of(db, &e)?;
        let values = then
            .values()
            .map(|v| v.map_or(rusqlite::types::Value::Null, rusqlite::types::Value::Real));
        update.execute(rusqlite::params_from_iter(
            std::iter::once(rusqlite::types::Value::Integer(e.seq)).chain(values),
        ))?;
    }
    db.execute_batch(super::schema::EVENT_STAYS)
}
