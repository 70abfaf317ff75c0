//! What a feeding day takes from the shelf, against what is left.

use super::Spread;
use super::can::Can;
use serde::Serialize;

/// What is left of a product.
#[derive(Debug, Clone)]
pub struct OnShelf {
    /// Its number in the record.
    pub id: i64,
    /// Its name.
    pub name: String,
    /// Grams left, where that is known.
    pub left_g: Option<f64>,
}

/// What a day takes of a product.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Use {
    /// The product.
    pub product: String,
    /// Grams that the day takes.
    pub g: f64,
    /// Grams left before, where that is known.
    pub left_g: Option<f64>,
    /// Grams lacking; 0 where it is enough, `None` where it is not known what is left.
    pub lacks_g: Option<f64>,
}

/// Adds up what each product loses.
#[must_use]
pub fn used(cans: &[Can], spread: &[Spread], shelf: &[OnShelf]) -> Vec<Use> {
    shelf
        .iter()
        .filter_map(|product| {
            let mixed: f64 = cans
                .iter()
                .filter(|c| c.product_id == product.id)
                .map(|c| c.g)
                .sum();
            let put: f64 = spread
                .iter()
                .filter(|s| s.product_id == product.id)
                .map(|s| s.g)
                .sum();
            let g = mixed + put;
            (g > 0.0).then(|| Use {
                product: product.name.clone(),
                g,
                left_g: product.left_g,
                lacks_g: product.left_g.map(|left| (g - left).max(0.0)),
            })
        })
        .collect()
}
