//! The shortlist: likely and possible findings with the answers for and against each.

use crate::facts::{Findings, Sheet, Standing, View};
use crate::knowledge::{Evidence, Feeding, Finding, Knowledge, Weight};
use crate::quantity::Truth;

/// One finding on the shortlist.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// Its place in the knowledge.
    pub finding: usize,
    /// Likely or possible.
    pub standing: Standing,
    /// Its score in points.
    pub score: f64,
    /// Indices of the answers that speak for it.
    pub fits: Vec<usize>,
    /// Indices of the answers that speak against it.
    pub against: Vec<usize>,
}

/// At most three likely findings, then at most four possible ones.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Shortlist {
    /// The findings, the likeliest first.
    pub candidates: Vec<Candidate>,
    /// Findings that qualify as possible and found no room. They are not shown, but safety heeds them.
    pub crowded_out: Vec<Candidate>,
    /// Places of findings that no feed may meet and whose needs the answers leave undecided.
    pub(crate) undecided: Vec<usize>,
}

impl Shortlist {
    /// Everything that qualifies, shown or not.
    pub fn all(&self) -> impl Iterator<Item = &Candidate> {
        self.candidates.iter().chain(&self.crowded_out)
    }
}

impl Findings for Shortlist {
    fn standing(&self, finding: usize) -> Option<Standing> {
        self.all()
            .find(|c| c.finding == finding)
            .map(|c| c.standing)
    }

    fn best(&self) -> Option<Standing> {
        self.all().map(|c| c.standing).max()
    }
}

/// Weighs every finding against the answers. Only definite answers count.
#[must_use]
pub fn weigh(knowledge: &Knowledge, sheet: &Sheet) -> Shortlist {
    let rates = &knowledge.rates;
    let view = View::of(sheet);
    let mut list = Shortlist::default();
    let mut scored: Vec<Candidate> = Vec::new();
    for (at, finding) in knowledge.findings.iter().enumerate() {
        match finding.needs.test(view) {
            Truth::Yes => scored.push(score(knowledge, at, finding, view)),
            Truth::Unknown if matches!(finding.feed, Feeding::Hold | Feeding::NeverCure) => {
                list.undecided.push(at);
            }
            Truth::Unknown | Truth::No => {}
        }
    }
    scored.retain(|c| c.score >= rates.possible_least);
    // The sort is stable: at equal scores the order of the files decides.
    scored.sort_by(|a, b| b.score.total_cmp(&a.score));
    let leader = scored.first().map_or(0.0, |c| c.score);
    let (mut likely, mut possible) = (0.0, 0.0);
    for mut candidate in scored {
        let strong =
            candidate.score >= rates.likely_least && candidate.score >= rates.likely_share * leader;
        let shown = if strong && likely < rates.most_likely {
            likely += 1.0;
            candidate.standing = Standing::Likely;
            true
        } else {
            possible += 1.0;
            // What must be reported is never crowded out.
            possible <= rates.most_possible
                || knowledge
                    .findings
                    .get(candidate.finding)
                    .is_some_and(|f| f.notifiable)
        };
        if shown {
            list.candidates.push(candidate);
        } else {
            list.crowded_out.push(candidate);
        }
    }
    list
}

/// A finding whose needs hold.
fn score(knowledge: &Knowledge, at: usize, finding: &Finding, view: View<'_>) -> Candidate {
    let speaking = |list: &[Evidence]| -> Vec<usize> {
        list.iter()
            .enumerate()
            .filter(|(_, e)| e.when.test(view) == Truth::Yes)
            .map(|(i, _)| i)
            .collect()
    };
    Candidate {
        finding: at,
        standing: Standing::Possible,
        score: weighed(knowledge, finding, view),
        fits: speaking(&finding.evidence.fits),
        against: speaking(&finding.evidence.against),
    }
}

/// The score of a finding, `None` where its needs do not hold.
pub(super) fn points(knowledge: &Knowledge, finding: &Finding, view: View<'_>) -> Option<f64> {
    (finding.needs.test(view) == Truth::Yes).then(|| weighed(knowledge, finding, view))
}

fn weighed(knowledge: &Knowledge, finding: &Finding, view: View<'_>) -> f64 {
    let rates = &knowledge.rates;
    let weight = |e: &Evidence| match e.weight {
        Weight::Strong => rates.weight_strong,
        Weight::Some => rates.weight_some,
        Weight::Weak => rates.weight_weak,
    };
    let speaking = |list: &[Evidence]| -> f64 {
        list.iter()
            .filter(|e| e.when.test(view) == Truth::Yes)
            .fold(0.0, |sum, e| sum + weight(e))
    };
    rates.weight_needs + speaking(&finding.evidence.fits) - speaking(&finding.evidence.against)
}

/// The findings that [`weigh`] would call likely, from scores by finding.
pub(super) fn likely(knowledge: &Knowledge, scores: &[Option<f64>]) -> Vec<usize> {
    let rates = &knowledge.rates;
    let least = |s: &f64| *s >= rates.possible_least;
    let leader = scores
        .iter()
        .flatten()
        .copied()
        .filter(least)
        .fold(0.0, f64::max);
    let mut strong: Vec<(usize, f64)> = scores
        .iter()
        .enumerate()
        .filter_map(|(at, score)| score.filter(least).map(|s| (at, s)))
        .filter(|(_, s)| *s >= rates.likely_least && *s >= rates.likely_share * leader)
        .collect();
    strong.sort_by(|a, b| b.1.total_cmp(&a.1));
    let mut count = 0.0;
    strong.retain(|_| {
        let room = count < rates.most_likely;
        count += 1.0;
        room
    });
    strong.into_iter().map(|(at, _)| at).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::Origin;
    use crate::knowledge::{Files, load};
    use crate::walk::proof::cells;

    /// Both ways to the likely findings agree, whatever is answered.
    #[test]
    fn likely_findings_by_score_are_those_of_the_shortlist() {
        let k = load(&Files::shipped(), &[]).unwrap();
        let mut seed = 7_u64;
        let mut several = 0;
        for _ in 0..3000 {
            let mut sheet = Sheet::new(k.vocabulary.len());
            for (fact, _) in k.vocabulary.iter() {
                seed = seed
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(11);
                let values = cells(&k, fact);
                let at = (seed >> 33) as usize;
                if !at.is_multiple_of(3) {
                    sheet.set(fact, values[at / 3 % values.len()], Origin::Asked);
                }
            }
            let scores: Vec<Option<f64>> = k
                .findings
                .iter()
                .map(|f| points(&k, f, View::of(&sheet)))
                .collect();
            let listed: Vec<usize> = weigh(&k, &sheet)
                .candidates
                .iter()
                .filter(|c| c.standing == Standing::Likely)
                .map(|c| c.finding)
                .collect();
            several += usize::from(listed.len() > 1);
            assert_eq!(likely(&k, &scores), listed);
        }
        assert!(
            several > 100,
            "only {several} sheets had several likely findings"
        );
    }
}
