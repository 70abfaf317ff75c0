//! Random shelves against an outside solver (see `tests/data/make_blend_reference.py`): scipy's
//! mixed integer programs, by bisection on the deviation.

use serde_json::Value;
use tubgrove::blend::{Answer, MaterialOnShelf, Proof, Scoop, Shelf, Target, Wish, mix};

fn number(value: &Value) -> f64 {
    match value {
        Value::String(text) => text.parse().unwrap(),
        other => other.as_f64().unwrap(),
    }
}

fn three(value: &Value) -> [f64; 3] {
    [number(&value[0]), number(&value[1]), number(&value[2])]
}

fn place(value: &Value) -> usize {
    usize::try_from(value.as_u64().unwrap()).unwrap()
}

fn posed(case: &Value) -> (Shelf, Wish) {
    let material = |material: &Value| MaterialOnShelf {
        density_hi: number(&material["density"][1]),
        max_scoops: Some(u8::try_from(place(&material["max_scoops"])).unwrap()),
        ..MaterialOnShelf::new(
            material["name"].as_str().unwrap(),
            three(&material["grade"]),
            number(&material["density"][0]),
        )
    };
    let materials = case["materials"]
        .as_array()
        .unwrap()
        .iter()
        .map(material)
        .collect();
    let mut shelf = Shelf::new(materials).unwrap();
    for pair in case["apart"].as_array().unwrap() {
        shelf.keep_apart(place(&pair[0]), place(&pair[1])).unwrap();
    }
    let by_weight = case["by_weight"].as_bool().unwrap();
    let scoop = if by_weight {
        Scoop::weight(25.0)
    } else {
        Scoop::volume(15.0)
    }
    .unwrap();
    let wish = Wish::new(Target::new(three(&case["target"])).unwrap(), scoop);
    (shelf, wish.at_most(place(&case["most_materials"])).unwrap())
}

#[test]
fn random_shelves_agree_with_an_outside_solver() {
    let reference: Value =
        serde_json::from_str(include_str!("../data/blend_reference.json")).unwrap();
    let (mut solved, mut refused) = (0, 0);
    for (number, case) in reference["cases"].as_array().unwrap().iter().enumerate() {
        let (shelf, wish) = posed(case);
        match mix(&shelf, &wish) {
            Answer::Cannot(_) => {
                assert_eq!(
                    case["cannot"],
                    Value::Bool(true),
                    "shelf {number} was refused"
                );
                refused += 1;
            }
            Answer::Mix(recipe) => {
                assert!(case["cannot"].is_null(), "shelf {number} was not refused");
                assert_eq!(recipe.proof, Proof::Exhaustive, "shelf {number}");
                let outside = case["deviation"].as_f64().unwrap();
                let gap = recipe.best.deviation.as_f64() - outside;
                assert!(gap.abs() <= 1e-9, "shelf {number}: off by {gap:e}");
                // The outside solver measured its mix in exact fractions as well.
                let (over, under) = recipe.best.deviation.as_fraction();
                let fraction = [over.to_string(), under.to_string()];
                assert_eq!(
                    case["fraction"],
                    Value::from(fraction.to_vec()),
                    "shelf {number}"
                );
                let scoops: u64 = recipe.best.parts.iter().map(|p| u64::from(p.scoops)).sum();
                let used = recipe.best.parts.len() as u64;
                assert_eq!(
                    case["materials_used"].as_u64(),
                    Some(used),
                    "shelf {number}"
                );
                assert_eq!(case["scoops"].as_u64(), Some(scoops), "shelf {number}");
                solved += 1;
            }
        }
    }
    assert!(solved >= 300, "only {solved} shelves");
    assert!(refused >= 10, "only {refused} refusals");
}
