//! The file of standards as plain structures.

use crate::knowledge::Mark;
use serde::Deserialize;

/// Why the file cannot be used.
#[derive(Debug, thiserror::Error)]
#[error("leaf_standards.yaml: {0}")]
pub struct StandardsError(String);

/// All of it.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Standards {
    /// Which leaves to send.
    pub sampling: Vec<Sampling>,
    /// Salt on the leaf.
    pub leaf_burn: Vec<Burn>,
    /// Published tables.
    pub leaf_tables: Vec<LeafTable>,
    /// Salt of the mix.
    pub mix_ec: MixEc,
    /// pH of the mix.
    pub mix_ph: Vec<PhRange>,
    /// Nutrients of the saturated extract.
    pub extract_normals: Normals,
}

/// What local rules may add: tables beside the shipped ones, never in place of one.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LocalStandards {
    /// More tables, such as that of the laboratory at hand.
    pub leaf_tables: Vec<LeafTable>,
}

/// Which leaves to send.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sampling {
    /// Where.
    #[serde(rename = "for")]
    pub place: String,
    /// Which.
    pub says: String,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    pub source: Vec<String>,
}

/// Share of the dry leaf above which burn is usual.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Burn {
    /// `na` or `cl`.
    pub nutrient: String,
    /// Unit.
    pub unit: String,
    /// Limit.
    pub above: f64,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    pub source: Vec<String>,
}

/// One published table.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LeafTable {
    /// Id.
    pub id: String,
    /// Name as shown.
    pub name: String,
    /// Which leaves it holds for.
    pub leaves: String,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    pub source: Vec<String>,
    /// Remark.
    pub note: String,
    /// Rows.
    pub rows: Vec<LeafRow>,
}

/// One nutrient of it, as printed.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LeafRow {
    /// Sign in small letters.
    pub nutrient: String,
    /// `%` or `mg/kg`.
    pub unit: String,
    /// Below this it is short.
    pub deficient_below: Option<f64>,
    /// Low.
    pub low: Option<[f64; 2]>,
    /// Optimum.
    pub optimum: Option<[f64; 2]>,
    /// High.
    pub high: Option<[f64; 2]>,
    /// Above this it is too much.
    pub excess_above: Option<f64>,
}

/// Salt of the mix by method, dS/m.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MixEc {
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    pub source: Vec<String>,
    /// Remark.
    pub note: String,
    /// Bands, low to high.
    pub bands: Vec<EcBand>,
    /// Other norms.
    pub other_norms: Vec<EcNorm>,
}

/// One band; a method's range has one number where it is open upward.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EcBand {
    /// Its name.
    pub reading: String,
    /// By 1:2.
    pub one_to_two: Vec<f64>,
    /// By saturated extract.
    pub saturated: Vec<f64>,
    /// By pour-through.
    pub pour_through: Vec<f64>,
}

/// A norm for some plants or a way of feeding.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EcNorm {
    /// For what.
    #[serde(rename = "for")]
    pub what: String,
    /// By 1:2.
    pub one_to_two: Option<[f64; 2]>,
    /// By saturated extract.
    pub saturated: Option<[f64; 2]>,
    /// By pour-through.
    pub pour_through: Option<[f64; 2]>,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    pub source: Vec<String>,
    /// Remark.
    #[serde(default)]
    pub note: String,
}

/// A range of pH.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PhRange {
    /// For what.
    #[serde(rename = "for")]
    pub what: String,
    /// From, to.
    pub range: [f64; 2],
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    pub source: Vec<String>,
}

/// Usual nutrients of the saturated extract, mg/L.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Normals {
    /// How they are known.
    pub mark: Mark,
    /// Source ids.
    pub source: Vec<String>,
    /// Rows.
    pub rows: Vec<Normal>,
}

/// One of them.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Normal {
    /// Sign in small letters.
    pub nutrient: String,
    /// From, to.
    pub range: [f64; 2],
}

impl LeafRow {
    /// Its figures from low to high; a row of some other order would misjudge every leaf.
    #[must_use]
    pub fn is_in_order(&self) -> bool {
        let bands = [self.low, self.optimum, self.high].into_iter().flatten();
        let figures: Vec<f64> = self
            .deficient_below
            .into_iter()
            .chain(bands.flatten())
            .chain(self.excess_above)
            .collect();
        figures.iter().all(|x| x.is_finite() && *x >= 0.0) && figures.is_sorted()
    }
}

impl Standards {
    /// Every entry that names sources: its name in messages and the ids.
    #[must_use]
    pub fn named_sources(&self) -> Vec<(&str, &[String])> {
        let sampling = self
            .sampling
            .iter()
            .map(|s| (s.place.as_str(), s.source.as_slice()));
        let burn = self
            .leaf_burn
            .iter()
            .map(|b| (b.nutrient.as_str(), b.source.as_slice()));
        let tables = self
            .leaf_tables
            .iter()
            .map(|t| (t.id.as_str(), t.source.as_slice()));
        let norms = self
            .mix_ec
            .other_norms
            .iter()
            .map(|n| (n.what.as_str(), n.source.as_slice()));
        let ph = self
            .mix_ph
            .iter()
            .map(|r| (r.what.as_str(), r.source.as_slice()));
        let whole = [
            ("mix_ec", self.mix_ec.source.as_slice()),
            ("extract_normals", self.extract_normals.source.as_slice()),
        ];
        sampling
            .chain(burn)
            .chain(tables)
            .chain(norms)
            .chain(ph)
            .chain(whole)
            .collect()
    }

    /// Reads the file.
    ///
    /// # Errors
    /// What YAML or the shape does not allow, with its place.
    pub fn parse(text: &str) -> Result<Self, StandardsError> {
        serde_yaml::from_str(text).map_err(|e| StandardsError(e.to_string()))
    }
}
