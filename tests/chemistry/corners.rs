//! The strongest and the weakest mix behind a grade, against a general solver and the method's
//! check values.

use crate::{grade, near, of_grade, value_of, within};
use microlp::{ComparisonOp, OptimizationDirection, Problem};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use tubgrove::chemistry::corners::{
    FEED_SALTS, Mix, ec_per_gram, ec_per_gram_after_urea, strongest, strongest_after_urea, weakest,
};
use tubgrove::chemistry::feed::UNKNOWN_FORMS_MARGIN;
use tubgrove::chemistry::{Grade, Salt, dissolve};

/// What a gram of a salt is worth, or holds.
type Value = fn(Salt) -> f64;

/// The linear program by a general solver: largest value of a mix with that grade and what the mix
/// exceeds it by; none if there is no mix. Exceeding costs 1000 a gram.
fn solver(grade: &Grade, value: impl Fn(Salt) -> f64) -> Option<(f64, f64)> {
    let mut problem = Problem::new(OptimizationDirection::Maximize);
    let columns = FEED_SALTS.map(|salt| (salt, problem.add_var(value(salt), (0.0, 1.0))));
    let rows: [(Value, f64); 3] = [
        (Salt::nitrogen, grade.nitrogen()),
        (Salt::phosphate, grade.phosphate()),
        (Salt::potash, grade.potash()),
    ];
    let mut surpluses = Vec::new();
    for (share, percent) in rows {
        let surplus = problem.add_var(-1000.0, (0.0, f64::INFINITY));
        surpluses.push(surplus);
        let mut row: Vec<_> = columns.iter().map(|(salt, x)| (*x, share(*salt))).collect();
        row.push((surplus, -1.0));
        problem.add_constraint(&row, ComparisonOp::Eq, percent / 100.0);
    }
    let weight: Vec<_> = columns.iter().map(|(_, x)| (*x, 1.0)).collect();
    problem.add_constraint(&weight, ComparisonOp::Le, 1.0);
    let solution = problem.solve().ok()?.into_solution().ok()?;
    let over: f64 = surpluses.iter().map(|x| solution.var_value(*x)).sum();
    Some((solution.objective() + 1000.0 * over, over))
}

/// Grades from 0-0-0 to 46-60-62 by threes, and those that are sold much.
fn many_grades() -> Vec<Grade> {
    let mut grades = Vec::new();
    for n in (0..=46).step_by(3) {
        for p in (0..=60).step_by(3) {
            for k in (0..=62).step_by(3) {
                if let Ok(grade) = Grade::new(f64::from(n), f64::from(p), f64::from(k)) {
                    grades.push(grade);
                }
            }
        }
    }
    for (n, p, k) in [
        (24, 8, 16),
        (20, 20, 20),
        (20, 10, 20),
        (30, 10, 10),
        (15, 5, 15),
        (10, 10, 10),
        (46, 0, 0),
    ] {
        grades.push(grade(f64::from(n), f64::from(p), f64::from(k)));
    }
    grades
}

#[test]
fn the_table_of_corners_is_the_linear_program() {
    // The same program given to a general solver, over thousands of grades.
    let (mut reached, mut not) = (0, 0);
    for grade in many_grades() {
        let cases: [(Option<Mix>, Value); 3] = [
            (strongest(&grade), ec_per_gram),
            (strongest_after_urea(&grade), ec_per_gram_after_urea),
            (weakest(&grade), |salt| -ec_per_gram(salt)),
        ];
        for (mix, value) in cases {
            let found = solver(&grade, value);
            match (mix, found.filter(|(_, over)| *over <= 0.01)) {
                (Some(mix), Some((want, _))) => {
                    near(1e-6, &format!("{grade:?}"), value_of(&mix, value), want);
                    reached += 1;
                }
                (None, None) => not += 1,
                (mix, want) => panic!("{grade:?}: corners {mix:?}, solver {want:?}"),
            }
        }
    }
    println!("{reached} grades reached, {not} not");
    assert!(reached > 1000 && not > 1000, "{reached} {not}");
}

#[test]
fn a_mix_has_the_grade_it_was_made_for() {
    for grade in many_grades() {
        let mixes = [
            strongest(&grade),
            weakest(&grade),
            strongest_after_urea(&grade),
        ];
        for mix in mixes.into_iter().flatten() {
            let over = [
                100.0 * value_of(&mix, Salt::nitrogen) - grade.nitrogen(),
                100.0 * value_of(&mix, Salt::phosphate) - grade.phosphate(),
                100.0 * value_of(&mix, Salt::potash) - grade.potash(),
            ];
            assert!(over.iter().all(|over| *over > -1e-6), "{grade:?}: {over:?}");
            assert!(
                over.iter().sum::<f64>() <= 1.0 + 1e-6,
                "{grade:?}: {over:?}"
            );
            assert!(mix.iter().map(|(_, share)| share).sum::<f64>() <= 1.0 + 1e-6);
        }
    }
}

