//! The method's check doses, worked out by the formulas themselves from plain numbers: 24-8-16 with its forms printed, mostly
//! urea, and a 6.9 % blend, labels that do not limit, water of 0.3 dS/m. Derived by hand from the published need and limits.

use super::{knowledge, near, tree};
use tubgrove::chemistry::NitrogenForms;
use tubgrove::dose::feed::{Acts, Feed};
use tubgrove::dose::next::interval_days;
use tubgrove::dose::proposal::{Proposal, Wanted, propose};
use tubgrove::dose::situation::{Place, Situation, Stage};
use tubgrove::dose::{epsom, need};
use tubgrove::knowledge::Rates;
use tubgrove::quantity::{Interval, LabelRate, SpoonSystem};

/// A soluble 24-8-16 with its nitrogen forms printed, mostly urea, and a label that does not limit.
fn soluble() -> Feed<'static> {
    Feed {
        acts: Acts::Dissolved,
        n: 24.0,
        p2o5: 8.0,
        k2o: 16.0,
        p2o5_most: 8.0,
        k2o_most: 16.0,
        density: Interval::spanning(0.9, 1.25),
        label: Some(LabelRate::parse("5 g per L").unwrap()),
        label_days: Some(14.0),
        ammonium_urea: Some(0.94),
        forms: NitrogenForms::default(),
        organic: false,
        // About 2.2 dS/m at 900 mg N/L, as a mostly-urea feed of this grade gives at first.
        ec_per_100: (0.24, 0.26),
        strength: None,
        chloride: 0.0,
        coated_weeks: None,
        spoons: Some(SpoonSystem::Metric),
        material: None,
    }
}

/// An organic blend of 6.9 % N, as 1 cup of 3-5-6 with ¾ cup of 12-0-0 makes, and a label that does not limit.
fn blend() -> Feed<'static> {
    Feed {
        acts: Acts::Organic,
        n: 6.9,
        p2o5: 2.9,
        k2o: 3.4,
        p2o5_most: 2.9,
        k2o_most: 3.4,
        density: Interval::spanning(0.55, 1.0),
        label: Some(LabelRate::parse("500 g per pot").unwrap()),
        ..soluble()
    }
}

fn worked(
    rates: &Rates,
    s: Situation,
    main: Option<Feed<'_>>,
    other: Option<Feed<'_>>,
) -> Proposal {
    let wanted = Wanted {
        main,
        other,
        epsom: false,
        epsom_days: None,
        epsom_ago: None,
    };
    propose(rates, &[s], &wanted, None).unwrap()
}

#[test]
fn both_feeds_in_twenty_litres() {
    let r = knowledge().rates;
    let s = tree(20.0);
    // Need of two weeks: 35 × 20 × 2 = 1400 mg.
    near(need::weekly(&r, &s) * 2.0, 1400.0, 1e-6);
    let deluge = Situation {
        rain_mm: 175.0,
        ..s
    };
    let p = worked(&r, deluge, Some(soluble()), Some(blend()));
    let (_, ready) = p.ready.unwrap();
    near(ready.grams, 2.9, 1e-9);
    near(ready.can_litres, 3.4, 0.05);
    near(ready.n_per_litre(), 206.0, 3.0);
    let (_, slow) = p.slow.unwrap();
    // Half of 1400 mg ÷ 0.60 ÷ 69 mg/g, for the 14 days that rain of 175 mm a month leaves.
    near(slow.grams, 16.9, 1e-9);
}

#[test]
fn soluble_alone_in_twenty_litres() {
    let r = knowledge().rates;
    let (_, ready) = worked(&r, tree(20.0), Some(soluble()), None).ready.unwrap();
    near(ready.grams, 3.5, 1e-9);
}

