//! The shelf in whole numbers, so that mixes can be compared without rounding.
//!
//! One scoop of material i brings aᵢⱼ = wᵢ·gᵢⱼ of nutrient j: gᵢⱼ is the share in ten-thousandths
//! of a percent, wᵢ the weight of a scoop. For a scoop of volume wᵢ is the sum of both ends of
//! the density in ten-thousandths of g/mL (twice the middle); for a scoop of weight it is 1. A
//! common factor of all weights changes no ratio, so the size of the scoop does not enter.
//!
//! With Sⱼ = Σ xᵢaᵢⱼ, T = ΣSⱼ, target parts rⱼ and R = Σrⱼ, the deviation of a nutrient is
//! |SⱼR − rⱼT| / (rⱼT), and Sⱼ/T where rⱼ is nought. Bounds: a ≤ 10⁵·10⁶ = 10¹¹, 40 materials of
//! at most 65 535 scoops make S and T ≤ 10¹⁸, R ≤ 3·10⁶; every product stays below 10²⁵, far
//! inside an `i128`, so the saturating operations used here never saturate.

use super::deviation::Deviation;
use super::ratio::{Nutrient, Target};
use super::reason::supplied;
use super::scoop::{Amount, Scoop};
use super::shelf::{MaterialOnShelf, Shelf};
use std::num::NonZeroU128;

/// One material that can bring something into a mix.
#[derive(Debug, Clone)]
pub(super) struct Item {
    /// Its place on the shelf.
    pub(super) place: usize,
    /// As many scoops as may be used, at least 1.
    pub(super) cap: u8,
    /// What one scoop brings of each nutrient.
    amounts: [i64; 3],
    /// Bit k is set where item k must not be in the same mix.
    pub(super) clashes: u64,
}

/// All usable materials in the order of their names, with the target.
#[derive(Debug, Clone)]
pub(super) struct Ledger {
    pub(super) items: Vec<Item>,
    target: Target,
}

/// A deviation with the nutrient that causes it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Measured {
    pub(super) deviation: Deviation,
    pub(super) nutrient: Nutrient,
    pub(super) too_much: bool,
}

impl Item {
    /// One bit for each nutrient that it brings.
    pub(super) fn supplies(&self) -> u8 {
        supplied(self.amounts)
    }

    /// Whether it must not be in one mix with the item of this number.
    pub(super) fn clashes_with(&self, item: usize) -> bool {
        let shift = u32::try_from(item).unwrap_or(u32::MAX);
        self.clashes.wrapping_shr(shift) & 1 == 1
    }
}

impl Ledger {
    /// Leaves out what holds none of the three nutrients or may not be used at all: it could
    /// only add a bag.
    pub(super) fn new(shelf: &Shelf, scoop: Scoop, target: Target) -> Self {
        let mut usable: Vec<(usize, &MaterialOnShelf)> = shelf
            .materials()
            .iter()
            .enumerate()
            .filter(|(_, m)| m.cap() > 0 && m.grade_steps().iter().any(|share| *share > 0))
            .collect();
        usable.sort_by_key(|(place, material)| (material.rank(), *place));
        let clash = |a: usize, b: usize| shelf.apart().contains(&(a.min(b), a.max(b)));
        let items = usable
            .iter()
            .map(|&(place, material)| Item {
                place,
                cap: material.cap(),
                amounts: amounts(material, scoop),
                clashes: usable.iter().rev().fold(0, |bits: u64, &(other, _)| {
                    bits.wrapping_shl(1) | u64::from(clash(place, other))
                }),
            })
            .collect();
        Self { items, target }
    }

    /// The exact deviation of a mix of (item, scoops); `None` where it holds nothing.
    pub(super) fn measure(&self, mix: impl Iterator<Item = (usize, u16)>) -> Option<Measured> {
        let brought =
            mix.filter_map(|(item, scoops)| Some((self.items.get(item)?.amounts, scoops)));
        measure(brought, self.target)
    }

    /// For each item the six numbers that must not add up to more than nought for a mix to have
    /// a deviation of at most `deviation`, in machine precision, with its nutrients per scoop as
    /// a part of the largest on the shelf.
    pub(super) fn rows(&self, deviation: f64) -> Vec<Row> {
        let whole = |item: &Item| item.amounts.iter().map(|a| *a as f64).sum::<f64>();
        let largest = self.items.iter().map(whole).fold(0.0, f64::max);
        let wanted = self.target.shares().as_array();
        let row = |item: &Item| {
            let brings = whole(item) / largest;
            let mut excess = [0.0; 3];
            for ((slot, amount), share) in excess.iter_mut().zip(item.amounts).zip(wanted) {
                let off = amount as f64 / largest - share * brings;
                *slot = if share > 0.0 { off / share } else { off };
            }
            let slack = deviation * brings;
            let [n, p, k] = excess;
            let limits = [
                n - slack,
                -n - slack,
                p - slack,
                -p - slack,
                k - slack,
                -k - slack,
            ];
            Row {
                limits,
                brings,
                cap: f64::from(item.cap),
            }
        };
        self.items.iter().map(row).collect()
    }
}

/// One material's part in the six conditions of a deviation.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row {
    /// Too much and too little of each nutrient, less what the deviation allows.
    pub(super) limits: [f64; 6],
    /// Nutrients in one scoop, at most 1.
    pub(super) brings: f64,
    /// Most scoops.
    pub(super) cap: f64,
}

/// What one scoop of a material brings of each nutrient, in the whole numbers of this module.
pub(super) fn amounts(material: &MaterialOnShelf, scoop: Scoop) -> [i64; 3] {
    let weight = match scoop.amount() {
        Amount::Volume(_) => material
            .density_steps()
            .into_iter()
            .fold(0, i64::saturating_add),
        Amount::Weight(_) => 1,
    };
    material
        .grade_steps()
        .map(|share| share.saturating_mul(weight))
}

/// The exact deviation of what so many scoops of each bring together; `None` for nothing at all.
/// Of two nutrients equally far off the first of the label is named.
pub(super) fn measure(
    brought: impl Iterator<Item = ([i64; 3], u16)>,
    target: Target,
) -> Option<Measured> {
    let mut sums = [0_i128; 3];
    for (amounts, scoops) in brought {
        for (sum, amount) in sums.iter_mut().zip(amounts) {
            *sum = sum.saturating_add(i128::from(amount).saturating_mul(i128::from(scoops)));
        }
    }
    let total = sums
        .iter()
        .fold(0_i128, |all, sum| all.saturating_add(*sum));
    let whole = i128::from(target.whole());
    let mut worst: Option<Measured> = None;
    for ((sum, part), nutrient) in sums.into_iter().zip(target.parts()).zip(Nutrient::ALL) {
        let wanted = i128::from(part).saturating_mul(total);
        let off = sum.saturating_mul(whole).saturating_sub(wanted);
        let (over, under) = match NonZeroU128::new(wanted.unsigned_abs()) {
            Some(wanted) => (off.unsigned_abs(), wanted),
            None => (sum.unsigned_abs(), NonZeroU128::new(total.unsigned_abs())?),
        };
        let deviation = Deviation::new(over, under);
        if worst.is_none_or(|w| w.deviation < deviation) {
            worst = Some(Measured {
                deviation,
                nutrient,
                too_much: off > 0,
            });
        }
    }
    worst
}