/// µS/cm at 1 g/L and 25 °C from the geochemistry library with phreeqc.dat; urea carries nothing.
/// The table has eight of the nine figures the program needs, and those are all.
fn published_ec(salt: Salt) -> f64 {
    match salt {
        Salt::PotassiumChloride => 1.855,
        Salt::PotassiumNitrate => 1.337,
        Salt::AmmoniumNitrate => 1.684,
        Salt::AmmoniumSulfate => 1.877,
        Salt::PotassiumSulfate => 1.501,
        Salt::MonopotassiumPhosphate => 0.738,
        Salt::MonoammoniumPhosphate => 0.873,
        _ => 0.0,
    }
}

/// Check values of the method, dS/m per 100 mg/L N at the high end, without the 10 %.
const CHECK_VALUES: [((f64, f64, f64), f64); 6] = [
    ((24.0, 8.0, 16.0), 0.64),
    ((20.0, 20.0, 20.0), 0.53),
    ((20.0, 10.0, 20.0), 0.80),
    ((30.0, 10.0, 10.0), 0.34),
    ((15.0, 5.0, 15.0), 1.17),
    ((10.0, 10.0, 10.0), 1.15),
];

#[test]
fn check_values_of_the_method_follow_from_published_conductivities() {
    // The linear program with the library's conductivity of each salt gives the printed figures to
    // two digits. They are sums over the salts, without the 10 %.
    for ((n, p, k), want) in CHECK_VALUES {
        let (best, over) = solver(&grade(n, p, k), published_ec).expect("a mix exists");
        near(1e-9, "exactly", over, 0.0);
        near(0.006, &format!("{n}-{p}-{k}"), best * 10.0 / n, want);
    }
}

#[test]
fn check_values_of_the_method_by_our_own_model() {
    // Our ions conduct 1 to 5 % more than the library's for ammonium nitrate and ammonium sulfate;
    // the real model lies 3 to 7 % above the printed figures, and 10 % is added on top of that.
    for ((n, p, k), want) in CHECK_VALUES {
        let high = of_grade(n, p, k)
            .ec_per_100_mg_n()
            .expect("there is nitrogen")
            .high;
        let bare = high / UNKNOWN_FORMS_MARGIN;
        within(7.0, &format!("{n}-{p}-{k}"), bare, want);
        assert!(
            bare >= want,
            "{n}-{p}-{k}: {bare} below {want}, which would be the unsafe side"
        );
    }
}

#[test]
fn the_low_end_is_urea_beside_phosphate_and_potash() {
    // 46-0-0 is urea: nothing at first.
    let urea = of_grade(46.0, 0.0, 0.0).ec(1.0, 25.0);
    near(1e-12, "urea", urea.low, 0.0);
    for ((n, p, k), _) in CHECK_VALUES {
        let mix = weakest(&grade(n, p, k)).expect("a mix");
        for (salt, share) in mix {
            use Salt::{AmmoniumNitrate, AmmoniumSulfate, PotassiumNitrate};
            let other = matches!(salt, AmmoniumNitrate | AmmoniumSulfate | PotassiumNitrate);
            assert!(!other, "{n}-{p}-{k}: {share} of {}", salt.name());
        }
    }
    // 13-0-46 is potassium nitrate; urea and potassium sulfate would weigh more than the bag
    // (by hand: 0.13/0.4665 + 0.46/0.5406 = 1.13).
    let nitrate = weakest(&grade(13.0, 0.0, 46.0)).expect("a mix");
    assert!(
        nitrate
            .iter()
            .any(|(salt, share)| *salt == Salt::PotassiumNitrate && *share > 0.4)
    );
}

proptest! {
    // A fixed seed: the same bags every time.
    #![proptest_config(ProptestConfig {
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(20_100),
        ..ProptestConfig::with_cases(4000)
    })]

    /// Whatever the bag holds of the eight salts, the grade alone must not promise a weaker can.
    /// The corner is sought with straight lines and read with the curved model, so this is more
    /// than the program proves; the 10 % has to cover the bend.
    #[test]
    fn no_bag_of_the_eight_salts_is_stronger_than_its_grade_allows(
        parts in proptest::array::uniform9(0.0..1.0_f64),
        dilution in 0.1..4.0_f64,
        celsius in 5.0..35.0_f64,
    ) {
        // Cubes make bags of one or two salts common; the ninth part is inert.
        let cubes = parts.map(|part| part * part * part + 1e-9);
        let whole: f64 = cubes.iter().sum();
        let bag: Vec<(Salt, f64)> = FEED_SALTS.into_iter().zip(cubes).map(|(salt, part)| (salt, part / whole)).collect();
        let share = |f: Value| 100.0 * value_of(&bag, f);
        let strength = of_grade(share(Salt::nitrogen), share(Salt::phosphate), share(Salt::potash));
        let can = dissolve(&bag).times(dilution);
        let (ec, range) = (can.ec_ds_per_m(celsius), strength.ec(dilution, celsius));
        prop_assert!(ec <= range.high, "{bag:?}: {ec} above {range:?}");
        // The bend works against the low end, too; it has no margin, so 3 % is allowed for.
        prop_assert!(ec >= 0.97 * range.low, "{bag:?}: {ec} below {range:?}");
        let (after, range) = (can.urea_broken_down().ec_ds_per_m(celsius), strength.ec_after_urea(dilution, celsius));
        prop_assert!(after <= range.high, "{bag:?}: after {after} above {range:?}");
    }
}
