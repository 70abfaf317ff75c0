//! What a picture may mean: worked out from the conditions of the findings, never kept as a list of its own.

use super::lines::lower;
use crate::facts::{Condition, FactId};
use crate::knowledge::{Evidence, Finding, Knowledge, LeafPicture, Weight};

/// How strongly a picture speaks for a finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// It is one of the signs that must be there, or a weak one.
    Weak,
    /// A fair sign.
    Some,
    /// A strong sign.
    Strong,
}

/// A finding that a picture may mean.
#[derive(Debug, Clone)]
pub struct Meaning<'k> {
    /// The finding.
    pub finding: &'k Finding,
    /// How strongly the picture speaks for it.
    pub strength: Strength,
    /// What the other pictures would add: which leaves, whether the halves match.
    pub rather: Vec<&'k str>,
    /// What the other pictures would say against it.
    pub unlikely: Vec<&'k str>,
    /// Look-alikes: the other finding, and the sign that tells the two apart.
    pub alike: Vec<(&'k Finding, &'k str)>,
}

impl Meaning<'_> {
    /// How strong a sign the picture is, in words.
    #[must_use]
    pub fn sign(&self) -> String {
        let sign = match self.strength {
            Strength::Strong => "a strong sign",
            Strength::Some => "a fair sign",
            Strength::Weak => "a weak sign",
        };
        if self.finding.notifiable {
            format!("{sign}; must be reported")
        } else {
            sign.to_owned()
        }
    }

    /// What would make it more likely; empty where nothing is known.
    #[must_use]
    pub fn more(&self) -> String {
        listed("More so if", &self.rather)
    }

    /// What would make it less likely; empty where nothing is known.
    #[must_use]
    pub fn less(&self) -> String {
        listed("Less so if", &self.unlikely)
    }

    /// The look-alikes with the sign of each; empty where there are none.
    #[must_use]
    pub fn told_apart(&self) -> String {
        let list: Vec<String> = self
            .alike
            .iter()
            .map(|(other, sign)| format!("{} ({})", lower(&other.name), sign.trim_end_matches('.')))
            .collect();
        let list: Vec<&str> = list.iter().map(String::as_str).collect();
        listed("Looks like", &list)
    }
}

fn listed(before: &str, list: &[&str]) -> String {
    if list.is_empty() {
        String::new()
    } else {
        format!("{before}: {}.", list.join("; "))
    }
}

/// The findings that a picture may mean, the strongest first.
#[must_use]
pub fn meanings<'k>(knowledge: &'k Knowledge, picture: &LeafPicture) -> Vec<Meaning<'k>> {
    meanings_among(knowledge, &readers(knowledge, picture.fact), picture)
}

/// The findings that read a fact in what speaks for them: pictures of that fact can mean no other.
pub(super) fn readers(knowledge: &Knowledge, fact: FactId) -> Vec<&Finding> {
    let reads = |condition: &Condition| condition.any_fact(|f| f == fact);
    knowledge
        .findings
        .iter()
        .filter(|f| reads(&f.needs) || f.evidence.fits.iter().any(|e| reads(&e.when)))
        .collect()
}

/// [`meanings`] among findings that read the picture's fact.
pub(super) fn meanings_among<'k>(
    knowledge: &'k Knowledge,
    readers: &[&'k Finding],
    picture: &LeafPicture,
) -> Vec<Meaning<'k>> {
    let mut list: Vec<Meaning<'k>> = readers
        .iter()
        .filter_map(|&finding| {
            let strength = strength(finding, picture)?;
            Some(Meaning {
                finding,
                strength,
                rather: others(knowledge, &finding.evidence.fits, picture),
                unlikely: others(knowledge, &finding.evidence.against, picture),
                alike: finding
                    .words
                    .lookalikes
                    .iter()
                    .filter_map(|l| {
                        let other = knowledge.findings.iter().find(|f| f.id == l.of)?;
                        Some((other, l.sign.as_str()))
                    })
                    .collect(),
            })
        })
        .collect();
    list.sort_by_key(|m| std::cmp::Reverse(m.strength));
    list
}

