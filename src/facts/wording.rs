//! A condition written back as its one line of text, the same language that it was read from.

use super::condition::Compare;
use super::{Condition, Standing, Vocabulary};

/// Writes a condition; `findings` are the ids of the findings in order.
#[must_use]
pub fn write_condition(
    vocabulary: &Vocabulary,
    findings: &[&str],
    condition: &Condition,
) -> String {
    write(vocabulary, findings, condition, 0)
}

/// `bind` says how tightly the surroundings bind: 0 not at all, 1 `or`, 2 `and`, 3 `not`.
fn write(v: &Vocabulary, findings: &[&str], condition: &Condition, bind: u8) -> String {
    let choices = |fact, mask: u64| {
        let ids: Vec<&str> = v
            .get(fact)
            .choices()
            .iter()
            .enumerate()
            .filter(|(i, _)| {
                u32::try_from(*i).is_ok_and(|i| mask.checked_shr(i).unwrap_or(0) & 1 == 1)
            })
            .map(|(_, c)| c.id.as_str())
            .collect();
        ids.join("/")
    };
    let joined = |parts: &[Condition], word: &str, own: u8| {
        let parts: Vec<String> = parts.iter().map(|p| write(v, findings, p, own)).collect();
        let text = parts.join(word);
        if bind > own {
            format!("({text})")
        } else {
            text
        }
    };
    match condition {
        Condition::Always => "always".to_owned(),
        Condition::Is(fact, mask) => format!("{} is {}", v.get(*fact).id, choices(*fact, *mask)),
        Condition::Has(fact, mask) => format!("{} has {}", v.get(*fact).id, choices(*fact, *mask)),
        Condition::Number(fact, compare, at) => {
            let sign = match compare {
                Compare::Below => "<",
                Compare::AtMost => "<=",
                Compare::Above => ">",
                Compare::AtLeast => ">=",
            };
            format!("{} {sign} {at}", v.get(*fact).id)
        }
        Condition::Known(fact, true) => format!("{} known", v.get(*fact).id),
        Condition::Known(fact, false) => format!("{} unknown", v.get(*fact).id),
        Condition::AnyFinding(Standing::Possible) => "finding any is possible".to_owned(),
        Condition::AnyFinding(Standing::Likely) => "finding any is likely".to_owned(),
        Condition::Finding(at, standing) => {
            let id = findings.get(*at).copied().unwrap_or("");
            let word = match standing {
                Standing::Possible => "possible",
                Standing::Likely => "likely",
            };
            format!("finding {id} is {word}")
        }
        Condition::Not(inner) => match &**inner {
            Condition::Is(fact, mask) => {
                format!("{} is not {}", v.get(*fact).id, choices(*fact, *mask))
            }
            inner => format!("not {}", write(v, findings, inner, 3)),
        },
        Condition::Perhaps(inner) => format!("perhaps {}", write(v, findings, inner, 3)),
        Condition::All(parts) => joined(parts, " and ", 2),
        Condition::Any(parts) => joined(parts, " or ", 1),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::{Names, parse_condition};
    use crate::knowledge::{Files, load};

    #[test]
    fn every_shipped_condition_reads_back_as_itself() {
        let k = load(&Files::shipped(), &[]).unwrap();
        let ids: Vec<crate::facts::Text> = k.findings.iter().map(|f| f.id.clone()).collect();
        let findings: Vec<&str> = ids.iter().map(|id| id.as_str()).collect();
        let names = Names {
            vocabulary: &k.vocabulary,
            findings: &ids,
        };
        let conditions = k.cautions.iter().map(|c| &c.when);
        let conditions = conditions.chain(k.findings.iter().map(|f| &f.needs));
        let conditions = conditions.chain(k.advice.iter().map(|a| &a.when));
        let mut count = 0;
        for condition in conditions.filter(|c| **c != Condition::Always) {
            let text = write_condition(&k.vocabulary, &findings, condition);
            assert_eq!(
                parse_condition(&names, &text).as_ref(),
                Ok(condition),
                "{text}"
            );
            count += 1;
        }
        assert!(count > 100);
    }

    #[test]
    fn brackets_stand_where_they_must() {
        let k = load(&Files::shipped(), &[]).unwrap();
        let names = Names {
            vocabulary: &k.vocabulary,
            findings: &[],
        };
        let text = "(place is indoors or mix_moisture is dry) and not (drainage is slow and pot_volume >= 20)";
        let condition = parse_condition(&names, text).unwrap();
        assert_eq!(write_condition(&k.vocabulary, &[], &condition), text);
    }
}
