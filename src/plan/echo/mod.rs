//! What was typed, said back in a second unit and beside an everyday thing, so that a slip of the decimal point, of the
//! spoon or of the unit catches the eye before anything is poured.
//!
//! A typed mass comes back in level spoons, a typed spoon in grams; water and mix come back in buckets and the like; a
//! grade comes back as the elements that it holds. The words are rounded and no dose is worked out from them.

mod everyday;
mod teller;

use super::advisor::Advisor;
use crate::dose::feed;
use crate::facts::{FactId, Origin, Sheet, Value};
use crate::knowledge::{Thing, ThingUnit};
use crate::quantity::{Interval, Measure, Per, SpoonSystem};
use serde::Serialize;
use teller::{Teller, grade_back};

/// One thing that was typed, said back.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Echo {
    /// The fact.
    pub fact: String,
    /// What was typed, as it was understood.
    pub typed: String,
    /// The same in a second unit and beside an everyday thing.
    pub text: String,
    /// Grams, least and most; where there are any.
    pub g: Option<[f64; 2]>,
    /// Litres of water or mix, least and most; where there are any.
    pub litres: Option<[f64; 2]>,
    /// Grams (or mL of what was typed in mL) in 100 mL of water, about: the strength of the can in per cent.
    pub percent: Option<f64>,
}

impl Echo {
    /// Whether it is the amount the grower means to give.
    #[must_use]
    pub fn is_amount(&self) -> bool {
        self.fact == "planned_amount"
    }

    /// The first word of what was typed: the grade itself, where it is one.
    #[must_use]
    pub fn typed_grade(&self) -> &str {
        self.typed.split(' ').next().unwrap_or("")
    }

    /// Whether it is the grade in its other reading.
    #[must_use]
    pub fn is_grade(&self) -> bool {
        self.fact == "product_grade"
    }
}

/// An amount in another unit, and the water it goes into beside an everyday thing: `3 level teaspoons`, `half a bucket`.
#[must_use]
pub fn in_other_words(
    things: &[Thing],
    amount: Measure,
    litres: f64,
    density: Interval,
    system: SpoonSystem,
) -> (String, String) {
    let tell = Teller {
        things,
        density: Some(density),
        system,
    };
    (
        tell.measure(amount).0,
        tell.beside(litres, ThingUnit::Litres),
    )
}

impl Advisor<'_> {
    /// Everything typed for this plan, said back: the amount first, then label, grade and pot. What the record knew is
    /// not repeated.
    pub(super) fn echoes(&self, sheet: &Sheet) -> Vec<Echo> {
        let main = feed::main(&self.ids, self.knowledge, sheet);
        let tell = Teller {
            things: &self.knowledge.things,
            density: main.map(|f| f.density),
            system: feed::spoons(&self.ids, self.knowledge, sheet).unwrap_or(SpoonSystem::Metric),
        };
        let typed = |fact: FactId| {
            sheet
                .entry(fact)
                .filter(|e| matches!(e.from, Origin::Asked | Origin::Flag | Origin::File))
                .map_or(Value::NotSure, |e| e.value)
        };
        let id = |fact: FactId| self.knowledge.vocabulary.get(fact).id.clone();
        let mut echoes = Vec::new();
        if let Value::Amount(amount) = typed(self.ids.planned_amount) {
            echoes.push(tell.amount(id(self.ids.planned_amount).into(), amount));
        }
        let kind = self.knowledge.vocabulary.get(self.ids.product_kind);
        let is_epsom = matches!(sheet.value(self.ids.product_kind), Value::Choice(c)
            if kind.choice_index("epsom_salt") == Some(c));
        // No walk asks for the label of Epsom salt: what the shelf knows of it is told here or nowhere.
        let label = if is_epsom {
            sheet.value(self.ids.label_rate)
        } else {
            typed(self.ids.label_rate)
        };
        if let Value::Rate(rate) = label {
            let slow = main.is_some_and(|f| f.is_slow());
            let mut echo = tell.label(id(self.ids.label_rate).into(), feed::as_spread(rate, slow));
            if slow && matches!(rate.per, Per::LitresOfWater(_)) {
                echo.text
                    .push_str("; on beads and meals a litre is a litre of mix");
            }
            echoes.push(echo);
        }
        if let Value::Grade(grade) = typed(self.ids.product_grade) {
            let elements = matches!(sheet.value(self.ids.grade_basis), Value::Choice(c)
                if self.knowledge.vocabulary.get(self.ids.grade_basis).choice_index("element") == Some(c));
            echoes.extend(grade_back(
                id(self.ids.product_grade).into(),
                grade,
                elements,
            ));
        }
        if let Value::Number(pot) = typed(self.ids.pot_volume) {
            echoes.extend(tell.pot(id(self.ids.pot_volume).into(), pot));
        }
        echoes
    }
}
