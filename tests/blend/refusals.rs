//! What cannot be worked with, what cannot be made, and how that is said.

use super::{bag, quarter_cup, recipe, scoops, shelf, target};
use tubgrove::blend::{
    Answer, BlendError, MaterialOnShelf, Nutrient, Reason, Refusal, Scoop, Shelf, Target, Wish,
    mix, mix_of,
};

fn refusal(shelf: &Shelf, wish: &Wish) -> Refusal {
    match mix(shelf, wish) {
        Answer::Cannot(refusal) => *refusal,
        Answer::Mix(recipe) => panic!("not refused: {:?}", scoops(&recipe)),
    }
}

fn wish() -> Wish {
    Wish::new(Target::default(), quarter_cup())
}

#[test]
fn a_missing_nutrient_is_named_and_the_rest_is_still_blended() {
    let shelf = shelf(vec![
        bag("feather meal", [12.0, 0.0, 0.0], 1.0),
        bag("bone meal", [4.0, 22.0, 0.0], 1.0),
    ]);
    let said = refusal(&shelf, &wish());
    assert_eq!(said.reasons, [Reason::NothingSupplies(Nutrient::K2o)]);
    assert_eq!(said.missing, [Nutrient::K2o]);
    assert_eq!(said.reasons[0].to_string(), "none of these holds any K2O");
    // The rest of 2:1:1 is 2:1:0: x of 12-0-0 to y of 4-22-0 at 12x + 4y = 44y, 10 to 3.
    let without = said.without.unwrap();
    assert_eq!(scoops(&without), [("bone meal", 3), ("feather meal", 10)]);
}

#[test]
fn a_source_limited_to_nothing_is_told_from_none() {
    let mut potash = bag("potash", [0.0, 0.0, 50.0], 1.0);
    potash.max_scoops = Some(0);
    let said = refusal(
        &shelf(vec![bag("fish meal", [10.0, 6.0, 0.0], 1.0), potash]),
        &wish(),
    );
    assert_eq!(said.reasons, [Reason::NoScoopsLeft(Nutrient::K2o)]);
    assert_eq!(
        said.reasons[0].to_string(),
        "what holds K2O here is limited to 0 scoops"
    );
}

#[test]
fn a_shelf_of_nothing_is_refused_for_each_nutrient() {
    let said = refusal(&shelf(vec![bag("lime", [0.0; 3], 1.0)]), &wish());
    assert_eq!(said.reasons, Nutrient::ALL.map(Reason::NothingSupplies));
    assert_eq!(said.without, None);
}

#[test]
fn too_few_bags_and_forbidden_pairs_are_told_apart() {
    let mut shelf = shelf(vec![
        bag("n", [12.0, 0.0, 0.0], 1.0),
        bag("p", [0.0, 12.0, 0.0], 1.0),
        bag("k", [0.0, 0.0, 12.0], 1.0),
    ]);
    let said = refusal(&shelf, &wish().at_most(2).unwrap());
    assert_eq!(
        said.reasons,
        [Reason::TooFewBags {
            allowed: 2,
            needed: 3
        }]
    );
    assert_eq!(
        scoops(&recipe(&shelf, &wish())),
        [("k", 1), ("n", 2), ("p", 1)]
    );
    shelf.keep_apart(2, 0).unwrap();
    for bags in [3, 4] {
        let said = refusal(&shelf, &wish().at_most(bags).unwrap());
        assert_eq!(said.reasons, [Reason::MustBeKeptApart]);
    }
    let said = refusal(&shelf, &wish());
    assert_eq!(said.without, None);
}

#[test]
fn materials_are_checked_on_the_way_to_the_shelf() {
    let good = bag("meal", [6.0, 3.0, 3.0], 0.6);
    let refused = |material: MaterialOnShelf| Shelf::new(vec![good.clone(), material]).unwrap_err();
    assert_eq!(Shelf::new(Vec::new()), Err(BlendError::EmptyShelf));
    let many = Shelf::new(vec![good.clone(); 31]);
    assert_eq!(many, Err(BlendError::TooManyMaterials { given: 31 }));
    assert!(Shelf::new(vec![good.clone(); 30]).is_ok());
    for bad in [-0.1, 100.1, f64::NAN, f64::INFINITY] {
        let error = refused(bag("odd", [1.0, bad, 1.0], 1.0));
        assert!(matches!(
            error,
            BlendError::Share {
                nutrient: Nutrient::P2o5,
                ..
            }
        ));
    }
    let over = refused(bag("odd", [40.0, 40.0, 20.001], 1.0));
    assert_eq!(
        over.to_string(),
        "odd: N, P2O5 and K2O add up to 100.001 %, more than the whole bag"
    );
    assert!(Shelf::new(vec![bag("full", [40.1, 39.9, 20.0], 1.0)]).is_ok());
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY, 0.049, 5.1] {
        assert!(matches!(
            refused(bag("odd", [1.0; 3], bad)),
            BlendError::Density { .. }
        ));
    }
    let swapped = MaterialOnShelf {
        density_lo: 1.2,
        ..bag("odd", [1.0; 3], 0.8)
    };
    assert!(matches!(refused(swapped), BlendError::Density { .. }));
    for bad in [-1.0, f64::NAN, f64::INFINITY] {
        let odd = MaterialOnShelf {
            price_per_kg: Some(bad),
            ..good.clone()
        };
        assert!(matches!(refused(odd), BlendError::Price { .. }));
    }
}

#[test]
fn scoops_targets_limits_and_pairs_are_checked() {
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(
            Scoop::volume(bad),
            Err(BlendError::ScoopSize { .. })
        ));
        assert!(matches!(
            Scoop::weight(bad),
            Err(BlendError::ScoopSize { .. })
        ));
        assert!(matches!(
            Scoop::part_of(240.0, bad),
            Err(BlendError::ScoopSize { .. })
        ));
        assert!(matches!(
            Scoop::part_of(bad, 0.25),
            Err(BlendError::ScoopSize { .. })
        ));
    }
    assert_eq!(Target::new([0.0; 3]), Err(BlendError::EmptyTarget));
    assert_eq!(wish().at_most(0), Err(BlendError::NoBags));
    let mut shelf = shelf(vec![bag("a", [9.0; 3], 1.0), bag("b", [8.0; 3], 1.0)]);
    assert_eq!(
        shelf.keep_apart(0, 2),
        Err(BlendError::NoSuchMaterial { place: 2, len: 2 })
    );
    assert_eq!(
        shelf.caution(1, 1),
        Err(BlendError::PairWithItself {
            name: "b".to_owned()
        })
    );
    shelf.keep_apart(1, 0).unwrap();
    let together = mix_of(&shelf, quarter_cup(), target([1.0; 3]), &[(0, 1), (1, 1)]);
    assert_eq!(
        together.unwrap_err().to_string(),
        "a and b must not be mixed"
    );
}
