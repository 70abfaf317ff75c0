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
//! So those corners are sorted out once; a grade then takes the first one that reaches it without a
//! negative share. That is the optimum, which a test shows by solving the same program with a
//! general solver.
//!
//! **Values.** Conductivity of the salt alone at 1 g/L and 25 °C, per gram. A feed holds all of its
//! salts together and is a little less conductive than that sum; so the chosen mix is afterwards
//! put through the real model (own choice).

use std::sync::LazyLock;

use super::label::Grade;
use super::salts::Salt;

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
    static CORNERS: LazyLock<Corners> = LazyLock::new(|| Corners::of(&FEED_SALTS, ec_per_gram));
    CORNERS.mix(grade)
}

/// The mix with the largest conductivity once its urea has become ammonium bicarbonate.
pub fn strongest_after_urea(grade: &Grade) -> Option<Mix> {
    static CORNERS: LazyLock<Corners> =
        LazyLock::new(|| Corners::of(&FEED_SALTS, ec_per_gram_after_urea));
    CORNERS.mix(grade)
}

/// The mix with the smallest conductivity: all urea beside its phosphates and potassium salts, as
/// long as those fit into the bag. Near potassium nitrate they do not, and some of that is left in.
pub fn weakest(grade: &Grade) -> Option<Mix> {
    static CORNERS: LazyLock<Corners> =
        LazyLock::new(|| Corners::of(&FEED_SALTS, |salt| -ec_per_gram(salt)));
    CORNERS.mix(grade)
}

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

/// One column of the program: what a gram holds of N, P2O5, K2O and weight, and its value.
#[derive(Debug, Clone, Copy)]
struct Column {
    part: Part,
    holds: [f64; 4],
    value: f64,
}

/// The corners that are best wherever they can be reached.
struct Corners(Vec<[Column; 4]>);

impl Corners {
    fn of(salts: &[Salt], value: impl Fn(Salt) -> f64) -> Self {
        let salts = salts.iter().map(|&salt| Column {
            part: Part::Salt(salt),
            holds: [salt.nitrogen(), salt.phosphate(), salt.potash(), 1.0],
            value: value(salt),
        });
        let filler = Column {
            part: Part::Filler,
            holds: [0.0, 0.0, 0.0, 1.0],
            value: 0.0,
        };
        let surplus = [
            [-1.0, 0.0, 0.0, 0.0],
            [0.0, -1.0, 0.0, 0.0],
            [0.0, 0.0, -1.0, 0.0],
        ]
        .map(|holds| Column {
            part: Part::Surplus,
            holds,
            value: SURPLUS_VALUE,
        });
        let columns: Vec<Column> = salts.chain([filler]).chain(surplus).collect();
        Self(
            fours(&columns)
                .filter(|corner| is_best(corner, &columns))
                .collect(),
        )
    }

    fn mix(&self, grade: &Grade) -> Option<Mix> {
        let wanted = [
            grade.nitrogen() / 100.0,
            grade.phosphate() / 100.0,
            grade.potash() / 100.0,
            1.0,
        ];
        let (corner, shares) = self.0.iter().find_map(|corner| {
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

/// Every choice of four columns, in order.
fn fours(columns: &[Column]) -> impl Iterator<Item = [Column; 4]> {
    let rest = |from: usize| columns.iter().enumerate().skip(from);
    rest(0).flat_map(move |(i, a)| {
        rest(i.saturating_add(1)).flat_map(move |(j, b)| {
            rest(j.saturating_add(1)).flat_map(move |(k, c)| {
                rest(k.saturating_add(1)).map(move |(_, d)| [*a, *b, *c, *d])
            })
        })
    })
}

/// Whether no column outside the corner would be worth more than what it displaces: its value is at
/// most what its contents are worth at the corner's prices.
fn is_best([a, b, c, d]: &[Column; 4], columns: &[Column]) -> bool {
    let transposed = transpose([a.holds, b.holds, c.holds, d.holds]);
    let Some(prices) = solve(transposed, [a.value, b.value, c.value, d.value]) else {
        return false;
    };
    columns.iter().all(|column| {
        let worth: f64 = column
            .holds
            .iter()
            .zip(prices)
            .map(|(held, price)| held * price)
            .sum();
        column.value <= worth + NOTHING
    })
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
