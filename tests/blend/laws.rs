//! What holds for every shelf.

use super::quarter_cup;
use proptest::prelude::*;
use tubgrove::blend::{Answer, Deviation, MaterialOnShelf, Mix, Shelf, Target, Wish, mix};

prop_compose! {
    /// Grades in tenths so that shelves are often met exactly, and names that often collide.
    fn material()(
        grade in [0_u32..200, 0_u32..200, 0_u32..200],
        bare in [any::<bool>(), any::<bool>(), any::<bool>()],
        density in 500_u32..1300,
        spread in 0_u32..200,
        max_scoops in proptest::option::of(0_u8..=12),
        name in 0_u8..12,
    ) -> MaterialOnShelf {
        let mut shares = [0.0; 3];
        for ((share, tenths), bare) in shares.iter_mut().zip(grade).zip(bare) {
            *share = if bare { 0.0 } else { f64::from(tenths) / 10.0 };
        }
        let mut material =
            MaterialOnShelf::new(format!("bag {name}"), shares, f64::from(density) / 1000.0);
        material.density_hi = f64::from(density + spread) / 1000.0;
        material.max_scoops = max_scoops;
        material
    }
}

fn parts() -> impl Strategy<Value = [u32; 3]> {
    [0_u32..9, 0_u32..9, 0_u32..9].prop_filter("0-0-0", |parts| parts.iter().any(|p| *p > 0))
}

fn wish(parts: [u32; 3], times: u32, bags: usize) -> Wish {
    let target = Target::new(parts.map(|part| f64::from(part * times) / 10.0)).unwrap();
    Wish::new(target, quarter_cup()).at_most(bags).unwrap()
}

fn best(shelf: &Shelf, wish: &Wish) -> Option<Mix> {
    match mix(shelf, wish) {
        Answer::Mix(recipe) => Some(recipe.best),
        Answer::Cannot(_) => None,
    }
}

/// What a mix is, apart from where its materials stand.
type Described = Vec<(String, u16, u64)>;

fn described(mix: &Mix) -> (Deviation, Described) {
    let part =
        |part: &tubgrove::blend::Part| (part.name.clone(), part.scoops, part.grams.to_bits());
    (mix.deviation, mix.parts.iter().map(part).collect())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..Default::default() })]

    #[test]
    fn the_order_of_the_shelf_does_not_matter(
        (materials, shuffled) in proptest::collection::vec(material(), 2..7)
            .prop_flat_map(|all| (Just(all.clone()), Just(all).prop_shuffle())),
        parts in parts(),
        bags in 1_usize..5,
    ) {
        let wish = wish(parts, 10, bags);
        let straight = best(&Shelf::new(materials).unwrap(), &wish);
        let mixed_up = best(&Shelf::new(shuffled).unwrap(), &wish);
        prop_assert_eq!(straight.as_ref().map(described), mixed_up.as_ref().map(described));
    }

    #[test]
    fn another_material_never_worsens_the_deviation(
        materials in proptest::collection::vec(material(), 1..6),
        further in material(),
        place in 0_usize..6,
        parts in parts(),
        bags in 1_usize..5,
    ) {
        let wish = wish(parts, 10, bags);
        let mut more = materials.clone();
        more.insert(place.min(materials.len()), further);
        if let Some(before) = best(&Shelf::new(materials).unwrap(), &wish) {
            let after = best(&Shelf::new(more).unwrap(), &wish);
            prop_assert!(after.is_some_and(|after| after.deviation <= before.deviation));
        }
    }

    #[test]
    fn another_bag_never_worsens_the_deviation(
        materials in proptest::collection::vec(material(), 1..6),
        parts in parts(),
        bags in 1_usize..5,
    ) {
        let shelf = Shelf::new(materials).unwrap();
        if let Some(before) = best(&shelf, &wish(parts, 10, bags)) {
            let after = best(&shelf, &wish(parts, 10, bags + 1));
            prop_assert!(after.is_some_and(|after| after.deviation <= before.deviation));
        }
    }

    #[test]
    fn scaling_the_target_changes_nothing(
        materials in proptest::collection::vec(material(), 1..6),
        parts in parts(),
        times in 1_u32..1000,
    ) {
        let shelf = Shelf::new(materials).unwrap();
        prop_assert_eq!(mix(&shelf, &wish(parts, 1, 4)), mix(&shelf, &wish(parts, times, 4)));
    }

    /// No limit is broken, and the figures of a mix agree with one another.
    #[test]
    fn a_mix_keeps_its_limits_and_its_figures_agree(
        materials in proptest::collection::vec(material(), 1..7),
        parts in parts(),
        bags in 1_usize..5,
        pair in (0_usize..7, 0_usize..7),
    ) {
        let mut shelf = Shelf::new(materials).unwrap();
        let apart = shelf.keep_apart(pair.0, pair.1).is_ok();
        let Some(made) = best(&shelf, &wish(parts, 10, bags)) else { return Ok(()) };
        prop_assert!(!made.parts.is_empty() && made.parts.len() <= bags);
        for part in &made.parts {
            let cap = shelf.materials()[part.place].max_scoops.unwrap_or(12);
            prop_assert!(part.scoops >= 1 && part.scoops <= u16::from(cap));
        }
        let holds = |place: usize| made.parts.iter().any(|part| part.place == place);
        prop_assert!(!(apart && holds(pair.0) && holds(pair.1)));

        let whole = f64::from(parts.iter().sum::<u32>());
        let sum = made.grade.sum();
        let off = made.grade.as_array().into_iter().zip(parts).map(|(percent, part)| {
            let wanted = f64::from(part) / whole;
            let off = (percent / sum - wanted).abs();
            if part == 0 { off } else { off / wanted }
        });
        let worst = off.fold(0.0, f64::max);
        prop_assert!((worst - made.deviation.as_f64()).abs() < 1e-9);
        prop_assert!(made.deviation_at_worst >= made.deviation.as_f64());
        let (lo, hi) = (made.grade_lo.as_array(), made.grade_hi.as_array());
        for ((percent, lo), hi) in made.grade.as_array().into_iter().zip(lo).zip(hi) {
            prop_assert!(lo <= percent + 1e-9 && percent <= hi + 1e-9);
        }
    }
}
