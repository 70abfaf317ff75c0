//! The order of what matters, one rule at a time.

use super::{bag, quarter_cup, recipe, scoops, shelf, target};
use tubgrove::blend::{Deviation, MaterialOnShelf, Proof, Recipe, Shelf, Wish};

fn two_one_one() -> Wish {
    Wish::new(target([2.0, 1.0, 1.0]), quarter_cup())
}

#[test]
fn a_nearer_ratio_goes_before_fewer_bags() {
    let found = recipe(
        &shelf(vec![
            bag("feather meal", [12.0, 0.0, 0.0], 0.5),
            bag("even feed", [5.0, 5.0, 5.0], 1.0),
        ]),
        &two_one_one(),
    );
    // x of feather meal and y of the even feed: 6x + 5y : 5y : 5y is 2:1:1 at 6x = 5y.
    assert_eq!(scoops(&found), [("even feed", 6), ("feather meal", 5)]);
    assert_eq!(found.best.deviation, Deviation::ZERO);
    assert_eq!(found.proof, Proof::Exhaustive);
}

#[test]
fn fewer_bags_go_before_fewer_scoops_and_those_before_names() {
    let materials = vec![
        bag("a meal", [10.0, 0.0, 0.0], 1.0),
        bag("b rock", [0.0, 5.0, 5.0], 1.0),
        bag("z feed", [8.0, 4.0, 4.0], 1.0),
    ];
    assert_eq!(
        scoops(&recipe(&shelf(materials), &two_one_one())),
        [("z feed", 1)]
    );
    // Two pairs reach 2:1:1, one with two scoops and one with three, whatever their names.
    let materials = vec![
        bag("a meal", [10.0, 0.0, 0.0], 1.0),
        bag("b rock", [0.0, 10.0, 10.0], 1.0),
        bag("c rock", [0.0, 5.0, 5.0], 1.0),
    ];
    let found = recipe(&shelf(materials), &two_one_one());
    assert_eq!(scoops(&found), [("a meal", 1), ("c rock", 1)]);
    // Twins: the name decides, not the place.
    let twins = vec![
        bag("yard feed", [8.0, 4.0, 4.0], 1.0),
        bag("barn feed", [8.0, 4.0, 4.0], 1.0),
    ];
    assert_eq!(
        scoops(&recipe(&shelf(twins), &two_one_one())),
        [("barn feed", 1)]
    );
}

/// N is half of every material, so 1:1:1 is missed by a half at best, by any mix that holds at
/// least a sixth of P2O5: three scoops of x beside one of y, or one each of w, x and y. Two bags
/// with four scoops go before three bags with three.
#[test]
fn fewer_bags_go_before_fewer_scoops_off_the_target_too() {
    let mut w = bag("w", [3.0, 3.0, 0.0], 1.0);
    w.max_scoops = Some(1);
    let shelf = shelf(vec![
        w,
        bag("x", [2.0, 2.0, 0.0], 1.0),
        bag("y", [10.0, 0.0, 10.0], 1.0),
    ]);
    let found = recipe(&shelf, &Wish::new(target([1.0; 3]), quarter_cup()));
    assert_eq!(scoops(&found), [("x", 3), ("y", 1)]);
    assert_eq!(found.best.deviation.as_fraction(), (1, 2));
}

#[test]
fn limits_on_scoops_and_bags_are_hard() {
    let mut feather = bag("feather meal", [12.0, 0.0, 0.0], 0.5);
    feather.max_scoops = Some(4);
    let even = bag("even feed", [5.0, 5.0, 5.0], 1.0);
    let limited = shelf(vec![feather.clone(), even.clone()]);
    // 5 to 6 is out of reach; 4 to 5 gives shares 49/99, 25/99, 25/99, off by 1/99; 3 to 4 is off
    // by 1/39 (38/78, 20/78, 20/78); any other pair with at most 4 is further off.
    let found = recipe(&limited, &two_one_one());
    assert_eq!(scoops(&found), [("even feed", 5), ("feather meal", 4)]);
    assert_eq!(found.best.deviation.as_fraction(), (1, 99));
    let one = two_one_one().at_most(1).unwrap();
    assert_eq!(scoops(&recipe(&limited, &one)), [("even feed", 1)]);
    // No limit allows more than twelve scoops.
    feather.max_scoops = Some(200);
    let wish = Wish::new(target([20.0, 1.0, 1.0]), quarter_cup());
    let found = recipe(&shelf(vec![feather, even]), &wish);
    assert_eq!(scoops(&found), [("even feed", 1), ("feather meal", 12)]);
}

