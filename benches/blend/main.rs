//! How long a blend of four materials takes: the program's own search, a general solver, and trying everything.
//!
//! `cargo bench --bench blend` runs all three on the same cases in one run, checks that they agree, and prints the ratios that
//! `docs/method.md` reports. Nothing is asserted about time.
//!
//! The solver (`microlp`) is asked "is there a mix with a deviation of at most d?" by bisection, as the program does for
//! larger shelves. Trying everything means all 13⁴ − 1 mixes in floating point, the bound that pruning has to beat.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use microlp::{ComparisonOp, OptimizationDirection, Problem};
use std::hint::black_box;
use std::time::{Duration, Instant};
use tubgrove::blend::{Answer, MaterialOnShelf, Scoop, Shelf, Target, Wish, mix};

const CASES: usize = 60;
const MOST: usize = 12;
const TARGET: [f64; 3] = [0.5, 0.25, 0.25];

/// A small generator, so that every run has the same cases (Knuth's constants).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % n
    }
}

/// Four materials that bring all three nutrients together, in per cent.
fn shelf(dice: &mut Dice) -> Vec<[f64; 3]> {
    loop {
        let grades: Vec<[f64; 3]> = (0..4)
            .map(|_| {
                [(); 3].map(|()| {
                    if dice.below(3) == 0 {
                        0.0
                    } else {
                        dice.below(20) as f64 + 1.0
                    }
                })
            })
            .collect();
        let all = (0..3).all(|i| grades.iter().any(|g| g[i] > 0.0));
        let none_empty = grades.iter().all(|g| g.iter().sum::<f64>() > 0.0);
        if all && none_empty {
            return grades;
        }
    }
}

fn deviation(grades: &[[f64; 3]], scoops: &[usize; 4]) -> f64 {
    let mut sum = [0.0; 3];
    for (grade, count) in grades.iter().zip(scoops) {
        for (total, percent) in sum.iter_mut().zip(grade) {
            *total += *count as f64 * percent;
        }
    }
    let all: f64 = sum.iter().sum();
    sum.iter()
        .zip(TARGET)
        .map(|(x, t)| (x / all / t - 1.0).abs())
        .fold(0.0, f64::max)
}

fn ours(grades: &[[f64; 3]]) -> f64 {
    let materials = grades
        .iter()
        .enumerate()
        .map(|(i, g)| MaterialOnShelf::new(format!("m{i}"), *g, 0.8))
        .collect();
    let shelf = Shelf::new(materials).unwrap();
    let wish = Wish::new(Target::default(), Scoop::weight(25.0).unwrap())
        .at_most(4)
        .unwrap();
    match mix(&shelf, &wish) {
        Answer::Mix(recipe) => recipe.best.deviation.as_f64(),
        Answer::Cannot(_) => f64::INFINITY,
    }
}

fn everything(grades: &[[f64; 3]]) -> f64 {
    let mut best = f64::INFINITY;
    for a in 0..=MOST {
        for b in 0..=MOST {
            for c in 0..=MOST {
                for d in 0..=MOST {
                    if a + b + c + d > 0 {
                        best = best.min(deviation(grades, &[a, b, c, d]));
                    }
                }
            }
        }
    }
    best
}

/// A mix with a deviation of at most `d`, where the solver finds one.
fn ask(grades: &[[f64; 3]], d: f64) -> Option<f64> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let scoops: Vec<_> = grades
        .iter()
        .map(|_| problem.add_integer_var(1.0, (0, MOST as i32)))
        .collect();
    problem.add_constraint(scoops.iter().map(|s| (*s, 1.0)), ComparisonOp::Ge, 1.0);
    for (i, target) in TARGET.into_iter().enumerate() {
        for sign in [1.0, -1.0] {
            let terms = scoops.iter().zip(grades).map(|(s, g)| {
                let all: f64 = g.iter().sum();
                (*s, sign * (g[i] - target * all) - d * target * all)
            });
            problem.add_constraint(terms, ComparisonOp::Le, 0.0);
        }
    }
    let solution = problem.solve().ok()?.into_solution().ok()?;
    let mut counts = [0; 4];
    for (count, s) in counts.iter_mut().zip(&scoops) {
        *count = solution.var_value(*s).round() as usize;
    }
    (counts.iter().sum::<usize>() > 0).then(|| deviation(grades, &counts))
}

fn solver(grades: &[[f64; 3]]) -> f64 {
    let (mut low, mut high) = (0.0, deviation(grades, &[1, 1, 1, 1]));
    while high - low > 1e-9 {
        let middle = (low + high) / 2.0;
        match ask(grades, middle) {
            Some(found) if found < high => high = found,
            _ => low = middle,
        }
    }
    high
}

fn timed(cases: &[Vec<[f64; 3]>], way: fn(&[[f64; 3]]) -> f64) -> (Duration, Vec<f64>) {
    let start = Instant::now();
    let found = cases.iter().map(|c| black_box(way(black_box(c)))).collect();
    (start.elapsed(), found)
}

fn main() {
    let mut dice = Dice(2026);
    let cases: Vec<Vec<[f64; 3]>> = (0..CASES).map(|_| shelf(&mut dice)).collect();
    let (own, a) = timed(&cases, ours);
    let (general, b) = timed(&cases, solver);
    let (brute, c) = timed(&cases, everything);
    let off = a
        .iter()
        .zip(&b)
        .zip(&c)
        .map(|((a, b), c)| (a - b).abs().max((a - c).abs()))
        .fold(0.0, f64::max);
    let each = |d: Duration| d.as_secs_f64() * 1e6 / CASES as f64;
    println!("{CASES} shelves of 4 materials, 0 to {MOST} scoops each, target 2:1:1");
    println!("own search      {:>9.0} µs a shelf", each(own));
    println!(
        "general solver  {:>9.0} µs a shelf, {:.1} times",
        each(general),
        general.as_secs_f64() / own.as_secs_f64()
    );
    println!(
        "everything      {:>9.0} µs a shelf, {:.1} times",
        each(brute),
        brute.as_secs_f64() / own.as_secs_f64()
    );
    println!("largest difference of the three deviations: {off:.1e}");
}
