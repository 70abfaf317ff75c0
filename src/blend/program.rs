//! The same question as a mixed integer program, for shelves too large to try everything.
//!
//! "Is there a mix with a deviation of at most d?" is linear in the scoops, so the smallest d is
//! found by bisection. The solver works in floating point; every mix that it offers is measured
//! exactly before it counts, and the proof that there is none better is good to [`CLOSE`].

use super::answer::Proof;
use super::deviation::Deviation;
use super::ledger::{Ledger, Row};
use super::search::Found;
use microlp::{ComparisonOp, Error, OptimizationDirection, Problem, SolveOptions, Variable};
use std::cmp::Ordering;

/// Bisection stops when both ends are this close (own choice).
const CLOSE: f64 = 1e-10;
/// Nodes of the solver's tree for one question, after which it gives up and the search ends with
/// the best mix so far (own choice). Counting nodes instead of seconds keeps the answer the same
/// on every machine.
const MOST_NODES: u64 = 20_000;
/// The conditions are scaled so that the solver's tolerance of 1e-9 means 1e-12 of the largest.
const SCALE: f64 = 1000.0;

/// The deviation that weighing any amounts of what is on the shelf could reach, heeding neither
/// scoops nor limits: below it no mix can go. `None` for an empty ledger.
pub(super) fn weighed(ledger: &Ledger) -> Option<f64> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let worst = problem.add_var(1.0, (0.0, f64::INFINITY));
    let rows = ledger.rows(0.0);
    let parts: Vec<Variable> = rows
        .iter()
        .map(|_| problem.add_var(0.0, (0.0, 1.0)))
        .collect();
    problem.add_constraint(parts.iter().map(|p| (*p, 1.0)), ComparisonOp::Eq, 1.0);
    for condition in conditions(&rows, |row, limit| limit / row.brings) {
        let mut terms: Vec<_> = parts.iter().copied().zip(condition).collect();
        terms.push((worst, -1.0));
        problem.add_constraint(terms, ComparisonOp::Le, 0.0);
    }
    let solution = problem.solve().ok()?.into_solution().ok()?;
    Some(solution.objective().max(0.0))
}

/// Looks for a mix of at most `most_bags` materials that comes nearer to the target than `start`.
/// Where there is none, `start` comes back.
pub(super) fn improve(ledger: &Ledger, most_bags: usize, start: Found) -> (Found, Proof) {
    let mut program = Program {
        ledger,
        most_bags,
        proof: Proof::Within(CLOSE),
    };
    let mut best = start.clone();
    let mut low = weighed(ledger).unwrap_or(0.0);
    while program.proof != Proof::BestFound {
        let high = best.deviation.as_f64();
        if best.deviation == Deviation::ZERO || high - low <= CLOSE {
            break;
        }
        let middle = low + (high - low) / 2.0;
        match program.ask(&Question {
            deviation: middle,
            ..Question::default()
        }) {
            Some(found) if found.deviation < best.deviation => best = found,
            _ => low = middle,
        }
    }
    if best.deviation < start.deviation {
        best = program.settle_ties(best);
    }
    (best, program.proof)
}

/// What the solver is asked.
#[derive(Debug, Clone, Default)]
struct Question {
    deviation: f64,
    per_bag: f64,
    per_scoop: f64,
    /// Item of which as many scoops as possible are wanted.
    favoured: Option<usize>,
    /// Number of bags and of scoops, where they are settled.
    bags: Option<usize>,
    scoops: Option<u32>,
    /// Fewest and most scoops of the first items, where they are settled.
    pinned: Vec<(u8, u8)>,
}

struct Program<'a> {
    ledger: &'a Ledger,
    most_bags: usize,
    proof: Proof,
}

