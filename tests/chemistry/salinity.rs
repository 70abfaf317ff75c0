//! Salt tolerance, water quality, leaching and wash-out against printed rows and worked examples.

use crate::{near, within};
use tubgrove::chemistry::Range;
use tubgrove::chemistry::leaching::{
    concentration_factor, drainage_at_balance, leaching_requirement, water_to_apply,
};
use tubgrove::chemistry::mixing::{
    after_draining, share_left, share_left_after_ponding, share_left_after_soaks, volumes_until,
};
use tubgrove::chemistry::tolerance::{CITRUS_MAAS_1993, ORANGE_MAAS_HOFFMAN_1977, ToleranceLine};
use tubgrove::chemistry::water::{
    Quality, Restriction, Water, infiltration, sodium_adsorption_ratio,
};

#[test]
fn a_printed_worked_example_of_the_tolerance_line() {
    // Lucerne, a 2.0, b 7.3, ECe 5.4: 75 % ("Reduction in yield" chapter, Taylor & Francis, doi
    // 10.1201/b12931).
    let lucerne = ToleranceLine {
        threshold: 2.0,
        slope: 7.3,
    };
    near(0.5, "lucerne", lucerne.relative_yield(5.4), 75.0);
}

#[test]
fn rows_of_table_4() {
    // Corn, control row read in PLOS ONE PMC6002086, Table 3: ECe and ECw at 100, 90, 75, 50 and 0
    // %. Threshold 1.7; the slope of 12 % is from the row itself, (100 − 50)/(5.9 − 1.7).
    let corn = ToleranceLine {
        threshold: 1.7,
        slope: 12.0,
    };
    for (percent, extract, water) in [
        (100.0, 1.7, 1.1),
        (90.0, 2.5, 1.7),
        (75.0, 3.8, 2.5),
        (50.0, 5.9, 3.9),
        (0.0, 10.0, 6.7),
    ] {
        near(0.051, "corn ECe", corn.extract_at(percent), extract);
        near(0.051, "corn ECw", corn.water_at(percent), water);
    }
    // The printed ECe row alone, divided by 1.5, gives the printed ECw row.
    for (extract, water) in [(1.7, 1.1), (2.5, 1.7), (3.8, 2.5), (5.9, 3.9), (10.0, 6.7)] {
        near(0.051, "ECw = ECe/1.5", extract / 1.5, water);
    }
    // Orange, the same table from memory.
    for (percent, extract, water) in [
        (100.0, 1.7, 1.1),
        (90.0, 2.3, 1.6),
        (75.0, 3.3, 2.2),
        (50.0, 4.8, 3.2),
        (0.0, 8.0, 5.3),
    ] {
        near(
            0.051,
            "orange ECe",
            ORANGE_MAAS_HOFFMAN_1977.extract_at(percent),
            extract,
        );
        near(
            0.051,
            "orange ECw",
            ORANGE_MAAS_HOFFMAN_1977.water_at(percent),
            water,
        );
    }
}

#[test]
fn both_citrus_lines_as_published() {
    // Maas 1993: threshold 1.4 dS/m, 13 % per dS/m.
    near(
        1e-9,
        "threshold",
        CITRUS_MAAS_1993.relative_yield(1.4),
        100.0,
    );
    near(
        1e-9,
        "one above",
        CITRUS_MAAS_1993.relative_yield(2.4),
        87.0,
    );
    near(
        1e-9,
        "never above full",
        CITRUS_MAAS_1993.relative_yield(0.0),
        100.0,
    );
    near(
        1e-9,
        "never below nothing",
        CITRUS_MAAS_1993.relative_yield(20.0),
        0.0,
    );
    // The mean of three newer lines (orange 1.3/13.1, grapefruit 1.2/13.5, lemon 1.5/12.8; Maas and
    // Grattan 1999, memory) lies within 0.1.
    near(
        0.1,
        "mean threshold",
        CITRUS_MAAS_1993.threshold,
        (1.3 + 1.2 + 1.5) / 3.0,
    );
    near(
        0.2,
        "mean slope",
        CITRUS_MAAS_1993.slope,
        (13.1 + 13.5 + 12.8) / 3.0,
    );
}

#[test]
fn s_curve_of_both_lines() {
    // By hand from Steppuhn, van Genuchten and Grieve 2005: C50 4.931 and s 0.1976; C50 4.515 and s
    // 0.2432.
    for (line, half, steepness) in [
        (CITRUS_MAAS_1993, 4.931, 0.1976),
        (ORANGE_MAAS_HOFFMAN_1977, 4.515, 0.2432),
    ] {
        let curve = line.s_curve();
        near(0.001, "C50", curve.half, half);
        near(5e-5, "s", curve.steepness, steepness);
        near(1e-9, "half at C50", curve.relative_yield(curve.half), 50.0);
        near(1e-9, "full without salt", curve.relative_yield(0.0), 100.0);
        near(0.001, "index", curve.index(), half * (1.0 + steepness));
        // The two forms agree within a tenth of full yield between full and half.
        near(
            10.0,
            "line and curve",
            curve.relative_yield(3.0),
            line.relative_yield(3.0),
        );
    }
}

