//! Water: flushing, leaching, washout and the common intervals.

use super::{knowledge, near, tree};
use tubgrove::dose::flush::left_after;
use tubgrove::dose::next::{interval_days, washed_by, washout_days};
use tubgrove::dose::situation::Situation;
use tubgrove::dose::water;

#[test]
fn flush_volumes() {
    // University of California Garden Web, "Soluble Salts", and Browning (Nebraska Extension): twice the pot's volume; a
    // 6-inch pot holds about 5 cups, so 10 cups.
    let rates = knowledge().rates;
    let cups = 5.0 * 0.236_588;
    near(
        water::flush_litres(&rates, &tree(cups)),
        10.0 * 0.236_588,
        1e-6,
    );
    // By complete mixing two volumes leave exp(−2/0.60) = 3.6 %.
    near(left_after(2.0 * 20.0, 0.60 * 20.0), 0.036, 0.0005);
    // Kerr, MS thesis, Colorado State 1983: the knee lies at 1 to 1.5 capacities; complete mixing gives 63 and 78 % gone.
    near(1.0 - left_after(1.0, 1.0), 0.632, 0.001);
    near(1.0 - left_after(1.5, 1.0), 0.777, 0.001);
}

#[test]
fn leaching_requirement() {
    // FAO 29 after Rhoades 1974: corn, 1.2 dS/m water; 0.1062 for ECe 2.5 and 0.1644 for 1.7. Citrus at 1.4 (Maas 1993).
    for (ecw, ece, lr) in [
        (1.2, 2.5, 0.1062),
        (1.2, 1.7, 0.1644),
        (0.5, 1.4, 0.0769),
        (0.7, 1.4, 0.1111),
        (1.0, 1.4, 0.1667),
    ] {
        near(water::leaching_requirement(ecw, ece).unwrap(), lr, 0.0001);
    }
    assert!(water::leaching_requirement(7.0, 1.4).is_none());
    // Florida nursery practice: 10 to 15 % drains.
    let rates = knowledge().rates;
    let lf = water::leaching_fraction(&rates, 0.3);
    assert!((0.10..=0.15).contains(&lf));
}

#[test]
fn washout_and_common_intervals() {
    let rates = knowledge().rates;
    let days = |litres: f64, rain: f64| washout_days(&rates, litres, rain, 0.12);
    for (rain, want) in [
        (0.0, 74.0),
        (50.0, 32.0),
        (100.0, 20.0),
        (150.0, 15.0),
        (175.0, 13.0),
    ] {
        near(days(20.0, rain), want, 0.6);
    }
    near(days(3.0, 150.0), 8.0, 0.5);
    near(days(100.0, 150.0), 25.0, 0.7);
    // Common practice: about every 14 days in deluge rain, about every 30 when dry.
    let interval = |litres: f64, rain: f64| {
        interval_days(
            &rates,
            &Situation {
                rain_mm: rain,
                ..tree(litres)
            },
        )
    };
    for rain in [150.0, 165.0, 175.0] {
        assert!((14.0..=15.1).contains(&interval(20.0, rain)), "{rain}");
    }
    near(interval(20.0, 15.0), 30.0, 1e-9);
    near(interval(20.0, 0.0), 30.0, 1e-9);
    // A small pot in deluge rain is held at 14 days all the same; about half may be gone by then, two thirds from 275 mm
    // (derived by hand: 3 L, mouth 18.6 cm wide; 2.96 mm of rain a day drains, 4.9 mm with 150 mm a month).
    near(interval(3.0, 150.0), 14.0, 1e-9);
    let gone = |rain: f64| {
        washed_by(
            &rates,
            &Situation {
                rain_mm: rain,
                ..tree(3.0)
            },
            14.0,
        )
    };
    near(gone(150.0), 0.5, 0.05);
    near(gone(275.0), 2.0 / 3.0, 0.05);
}
