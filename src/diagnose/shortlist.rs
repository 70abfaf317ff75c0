//! The shortlist: likely and possible findings with the answers for and against each.

use crate::facts::{Findings, Sheet, Standing, View};
use crate::knowledge::{Evidence, Finding, Knowledge, Weight};
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
}

/// Weighs every finding against the answers. Only definite answers count.
#[must_use]
pub fn weigh(knowledge: &Knowledge, sheet: &Sheet) -> Shortlist {
    let rates = &knowledge.rates;
    let view = View::of(sheet);
    let mut scored: Vec<Candidate> = knowledge
        .findings
        .iter()
        .enumerate()
        .filter_map(|(at, finding)| score(knowledge, at, finding, view))
        .filter(|c| c.score >= rates.possible_least)
        .collect();
    // The sort is stable: at equal scores the order of the files decides.
    scored.sort_by(|a, b| b.score.total_cmp(&a.score));
    let leader = scored.first().map_or(0.0, |c| c.score);
    let (mut likely, mut possible) = (0.0, 0.0);
    let mut list = Shortlist::default();
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

fn score(knowledge: &Knowledge, at: usize, finding: &Finding, view: View<'_>) -> Option<Candidate> {
    if finding.needs.test(view) != Truth::Yes {
        return None;
    }
    let rates = &knowledge.rates;
    let weight = |e: &Evidence| match e.weight {
        Weight::Strong => rates.weight_strong,
        Weight::Some => rates.weight_some,
        Weight::Weak => rates.weight_weak,
    };
    let speaking = |list: &[Evidence]| -> (f64, Vec<usize>) {
        list.iter()
            .enumerate()
            .filter(|(_, e)| e.when.test(view) == Truth::Yes)
            .fold((0.0, Vec::new()), |(sum, mut which), (i, e)| {
                which.push(i);
                (sum + weight(e), which)
            })
    };
    let (plus, fits) = speaking(&finding.fits);
    let (minus, against) = speaking(&finding.against);
    Some(Candidate {
        finding: at,
        standing: Standing::Possible,
        score: rates.weight_needs + plus - minus,
        fits,
        against,
    })
}