impl Program<'_> {
    /// Among the mixes as near to the target as `best`, the one with the fewest bags, then the
    /// fewest scoops, then the first names, then the most scoops of the first names.
    fn settle_ties(&mut self, mut best: Found) -> Found {
        let deviation = best.deviation.as_f64();
        let fewest = Question {
            deviation,
            per_bag: 1000.0,
            per_scoop: 1.0,
            ..Question::default()
        };
        self.prefer(&mut best, &fewest);
        let mut tie = Question {
            deviation: best.deviation.as_f64(),
            bags: Some(best.bags()),
            scoops: Some(best.scoops()),
            ..Question::default()
        };
        for (item, cap) in self.ledger.items.iter().map(|own| own.cap).enumerate() {
            tie.pinned.push((1, cap));
            if scoops_of(&best, item) == 0 {
                self.prefer(&mut best, &tie);
            }
            if scoops_of(&best, item) == 0 {
                tie.pinned.pop();
                tie.pinned.push((0, 0));
            }
        }
        for item in 0..tie.pinned.len() {
            if scoops_of(&best, item) > 0 {
                tie.favoured = Some(item);
                self.prefer(&mut best, &tie);
                let settled = scoops_of(&best, item);
                if let Some(pin) = tie.pinned.get_mut(item) {
                    *pin = (settled, settled);
                }
            }
        }
        best
    }

    /// Takes over the answer where it is preferred. Asks no more once the solver has given up.
    fn prefer(&mut self, best: &mut Found, question: &Question) {
        if self.proof != Proof::BestFound
            && let Some(found) = self.ask(question)
            && found.preference(best) == Ordering::Less
        {
            *best = found;
        }
    }

    /// A mix that fits the question, measured exactly. `None` where there is none, or where the
    /// solver gave up, which the proof then says.
    fn ask(&mut self, question: &Question) -> Option<Found> {
        let (problem, scoops) = self.pose(question);
        let mut options = SolveOptions::default();
        options.node_limit = Some(MOST_NODES);
        options.tolerances.feasibility = 1e-9;
        match problem
            .solve_with(options)
            .map(|outcome| outcome.into_solution())
        {
            Ok(Ok(solution)) => {
                let counts = scoops
                    .iter()
                    .map(|var| solution.var_value(*var).round() as u8);
                let mix = counts.enumerate().filter(|(_, count)| *count > 0).collect();
                Found::new(self.ledger, mix)
            }
            Err(Error::Infeasible) => None,
            Ok(Err(_)) | Err(_) => {
                self.proof = Proof::BestFound;
                None
            }
        }
    }

    fn pose(&self, question: &Question) -> (Problem, Vec<Variable>) {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let mut scoops = Vec::new();
        let mut used = Vec::new();
        for (item, own) in self.ledger.items.iter().enumerate() {
            let (least, most) = question.pinned.get(item).copied().unwrap_or((0, own.cap));
            let favour = if question.favoured == Some(item) {
                -1.0
            } else {
                0.0
            };
            let goal = question.per_scoop + favour;
            let count = problem.add_integer_var(goal, (i32::from(least), i32::from(most)));
            let bag = problem.add_binary_var(question.per_bag);
            let cap = f64::from(own.cap);
            problem.add_constraint([(count, 1.0), (bag, -cap)], ComparisonOp::Le, 0.0);
            problem.add_constraint([(count, 1.0), (bag, -1.0)], ComparisonOp::Ge, 0.0);
            for (other, earlier) in used.iter().enumerate() {
                if own.clashes_with(other) {
                    problem.add_constraint([(bag, 1.0), (*earlier, 1.0)], ComparisonOp::Le, 1.0);
                }
            }
            scoops.push(count);
            used.push(bag);
        }
        let all = |vars: &[Variable]| vars.iter().map(|var| (*var, 1.0)).collect::<Vec<_>>();
        problem.add_constraint(all(&used), ComparisonOp::Le, self.most_bags as f64);
        problem.add_constraint(all(&scoops), ComparisonOp::Ge, 1.0);
        if let Some(bags) = question.bags {
            problem.add_constraint(all(&used), ComparisonOp::Eq, bags as f64);
        }
        if let Some(count) = question.scoops {
            problem.add_constraint(all(&scoops), ComparisonOp::Eq, f64::from(count));
        }
        let rows = self.ledger.rows(question.deviation);
        for condition in conditions(&rows, |_, limit| limit) {
            let largest = condition
                .iter()
                .fold(0.0_f64, |most, limit| most.max(limit.abs()));
            if largest > 0.0 {
                let terms = scoops
                    .iter()
                    .copied()
                    .zip(condition.iter().map(|c| c * SCALE / largest));
                problem.add_constraint(terms, ComparisonOp::Le, 0.0);
            }
        }
        (problem, scoops)
    }
}

