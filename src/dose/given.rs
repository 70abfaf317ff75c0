//! The dose that may be given: made from a [`crate::safety::Clearance`] and from nothing else.

use super::ceiling::{Limit, show_down};
use super::epsom::Epsom;
use super::planned::Planned;
use super::proposal::{Proposal, Role};
use super::ready::{READY, Ready};
use super::reckoning::Reckon;
use super::slow::{SLOW, Slow};
use crate::safety::Clearance;

/// A dose that safety has cleared. It is never larger than the proposal, nor than what the grower meant to give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dose {
    proposal: Proposal,
    as_planned: Option<Planned>,
}

impl From<Clearance> for Dose {
    fn from(clearance: Clearance) -> Self {
        let (mut proposal, reduced) = clearance.into_parts();
        // A weaker can never becomes a larger dose than the grower meant to give.
        if let Some(planned) = proposal.planned.filter(|_| reduced) {
            let most = show_down(planned.grams.hi());
            if let Some((Role::Main, ready)) = &mut proposal.ready
                && ready.grams > most
            {
                (ready.grams, ready.n_mg) = held(READY, ready.grams, ready.n_mg, most);
                ready.limit = Limit::Planned;
            }
            if let Some((Role::Main, slow)) = &mut proposal.slow
                && slow.grams > most
            {
                (slow.grams, slow.n_mg) = held(SLOW, slow.grams, slow.n_mg, most);
                slow.limit = Limit::Planned;
            }
        }
        Self {
            as_planned: proposal.planned.filter(|_| !reduced),
            proposal,
        }
    }
}

/// Grams and mg of nitrogen of a feed, held to the grams that the grower meant to give.
pub(super) fn held<N: Reckon>(of: &'static str, grams: N, n_mg: N, most: f64) -> (N, N) {
    let held = grams
        .clone()
        .least(N::said(most, "g", Limit::Planned.words()))
        .named(of, "no more than planned", "g");
    let n_mg = n_mg
        .times(held.clone().over(grams))
        .named(of, "nitrogen of that", "mg N");
    (held, n_mg)
}

impl Dose {
    /// Ready feed, unless the planned amount stands as it is.
    #[must_use]
    pub fn ready(&self) -> Option<(Role, Ready)> {
        if self.as_planned.is_some() {
            None
        } else {
            self.proposal.ready
        }
    }

    /// Slow feed, unless the planned amount stands as it is.
    #[must_use]
    pub fn slow(&self) -> Option<(Role, Slow)> {
        if self.as_planned.is_some() {
            None
        } else {
            self.proposal.slow
        }
    }

    /// Epsom salt.
    #[must_use]
    pub fn epsom(&self) -> Option<Epsom> {
        self.proposal.epsom
    }

    /// The amount the grower meant to give, where it may stand.
    #[must_use]
    pub fn as_planned(&self) -> Option<Planned> {
        self.as_planned
    }

    /// mg of nitrogen for this tree, at most.
    #[must_use]
    pub fn n_mg(&self) -> f64 {
        self.as_planned
            .map_or_else(|| self.proposal.n_mg(), |p| p.n_mg)
    }

    /// The workings.
    #[must_use]
    pub fn proposal(&self) -> &Proposal {
        &self.proposal
    }
}
