//! What stands on the shelf, and which of it must not meet.

use super::error::BlendError;
use super::ratio::Nutrient;

/// As many materials as one blend may choose among (own choice: more than any shed holds, and still weighed up in a moment).
pub const MOST_MATERIALS: usize = 30;
/// As many scoops of one material as a mix may hold (own choice).
pub const MOST_SCOOPS: u8 = 12;
/// As many materials as a mix uses unless the grower says otherwise (own choice).
pub const DEFAULT_BAGS: usize = 4;

/// The steps in which percents and densities are held, per unit.
const PER_UNIT: f64 = 10_000.0;
const LIGHTEST: f64 = 0.05;
const HEAVIEST: f64 = 5.0;

/// One material as the grower has it. Checked when it is put on a [`Shelf`].
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialOnShelf {
    /// What the grower calls it. Ties are broken by name.
    pub name: String,
    /// Nitrogen, percent by weight, taken to the nearest 0.0001.
    pub n: f64,
    /// Phosphate as P2O5, percent by weight, taken to the nearest 0.0001.
    pub p2o5: f64,
    /// Potash as K2O, percent by weight, taken to the nearest 0.0001.
    pub k2o: f64,
    /// Lower end of the bulk density, g/mL, taken to the nearest 0.0001.
    pub density_lo: f64,
    /// Upper end of the bulk density, g/mL; the same as the lower end where it was weighed.
    pub density_hi: f64,
    /// Price of a kilogram, in whatever money the grower uses.
    pub price_per_kg: Option<f64>,
    /// As many scoops of it as may be used; never more than [`MOST_SCOOPS`].
    pub max_scoops: Option<u8>,
    /// What it reacts as: "calcium", "sulfate", "lime".
    pub tags: Vec<String>,
}

impl MaterialOnShelf {
    /// A material of this grade and density, without price, limit or tags.
    pub fn new(name: impl Into<String>, [n, p2o5, k2o]: [f64; 3], density: f64) -> Self {
        Self {
            name: name.into(),
            n,
            p2o5,
            k2o,
            density_lo: density,
            density_hi: density,
            price_per_kg: None,
            max_scoops: None,
            tags: Vec::new(),
        }
    }

    /// The grade in whole ten-thousandths of a percent.
    pub(super) fn grade_steps(&self) -> [i64; 3] {
        [self.n, self.p2o5, self.k2o].map(steps)
    }

    /// Lower and upper density in whole ten-thousandths of g/mL.
    pub(super) fn density_steps(&self) -> [i64; 2] {
        [self.density_lo, self.density_hi].map(steps)
    }

    /// The grade in percent, as it is reckoned with.
    pub(super) fn grade(&self) -> [f64; 3] {
        self.grade_steps().map(from_steps)
    }

    /// Lower end, middle and upper end of the density in g/mL, as they are reckoned with.
    pub(super) fn densities(&self) -> [f64; 3] {
        let [lo, hi] = self.density_steps().map(from_steps);
        [lo, (lo + hi) / 2.0, hi]
    }

    /// As many scoops of it as a mix may hold.
    pub(super) fn cap(&self) -> u8 {
        self.max_scoops.unwrap_or(MOST_SCOOPS).min(MOST_SCOOPS)
    }

    /// The order in which ties are broken: by name, then by all else that makes a difference.
    pub(super) fn rank(&self) -> (&str, [i64; 3], [i64; 2], u8) {
        (
            &self.name,
            self.grade_steps(),
            self.density_steps(),
            self.cap(),
        )
    }

    fn check(&self) -> Result<(), BlendError> {
        let name = || self.name.clone();
        let shares = [self.n, self.p2o5, self.k2o];
        for (percent, nutrient) in shares.into_iter().zip(Nutrient::ALL) {
            if !(0.0..=100.0).contains(&percent) {
                return Err(BlendError::Share {
                    name: name(),
                    nutrient,
                    percent,
                });
            }
        }
        let sum = self.grade_steps().into_iter().fold(0, i64::saturating_add);
        if sum > steps(100.0) {
            return Err(BlendError::SharesOverWhole {
                name: name(),
                sum: from_steps(sum),
            });
        }
        let (lo, hi) = (self.density_lo, self.density_hi);
        let usable = LIGHTEST..=HEAVIEST;
        if !usable.contains(&lo) || !usable.contains(&hi) || lo > hi {
            return Err(BlendError::Density {
                name: name(),
                lo,
                hi,
            });
        }
        match self.price_per_kg {
            Some(price) if !(0.0..f64::INFINITY).contains(&price) => Err(BlendError::Price {
                name: name(),
                price,
            }),
            _ => Ok(()),
        }
    }
}

