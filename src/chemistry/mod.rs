//! Chemistry of the can and of the mix: from grams and labels to ions, conductivity and salts.
//!
//! Pure arithmetic with plain numbers in stated units; nothing here decides what is too strong. The
//! limits live in the knowledge, the verdicts in the safety rules.
//!
//! | module | holds |
//! | --- | --- |
//! | [`weights`] | atomic weights, oxide factors, shares of an element in a salt |
//! | [`ions`], [`speciation`], [`conductivity`] | what carries the current, what pairs up, what a meter reads |
//! | [`solution`], [`salts`] | what is in a litre, and what a gram of salt puts there |
//! | [`label`], [`feed`] | a soluble feed's label, and how strong a can of it will be |
//! | [`corners`] | the weakest and the strongest mix of salts behind a label that does not say |
//! | [`extract`] | readings by other methods |
//! | [`water`], [`tolerance`], [`leaching`], [`mixing`] | water quality, what salt costs a tree, how it washes out |
//! | [`analysis`], [`guarantee`], [`acidity`] | secondary and trace elements, what a bag may miss, how sour it is |
//! | [`release`] | what slow feeds give off week by week |
//! | [`precipitation`], [`solubility`] | what clouds, what dissolves |

pub mod acidity;
pub mod analysis;
mod balance;
pub mod conductivity;
pub mod corners;
pub mod extract;
pub mod feed;
pub mod guarantee;
pub mod ions;
pub mod label;
pub mod leaching;
pub mod mixing;
pub mod precipitation;
pub mod release;
pub mod salts;
pub mod solubility;
pub mod solution;
pub mod speciation;
pub mod tolerance;
pub mod water;
pub mod weights;

pub use analysis::{Mineral, Minerals};
pub use conductivity::ec_ds_per_m;
pub use feed::{FeedStrength, Range};
pub use label::{Grade, Label, LabelError, NitrogenForms};
pub use salts::{Salt, dissolve};
pub use solution::Solution;
