//! One answer at a time, every answer there is: what fires a caution never raises a dose, and "not sure" never gives more
//! than the smallest sure answer.

use super::{decide, good_day, knowledge, nitrogen, put, with};
use std::collections::BTreeSet;
use tubgrove::facts::{Kind, Origin, Role, Sheet, Value};
use tubgrove::knowledge::Level;
use tubgrove::plan::Decision;
use tubgrove::quantity::Interval;
use tubgrove::safety::Reason;
use tubgrove::walk::proof::cells;

/// Trees to start from, one for each way a feed acts and for the gentle cases.
fn starts() -> Vec<(&'static str, Sheet)> {
    let base = good_day();
    let forms = [
        ("n_nitrate", "1.5"),
        ("n_ammonium", "3"),
        ("n_urea", "19.5"),
        ("label_rate", "3 g per L"),
    ];
    let organic = [
        ("product_kind", "organic_granular"),
        ("product_grade", "6-3-3"),
        ("label_rate", "90 g per pot"),
    ];
    let coated = [
        ("product_kind", "coated"),
        ("product_grade", "15-9-12"),
        ("label_rate", "4 g per litre of mix"),
        ("coated_life_weeks", "20"),
    ];
    let dry = [
        ("product_kind", "dry_mineral"),
        ("product_grade", "8-8-8"),
        ("label_rate", "20 g per pot"),
    ];
    let both = [
        ("other_product_kind", "organic_granular"),
        ("other_product_grade", "6-3-3"),
    ];
    let tank = [("pot_kind", "reservoir"), ("reservoir_volume", "4")];
    let seedling = [("tree_stage", "seedling"), ("pot_volume", "4")];
    let room = [("place", "indoors"), ("indoor_light", "enough")];
    vec![
        ("soluble", base.clone()),
        ("soluble, mostly urea", with(&base, &forms)),
        ("organic", with(&base, &organic)),
        ("coated", with(&base, &coated)),
        ("dry", with(&base, &dry)),
        ("both", with(&base, &both)),
        ("self-watering", with(&base, &tank)),
        ("seedling", with(&base, &seedling)),
        ("indoors", with(&base, &room)),
        (
            "tub",
            with(&base, &[("pot_volume", "60"), ("pot_bound", "yes")]),
        ),
    ]
}

/// Names of all alerts, care and above.
fn alerts(d: &Decision) -> BTreeSet<String> {
    let k = knowledge();
    d.review
        .fired
        .iter()
        .filter(|f| f.level > Level::Note)
        .map(|f| match f.reason {
            Reason::Caution(at) => k.cautions[at].id.to_string(),
            Reason::Missing(fact, _) | Reason::Open(fact, _) => {
                format!("check {}", k.vocabulary.get(fact).id)
            }
            Reason::Finding(at) => k.findings[at].id.to_string(),
        })
        .collect()
}

#[test]
fn no_single_answer_that_fires_something_raises_the_dose() {
    let k = knowledge();
    let (mut fired, mut wrong) = (0, Vec::new());
    for (start, sheet) in starts() {
        let before = decide(&sheet);
        let known = alerts(&before);
        let dose = nitrogen(&sheet);
        assert!(dose > 0.0, "{start}: {known:?}");
        for (id, fact) in k.vocabulary.iter().filter(|(_, f)| f.role != Role::Worked) {
            for value in cells(k, id) {
                let mut changed = sheet.clone();
                changed.set(id, value, Origin::File);
                let after = decide(&changed);
                let new: Vec<String> = alerts(&after).difference(&known).cloned().collect();
                if new.is_empty() {
                    continue;
                }
                fired += 1;
                let larger = after.dose.as_ref().map_or(0.0, |d| d.n_mg());
                if larger > dose * (1.0 + 1e-9) {
                    wrong.push(format!(
                        "{start}: {} = {} fires {new:?}, {dose:.0} -> {larger:.0} mg",
                        fact.id,
                        value.write(fact)
                    ));
                }
            }
        }
    }
    println!("{fired} answers fired something");
    assert!(fired > 400, "{fired}");
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn not_sure_never_gives_more_than_the_smallest_sure_answer() {
    let k = knowledge();
    let (mut facts, mut wrong) = (BTreeSet::new(), Vec::new());
    for (start, sheet) in starts() {
        for (id, fact) in k.vocabulary.iter().filter(|(_, f)| f.role == Role::Scale) {
            let sure: Vec<Value> = match &fact.kind {
                Kind::Number(range) => std::iter::once(range.min)
                    .chain(range.bins.iter().copied())
                    .chain([range.max])
                    .map(|n| Value::Number(Interval::point(n)))
                    .collect(),
                _ => cells(k, id).into_iter().filter(|v| v.is_known()).collect(),
            };
            let of = |value: Value| {
                let mut changed = sheet.clone();
                changed.set(id, value, Origin::File);
                nitrogen(&changed)
            };
            let unsure = of(Value::NotSure);
            facts.insert(fact.id.clone());
            for value in sure {
                let known = of(value);
                if unsure > known * (1.0 + 1e-9) {
                    wrong.push(format!(
                        "{start}: {} not sure {unsure:.0} mg, {} {known:.0} mg",
                        fact.id,
                        value.write(fact)
                    ));
                }
            }
        }
    }
    println!("{facts:?}");
    assert!(facts.len() >= 4);
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// Water that needs more leaching is no licence for more feed: the can may grow, the feed may not.
#[test]
fn saltier_water_never_carries_more_feed() {
    for (start, sheet) in starts() {
        let mut last = f64::INFINITY;
        for tenth in 1..=25 {
            let mut salty = sheet.clone();
            put(
                &mut salty,
                "water_ec",
                &format!("{:.1}", f64::from(tenth) / 10.0),
            );
            let dose = nitrogen(&salty);
            assert!(
                dose <= last * (1.0 + 1e-9),
                "{start}: {last:.0} -> {dose:.0} mg at {tenth} tenths of a dS/m"
            );
            last = dose;
        }
    }
}

/// Whose spoons a label means is worth a third of a tablespoon: not sure counts as the smallest.
#[test]
fn a_label_in_unknown_spoons_allows_the_smallest() {
    let mut limited = 0;
    for (start, sheet) in starts() {
        for rate in [
            "1 tbsp per pot",
            "1 tsp per 4 L",
            "1 tbsp per gallon",
            "1 tsp per pot",
        ] {
            let of = |system: &str| {
                nitrogen(&with(
                    &sheet,
                    &[("label_rate", rate), ("spoon_system", system)],
                ))
            };
            let unsure = of("not_sure");
            let sure = ["us", "metric", "australian"].map(of);
            limited += usize::from(sure[2] > sure[0]);
            for dose in sure {
                assert!(
                    unsure <= dose * (1.0 + 1e-9),
                    "{start}, {rate}: {unsure:.0} mg, {sure:?}"
                );
            }
        }
    }
    // The label must have been what limits, or nothing was tried.
    assert!(limited >= 5, "{limited}");
}