/// To whole ten-thousandths. Every value that comes here has been found to be within ±1000.
fn steps(value: f64) -> i64 {
    (value * PER_UNIT).round() as i64
}

/// Back from whole ten-thousandths.
fn from_steps(whole: i64) -> f64 {
    whole as f64 / PER_UNIT
}

/// A checked shelf with its pairs. Materials are known by their place, counted from 0.
#[derive(Debug, Clone, PartialEq)]
pub struct Shelf {
    materials: Vec<MaterialOnShelf>,
    apart: Vec<(usize, usize)>,
    cautioned: Vec<(usize, usize)>,
}

impl Shelf {
    /// Puts the materials on the shelf.
    ///
    /// # Errors
    /// The first material that cannot be worked with, an empty shelf, or more than
    /// [`MOST_MATERIALS`].
    pub fn new(materials: Vec<MaterialOnShelf>) -> Result<Self, BlendError> {
        if materials.is_empty() {
            return Err(BlendError::EmptyShelf);
        }
        if materials.len() > MOST_MATERIALS {
            return Err(BlendError::TooManyMaterials {
                given: materials.len(),
            });
        }
        materials.iter().try_for_each(MaterialOnShelf::check)?;
        Ok(Self {
            materials,
            apart: Vec::new(),
            cautioned: Vec::new(),
        })
    }

    /// Two materials that must never be in one mix.
    ///
    /// # Errors
    /// A place where nothing stands, or a material paired with itself.
    pub fn keep_apart(&mut self, first: usize, second: usize) -> Result<(), BlendError> {
        let pair = self.pair(first, second)?;
        add(&mut self.apart, pair);
        Ok(())
    }

    /// Two materials that may be mixed, but with a word of caution.
    ///
    /// # Errors
    /// A place where nothing stands, or a material paired with itself.
    pub fn caution(&mut self, first: usize, second: usize) -> Result<(), BlendError> {
        let pair = self.pair(first, second)?;
        add(&mut self.cautioned, pair);
        Ok(())
    }

    /// Leaves a material out of every mix.
    ///
    /// # Errors
    /// A place where nothing stands.
    pub(super) fn leave_out(&mut self, place: usize) -> Result<(), BlendError> {
        let len = self.materials.len();
        let material = self.materials.get_mut(place);
        material
            .ok_or(BlendError::NoSuchMaterial { place, len })?
            .max_scoops = Some(0);
        Ok(())
    }

    /// Every two materials of which one carries the first tag and the other the second: the way
    /// from a rule such as "urea and lime" to [`Shelf::keep_apart`] and [`Shelf::caution`].
    pub fn tagged_pairs(&self, first: &str, second: &str) -> Vec<(usize, usize)> {
        let carriers = |tag: &str| {
            let has = |material: &MaterialOnShelf| material.tags.iter().any(|own| own == tag);
            let places = self.materials.iter().enumerate().filter(|(_, m)| has(m));
            places.map(|(place, _)| place).collect::<Vec<_>>()
        };
        let seconds = carriers(second);
        let mut pairs = Vec::new();
        for one in carriers(first) {
            for other in seconds.iter().filter(|other| **other != one) {
                add(&mut pairs, ordered(one, *other));
            }
        }
        pairs.sort_unstable();
        pairs
    }

    /// The materials in their places.
    pub fn materials(&self) -> &[MaterialOnShelf] {
        &self.materials
    }

    /// The material at a place.
    ///
    /// # Errors
    /// A place where nothing stands.
    pub fn material(&self, place: usize) -> Result<&MaterialOnShelf, BlendError> {
        let len = self.materials.len();
        self.materials
            .get(place)
            .ok_or(BlendError::NoSuchMaterial { place, len })
    }

    /// The pairs that must never be in one mix, lower place first.
    pub fn apart(&self) -> &[(usize, usize)] {
        &self.apart
    }

    /// The pairs that call for a word of caution, lower place first.
    pub fn cautioned(&self) -> &[(usize, usize)] {
        &self.cautioned
    }

    fn pair(&self, first: usize, second: usize) -> Result<(usize, usize), BlendError> {
        let name = &self.material(first)?.name;
        self.material(second)?;
        if first == second {
            return Err(BlendError::PairWithItself { name: name.clone() });
        }
        Ok(ordered(first, second))
    }
}

fn ordered(first: usize, second: usize) -> (usize, usize) {
    (first.min(second), first.max(second))
}

fn add(pairs: &mut Vec<(usize, usize)>, pair: (usize, usize)) {
    if !pairs.contains(&pair) {
        pairs.push(pair);
    }
}
