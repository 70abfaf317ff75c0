//! What a meter's or a laboratory's figure means: salt and pH of the mix, and leaves.
//!
//! Bands come from `knowledge/leaf_standards.yaml`, each with its mark; the limits that decide a feed are the program's own and
//! stand in `rates.yaml`. A reading explains; it never gives a dose.

mod iron;
mod leaf;
mod salt;
mod standards;

pub use iron::{Chelate, chelates};
pub use leaf::{Band, LeafLine, Spray, Together, leaf, spray, together};
pub use salt::{SaltLine, SaltVerdict, Scale, place, salt};
pub use standards::{LeafRow, LeafTable, LocalStandards, Standards, StandardsError};
