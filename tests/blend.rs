//! Blending: printed examples, the common shortcut, what a mix is made of, what is refused, the
//! laws that hold for every shelf, and the agreement with an outside solver.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing
)]
#![allow(clippy::arithmetic_side_effects, clippy::float_cmp)]

use tubgrove::blend::{Answer, MaterialOnShelf, Recipe, Scoop, Shelf, Target, Wish, mix};

#[path = "blend/choices.rs"]
mod choices;
#[path = "blend/figures.rs"]
mod figures;
#[path = "blend/laws.rs"]
mod laws;
#[path = "blend/printed.rs"]
mod printed;
#[path = "blend/reference.rs"]
mod reference;
#[path = "blend/refusals.rs"]
mod refusals;

/// A US cup in millilitres (231 cubic inches to the gallon, 16 cups, by definition).
const CUP: f64 = 236.5882365;

fn quarter_cup() -> Scoop {
    Scoop::part_of(CUP, 0.25).unwrap()
}

fn bag(name: &str, grade: [f64; 3], density: f64) -> MaterialOnShelf {
    MaterialOnShelf::new(name, grade, density)
}

fn shelf(materials: Vec<MaterialOnShelf>) -> Shelf {
    Shelf::new(materials).unwrap()
}

fn target(parts: [f64; 3]) -> Target {
    Target::new(parts).unwrap()
}

fn recipe(shelf: &Shelf, wish: &Wish) -> Recipe {
    match mix(shelf, wish) {
        Answer::Mix(recipe) => *recipe,
        Answer::Cannot(refusal) => panic!("refused: {:?}", refusal.reasons),
    }
}

/// The scoops of the best mix by name.
fn scoops(recipe: &Recipe) -> Vec<(&str, u16)> {
    recipe
        .best
        .parts
        .iter()
        .map(|part| (part.name.as_str(), part.scoops))
        .collect()
}

fn near(left: f64, right: f64, tolerance: f64) -> bool {
    (left - right).abs() <= tolerance
}
