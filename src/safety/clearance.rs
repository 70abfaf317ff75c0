//! The clearance: the only thing a dose can be made from.

use crate::dose::Proposal;

/// Leave to give the proposal, or less. Made only by [`super::review`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clearance {
    proposal: Proposal,
    reduced: bool,
}

impl Clearance {
    /// Clears a proposal; `reduced` where the planned amount may not stand.
    pub(super) fn new(proposal: Proposal, reduced: bool) -> Self {
        Self { proposal, reduced }
    }

    /// The proposal and whether the planned amount was reduced.
    pub(crate) fn into_parts(self) -> (Proposal, bool) {
        (self.proposal, self.reduced)
    }
}

/// No leave: there is a stop or a hold, or nothing to give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Refusal;
