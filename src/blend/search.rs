//! Every combination of materials, tried with pruning.
//!
//! The search goes by the number of bags. Where a further bag brings no smaller deviation, the
//! mix with fewer bags stays. A combination is tried against the deviation to beat, which makes
//! the condition linear: six sums over the scoops must not exceed nought. Those sums are kept in
//! floating point and widened by a margin well above its rounding; whatever passes is compared
//! exactly. So rounding can cost time, never an answer.

use super::deviation::Deviation;
use super::ledger::{Ledger, Row};
use std::cmp::Ordering;

/// A mix as (item, scoops) in the order of the ledger, with its exact deviation.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub(super) mix: Vec<(usize, u8)>,
    pub(super) deviation: Deviation,
}

impl Found {
    /// Measures a mix; `None` where it holds nothing.
    pub(super) fn new(ledger: &Ledger, mix: Vec<(usize, u8)>) -> Option<Self> {
        let counted = mix.iter().map(|&(item, scoops)| (item, u16::from(scoops)));
        let deviation = ledger.measure(counted)?.deviation;
        Some(Self { mix, deviation })
    }

    pub(super) fn bags(&self) -> usize {
        self.mix.len()
    }

    pub(super) fn scoops(&self) -> u32 {
        self.mix
            .iter()
            .fold(0, |sum, &(_, scoops)| sum.saturating_add(u32::from(scoops)))
    }

    /// The order in which mixes are preferred, the better one less: deviation, bags, scoops,
    /// names, then more scoops of the name that comes first.
    pub(super) fn preference(&self, other: &Self) -> Ordering {
        let names = |found: &Self| found.mix.iter().map(|&(item, _)| item).collect::<Vec<_>>();
        self.deviation
            .cmp(&other.deviation)
            .then(self.bags().cmp(&other.bags()))
            .then(self.scoops().cmp(&other.scoops()))
            .then_with(|| names(self).cmp(&names(other)))
            .then_with(|| other.mix.cmp(&self.mix))
    }
}

/// How many last steps the search would take at most, to tell beforehand whether it is worth it:
/// for each combination all scoops but those of the last two materials.
pub(super) fn effort(ledger: &Ledger, most_bags: usize) -> f64 {
    let len = ledger.items.len() as f64;
    let most_scoops = ledger
        .items
        .iter()
        .map(|item| f64::from(item.cap))
        .fold(0.0, f64::max);
    let (mut combinations, mut effort) = (1.0, 0.0);
    for bags in 1..=most_bags.min(ledger.items.len()) {
        let chosen = bags as f64;
        combinations *= (len - chosen + 1.0) / chosen;
        effort += combinations * most_scoops.powf((chosen - 2.0).max(0.0));
    }
    effort
}

/// The best mix of one bag, then of each larger number of bags that comes nearer to the target.
/// Empty only where the ledger is. The last one is the best of all.
pub(super) fn search(ledger: &Ledger, most_bags: usize) -> Vec<Found> {
    let single = |item| Found::new(ledger, vec![(item, 1)]);
    let singles = (0..ledger.items.len()).filter_map(single);
    let Some(first) = singles.min_by(Found::preference) else {
        return Vec::new();
    };
    let mut chain = vec![first.clone()];
    let mut search = Search::new(ledger, first);
    for bags in 2..=most_bags.min(ledger.items.len()) {
        if search.best.deviation == Deviation::ZERO {
            break;
        }
        search.combine(&mut Vec::new(), 0, 0, bags);
        if search.best.bags() == bags {
            chain.push(search.best.clone());
        }
    }
    chain
}

/// Widening of the deviation to beat, far above the rounding of the sums (a share is at least
/// a three-millionth, so they are good to about 1e-10) and far below any difference that matters.
const MARGIN: f64 = 1e-8;

struct Search<'a> {
    ledger: &'a Ledger,
    best: Found,
    /// The deviation to beat, widened.
    bound: f64,
    /// Rows at `bound`.
    rows: Vec<Row>,
}

impl<'a> Search<'a> {
    fn new(ledger: &'a Ledger, best: Found) -> Self {
        let mut search = Self {
            ledger,
            best,
            bound: 0.0,
            rows: Vec::new(),
        };
        search.tighten();
        search
    }

    /// Takes over the deviation of the best mix as the one to beat.
    fn tighten(&mut self) {
        let deviation = self.best.deviation.as_f64();
        self.bound = deviation + MARGIN * (1.0 + deviation);
        self.rows = self.ledger.rows(self.bound);
    }

    /// Chooses the remaining members of a combination from item `from` on.
    fn combine(&mut self, members: &mut Vec<usize>, clashes: u64, from: usize, bags: usize) {
        if members.len() == bags {
            self.fill(members);
            return;
        }
        for item in from..self.ledger.items.len() {
            let bit = 1_u64.wrapping_shl(u32::try_from(item).unwrap_or(u32::MAX));
            let Some(own) = self.ledger.items.get(item) else {
                continue;
            };
            if clashes & bit == 0 {
                members.push(item);
                self.combine(members, clashes | own.clashes, item.saturating_add(1), bags);
                members.pop();
            }
        }
    }

