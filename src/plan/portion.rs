//! One amount of one feed, in grams first and then in the spoons a grower uses.

use crate::dose::feed::{Acts, Feed};
use crate::quantity::{Interval, SpoonSystem, floor_sig, spoons};
use serde::Serialize;

/// Spoons with their uncertainty.
#[derive(Debug, Clone, Serialize)]
pub struct Spoons {
    /// Such as `½ tsp`.
    pub text: String,
    /// Millilitres they hold.
    pub ml: f64,
    /// Lightest and heaviest that they can weigh, g.
    pub grams: [f64; 2],
    /// `us`, `metric`, `australian`.
    pub system: SpoonSystem,
}

/// How to measure an amount below ⅛ teaspoon: mix more, give less of it.
#[derive(Debug, Clone, Serialize)]
pub struct SmallDose {
    /// What to stir in: ⅛ tsp.
    pub spoon: &'static str,
    /// Into so many litres.
    pub litres: f64,
    /// mL for this tree; the rest is for others or for the waste.
    pub ml_for_tree: f64,
}

/// One amount of one feed.
#[derive(Debug, Clone, Serialize)]
pub struct Portion {
    /// Such as `soluble 24-8-16`.
    pub feed: String,
    /// `can`, `top_dress`, `dry_ready`, `epsom`.
    pub how: &'static str,
    /// Grams for this tree; for an amount as planned, the most it can be.
    pub g: f64,
    /// mL for this tree, for liquids.
    #[serde(rename = "mL")]
    pub ml: Option<f64>,
    /// The same in spoons.
    pub spoons: Option<Spoons>,
    /// Litres of water for this tree; none for a top-dress.
    pub can_litres: Option<f64>,
    /// Grams per litre of the can.
    pub g_per_litre: Option<f64>,
    /// mg N per litre of the can.
    pub n_mg_per_litre: Option<f64>,
    /// EC of the can in dS/m with the water's own, lowest and highest.
    pub ec: Option<[f64; 2]>,
    /// How to measure it when it is too little for a spoon.
    pub small: Option<SmallDose>,
    /// Such as `15 g in 5 L`, where it is the amount the grower meant to give.
    pub as_typed: Option<String>,
    /// What limited the amount.
    pub limit: String,
    /// Lightest and heaviest that a millilitre of the feed can weigh, g.
    #[serde(skip)]
    pub density: Interval,
}

/// Spoons for grams of a feed.
pub(super) fn spoons_for(feed: &Feed<'_>, grams: f64, system: SpoonSystem) -> Spoons {
    spoons_of(feed.density, grams, system)
}

/// Spoons for grams at a density.
pub(crate) fn spoons_of(density: Interval, grams: f64, system: SpoonSystem) -> Spoons {
    let weighed = spoons::for_grams(grams, density, system);
    Spoons {
        text: weighed.spoonful.text.clone(),
        ml: floor_sig(weighed.spoonful.ml, 3),
        grams: [
            floor_sig(weighed.grams.lo(), 3),
            floor_sig(weighed.grams.hi(), 3),
        ],
        system,
    }
}

/// For amounts too small for a spoon: ⅛ tsp in the litres that give the same strength.
pub(crate) fn small_dose(
    density: Interval,
    grams: f64,
    can_litres: f64,
    system: SpoonSystem,
) -> Option<SmallDose> {
    if grams <= 0.0 || can_litres <= 0.0 {
        return None;
    }
    let eighth = system.teaspoon_ml() / 8.0;
    // The heaviest that ⅛ tsp can weigh decides, so that the can is never stronger than meant.
    let heavy = eighth * density.hi();
    Some(SmallDose {
        spoon: "⅛ tsp",
        litres: (heavy / (grams / can_litres) * 10.0).ceil() / 10.0,
        ml_for_tree: floor_sig(can_litres * 1000.0, 2),
    })
}

/// How a feed is given.
pub(super) fn how(acts: Acts) -> &'static str {
    match acts {
        Acts::Dissolved => "can",
        Acts::DryReady => "dry_ready",
        Acts::Organic | Acts::Coated => "top_dress",
    }
}
