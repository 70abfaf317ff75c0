//! Salt tolerance, water quality, leaching and wash-out against printed rows and worked examples.

use crate::near;
use tubgrove::chemistry::leaching::{concentration_factor, leaching_requirement};
use tubgrove::chemistry::mixing::share_left;
use tubgrove::chemistry::tolerance::{CITRUS_MAAS_1993, ORANGE_MAAS_HOFFMAN_1977, ToleranceLine};
use tubgrove::chemistry::water::{Quality, Restriction, Water};

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
    // Printed to 0.1 dS/m, so a yield comes back within half of that times the slope.
    for (percent, extract) in [
        (100.0, 1.7),
        (90.0, 2.5),
        (75.0, 3.8),
        (50.0, 5.9),
        (0.0, 10.0),
    ] {
        near(0.61, "corn", corn.relative_yield(extract), percent);
    }
    // Orange, the same table from memory.
    for (percent, extract) in [
        (100.0, 1.7),
        (90.0, 2.3),
        (75.0, 3.3),
        (50.0, 4.8),
        (0.0, 8.0),
    ] {
        near(
            0.81,
            "orange",
            ORANGE_MAAS_HOFFMAN_1977.relative_yield(extract),
            percent,
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
fn leaching_requirement_as_tabled_and_guarded() {
    // FAO-29's worked example, corn: ECw 1.2, 90 % yield ECe 2.5 gives 0.10, full yield ECe 1.7
    // gives 0.16.
    let at = |water, extract| leaching_requirement(water, extract).expect("defined");
    near(0.01, "90 %", at(1.2, 2.5), 0.10);
    near(0.005, "100 %", at(1.2, 1.7), 0.16);
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
}

#[test]
fn concentration_at_balance() {
    // FAO-29: ECe is 1.5 times ECw at a leaching fraction of 15 to 20 %.
    let (dry, wet) = (
        concentration_factor(0.15).expect("row"),
        concentration_factor(0.20).expect("row"),
    );
    assert!(wet <= 1.5 && 1.5 <= dry, "{wet} {dry}");
    assert_eq!(concentration_factor(0.04), None);
    assert_eq!(concentration_factor(0.75), None);
}

#[test]
fn water_classes_of_table_1() {
    use Restriction::{None, Severe, SlightToModerate};
    // FAO-29 Table 1 in PMC9128324, Table 6, and PMC8587795, Table 4.
    for (line, none, middle, severe) in [
        (Quality::Salinity, 0.5, 0.7, 3.1),
        (Quality::ChlorideAtRoot, 3.9, 10.0, 10.5),
        (Quality::BicarbonateOnLeaf, 1.0, 8.5, 9.0),
    ] {
        assert_eq!(line.restriction(none), None, "{line:?}");
        assert_eq!(line.restriction(middle), SlightToModerate, "{line:?}");
        assert_eq!(line.restriction(severe), Severe, "{line:?}");
    }
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
    // By hand: exp(−0.5), exp(−1), exp(−2), exp(−3).
    for (volumes, want) in [(0.5, 0.6065), (1.0, 0.3679), (2.0, 0.1353), (3.0, 0.0498)] {
        near(6e-5, "left", share_left(volumes), want);
    }
    // Two volumes of mix through a mix that holds 0.60 of its volume as water: 3.6 %.
    near(0.0005, "flush", share_left(2.0 / 0.60), 0.036);
}
