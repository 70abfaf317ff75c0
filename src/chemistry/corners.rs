//! The strongest and the weakest mix of salts behind a grade that does not name them.
//!
//! **Problem.** Eight salts make up almost all soluble feeds. Among all mixes of them that have the
//! grade's N, P2O5 and K2O and weigh no more than the bag, which has the largest conductivity? Each
//! salt's share is a variable, conductivity per gram its value: a linear program with four rows (N,
//! P2O5, K2O, weight, the last filled up with inert filler). Makers round down, so that a pure
//! phosphate is sold as 12-61-0, which nothing has exactly: where no mix has the grade, one that
//! exceeds it by as little as possible stands in, up to one percentage point in all (own choice).
//! Three more columns, each of a large negative value, see to that.
//!
//! **Solution.** The optimum of a linear program lies in a corner: four columns, the others absent.
//! Whether a corner is *best if it can be reached* depends on the values alone, not on the grade.
//! So those corners are sorted out once, when the program is built; a grade then takes the first one
//! that reaches it without a negative share. That is the optimum, which a test shows by solving the
//! same program with a general solver.
//!
//! **Values.** Conductivity of the salt alone at 1 g/L and 25 °C, per gram. A feed holds all of its
//! salts together and is a little less conductive than that sum; so the chosen mix is afterwards
//! put through the real model (own choice).

use std::sync::LazyLock;

use super::label::Grade;
use super::salts::Salt;
use crate::embedded::CORNERS;
use std::borrow::Cow;

/// The salts that soluble feeds are made of.
pub const FEED_SALTS: [Salt; 8] = [
    Salt::Urea,
    Salt::AmmoniumNitrate,
    Salt::AmmoniumSulfate,
    Salt::PotassiumNitrate,
    Salt::MonoammoniumPhosphate,
    Salt::MonopotassiumPhosphate,
    Salt::PotassiumChloride,
    Salt::PotassiumSulfate,
];

/// Strength at which each salt is given its conductivity per gram, g/L.
pub const STRENGTH: f64 = 1.0;

/// How far a mix may exceed the grade where none has it exactly, as a share of the product (own
/// choice).
const SURPLUS: f64 = 0.01;

/// Value of exceeding the grade: worse than anything a salt can be worth.
const SURPLUS_VALUE: f64 = -1000.0;

/// Share below which a salt counts as absent; shares this far below zero are rounding.
const NOTHING: f64 = 1e-9;

/// A mix of salts, as shares of the product by weight. What is missing to 1 is inert.
pub type Mix = Vec<(Salt, f64)>;

/// The mix with the largest conductivity; `None` when no mix of the eight salts comes near this
/// grade.
pub fn strongest(grade: &Grade) -> Option<Mix> {
    static STRONGEST: LazyLock<Corners> = LazyLock::new(|| Corners::built(0));
    STRONGEST.mix(grade)
}

/// The mix with the largest conductivity once its urea has become ammonium bicarbonate.
pub fn strongest_after_urea(grade: &Grade) -> Option<Mix> {
    static STRONGEST: LazyLock<Corners> = LazyLock::new(|| Corners::built(1));
    STRONGEST.mix(grade)
}

/// The mix with the smallest conductivity: all urea beside its phosphates and potassium salts, as
/// long as those fit into the bag. Near potassium nitrate they do not, and some of that is left in.
pub fn weakest(grade: &Grade) -> Option<Mix> {
    static WEAKEST: LazyLock<Corners> = LazyLock::new(|| Corners::built(2));
    WEAKEST.mix(grade)
}

/// The three tables of corners, as places of their columns: sorted out anew, for the build to put
/// into the program.
pub fn tables() -> [Vec<[u8; 4]>; 3] {
    let columns = columns(&FEED_SALTS);
    VALUES.map(|value| sorted_out(&columns, value))
}

/// What a gram of a salt is worth: for the strongest mix, the strongest once urea has broken down,
/// and the weakest.
const VALUES: [fn(Salt) -> f64; 3] = [ec_per_gram, ec_per_gram_after_urea, |salt| {
    -ec_per_gram(salt)
}];

/// Conductivity of a salt at [`STRENGTH`] and 25 °C, dS/m per g/L.
pub fn ec_per_gram(salt: Salt) -> f64 {
    salt.per_gram().times(STRENGTH).ec_ds_per_m(25.0) / STRENGTH
}

/// The same once urea has become ammonium bicarbonate.
pub fn ec_per_gram_after_urea(salt: Salt) -> f64 {
    salt.per_gram()
        .times(STRENGTH)
        .urea_broken_down()
        .ec_ds_per_m(25.0)
        / STRENGTH
}

/// What a column of the program stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Part {
    Salt(Salt),
    Filler,
    Surplus,
}

/// One column of the program: what a gram holds of N, P2O5, K2O and weight.
#[derive(Debug, Clone, Copy)]
struct Column {
    part: Part,
    holds: [f64; 4],
}

/// The salts, the filler and the three surpluses.
fn columns(salts: &[Salt]) -> Vec<Column> {
    let salts = salts.iter().map(|&salt| Column {
        part: Part::Salt(salt),
        holds: [salt.nitrogen(), salt.phosphate(), salt.potash(), 1.0],
    });
    let filler = Column {
        part: Part::Filler,
        holds: [0.0, 0.0, 0.0, 1.0],
    };
    let surplus = [
        [-1.0, 0.0, 0.0, 0.0],
        [0.0, -1.0, 0.0, 0.0],
        [0.0, 0.0, -1.0, 0.0],
    ]
    .map(|holds| Column {
        part: Part::Surplus,
        holds,
    });
    salts.chain([filler]).chain(surplus).collect()
}

