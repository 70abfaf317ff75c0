//! What a finding says of Epsom salt, `{epsom}` in its text: the amount for this tree, or why there is none today.
//!
//! It is the answer of the same gates that stand before every dose: the tree is asked about anew with Epsom salt for the
//! feed. So no amount is named that `precheck` would not give.

use super::advisor::{Advisor, Decision};
use super::text::Amounts;
use crate::dose::epsom::Epsom;
use crate::facts::{Origin, Sheet, Standing, Text, Value};
use crate::knowledge::{Finding, Level};
use crate::quantity::{show_grams_down, show_litres};
use crate::walk::Walk;

/// Where the amount stands in a text.
const NAME: &str = "{epsom}";

/// Whether Epsom salt is what mends this.
pub(super) fn wants_epsom(finding: &Finding) -> bool {
    finding.words.today.iter().any(|t| t.contains(NAME))
}

impl Advisor<'_> {
    /// A text of a finding with what is to be said of Epsom salt.
    pub(super) fn with_epsom(
        &self,
        text: &Text,
        walk: &Walk,
        d: &Decision,
        standing: Standing,
        amounts: &Amounts,
    ) -> Text {
        let text = amounts.fill(text);
        if !text.contains(NAME) {
            return text;
        }
        let asked = self.asked_for_epsom(walk, d, standing);
        let word = match asked.dose.as_ref().and_then(|given| given.epsom()) {
            Some(dose) => self.amount(dose, &asked),
            None => format!("not today. {}", self.refusal(&asked, amounts)),
        };
        text.replace(NAME, word.trim_end_matches('.')).into()
    }

    /// The same tree on the same day with Epsom salt as the feed.
    fn asked_for_epsom(&self, walk: &Walk, d: &Decision, standing: Standing) -> Decision {
        let ids = &self.ids;
        let vocabulary = &self.knowledge.vocabulary;
        let kind = vocabulary.get(ids.product_kind);
        let epsom = kind.choice_index("epsom_salt");
        let same = matches!(d.sheet.value(ids.product_kind), Value::Choice(c) if Some(c) == epsom);
        if same {
            return d.clone();
        }
        let mut sheet = Sheet::new(vocabulary.len());
        for (fact, entry) in d.sheet.iter() {
            if entry.from != Origin::WorkedOut {
                sheet.set(fact, entry.value, entry.from);
            }
        }
        for fact in [
            ids.material,
            ids.product_grade,
            ids.grade_basis,
            ids.n_nitrate,
            ids.n_ammonium,
            ids.n_urea,
            ids.label_rate,
            ids.label_interval_days,
            ids.planned_amount,
            ids.other_product_kind,
            ids.other_product_grade,
        ] {
            sheet.clear(fact);
        }
        let mut put = |fact, id: &str| {
            if let Some(choice) = vocabulary.get(fact).choice_index(id) {
                sheet.set(fact, Value::Choice(choice), Origin::WorkedOut);
            }
        };
        put(ids.product_kind, "epsom_salt");
        // It is spoken of on a day of its own.
        put(ids.also_in_can, "nothing");
        if let Some(signs) = vocabulary.find("magnesium_signs")
            && standing == Standing::Likely
            && !d.sheet.answered(signs)
        {
            put(signs, "yes");
        }
        self.decide(walk, &sheet)
    }

    fn amount(&self, dose: Epsom, asked: &Decision) -> String {
        let pot = self.knowledge.vocabulary.get(self.ids.pot_kind);
        let reservoir = matches!(
            asked.sheet.value(self.ids.pot_kind),
            Value::Choice(c) if Some(c) == pot.choice_index("reservoir")
        );
        format!(
            "{} in {} of plain water{}",
            show_grams_down(dose.grams),
            show_litres(dose.litres),
            if reservoir {
                " from the top, drain plug open"
            } else {
                ""
            }
        )
    }

    /// The strictest reason against it, in the words of its rule.
    fn refusal(&self, asked: &Decision, amounts: &Amounts) -> String {
        asked
            .review
            .fired
            .iter()
            .filter(|fired| fired.level >= Level::Reduce)
            .find_map(|fired| self.caution(asked, fired, amounts))
            .map_or_else(
                || "tubgrove precheck works it out for this pot".to_owned(),
                |c| c.summary.to_string(),
            )
    }
}
