//! Grams, grades, ranges, costs and batches, against sums done by hand.

use super::{CUP, bag, near, quarter_cup, shelf, target};
use tubgrove::blend::{
    BatchSize, BlendError, Fit, Furthest, MaterialOnShelf, Nutrient, Scoop, Shelf, mix_of,
};

/// Fish meal weighed by the grower; potash between two densities.
fn pair() -> Shelf {
    let mut potash = bag("potash", [0.0, 0.0, 50.0], 1.0);
    potash.density_hi = 1.4;
    shelf(vec![bag("fish meal", [10.0, 6.0, 2.0], 0.6), potash])
}

fn tablespoon() -> Scoop {
    Scoop::volume(15.0).unwrap()
}

/// 4 × 15 mL × 0.6 = 36 g of 10-6-2 and 15 mL × 1.2 = 18 g of 0-0-50 make 54 g with 3.6 g N,
/// 2.16 g P2O5 and 9.72 g K2O.
#[test]
fn grams_grade_and_ratio_by_hand() {
    let made = mix_of(
        &pair(),
        tablespoon(),
        target([2.0, 1.0, 1.0]),
        &[(1, 1), (0, 4)],
    )
    .unwrap();
    let names: Vec<&str> = made.parts.iter().map(|part| part.name.as_str()).collect();
    assert_eq!(names, ["fish meal", "potash"]);
    let grams: Vec<f64> = made.parts.iter().map(|part| part.grams).collect();
    assert!(near(grams[0], 36.0, 1e-9) && near(grams[1], 18.0, 1e-9));
    assert!(near(made.grams, 54.0, 1e-9) && near(made.millilitres, 75.0, 1e-9));
    for (percent, held) in made.grade.as_array().into_iter().zip([3.6, 2.16, 9.72]) {
        assert!(near(percent, held / 54.0 * 100.0, 1e-9));
    }
    // Shares 3.6, 2.16 and 9.72 of 15.48, in four parts; potash is wanted at a quarter.
    assert!(near(made.ratio.k2o, 4.0 * 9.72 / 15.48, 1e-12));
    assert!(near(
        made.deviation.as_f64(),
        4.0 * 9.72 / 15.48 - 1.0,
        1e-12
    ));
    assert_eq!(
        made.furthest,
        Some(Furthest {
            nutrient: Nutrient::K2o,
            too_much: true
        })
    );
    assert_eq!(made.fit, Fit::Far);
}

/// The potash weighs 15 to 21 g, so K2O is (0.72 + 7.5)/51 to (0.72 + 10.5)/57 and N 3.6/57 to
/// 3.6/51 of the weight.
#[test]
fn an_unsure_density_gives_a_range() {
    let made = mix_of(
        &pair(),
        tablespoon(),
        target([2.0, 1.0, 1.0]),
        &[(0, 4), (1, 1)],
    )
    .unwrap();
    let potash = made.parts[1].grams_range;
    assert!(near(potash.0, 15.0, 1e-9) && near(potash.1, 21.0, 1e-9));
    assert!(near(made.grade_lo.k2o, 8.22 / 51.0 * 100.0, 1e-9));
    assert!(near(made.grade_hi.k2o, 11.22 / 57.0 * 100.0, 1e-9));
    assert!(near(made.grade_lo.n, 3.6 / 57.0 * 100.0, 1e-9));
    assert!(near(made.grade_hi.n, 3.6 / 51.0 * 100.0, 1e-9));
    // At worst the potash is heavy: 11.22 of 3.6 + 2.16 + 11.22 g.
    assert!(near(
        made.deviation_at_worst,
        4.0 * 11.22 / 16.98 - 1.0,
        1e-12
    ));
    // On the scale there is nothing unsure.
    let weighed = Scoop::weight(25.0).unwrap();
    let made = mix_of(&pair(), weighed, target([2.0, 1.0, 1.0]), &[(0, 4), (1, 1)]).unwrap();
    assert_eq!(made.parts[1].grams_range, (25.0, 25.0));
    assert_eq!(made.grams, 125.0);
    assert!(near(made.grade.k2o, (2.0 + 12.5) / 125.0 * 100.0, 1e-9));
    assert!(near(made.grade_lo.k2o, made.grade_hi.k2o, 1e-9));
    assert!(near(
        made.deviation_at_worst,
        made.deviation.as_f64(),
        1e-12
    ));
}