#[test]
fn sixty_litres_in_deluge_rain() {
    let r = knowledge().rates;
    // A large old tree in a large pot is fed every 14 days.
    let wet = Situation {
        stage: Stage::LargeOld,
        rain_due: true,
        ..tree(60.0)
    };
    let p = worked(&r, wet, Some(soluble()), Some(blend()));
    assert!(p.ready.is_none() && p.ready_left_out);
    // Root-filled and bearing the upper edge, else the lower.
    let (_, upper) = p.slow.unwrap();
    let lower = worked(
        &r,
        Situation {
            pot_bound: false,
            ..wet
        },
        Some(soluble()),
        Some(blend()),
    );
    let fortnight = |grams: f64, days: f64| grams * 14.0 / days;
    near(upper.grams, 100.0, 1.0);
    let (_, low) = lower.slow.unwrap();
    // The amount is worked out for the days of the rain; the next top-dress may go on later than that.
    near(fortnight(low.grams, interval_days(&r, &wet)), 72.0, 2.0);
}

#[test]
fn a_self_watering_pot_of_fifteen_litres() {
    let r = knowledge().rates;
    let s = Situation {
        reservoir: true,
        tank_litres: Some(4.0),
        ..tree(15.0)
    };
    let (_, ready) = worked(&r, s, Some(soluble()), None).ready.unwrap();
    // 0.15 × 15 ÷ 0.88 = 2.557 L, which prints as 2.6 and is poured as 2.5; 150 mg/L × 2.5 ÷ 240 mg/g = 1.56 g, rounded down.
    assert!(ready.grams <= 1.6);
    near(ready.grams, 1.5, 1e-9);
    near(ready.can_litres, 2.557, 0.06);
    // One filling is no more than the tank holds.
    let small = Situation {
        tank_litres: Some(1.0),
        ..s
    };
    near(
        worked(&r, small, Some(soluble()), None)
            .ready
            .unwrap()
            .1
            .can_litres,
        1.0,
        1e-9,
    );
}

#[test]
fn ten_litres_under_lamps_at_sixteen_degrees() {
    let r = knowledge().rates;
    let s = Situation {
        place: Place::Indoors,
        temperature: Interval::point(16.0),
        rain_mm: 0.0,
        ..tree(10.0)
    };
    let (_, ready) = worked(&r, s, Some(soluble()), None).ready.unwrap();
    // 0.729 g, printed as 0.73 and given as 0.72, rounded down.
    near(ready.grams, 0.72, 1e-9);
    near(ready.can_litres, 1.7, 0.01);
    let (_, slow) = worked(&r, s, Some(blend()), None).slow.unwrap();
    // The need of two weeks is 8.5 g; the dry interval is 30 days, and the caps keep the top-dress below its share.
    near(
        need::weekly(&r, &s) * 2.0 / r.organic_released / 69.0,
        8.5,
        0.06,
    );
    assert!(slow.grams > 8.5 && slow.grams * 14.0 / interval_days(&r, &s) <= 8.5);
}

#[test]
fn a_seedling_in_four_litres() {
    let r = knowledge().rates;
    let s = Situation {
        stage: Stage::Seedling,
        ..tree(4.0)
    };
    let (_, ready) = worked(&r, s, Some(soluble()), None).ready.unwrap();
    near(ready.grams, 0.28, 1e-9);
    near(ready.can_litres, 0.68, 0.005);
    let (_, slow) = worked(&r, s, Some(blend()), None).slow.unwrap();
    // 14 days need 3.38 g; half of what a grown tree gets in one go is 115 × 4 × 0.5 ÷ 69 = 3.33 g.
    near(slow.grams, 3.3, 1e-9);
}

#[test]
fn epsom_salt_by_the_pot() {
    let r = knowledge().rates;
    let of = |s: &Situation| epsom::amount(&r, s);
    near(of(&tree(20.0)).grams, 6.8, 1e-9);
    near(of(&tree(20.0)).litres, 3.4, 0.05);
    near(of(&tree(60.0)).grams, 20.0, 1e-9);
    let reservoir = Situation {
        reservoir: true,
        ..tree(15.0)
    };
    near(of(&reservoir).grams, 3.75, 1e-9);
    near(of(&reservoir).litres, 3.75, 1e-9);
    // CIAAW 2021: 24.305 ÷ 246.466 in the heptahydrate, 20.19 % in the dried salt; the wrong factor would double a dose.
    near(epsom::MAGNESIUM * 100.0, 9.861, 0.001);
    near(24.305 / 120.361 * 100.0, 20.19, 0.01);
}
