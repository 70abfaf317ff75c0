//! A mix in all its figures: scoops, grams, the true grade, the ratio reached, and the cost.

use super::deviation::Deviation;
use super::error::BlendError;
use super::ledger::{self, Measured};
use super::ratio::{Npk, Nutrient, Target};
use super::scoop::Scoop;
use super::shelf::{MaterialOnShelf, Shelf};
use super::shortcut::Shortcut;
use super::spread::{Weighted, extremes};

/// One material of a mix.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its place on the shelf, counted from 0.
    pub place: usize,
    /// Its name.
    pub name: String,
    /// Level scoops.
    pub scoops: u16,
    /// Grams, at the middle of its density.
    pub grams: f64,
    /// Fewest and most grams, from the ends of its density.
    pub grams_range: (f64, f64),
    /// Its volume in millilitres; of a scoop by weight, at the middle of its density.
    pub millilitres: f64,
}

/// What a mix costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Cost {
    /// Cost of the materials that have a price.
    pub known: f64,
    /// Cost of a kilogram of the mix, where every material has a price.
    pub per_kg: Option<f64>,
    /// Places of the materials without a price.
    pub unpriced: Vec<usize>,
}

/// How near a mix comes to its target.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fit {
    /// No nutrient is off by more than a twentieth (own choice).
    OnTarget,
    /// No nutrient is off by more than a fifth (own choice).
    Near,
    /// At least one nutrient is off by more.
    Far,
}

/// The nutrient that is furthest off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Furthest {
    /// Which one; the first of the label where several are equally far off.
    pub nutrient: Nutrient,
    /// More of it than wanted, not less.
    pub too_much: bool,
}

/// A mix with all its figures.
#[derive(Debug, Clone, PartialEq)]
pub struct Mix {
    /// The materials in the order of their names.
    pub parts: Vec<Part>,
    /// The whole in grams, at the middle of the densities.
    pub grams: f64,
    /// The whole in millilitres as the sum of the parts; a mix of coarse and fine settles to less.
    pub millilitres: f64,
    /// The true grade in percent by weight, at the middle of the densities.
    pub grade: Npk,
    /// Lowest percent that the densities allow, each nutrient by itself.
    pub grade_lo: Npk,
    /// Highest percent that the densities allow, each nutrient by itself.
    pub grade_hi: Npk,
    /// The ratio reached, in parts with the same sum as the target's.
    pub ratio: Npk,
    /// Worst relative deviation from the target's shares, exact.
    pub deviation: Deviation,
    /// The largest deviation that the densities allow.
    pub deviation_at_worst: f64,
    /// Which nutrient is furthest off; `None` on the target.
    pub furthest: Option<Furthest>,
    /// How near that is.
    pub fit: Fit,
    /// What it costs; `None` where nothing in it has a price.
    pub cost: Option<Cost>,
    /// What the grower's shortcut says of it.
    pub shortcut: Shortcut,
    /// Pairs in it that call for a word of caution, as places.
    pub cautions: Vec<(usize, usize)>,
}

/// The figures of a mix that the grower has in mind, as (place, scoops). Limits on scoops and
/// materials do not apply; pairs that must be kept apart do. Places named twice are added up.
///
/// # Errors
/// An unknown place, a pair that must be kept apart, or a mix without N, P2O5 and K2O.
pub fn mix_of(
    shelf: &Shelf,
    scoop: Scoop,
    target: Target,
    scoops: &[(usize, u16)],
) -> Result<Mix, BlendError> {
    let mut chosen: Vec<Chosen<'_>> = Vec::new();
    for &(place, count) in scoops.iter().filter(|(_, count)| *count > 0) {
        let material = shelf.material(place)?;
        match chosen.iter_mut().find(|other| other.place == place) {
            Some(other) => other.scoops = other.scoops.saturating_add(count),
            None => chosen.push(Chosen {
                place,
                scoops: count,
                material,
                scoop,
            }),
        }
    }
    chosen.sort_by_key(|own| (own.material.rank(), own.place));
    let pairs_in = |pairs: &[(usize, usize)]| {
        let within = |place: usize| chosen.iter().any(|own| own.place == place);
        let both = pairs
            .iter()
            .copied()
            .filter(|(a, b)| within(*a) && within(*b));
        both.collect::<Vec<_>>()
    };
    if let Some(&(first, second)) = pairs_in(shelf.apart()).first() {
        let name = |place| shelf.material(place).map(|material| material.name.clone());
        return Err(BlendError::KeptApart {
            first: name(first)?,
            second: name(second)?,
        });
    }
    let cautions = pairs_in(shelf.cautioned());
    let amounts = chosen
        .iter()
        .map(|own| (ledger::amounts(own.material, scoop), own.scoops));
    let measured = ledger::measure(amounts, target).ok_or(BlendError::NothingInIt)?;
    Ok(figures(&chosen, target, measured, cautions))
}

