//! Generic materials: typical grade, density, release, what they react with, handling.

use super::source::Mark;
use crate::facts::Text;
use crate::packed::{packed, packed_enum};
use serde::de::{self, Deserializer, MapAccess, Visitor};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt;

/// A number with its mark and sources.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Figure {
    /// The value.
    pub value: f64,
    /// Lower end of what sources say.
    #[serde(default)]
    pub low: Option<f64>,
    /// Upper end of what sources say.
    #[serde(default)]
    pub high: Option<f64>,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    #[serde(default)]
    pub source: Vec<Text>,
}

/// Forms of nitrogen in per cent of the product.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Forms {
    /// Nitrate nitrogen.
    #[serde(default)]
    pub nitrate: f64,
    /// Ammoniacal nitrogen.
    #[serde(default)]
    pub ammonium: f64,
    /// Urea nitrogen.
    #[serde(default)]
    pub urea: f64,
    /// How they are known.
    pub mark: Mark,
    /// Source ids.
    #[serde(default)]
    pub source: Vec<Text>,
}

/// Shares of other elements, in per cent of the product.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Also {
    /// How they are known; missing where there are none.
    pub mark: Option<Mark>,
    /// Source ids.
    pub source: Vec<Text>,
    /// Per cent by symbol in lower case: `mg`, `ca`, `s`, `cl`, `fe` ….
    pub shares: BTreeMap<Text, f64>,
}

impl<'de> Deserialize<'de> for Also {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Shares;
        impl<'de> Visitor<'de> for Shares {
            type Value = Also;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("shares of elements with mark and source")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Also, A::Error> {
                let mut also = Also::default();
                let mut seen: Vec<String> = Vec::new();
                while let Some(key) = map.next_key::<String>()? {
                    if seen.contains(&key) {
                        return Err(de::Error::custom(format_args!("duplicate field `{key}`")));
                    }
                    match key.as_str() {
                        "mark" => also.mark = Some(map.next_value()?),
                        "source" => also.source = map.next_value()?,
                        _ => {
                            also.shares.insert(key.clone().into(), map.next_value()?);
                        }
                    }
                    seen.push(key);
                }
                Ok(also)
            }
        }
        deserializer.deserialize_map(Shares)
    }
}

/// Bulk density.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Density {
    /// Lower end, g/mL.
    pub low: f64,
    /// Upper end, g/mL.
    pub high: f64,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    #[serde(default)]
    pub source: Vec<Text>,
}

/// How a material gives off its nitrogen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Release {
    /// At once.
    Ready,
    /// As it rots.
    Organic,
    /// Through a coat.
    Coated,
    /// None.
    None,
}

/// One generic material.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Material {
    /// Stable id.
    pub id: Text,
    /// Name as shown.
    pub name: Text,
    /// Other words people type.
    #[serde(default)]
    pub words: Vec<Text>,
    /// A choice of the fact `product_kind`.
    pub kind: Text,
    /// Nitrogen, %.
    pub n: Figure,
    /// Phosphate as P2O5, %.
    pub p2o5: Figure,
    /// Potash as K2O, %.
    pub k2o: Figure,
    /// Forms of nitrogen.
    #[serde(default)]
    pub forms: Option<Forms>,
    /// Other elements: `mg`, `ca`, `s`, `cl`, `fe` … in %, with `mark` and `source`.
    #[serde(default)]
    pub also: Also,
    /// Bulk density.
    pub density: Density,
    /// Release.
    pub release: Release,
    /// kg CaCO3 per 100 kg; negative makes the mix more acid.
    #[serde(default)]
    pub acidity: Option<Figure>,
    /// Traits that reactions and notes go by.
    #[serde(default)]
    pub traits: Vec<Text>,
    /// Handling.
    #[serde(default)]
    pub handling: Text,
    /// Remarks, with the conflicts between sources.
    #[serde(default)]
    pub note: Text,
}

impl Material {
    /// Whether it has the trait.
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        self.traits.iter().any(|t| t == name)
    }

    /// Share of another element in per cent, 0 where nothing is known.
    #[must_use]
    pub fn element(&self, symbol: &str) -> f64 {
        self.also.shares.get(symbol).copied().unwrap_or(0.0)
    }
}

/// Two traits that do not go together.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reaction {
    /// One trait.
    pub a: Text,
    /// The other.
    pub b: Text,
    /// What happens.
    pub what: Text,
    /// `refuse` or `care`.
    pub verdict: Text,
    /// `can`, `dry` or `both`.
    pub when: Text,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    #[serde(default)]
    pub source: Vec<Text>,
}

packed! {
    Figure {
        value, low, high, mark, source,
    }
    Forms {
        nitrate, ammonium, urea, mark, source,
    }
    Also {
        mark, source, shares,
    }
    Density {
        low, high, mark, source,
    }
    Material {
        id, name, words, kind, n, p2o5, k2o, forms, also, density, release, acidity, traits, handling, note,
    }
    Reaction {
        a, b, what, verdict, when, mark, source,
    }
}
packed_enum! { Release { 0 => Ready, 1 => Organic, 2 => Coated, 3 => None } }