#[test]
fn leaching_requirement_as_tabled_and_guarded() {
    // FAO-29's worked example, corn: ECw 1.2, 90 % yield ECe 2.5 gives 0.10, full yield ECe 1.7
    // gives 0.16; at 0.10 and ET 800 mm apply 890 mm.
    let at = |water, extract| leaching_requirement(water, extract).expect("defined");
    near(0.01, "90 %", at(1.2, 2.5), 0.10);
    near(0.005, "100 %", at(1.2, 1.7), 0.16);
    near(
        2.0,
        "mm",
        water_to_apply(800.0, 0.10).expect("defined"),
        890.0,
    );
    // By hand.
    for (water, extract, want) in [
        (0.5, 1.7, 0.0625),
        (0.7, 1.7, 0.0897),
        (1.0, 1.7, 0.1333),
        (1.1, 1.7, 0.1486),
        (0.5, 1.4, 0.0769),
        (0.7, 1.4, 0.1111),
        (1.0, 1.4, 0.1667),
    ] {
        near(6e-5, "LR", at(water, extract), want);
    }
    for (water, extract) in [
        (7.0, 1.4),
        (8.0, 1.4),
        (3.5, 1.4),
        (0.5, 0.0),
        (-0.1, 1.4),
        (f64::NAN, 1.4),
        (0.5, f64::NAN),
    ] {
        assert_eq!(
            leaching_requirement(water, extract),
            None,
            "{water} {extract}"
        );
    }
    assert_eq!(water_to_apply(1.0, 1.0), None);
}

#[test]
fn concentration_and_balance() {
    // FAO-29: ECe is 1.5 times ECw at a leaching fraction of 15 to 20 %.
    let (dry, wet) = (
        concentration_factor(0.15).expect("row"),
        concentration_factor(0.20).expect("row"),
    );
    assert!(wet <= 1.5 && 1.5 <= dry, "{wet} {dry}");
    assert_eq!(concentration_factor(0.04), None);
    assert_eq!(concentration_factor(0.75), None);
    // Salt balance: water of 0.5 dS/m with a fifth drained drains at 2.5.
    near(
        1e-12,
        "drainage",
        drainage_at_balance(0.5, 0.2).expect("defined"),
        2.5,
    );
    assert_eq!(drainage_at_balance(0.5, 0.0), None);
}

#[test]
fn water_classes_of_table_1() {
    use Restriction::{None, Severe, SlightToModerate};
    // FAO-29 Table 1 in PMC9128324, Table 6, and PMC8587795, Table 4.
    for (line, none, middle, severe) in [
        (Quality::Salinity, 0.5, 0.7, 3.1),
        (Quality::DissolvedSolids, 400.0, 2000.0, 2100.0),
        (Quality::SodiumAtRoot, 2.9, 3.0, 9.5),
        (Quality::ChlorideAtRoot, 3.9, 10.0, 10.5),
        (Quality::Boron, 0.6, 1.0, 3.5),
        (Quality::NitrateNitrogen, 4.0, 30.0, 31.0),
        (Quality::BicarbonateOnLeaf, 1.0, 8.5, 9.0),
    ] {
        assert_eq!(line.restriction(none), None, "{line:?}");
        assert_eq!(line.restriction(middle), SlightToModerate, "{line:?}");
        assert_eq!(line.restriction(severe), Severe, "{line:?}");
    }
    assert_eq!(Quality::SodiumOnLeaf.restriction(5.0), SlightToModerate);
    assert_eq!(Quality::ChlorideOnLeaf.restriction(2.0), None);
    // Infiltration: pure water soaks in badly, the more so the more sodium.
    for (sar, ec, want) in [
        (1.0, 0.8, Some(None)),
        (1.0, 0.5, Some(SlightToModerate)),
        (1.0, 0.1, Some(Severe)),
        (4.0, 1.0, Some(SlightToModerate)),
        (8.0, 0.4, Some(Severe)),
        (15.0, 3.0, Some(None)),
        (30.0, 2.0, Some(Severe)),
    ] {
        assert_eq!(infiltration(sar, ec), want, "SAR {sar}, {ec} dS/m");
    }
    assert_eq!(infiltration(41.0, 1.0), Option::None);
}