#[test]
fn a_target_of_nought_counts_by_its_share() {
    let shelf = shelf(vec![
        bag("a", [9.0, 0.0, 1.0], 1.0),
        bag("b", [7.0, 1.0, 2.0], 1.0),
    ]);
    // N is wanted alone: a has a tenth of something else, b three tenths.
    let found = recipe(&shelf, &Wish::new(target([1.0, 0.0, 0.0]), quarter_cup()));
    assert_eq!(scoops(&found), [("a", 1)]);
    assert_eq!(found.best.deviation.as_fraction(), (1, 10));
}

#[test]
fn fewer_bags_are_offered_where_they_are_nearly_as_good() {
    let shelf = shelf(vec![
        bag("barn feed", [20.0, 10.0, 11.0], 1.0),
        bag("fish meal", [10.0, 6.0, 2.0], 1.0),
        bag("potash", [0.0, 0.0, 50.0], 1.0),
        bag("feather meal", [12.0, 0.0, 0.0], 1.0),
    ]);
    let found = recipe(&shelf, &two_one_one());
    assert!(found.best.parts.len() > 1 && !found.alternatives.is_empty());
    assert!(found.alternatives.len() <= 3);
    let mut bags = found.best.parts.len();
    for other in &found.alternatives {
        assert!(other.parts.len() < bags);
        assert!(other.deviation > found.best.deviation);
        assert!(other.deviation.as_f64() <= found.best.deviation.as_f64() + 0.10);
        bags = other.parts.len();
    }
    // Barn feed alone: 11/41 of K2O against a quarter is 3/41 too much.
    let alone = found.alternatives.last().unwrap();
    assert_eq!(
        (alone.parts.len(), alone.deviation.as_fraction()),
        (1, (3, 41))
    );
}

#[test]
fn pairs_are_kept_apart_or_cautioned() {
    let tagged = |name: &str, grade, tag: &str| MaterialOnShelf {
        tags: vec![tag.to_owned()],
        ..bag(name, grade, 1.0)
    };
    let mut shelf = shelf(vec![
        tagged("urea", [46.0, 0.0, 0.0], "urea"),
        tagged("wood ash", [0.0, 2.0, 6.0], "lime"),
        tagged("feather meal", [12.0, 0.0, 0.0], "organic"),
        bag("bone meal", [3.0, 15.0, 0.0], 1.0),
    ]);
    let free = recipe(&shelf, &two_one_one());
    assert!(free.best.cautions.is_empty() && free.kept_apart.is_empty());
    for (one, other) in shelf.tagged_pairs("lime", "urea") {
        shelf.keep_apart(one, other).unwrap();
    }
    for (one, other) in shelf.tagged_pairs("organic", "lime") {
        shelf.caution(one, other).unwrap();
    }
    assert_eq!(shelf.apart(), [(0, 1)]);
    let kept: Recipe = recipe(&shelf, &two_one_one());
    let names: Vec<&str> = scoops(&kept).iter().map(|(name, _)| *name).collect();
    assert!(
        names.contains(&"wood ash") && !names.contains(&"urea"),
        "{names:?}"
    );
    assert_eq!(kept.best.cautions, [(1, 2)]);
    assert_eq!(kept.kept_apart, [(0, 1)]);
}

/// A shelf too large to try every mix of twelve bags: still no worse than with four, and within
/// all limits.
#[test]
fn a_large_shelf_is_answered() {
    let grades = (0..30).map(|n| {
        let part = |step: usize| (n * step % 23) as f64;
        bag(
            &format!("bag {n:02}"),
            [part(7), part(5), part(11)],
            0.5 + 0.03 * n as f64,
        )
    });
    let shelf: Shelf = shelf(grades.collect());
    let four = recipe(&shelf, &two_one_one());
    let twelve = recipe(&shelf, &two_one_one().at_most(12).unwrap());
    assert_eq!(four.proof, Proof::Exhaustive);
    assert!(four.best.parts.len() <= 4 && twelve.best.parts.len() <= 12);
    assert!(twelve.best.deviation <= four.best.deviation);
    assert!(twelve.best.parts.iter().all(|part| part.scoops <= 12));
}
