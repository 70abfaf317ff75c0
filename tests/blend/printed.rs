//! Printed examples and exact identities.

use super::{bag, near, quarter_cup, recipe, scoops, shelf, target};
use tubgrove::blend::{Deviation, Wish, mix_of};

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