    /// Tries all scoops of one combination.
    fn fill(&mut self, members: &[usize]) {
        let rows: Vec<Row> = members
            .iter()
            .filter_map(|m| self.rows.get(*m).copied())
            .collect();
        let fill = Fill {
            members,
            bound: self.bound,
        };
        let before = self.best.deviation;
        if reachable(&[0.0; 6], &rows) {
            self.descend(
                &fill,
                &rows,
                [0.0; 6],
                0.0,
                &mut Vec::with_capacity(rows.len()),
            );
        }
        if self.best.deviation < before {
            self.tighten();
        }
    }

    /// Goes through the scoops of the first row that is left. `sums` are the six conditions and
    /// `brought` the nutrients of the scoops chosen so far.
    fn descend(
        &mut self,
        fill: &Fill<'_>,
        rows: &[Row],
        sums: [f64; 6],
        brought: f64,
        chosen: &mut Vec<u8>,
    ) {
        let Some((row, rest)) = rows.split_first() else {
            return;
        };
        let range = possible(&sums, row, rest);
        let mut scoops = range.least;
        while scoops <= range.most {
            let next = added(&sums, row, scoops);
            let brought = brought + scoops * row.brings;
            chosen.push(scoops as u8);
            if rest.is_empty() {
                self.weigh(fill, &next, brought, chosen);
            } else if reachable(&next, rest) {
                self.descend(fill, rest, next, brought, chosen);
            }
            chosen.pop();
            scoops += 1.0;
        }
    }

    /// Compares a mix that passed the conditions of the combination.
    fn weigh(&mut self, fill: &Fill<'_>, sums: &[f64; 6], brought: f64, chosen: &[u8]) {
        let worst = sums.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if fill.bound + worst / brought > self.bound {
            return;
        }
        let mix = fill
            .members
            .iter()
            .copied()
            .zip(chosen.iter().copied())
            .collect();
        if let Some(found) = Found::new(self.ledger, mix)
            && found.preference(&self.best) == Ordering::Less
        {
            let deviation = found.deviation.as_f64();
            self.bound = deviation + MARGIN * (1.0 + deviation);
            self.best = found;
        }
    }
}

/// One combination under trial and the bound its rows were made for.
struct Fill<'a> {
    members: &'a [usize],
    bound: f64,
}

fn added(sums: &[f64; 6], row: &Row, scoops: f64) -> [f64; 6] {
    let mut next = *sums;
    for (sum, limit) in next.iter_mut().zip(row.limits) {
        *sum += scoops * limit;
    }
    next
}

/// Whether at least one scoop of each row could still bring every sum to nought or below.
fn reachable(sums: &[f64; 6], rows: &[Row]) -> bool {
    let mut lowest = *sums;
    for row in rows {
        for (sum, limit) in lowest.iter_mut().zip(row.limits) {
            *sum += if limit > 0.0 { limit } else { limit * row.cap };
        }
    }
    lowest.iter().all(|sum| *sum <= 0.0)
}

/// The scoops of a row that are still possible.
struct Range {
    least: f64,
    most: f64,
}

impl Range {
    /// Keeps the scoops for which `start + scoops × step` is nought or below, with a hair of
    /// leeway for the division.
    fn keep(&mut self, start: f64, step: f64) {
        let edge = -start / step;
        if step > 0.0 {
            self.most = self.most.min((edge + 1e-9).floor());
        } else if step < 0.0 {
            self.least = self.least.max((edge - 1e-9).ceil());
        } else if start > 0.0 {
            self.most = 0.0;
        }
    }
}

/// The scoops of `row` that keep every sum at nought or below, where `rest` can still help. With
/// one row left, its scoops are eliminated (Fourier and Motzkin): a sum that falls with them and
/// one that rises with them must leave room for some amount between.
fn possible(sums: &[f64; 6], row: &Row, rest: &[Row]) -> Range {
    let mut range = Range {
        least: 1.0,
        most: row.cap,
    };
    match rest {
        [] => {
            for (sum, limit) in sums.iter().zip(row.limits) {
                range.keep(*sum, limit);
            }
        }
        [last] => {
            for ((sum, limit), own) in sums.iter().zip(row.limits).zip(last.limits) {
                range.keep(sum + if own > 0.0 { own } else { own * last.cap }, limit);
                if own > 0.0 {
                    for ((fall, step), other) in sums.iter().zip(row.limits).zip(last.limits) {
                        if other < 0.0 {
                            range.keep(fall * own - sum * other, step * own - limit * other);
                        }
                    }
                }
            }
        }
        _ => {}
    }
    range
}