fn scoops_of(found: &Found, item: usize) -> u8 {
    found
        .mix
        .iter()
        .find(|(own, _)| *own == item)
        .map_or(0, |(_, scoops)| *scoops)
}

/// The six conditions, each as one number per row.
fn conditions(rows: &[Row], value: impl Fn(&Row, f64) -> f64) -> [Vec<f64>; 6] {
    let mut conditions: [Vec<f64>; 6] = Default::default();
    for row in rows {
        for (condition, limit) in conditions.iter_mut().zip(row.limits) {
            condition.push(value(row, limit));
        }
    }
    conditions
}

#[cfg(test)]
#[allow(clippy::arithmetic_side_effects)]
mod tests {
    use super::*;
    use crate::blend::search::search;
    use crate::blend::{MaterialOnShelf, Scoop, Shelf, Target};

    /// Numbers below `end` from a linear congruential generator (constants of Knuth's MMIX).
    struct Draw(u64);

    impl Draw {
        fn below(&mut self, end: u64) -> u64 {
            self.0 = self
                .0
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (self.0 >> 33) % end
        }
    }

    fn shelf(draw: &mut Draw, materials: u64) -> Shelf {
        let mut shelf = Vec::new();
        for number in 0..materials {
            let grade = [0; 3]
                .map(|_: i32| draw.below(3) * draw.below(60))
                .map(|g| g as f64 / 4.0);
            let density = 0.5 + draw.below(90) as f64 / 100.0;
            let mut material = MaterialOnShelf::new(format!("bag {number}"), grade, density);
            material.max_scoops = Some(1 + draw.below(12) as u8);
            shelf.push(material);
        }
        let mut shelf = Shelf::new(shelf).unwrap();
        if draw.below(2) == 0 {
            shelf.keep_apart(0, 1).unwrap();
        }
        shelf
    }

    /// The integer program and the exhaustive search know nothing of each other.
    #[test]
    fn the_program_and_the_search_agree() {
        let mut draw = Draw(20_260_101);
        let mut compared = 0;
        for case in 0..120 {
            let shelf = shelf(&mut draw, 2 + case % 4);
            let parts = [1 + draw.below(4), draw.below(3), draw.below(4)].map(|part| part as f64);
            let scoop = Scoop::volume(60.0).unwrap();
            let ledger = Ledger::new(&shelf, scoop, Target::new(parts).unwrap());
            for bags in 1..=5 {
                let chain = search(&ledger, bags);
                let Some(exact) = chain.last() else { continue };
                let worst = Found::new(&ledger, vec![(0, 1)]).unwrap();
                let (found, proof) = improve(&ledger, bags, worst.clone());
                assert_eq!(proof, Proof::Within(CLOSE), "case {case}, {bags} bags");
                let gap = found.deviation.as_f64() - exact.deviation.as_f64();
                assert!(
                    (-1e-15..1e-9).contains(&gap),
                    "case {case}, {bags} bags: off by {gap}"
                );
                if found.deviation < worst.deviation {
                    assert_eq!(found.mix, exact.mix, "case {case}, {bags} bags");
                    compared += 1;
                }
            }
        }
        assert!(compared > 300, "only {compared} mixes were compared");
    }

    #[test]
    fn no_mix_goes_below_what_weighing_could_reach() {
        let mut draw = Draw(7);
        for _ in 0..60 {
            let shelf = shelf(&mut draw, 4);
            let ledger = Ledger::new(&shelf, Scoop::weight(25.0).unwrap(), Target::default());
            if let Some(best) = search(&ledger, 4).last() {
                assert!(weighed(&ledger).unwrap() <= best.deviation.as_f64() + 1e-9);
            }
        }
    }
}
