//! Types of citrus: bearing habit and hardiness.

use super::material::Figure;
use crate::facts::Text;
use crate::packed::{packed, packed_enum};
use serde::{Deserialize, Serialize};

/// When a type bears.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Bears {
    /// Flowers and fruits all year where it is warm.
    AllYear,
    /// One crop a year.
    Once,
}

/// Lowest temperatures borne.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Hardy {
    /// Wood and leaves, °C.
    pub tree_c: Option<Figure>,
    /// Fruit, °C.
    pub fruit_c: Option<Figure>,
}

/// Yield falls by `slope` per cent for each dS/m of the saturated extract above `threshold`.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SaltLine {
    /// dS/m.
    pub threshold: Figure,
    /// Per cent per dS/m.
    pub slope: Figure,
}

/// One type of citrus.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CitrusType {
    /// A choice of the fact `citrus_type`.
    pub id: Text,
    /// Name as shown.
    pub name: Text,
    /// Other names.
    #[serde(default)]
    pub words: Vec<Text>,
    /// When it bears.
    pub bears: Bears,
    /// Remarks, with the conflicts between sources.
    #[serde(default)]
    pub note: Text,
    /// Hardiness.
    #[serde(default)]
    pub hardy: Hardy,
    /// Sensitivity to salt, where a line was published for the type.
    #[serde(default)]
    pub salt: Option<SaltLine>,
}

packed! {
    Hardy {
        tree_c, fruit_c,
    }
    SaltLine {
        threshold, slope,
    }
    CitrusType {
        id, name, words, bears, note, hardy, salt,
    }
}
packed_enum! { Bears { 0 => AllYear, 1 => Once } }
