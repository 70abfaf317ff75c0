//! The hazards that the scenario bank must cover.

use std::collections::BTreeSet;
use tubgrove::knowledge::Knowledge;

/// The hazards that the project set out to guard against, written down here and not read from the knowledge.
const HAZARDS: [&str; 42] = [
    "dry root ball",
    "softened or salty water, chloride",
    "pot much larger than its tree",
    "waterlogged or rotting roots",
    "salt crust or high EC",
    "mix or air too cold, tree at rest",
    "heat",
    "freshly repotted or newly bought, no new growth yet",
    "seedling",
    "recovering from cold injury",
    "late nitrogen on a bearing tree before its cold season",
    "fed sooner than the label or the interval allows",
    "above the label",
    "unknown label",
    "dose that nobody can measure",
    "too strong a can, urea included",
    "soluble feed into a saturated pot or before heavy rain",
    "slow feed still at work counted twice",
    "a missed feed made up with a stronger one",
    "a material dosed by nitrogen alone that brings too much phosphate, potash or salt",
    "Epsom salt too often, without magnesium signs, or in a full-strength can",
    "materials that react in one can",
    "landscape rates used on a pot",
    "anhydrous factor used for Epsom salt",
    "tablespoon of another country",
    "mostly ammonium or urea in a cold soilless mix",
    "a feed that keeps a trouble going",
    "foliar spray in sun and heat",
    "suspected notifiable disease",
    "dust (eyes, lungs)",
    "oxidisers and heat",
    "pets and wildlife at bone, blood and fish products",
    "hands, food and unwashed fruit after manure and fish products",
    "children and storage, original container",
    "back-siphoning from a hose",
    "runoff to drains, local fertilizer bans",
    "swallowed, in the eyes, eaten by a pet",
    "lifting heavy pots",
    "pesticides, which this tool never doses",
    "weedkiller in the feed or in the can",
    "dust and germs of potting mix",
    "trouble of unknown cause",
];

/// Each hazard has a scenario that asserts one of its rules, and each rule answers a hazard of the list.
pub(super) fn covered(k: &Knowledge, asserted: &BTreeSet<String>) {
    for hazard in HAZARDS {
        let mut rules = k.cautions.iter().filter(|c| c.hazard == hazard);
        assert!(rules.any(|c| asserted.contains(c.id.as_str())), "{hazard}");
    }
    for c in &k.cautions {
        assert!(HAZARDS.contains(&c.hazard.as_str()), "{}", c.hazard);
    }
}
