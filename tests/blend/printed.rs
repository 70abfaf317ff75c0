//! Printed examples and exact identities.

use super::{bag, near, quarter_cup, recipe, scoops, shelf, target};
use tubgrove::blend::{
    BlendError, Deviation, Npk, Wish, by_weight, mix_of, split_by_weight, two_sources, weight_for,
};

/// Watts, "Vegetable Gardening", home mixing: 2000 lb of 4-8-10 from nitrate of soda of 16 % N,
/// rock of 17 % P2O5 and potash of 50 % K2O: 500, 941 and 400 lb.
#[test]
fn a_printed_ton_of_4_8_10() {
    let sources = Npk::new([16.0, 17.0, 50.0]);
    let blend = by_weight(2000.0, Npk::new([4.0, 8.0, 10.0]), sources).unwrap();
    assert_eq!(
        blend.parts.as_array().map(f64::round),
        [500.0, 941.0, 400.0]
    );
    // The parts and the filler make up the ton; the filler is not in the printed text.
    assert!(near(blend.parts.sum() + blend.filler, 2000.0, 1e-9));
}

/// A lecture on fertilizer calculations: 15 lb of N, three quarters of it from a material of
/// 31 % and a quarter from one of 46 %: 36.3 and 8.2 lb.
#[test]
fn a_printed_split_of_15_pounds() {
    let weights = split_by_weight(15.0, &[(0.75, 31.0), (0.25, 46.0)]).unwrap();
    let printed: Vec<f64> = weights.iter().map(|w| (w * 10.0).round() / 10.0).collect();
    assert_eq!(printed, [36.3, 8.2]);
}

/// Bailey, "Farm and Garden Rule-Book": pounds a ton for each percent wanted, 2000 / percent held.
#[test]
fn printed_pounds_a_ton_for_one_percent() {
    let printed = [
        (15.0, 133.0),
        (12.4, 161.0),
        (20.0, 100.0),
        (7.0, 286.0),
        (14.0, 143.0),
        (16.0, 125.0),
        (50.0, 40.0),
        (12.0, 167.0),
        (48.0, 42.0),
    ];
    for (held, pounds) in printed {
        assert_eq!(
            weight_for(2000.0, 1.0, held).unwrap().round(),
            pounds,
            "{held} %"
        );
    }
}

/// Two-source algebra, exact: 20 % and 46 % make 30 % as 8/13 and 5/13 by weight.
#[test]
fn two_sources_make_a_third() {
    let (first, second) = two_sources(20.0, 46.0, 30.0).unwrap();
    assert!(near(first, 8.0 / 13.0, 1e-15) && near(second, 5.0 / 13.0, 1e-15));
    let (first, second) = two_sources(46.0, 20.0, 30.0).unwrap();
    assert!(near(first, 5.0 / 13.0, 1e-15) && near(second, 8.0 / 13.0, 1e-15));
    assert_eq!(two_sources(20.0, 46.0, 46.0).unwrap(), (0.0, 1.0));
    for (first, second, wanted) in [(20.0, 46.0, 50.0), (20.0, 46.0, 19.0), (5.0, 5.0, 5.0)] {
        assert!(matches!(
            two_sources(first, second, wanted),
            Err(BlendError::OutOfReach { .. })
        ));
    }
}

#[test]
fn weights_refuse_what_cannot_be() {
    let poor = Npk::new([4.0, 4.0, 4.0]);
    let wanted = Npk::new([2.0, 2.0, 1.0]);
    assert!(matches!(
        by_weight(100.0, wanted, poor),
        Err(BlendError::Overfull { .. })
    ));
    let brim = by_weight(100.0, Npk::new([2.0, 1.0, 1.0]), poor).unwrap();
    assert_eq!(brim.filler, 0.0);
    let no_potash = Npk::new([46.0, 20.0, 0.0]);
    assert!(matches!(
        by_weight(100.0, wanted, no_potash),
        Err(BlendError::Weight { .. })
    ));
    let unwanted = by_weight(100.0, Npk::new([23.0, 10.0, 0.0]), no_potash).unwrap();
    assert_eq!(unwanted.parts.as_array(), [50.0, 50.0, 0.0]);
    for bad in [f64::NAN, f64::INFINITY, -1.0] {
        assert!(weight_for(bad, 1.0, 10.0).is_err());
        assert!(weight_for(1.0, bad, 10.0).is_err());
        assert!(weight_for(1.0, 1.0, bad).is_err());
        assert!(by_weight(1.0, Npk::new([bad, 1.0, 1.0]), poor).is_err());
        assert!(split_by_weight(1.0, &[(bad, 31.0), (1.0, 46.0)]).is_err());
        assert!(two_sources(bad, 20.0, 10.0).is_err());
    }
    assert!(weight_for(1.0, 1.0, 0.0).is_err());
    assert!(split_by_weight(15.0, &[(0.75, 31.0), (0.20, 46.0)]).is_err());
}

/// The common blend: 1 cup of 3-5-6 and ¾ cup of 12-0-0 at equal densities is 12 : 5 : 6, and
/// its true grade is 6.86-2.86-3.43 (12/1.75, 5/1.75, 6/1.75), not 12-5-6.
#[test]
fn the_common_blend_has_the_ratio_but_not_the_grade() {
    let shelf = shelf(vec![
        bag("blend", [3.0, 5.0, 6.0], 0.8),
        bag("feather meal", [12.0, 0.0, 0.0], 0.8),
    ]);
    let twelve = target([12.0, 5.0, 6.0]);
    let made = mix_of(&shelf, quarter_cup(), twelve, &[(0, 4), (1, 3)]).unwrap();
    let printed = made
        .grade
        .as_array()
        .map(|percent| (percent * 100.0).round() / 100.0);
    assert_eq!(printed, [6.86, 2.86, 3.43]);
    assert_eq!(made.deviation, Deviation::ZERO);
    assert_eq!(made.furthest, None);
    for (reached, wanted) in made.ratio.as_array().into_iter().zip([12.0, 5.0, 6.0]) {
        assert!(near(reached, wanted, 1e-12));
    }
    assert_eq!(made.shortcut.sum.as_array(), [12.0, 5.0, 6.0]);
    assert!(near(made.shortcut.looks_stronger, 1.75, 1e-12));
    assert!(made.shortcut.misleads_on_strength && !made.shortcut.misleads_on_ratio);
    // Asked for that ratio, the search finds the same cups.
    let found = recipe(&shelf, &Wish::new(twelve, quarter_cup()));
    assert_eq!(scoops(&found), [("blend", 4), ("feather meal", 3)]);
    assert_eq!(found.best, made);
}
