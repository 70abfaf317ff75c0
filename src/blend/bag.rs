//! A bag of the shelf as a blend takes it: a plain material with what is known of it, or three numbers with what they may
//! stand for.

use super::shelf::MaterialOnShelf;
use crate::knowledge::{ANY, DISSOLVES, Knowledge, Material, Release, Told};
use crate::quantity::Grade;

impl MaterialOnShelf {
    /// A plain material of the knowledge, with its typical grade, its range of densities and its traits.
    #[must_use]
    pub fn plain(m: &Material) -> Self {
        let mut item = Self::new(
            m.name.clone(),
            [m.n.value, m.p2o5.value, m.k2o.value],
            m.density.low,
        );
        item.density_hi = m.density.high;
        item.tags = m.traits.iter().map(String::from).collect();
        if m.release == Release::Ready {
            item.tags.push(DISSOLVES.to_owned());
        }
        item.tags.push(ANY.to_owned());
        item
    }

    /// A bag known by its three numbers alone: every trait that it may have, as far as its numbers and what was `told` go;
    /// the range of densities that holds for any dry feed.
    #[must_use]
    pub fn by_numbers(
        knowledge: &Knowledge,
        name: impl Into<String>,
        grade: &Grade,
        told: Told,
    ) -> Self {
        let rates = &knowledge.rates;
        let mut item = Self::new(
            name,
            [grade.n(), grade.p2o5(), grade.k2o()],
            rates.density_mineral_low,
        );
        item.density_hi = rates.density_mineral_high;
        let held = knowledge.dry_mix.held(grade.n(), grade.p2o5(), told);
        item.tags = held.map(str::to_owned).collect();
        item.tags.push(ANY.to_owned());
        item
    }
}