/// The places of the columns of every corner that is best wherever it can be reached.
fn sorted_out(columns: &[Column], value: fn(Salt) -> f64) -> Vec<[u8; 4]> {
    let values: Vec<f64> = columns
        .iter()
        .map(|column| match column.part {
            Part::Salt(salt) => value(salt),
            Part::Filler => 0.0,
            Part::Surplus => SURPLUS_VALUE,
        })
        .collect();
    fours(columns.len())
        .filter(|corner| is_best(*corner, columns, &values).unwrap_or(false))
        .collect()
}

/// The corners that are best wherever they can be reached.
struct Corners {
    columns: Vec<Column>,
    best: Cow<'static, [[u8; 4]]>,
}

impl Corners {
    /// The table at this place, as the build sorted it out; where it did not, sorted out now.
    fn built(at: usize) -> Self {
        let columns = columns(&FEED_SALTS);
        let best = match (CORNERS.get(at), VALUES.get(at)) {
            (Some(table), _) if !table.is_empty() => Cow::Borrowed(*table),
            (_, Some(value)) => Cow::Owned(sorted_out(&columns, *value)),
            _ => Cow::default(),
        };
        Self { columns, best }
    }

    fn mix(&self, grade: &Grade) -> Option<Mix> {
        let wanted = [
            grade.nitrogen() / 100.0,
            grade.phosphate() / 100.0,
            grade.potash() / 100.0,
            1.0,
        ];
        let (corner, shares) = self.best.iter().find_map(|corner| {
            let corner = taken(*corner, &self.columns)?;
            let [a, b, c, d] = corner;
            let shares = solve([a.holds, b.holds, c.holds, d.holds], wanted)?;
            shares
                .iter()
                .all(|share| *share >= -NOTHING)
                .then_some((corner, shares))
        })?;
        let parts = || corner.iter().map(|column| column.part).zip(shares);
        let surplus: f64 = parts()
            .filter(|(part, _)| *part == Part::Surplus)
            .map(|(_, share)| share)
            .sum();
        let salts = parts().filter_map(|(part, share)| match part {
            Part::Salt(salt) if share > NOTHING => Some((salt, share)),
            _ => None,
        });
        (surplus <= SURPLUS).then(|| salts.collect())
    }
}

/// Every choice of four out of so many, in order.
fn fours(columns: usize) -> impl Iterator<Item = [u8; 4]> {
    let end = u8::try_from(columns).unwrap_or(u8::MAX);
    let after = move |place: u8| place.saturating_add(1)..end;
    (0..end).flat_map(move |a| {
        after(a).flat_map(move |b| after(b).flat_map(move |c| after(c).map(move |d| [a, b, c, d])))
    })
}

/// The items at four places; `None` where there is no such place.
fn taken<T: Copy>([a, b, c, d]: [u8; 4], items: &[T]) -> Option<[T; 4]> {
    let at = |place: u8| items.get(usize::from(place)).copied();
    Some([at(a)?, at(b)?, at(c)?, at(d)?])
}

/// Whether no column outside the corner would be worth more than what it displaces: its value is at
/// most what its contents are worth at the corner's prices.
fn is_best(corner: [u8; 4], columns: &[Column], values: &[f64]) -> Option<bool> {
    let [a, b, c, d] = taken(corner, columns)?;
    let transposed = transpose([a.holds, b.holds, c.holds, d.holds]);
    let prices = solve(transposed, taken(corner, values)?)?;
    Some(columns.iter().zip(values).all(|(column, value)| {
        let worth: f64 = column
            .holds
            .iter()
            .zip(prices)
            .map(|(held, price)| held * price)
            .sum();
        *value <= worth + NOTHING
    }))
}

type Four = [f64; 4];

fn transpose([a, b, c, d]: [Four; 4]) -> [Four; 4] {
    let ([a0, a1, a2, a3], [b0, b1, b2, b3]) = (a, b);
    let ([c0, c1, c2, c3], [d0, d1, d2, d3]) = (c, d);
    [
        [a0, b0, c0, d0],
        [a1, b1, c1, d1],
        [a2, b2, c2, d2],
        [a3, b3, c3, d3],
    ]
}

/// Solves columns · x = right side by Cramer's rule; `None` when the columns depend on each other.
fn solve([a, b, c, d]: [Four; 4], right: Four) -> Option<Four> {
    let whole = determinant(a, b, c, d);
    (whole.abs() > 1e-12).then(|| {
        [
            determinant(right, b, c, d) / whole,
            determinant(a, right, c, d) / whole,
            determinant(a, b, right, d) / whole,
            determinant(a, b, c, right) / whole,
        ]
    })
}

/// Determinant by pairs of columns (Laplace).
fn determinant([a0, a1, a2, a3]: Four, [b0, b1, b2, b3]: Four, c: Four, d: Four) -> f64 {
    let ([c0, c1, c2, c3], [d0, d1, d2, d3]) = (c, d);
    (a0 * b1 - a1 * b0) * (c2 * d3 - c3 * d2) - (a0 * b2 - a2 * b0) * (c1 * d3 - c3 * d1)
        + (a0 * b3 - a3 * b0) * (c1 * d2 - c2 * d1)
        + (a1 * b2 - a2 * b1) * (c0 * d3 - c3 * d0)
        - (a1 * b3 - a3 * b1) * (c0 * d2 - c2 * d0)
        + (a2 * b3 - a3 * b2) * (c0 * d1 - c1 * d0)
}

#[cfg(test)]
mod tests {
    use super::{CORNERS, tables};

    /// The machine that built the program and this one sort out the same corners.
    #[test]
    fn what_the_build_sorted_out_is_what_is_sorted_out_now() {
        assert_eq!(CORNERS.map(<[_]>::to_vec), tables());
        assert!(CORNERS.iter().all(|table| !table.is_empty()));
    }
}