/// The shortcut's ratio goes wrong with the densities: a cup each of 10-0-0 at 0.5 g/mL and
/// 0-0-10 at 1.0 g/mL looks like 10-0-10, but holds twice as much K2O as N.
#[test]
fn the_shortcut_misleads_where_densities_differ() {
    let shelf = shelf(vec![
        bag("meal", [10.0, 0.0, 0.0], 0.5),
        bag("salt", [0.0, 0.0, 10.0], 1.0),
    ]);
    let cup = Scoop::volume(CUP).unwrap();
    let made = mix_of(&shelf, cup, target([1.0, 0.0, 1.0]), &[(0, 1), (1, 1)]).unwrap();
    assert_eq!(made.shortcut.sum.as_array(), [10.0, 0.0, 10.0]);
    // True shares 1/3 and 2/3, the shortcut's 1/2 and 1/2: half too much N, a quarter too little K2O.
    assert!(near(made.shortcut.ratio_error, 0.5, 1e-12));
    assert!(near(made.shortcut.looks_stronger, 2.0, 1e-12));
    assert!(made.shortcut.misleads_on_ratio && made.shortcut.misleads_on_strength);
    // One cup by itself is what its label says.
    let alone = mix_of(&shelf, cup, target([1.0, 0.0, 1.0]), &[(0, 1)]).unwrap();
    assert!(!alone.shortcut.misleads_on_ratio && !alone.shortcut.misleads_on_strength);
}

#[test]
fn cost_counts_what_has_a_price_and_names_what_has_none() {
    let priced = |name: &str, price| MaterialOnShelf {
        price_per_kg: price,
        ..bag(name, [10.0, 5.0, 5.0], 1.0)
    };
    let wanted = target([2.0, 1.0, 1.0]);
    let scoop = Scoop::weight(50.0).unwrap();
    let all = shelf(vec![priced("a", Some(4.0)), priced("b", Some(10.0))]);
    // 150 g at 4 and 50 g at 10 a kilogram.
    let cost = mix_of(&all, scoop, wanted, &[(0, 3), (1, 1)])
        .unwrap()
        .cost
        .unwrap();
    assert!(near(cost.known, 1.1, 1e-12) && near(cost.per_kg.unwrap(), 5.5, 1e-12));
    let some = shelf(vec![priced("a", Some(4.0)), priced("b", None)]);
    let cost = mix_of(&some, scoop, wanted, &[(0, 3), (1, 1)])
        .unwrap()
        .cost
        .unwrap();
    assert!(near(cost.known, 0.6, 1e-12));
    assert_eq!((cost.per_kg, cost.unpriced), (None, vec![1]));
    let none = shelf(vec![priced("a", None)]);
    assert_eq!(mix_of(&none, scoop, wanted, &[(0, 1)]).unwrap().cost, None);
}

/// A kilogram of the 36 + 18 g mix is two thirds fish meal; three litres of the 60 + 15 mL mix
/// are 2.4 L of it.
#[test]
fn a_batch_keeps_the_proportions() {
    let made = mix_of(
        &pair(),
        tablespoon(),
        target([2.0, 1.0, 1.0]),
        &[(0, 4), (1, 1)],
    )
    .unwrap();
    let kilogram = made.batch(BatchSize::Grams(1000.0)).unwrap();
    assert!(
        near(kilogram[0].grams, 2000.0 / 3.0, 1e-9) && near(kilogram[1].grams, 1000.0 / 3.0, 1e-9)
    );
    let litres = made.batch(BatchSize::Litres(3.0)).unwrap();
    assert!(near(litres[0].millilitres, 2400.0, 1e-9) && near(litres[1].scoops, 40.0, 1e-9));
    assert_eq!((litres[0].place, litres[1].place), (0, 1));
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(
            made.batch(BatchSize::Grams(bad)),
            Err(BlendError::BatchSize { .. })
        ));
        assert!(matches!(
            made.batch(BatchSize::Litres(bad)),
            Err(BlendError::BatchSize { .. })
        ));
    }
}

#[test]
fn a_mix_in_mind_may_hold_anything_but_nothing() {
    let shelf = shelf(vec![
        bag("lime", [0.0; 3], 1.0),
        bag("meal", [6.0, 3.0, 3.0], 0.6),
    ]);
    let wanted = target([2.0, 1.0, 1.0]);
    let empty = mix_of(&shelf, quarter_cup(), wanted, &[(1, 0)]);
    assert_eq!(empty, Err(BlendError::NothingInIt));
    assert_eq!(
        mix_of(&shelf, quarter_cup(), wanted, &[(0, 3)]),
        Err(BlendError::NothingInIt)
    );
    let unknown = mix_of(&shelf, quarter_cup(), wanted, &[(2, 1)]);
    assert_eq!(
        unknown,
        Err(BlendError::NoSuchMaterial { place: 2, len: 2 })
    );
    // Twice the same is added up, 40 scoops are no error, and lime only thins it: 0.6/1.6 of 6 %.
    let made = mix_of(&shelf, quarter_cup(), wanted, &[(1, 20), (0, 40), (1, 20)]).unwrap();
    assert_eq!(made.parts[1].scoops, 40);
    assert!(near(made.grade.n, 6.0 * 0.6 / 1.6, 1e-12));
    assert_eq!(made.deviation.as_f64(), 0.0);
}
