//! Knowledge: YAML files turned into a checked model.
//!
//! [`Files`] are the texts (shipped, or read from a directory by the caller); [`load`] reads them with `serde_yaml`, links
//! every id, proves the walks and reports all [`Problem`]s in one go. An overlay of local rules may add and tighten, never
//! loosen.

#[cfg(test)]
mod agreement;
mod citrus;
mod climate;
mod dry_mix;
mod everyday;
mod files;
mod finding;
mod kind;
mod leaf;
mod lengths;
mod link;
mod load;
mod material;
mod model;
mod outline;
mod overlay;
mod parse;
mod place;
mod problem;
mod product_kind;
mod rates;
mod raw;
mod round;
mod shape;
mod source;
mod standards;
mod uses;
mod words;

pub use citrus::{Bears, CitrusType};
pub use climate::{Climate, Months};
pub use dry_mix::{
    ANY, BagTrait, DISSOLVES, DryMix, DryNote, DryPair, PairVerdict, Share, SparedTrait, Told,
};
pub use everyday::{Thing, ThingUnit};
pub use files::{File, Files, LARGEST, SHIPPED_VERSION};
pub use finding::{
    After, BothSides, Evidence, Feeding, Finding, FindingWords, Lacks, Lookalike, Shows, Weight,
};
pub use kind::ProblemKind;
pub use leaf::{Blade, Layer, LeafPicture};
pub use load::{Proofs, load, load_with};
pub use material::{Figure, Forms, Material, Reaction, Release};
pub use model::{Advice, AdvicePart, Caution, Gate, Knowledge, Level};
pub use outline::too_deep;
pub use problem::{Problem, Problems};
pub use product_kind::ProductKind;
pub use rates::{Number, Rates, TemperatureRow, Tighter};
pub use round::{Look, Looks};
pub use source::{Mark, Read, Source};
pub use standards::standards;
pub use uses::Use;