fn strength(finding: &Finding, picture: &LeafPicture) -> Option<Strength> {
    let (fact, choice) = (picture.fact, picture.choice);
    finding
        .evidence
        .fits
        .iter()
        .filter(|e| asks_for(&e.when, fact, choice, true))
        .map(|e| match e.weight {
            Weight::Strong => Strength::Strong,
            Weight::Some => Strength::Some,
            Weight::Weak => Strength::Weak,
        })
        .max()
        .or_else(|| asks_for(&finding.needs, fact, choice, true).then_some(Strength::Weak))
}

/// What evidence says about facts that have pictures, other than the fact of this one.
fn others<'k>(
    knowledge: &Knowledge,
    evidence: &'k [Evidence],
    picture: &LeafPicture,
) -> Vec<&'k str> {
    evidence
        .iter()
        .filter(|e| {
            let facts = e.when.facts();
            !facts.is_empty()
                && facts.iter().all(|f| {
                    *f != picture.fact && knowledge.leaf_pictures.iter().any(|p| p.fact == *f)
                })
        })
        .map(|e| e.says.as_str())
        .collect()
}

/// Whether a condition names this choice as one that makes it hold.
fn asks_for(condition: &Condition, fact: FactId, choice: u8, positive: bool) -> bool {
    match condition {
        Condition::Is(f, mask) | Condition::Has(f, mask) => {
            *f == fact && (mask.checked_shr(u32::from(choice)).unwrap_or(0) & 1 == 1) == positive
        }
        Condition::Not(inner) => asks_for(inner, fact, choice, !positive),
        Condition::Perhaps(inner) => asks_for(inner, fact, choice, positive),
        Condition::All(parts) | Condition::Any(parts) => {
            parts.iter().any(|p| asks_for(p, fact, choice, positive))
        }
        Condition::Always
        | Condition::Number(..)
        | Condition::Known(..)
        | Condition::Finding(..)
        | Condition::AnyFinding(_) => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::knowledge::{Files, load};
    use crate::report::leaf::picture_of;

    fn shipped() -> Knowledge {
        load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"))
    }

    fn names(k: &Knowledge, fact: &str, choice: &str) -> Vec<String> {
        let picture = picture_of(k, fact, choice).map(|p| meanings(k, p));
        picture
            .unwrap_or_default()
            .iter()
            .map(|m| m.finding.id.to_string())
            .collect()
    }

    /// The published key: which pattern belongs to which shortage (Futch and Tucker, CH142; Maui leaflet; PP328).
    #[test]
    fn the_published_key_comes_out_of_the_conditions() {
        let k = shipped();
        for (choice, first) in [
            ("green_net", "iron_short"),
            ("green_bands", "manganese_short"),
            ("yellow_spots_between", "zinc_short"),
            ("green_v", "magnesium_short"),
            ("even", "nitrogen_short"),
            ("blotchy", "greening_suspected"),
        ] {
            let list = names(&k, "leaf_pattern", choice);
            assert!(
                list.iter().take(2).any(|n| n == first),
                "{choice}: {list:?}"
            );
        }
    }

    #[test]
    fn a_not_turns_the_choice_round() {
        let k = shipped();
        let Some(fact) = k.fact("leaf_pattern") else {
            panic!("the fact is there")
        };
        let is = Condition::Is(fact, 0b1);
        assert!(asks_for(&is, fact, 0, true));
        assert!(!asks_for(&is, fact, 1, true));
        let not = Condition::Not(Box::new(is));
        assert!(!asks_for(&not, fact, 0, true));
        assert!(asks_for(&not, fact, 1, true));
    }

    #[test]
    fn every_pattern_means_something() {
        let k = shipped();
        for p in &k.leaf_pictures {
            assert!(!meanings(&k, p).is_empty(), "{}", p.name);
        }
    }
}
