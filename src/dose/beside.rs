//! What else goes into the can, or onto the pot, on the same day as a feed: whether the two must not meet, or spoil each other.
//!
//! A feed of which only the kind is known may hold whatever such feeds are made of.

use crate::knowledge::{Knowledge, Material, ProductKind};

/// What becomes of a feed beside something else.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Met {
    /// The two must not meet.
    pub(super) refused: bool,
    /// They may, and a part of one is lost. Not said where they must not meet at all.
    pub(super) spoiled: bool,
}

/// What becomes of a feed of this kind, a plain material where one is named, beside what else goes on: a choice of the fact
/// `also_in_can`.
pub(super) fn meet(
    knowledge: &Knowledge,
    material: Option<&Material>,
    kind: &str,
    beside: &str,
) -> Met {
    let other: &[&str] = match beside {
        "epsom_salt" => &["sulfate", "magnesium"],
        "calcium_feed" => &["calcium"],
        "lime_ash" => &["alkaline", "calcium"],
        _ => &[],
    };
    let assumed: &[&str] = match ProductKind::of(kind) {
        Some(ProductKind::Soluble | ProductKind::LiquidMineral | ProductKind::DryMineral) => {
            &["sulfate", "phosphate", "ammonium", "urea"]
        }
        Some(ProductKind::EpsomSalt) => &["sulfate", "magnesium"],
        // Whoever sells a meal may have put a salt of ammonium into it.
        _ => &["ammonium", "organic"],
    };
    let has = |name: &str| match material {
        Some(m) => m.has(name),
        None => assumed.contains(&name),
    };
    let met = |verdict: &str| {
        knowledge.reactions.iter().any(|r| {
            r.verdict == verdict
                && r.when != "dry"
                && ((has(&r.a) && other.contains(&r.b.as_str()))
                    || (has(&r.b) && other.contains(&r.a.as_str())))
        })
    };
    let refused = met("refuse");
    Met {
        refused,
        spoiled: !refused && met("care"),
    }
}