#[test]
fn sodium_adsorption_by_hand() {
    // 4 me/L Na, 2 Ca, 2 Mg: 4/√2.
    near(
        1e-9,
        "SAR",
        sodium_adsorption_ratio(4.0, 2.0, 2.0).expect("defined"),
        8.0_f64.sqrt(),
    );
    assert_eq!(sodium_adsorption_ratio(4.0, 0.0, 0.0), None);
}

#[test]
fn what_a_water_brings() {
    // 35.45 mg/L Cl are 1 me/L (FAO-29: 10 me/L are 354.5 mg/L); 50.04 mg/L CaCO3 are 1 me/L.
    let water = Water {
        ec: Some(0.6),
        chloride: Some(354.5),
        hardness: Some(50.04),
        alkalinity: Some(125.1),
    };
    near(0.001, "Cl", water.chloride_me_per_l().expect("known"), 10.0);
    near(
        0.001,
        "hardness",
        water.hardness_me_per_l().expect("known"),
        1.0,
    );
    near(
        0.001,
        "alkalinity",
        water.bicarbonate_me_per_l().expect("known"),
        2.5,
    );
    let feed = Range {
        low: 0.5,
        high: 1.5,
    };
    let can = water.ec_of_can(feed, 0.5);
    near(1e-12, "low", can.low, 1.1);
    near(1e-12, "high", can.high, 2.1);
    near(
        1e-12,
        "assumed",
        Water::default().ec_of_can(feed, 0.5).high,
        2.0,
    );
    near(
        1e-9,
        "Cl of can",
        water.chloride_of_can(feed).expect("known").high,
        11.5,
    );
    assert_eq!(Water::default().chloride_of_can(feed), None);
}

#[test]
fn adding_the_water_errs_to_the_high_side() {
    // Feed and water mixed as ions against the sum of the two readings.
    use tubgrove::chemistry::{Salt, dissolve};
    let feed = dissolve(&[
        (Salt::PotassiumNitrate, 0.7),
        (Salt::MonoammoniumPhosphate, 0.2),
    ]);
    let water = dissolve(&[
        (Salt::SodiumChloride, 0.1),
        (Salt::SodiumBicarbonate, 0.2),
        (Salt::CalciumChloride, 0.1),
    ]);
    let (together, sum) = (
        feed.plus(&water).ec_ds_per_m(25.0),
        feed.ec_ds_per_m(25.0) + water.ec_ds_per_m(25.0),
    );
    assert!(together < sum && together > 0.96 * sum, "{together} {sum}");
}

#[test]
fn complete_mixing() {
    // By hand: exp(−0.5), exp(−1), exp(−2), exp(−3); ten per cent need ln 10.
    for (volumes, want) in [(0.5, 0.6065), (1.0, 0.3679), (2.0, 0.1353), (3.0, 0.0498)] {
        near(6e-5, "left", share_left(volumes), want);
        near(
            6e-5,
            "left",
            after_draining(1.0, 0.0, volumes * 12.0, 12.0, 1.0).expect("sound"),
            want,
        );
    }
    near(0.001, "volumes", volumes_until(0.1).expect("sound"), 2.303);
    // Two volumes of mix through a mix that holds 0.60 of its volume as water: 3.6 %.
    near(0.0005, "flush", share_left(2.0 / 0.60), 0.036);
    // Incoming salt stays: from 3 dS/m towards 0.5.
    within(
        0.01,
        "towards the water's own",
        after_draining(3.0, 0.5, 1e6, 10.0, 1.0).expect("sound"),
        0.5,
    );
    // Printed field efficiency of 0.75 leaves more than perfect mixing.
    let slow = after_draining(1.0, 0.0, 10.0, 10.0, 0.75).expect("sound");
    near(1e-9, "efficiency", slow, (-0.75_f64).exp());
    for bad in [(0.0, 1.0, 1.0), (1.0, -1.0, 1.0), (1.0, 1.0, 1.5)] {
        assert_eq!(after_draining(1.0, 0.0, bad.1, bad.0, bad.2), None);
    }
    assert_eq!(volumes_until(0.0), None);
}

#[test]
fn soaking_and_ponding() {
    // By hand: a third of the pot's water, stirred and drained once, twice, three times.
    for (times, want) in [(1, 0.75), (2, 0.5625), (3, 0.421875)] {
        near(
            1e-9,
            "left",
            share_left_after_soaks(1.0 / 3.0, times).expect("sound"),
            want,
        );
    }
    // Hoffman 1980: one depth leaves 0.1, 0.3, 0.45; two depths half of that; not below K.
    for k in [0.1, 0.3, 0.45] {
        near(
            1e-12,
            "one depth",
            share_left_after_ponding(k, 1.0).expect("applies"),
            k,
        );
        near(
            1e-12,
            "two depths",
            share_left_after_ponding(k, 2.0).expect("applies"),
            k / 2.0,
        );
        assert_eq!(share_left_after_ponding(k, k / 2.0), None);
    }
}