/// One material with its scoops.
struct Chosen<'a> {
    place: usize,
    scoops: u16,
    material: &'a MaterialOnShelf,
    scoop: Scoop,
}

impl Chosen<'_> {
    /// Grams at the lower end, the middle and the upper end of the density.
    fn grams(&self) -> [f64; 3] {
        let scoops = f64::from(self.scoops);
        self.material
            .densities()
            .map(|density| self.scoop.grams(density) * scoops)
    }

    fn part(&self) -> Part {
        let [lo, grams, hi] = self.grams();
        let [_, density, _] = self.material.densities();
        Part {
            place: self.place,
            name: self.material.name.clone(),
            scoops: self.scoops,
            grams,
            grams_range: (lo, hi),
            millilitres: grams / density,
        }
    }
}

fn figures(
    chosen: &[Chosen<'_>],
    target: Target,
    measured: Measured,
    cautions: Vec<(usize, usize)>,
) -> Mix {
    let parts: Vec<Part> = chosen.iter().map(Chosen::part).collect();
    let grams: f64 = parts.iter().map(|part| part.grams).sum();
    let mut grade = [0.0; 3];
    for own in chosen {
        let [_, weight, _] = own.grams();
        for (percent, held) in grade.iter_mut().zip(own.material.grade()) {
            *percent += held * weight / grams;
        }
    }
    let grade = Npk::new(grade);
    let range = Nutrient::ALL.map(|nutrient| extremes(&weighted(chosen, nutrient, false)));
    let wanted = target.shares();
    let deviation = measured.deviation;
    let off = deviation > Deviation::ZERO;
    let whole: f64 = target.parts().iter().map(|part| *part as f64).sum();
    let measures = chosen.iter().map(|own| {
        (
            own.material.grade(),
            f64::from(own.scoops) * own.scoop.units(),
        )
    });
    Mix {
        grams,
        millilitres: parts.iter().map(|part| part.millilitres).sum(),
        grade,
        grade_lo: Npk::new(range.map(|(lo, _)| lo)),
        grade_hi: Npk::new(range.map(|(_, hi)| hi)),
        ratio: grade.times(whole / grade.sum()),
        deviation,
        deviation_at_worst: at_worst(chosen, wanted).max(deviation.as_f64()),
        furthest: off.then_some(Furthest {
            nutrient: measured.nutrient,
            too_much: measured.too_much,
        }),
        fit: fit(deviation.as_f64()),
        cost: cost(chosen, &parts, grams),
        shortcut: Shortcut::new(measures, grade),
        cautions,
        parts,
    }
}

/// The values and weights of a nutrient: its percent by weight of material, or its share by
/// weight of nutrients.
fn weighted(chosen: &[Chosen<'_>], nutrient: Nutrient, of_nutrients: bool) -> Vec<Weighted> {
    let held = |own: &Chosen<'_>| {
        let grade = own.material.grade();
        let percent = Nutrient::ALL
            .iter()
            .zip(grade)
            .find(|(n, _)| **n == nutrient);
        let percent = percent.map_or(0.0, |(_, percent)| percent);
        let [lo, _, hi] = own.grams();
        let all: f64 = grade.iter().sum();
        match of_nutrients {
            true if all > 0.0 => Some(Weighted {
                value: percent / all,
                lo: lo * all,
                hi: hi * all,
            }),
            true => None,
            false => Some(Weighted {
                value: percent,
                lo,
                hi,
            }),
        }
    };
    chosen.iter().filter_map(held).collect()
}

/// The largest deviation that the densities allow.
fn at_worst(chosen: &[Chosen<'_>], wanted: Npk) -> f64 {
    let each = Nutrient::ALL
        .into_iter()
        .zip(wanted.as_array())
        .map(|(nutrient, share)| {
            let (lo, hi) = extremes(&weighted(chosen, nutrient, true));
            let off = (hi - share).max(share - lo);
            if share > 0.0 { off / share } else { off }
        });
    each.fold(0.0, f64::max)
}

fn fit(deviation: f64) -> Fit {
    if deviation <= 0.05 {
        Fit::OnTarget
    } else if deviation <= 0.20 {
        Fit::Near
    } else {
        Fit::Far
    }
}

fn cost(chosen: &[Chosen<'_>], parts: &[Part], grams: f64) -> Option<Cost> {
    let mut cost = Cost {
        known: 0.0,
        per_kg: None,
        unpriced: Vec::new(),
    };
    for (own, part) in chosen.iter().zip(parts) {
        match own.material.price_per_kg {
            Some(price) => cost.known += price * part.grams / 1000.0,
            None => cost.unpriced.push(own.place),
        }
    }
    if cost.unpriced.len() == parts.len() {
        return None;
    }
    if cost.unpriced.is_empty() {
        cost.per_kg = Some(cost.known * 1000.0 / grams);
    }
    Some(cost)
}
