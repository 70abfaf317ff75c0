//! The facts that formulas read, found once.

use crate::facts::{FactId, Sheet, Value, Vocabulary};
use crate::quantity::Interval;

macro_rules! ids {
    ($($name:ident),+ $(,)?) => {
        /// Places of the facts that formulas read or write; `facts.yaml` documents each under the same name.
        #[derive(Debug, Clone, Copy)]
        #[allow(missing_docs, reason = "each is documented under its name in facts.yaml")]
        pub struct Ids { $(pub $name: FactId),+ }

        impl Ids {
            /// Finds them all.
            ///
            /// # Errors
            /// The ids that the vocabulary lacks.
            pub fn find(vocabulary: &Vocabulary) -> Result<Self, Vec<&'static str>> {
                let lacking: Vec<&'static str> = [$(stringify!($name)),+]
                    .into_iter()
                    .filter(|id| vocabulary.find(id).is_none())
                    .collect();
                Ok(Self {
                    $($name: match vocabulary.find(stringify!($name)) {
                        Some(id) => id,
                        None => return Err(lacking),
                    }),+
                })
            }
        }
    };
}

ids![
    citrus_type,
    fruits_all_year,
    tree_stage,
    pot_kind,
    pot_volume,
    reservoir_volume,
    tree_height,
    overdose_feed,
    epsom_this_year,
    days_since_epsom,
    old_pot_volume,
    place,
    air_temperature,
    season,
    rain_due,
    rain_pattern,
    water_source,
    water_ec,
    mix_moisture,
    mix_ec,
    ec_method,
    new_growth,
    pot_bound,
    days_since_feed,
    last_feed_kind,
    slow_feed_at_work,
    frost_ahead,
    days_to_cold,
    warm_days_left,
    beads_outlast_warmth,
    coated_life_weeks,
    days_since_repot,
    cold_event,
    product_kind,
    material,
    product_grade,
    grade_basis,
    n_nitrate,
    n_ammonium,
    n_urea,
    label_rate,
    label_interval_days,
    planned_amount,
    spoon_system,
    also_in_can,
    other_product_kind,
    other_product_grade,
    month,
    interval_left,
    mix_salt,
    can_nitrogen,
    can_salt,
    can_chloride,
    water_over_limit,
    planned_over_label,
    planned_over_pot,
    label_known,
    unbalanced_alone,
    unbalanced_as_elements,
    basis_matters,
    cold_ammonium,
    reacts_in_can,
    spoils_in_can,
    spoon_unsure,
    dusty,
    oxidiser,
    animal_origin,
    raw_organic,
    ready_feed,
    slow_feed,
    second_feed,
    has_chloride,
    has_sodium,
    urea_in_feed,
    sours_mix,
];

/// Short ways to read a sheet.
#[derive(Clone, Copy)]
pub(crate) struct Read<'a> {
    pub(crate) vocabulary: &'a Vocabulary,
    pub(crate) sheet: &'a Sheet,
}

impl<'a> Read<'a> {
    /// Id of the chosen answer.
    pub(crate) fn choice(self, fact: FactId) -> Option<&'a str> {
        let chosen = self.vocabulary.get(fact).chosen(self.sheet.value(fact));
        chosen.map(|c| c.id.as_str())
    }

    /// Whether this is the chosen answer; `false` where it is not known.
    pub(crate) fn is(self, fact: FactId, choice: &str) -> bool {
        self.choice(fact) == Some(choice)
    }

    /// Yes or no, `None` where it is not known.
    pub(crate) fn yes_no(self, fact: FactId) -> Option<bool> {
        self.choice(fact).map(|c| c == "yes")
    }

    /// The number or its stretch.
    pub(crate) fn number(self, fact: FactId) -> Option<Interval> {
        match self.sheet.value(fact) {
            Value::Number(n) => Some(n),
            _ => None,
        }
    }
}
