//! Kinds of product: which are feeds, how each is given, and what goes on working in the mix.
//!
//! The words of the kinds stand in `facts.yaml`, under `product_kind`; formulas, rules and the record ask here what a kind does. One
//! that is not known is no kind at all, and counts as the strictest wherever that matters.

use super::Rates;

/// A kind of product.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProductKind {
    /// Powder or crystals that dissolve.
    Soluble,
    /// A mineral feed from a bottle.
    LiquidMineral,
    /// Fish or seaweed from a bottle.
    LiquidOrganic,
    /// Meal or pellets.
    OrganicGranular,
    /// Coated beads.
    Coated,
    /// Mineral granules without a coat.
    DryMineral,
    /// Compost or rotted manure.
    CompostManure,
    /// Epsom salt.
    EpsomSalt,
    /// A spray for leaves.
    LeafSpray,
    /// Lime, ash, gypsum or sulfur.
    SoilImprover,
    /// A lawn feed that kills weeds.
    WeedAndFeed,
}

/// All kinds with their ids.
const ALL: [(ProductKind, &str); 11] = [
    (ProductKind::Soluble, "soluble"),
    (ProductKind::LiquidMineral, "liquid_mineral"),
    (ProductKind::LiquidOrganic, "liquid_organic"),
    (ProductKind::OrganicGranular, "organic_granular"),
    (ProductKind::Coated, "coated"),
    (ProductKind::DryMineral, "dry_mineral"),
    (ProductKind::CompostManure, "compost_manure"),
    (ProductKind::EpsomSalt, "epsom_salt"),
    (ProductKind::LeafSpray, "leaf_spray"),
    (ProductKind::SoilImprover, "soil_improver"),
    (ProductKind::WeedAndFeed, "weed_and_feed"),
];

impl ProductKind {
    /// The kind with this id.
    #[must_use]
    pub fn of(id: &str) -> Option<Self> {
        ALL.iter().find(|(_, of)| *of == id).map(|(kind, _)| *kind)
    }

    /// Whether it is a feed, dosed by its nitrogen. Compost feeds, too, but nobody knows how much.
    #[must_use]
    pub fn is_feed(self) -> bool {
        matches!(
            self,
            Self::Soluble
                | Self::LiquidMineral
                | Self::LiquidOrganic
                | Self::OrganicGranular
                | Self::Coated
                | Self::DryMineral
        )
    }

    /// Whether it is a feed that is strewn for weeks.
    #[must_use]
    pub fn is_slow(self) -> bool {
        matches!(self, Self::OrganicGranular | Self::Coated)
    }

    /// Whether it is given in a can, dissolved or thinned.
    #[must_use]
    pub fn is_poured(self) -> bool {
        matches!(
            self,
            Self::Soluble | Self::LiquidMineral | Self::LiquidOrganic
        )
    }

    /// Whether it feeds as it rots, for weeks.
    #[must_use]
    pub fn rots_in_the_mix(self) -> bool {
        matches!(self, Self::OrganicGranular | Self::CompostManure)
    }

    /// Whether it goes on working in the mix, so that water does not take it out for good.
    #[must_use]
    pub fn goes_on_working(self) -> bool {
        self == Self::Coated || self.rots_in_the_mix()
    }

    /// Whether it is made of plants or animals, as far as the kind tells.
    #[must_use]
    pub fn is_organic(self) -> bool {
        matches!(self, Self::OrganicGranular | Self::LiquidOrganic)
    }

    /// Whether it is dusty, as far as the kind tells.
    #[must_use]
    pub fn is_dusty(self) -> bool {
        matches!(
            self,
            Self::OrganicGranular | Self::Soluble | Self::SoilImprover
        )
    }

    /// Grams in a level millilitre of a feed, least and most; `None` for what is no feed.
    #[must_use]
    pub fn density(self, rates: &Rates) -> Option<(f64, f64)> {
        Some(match self {
            Self::Soluble => (rates.density_soluble_low, rates.density_soluble_high),
            Self::LiquidMineral | Self::LiquidOrganic => {
                (rates.density_liquid_low, rates.density_liquid_high)
            }
            Self::OrganicGranular => (rates.density_organic_low, rates.density_organic_high),
            Self::Coated | Self::DryMineral => {
                (rates.density_mineral_low, rates.density_mineral_high)
            }
            _ => return None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::{ALL, ProductKind};
    use crate::knowledge::{Files, load};

    // Every choice that a grower can make is a kind here, and none is here that cannot be chosen.
    #[test]
    fn the_kinds_are_the_choices_of_the_question() {
        let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
        let fact = k.vocabulary.get(k.vocabulary.find("product_kind").unwrap());
        let asked: Vec<&str> = fact.choices().iter().map(|c| c.id.as_str()).collect();
        assert_eq!(ALL.map(|(_, id)| id).to_vec(), asked);
        for (kind, id) in ALL {
            assert_eq!(ProductKind::of(id), Some(kind));
            assert_eq!(kind.density(&k.rates).is_some(), kind.is_feed(), "{id}");
        }
        assert_eq!(ProductKind::of("Coated"), None);
    }
}
