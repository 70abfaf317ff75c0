//! The same arithmetic in exact fractions. Every figure of a can, of a pot and of a blend by weight is worked again with whole
//! numerators and denominators (`num-rational`), from the label alone, and must agree to the last digits of a double.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use num_rational::Ratio;
use proptest::prelude::*;
use tubgrove::chemistry::water::Water;
use tubgrove::chemistry::{Mineral, Minerals, NitrogenForms};
use tubgrove::dose::can::{Can, InCan};
use tubgrove::knowledge::Release;
use tubgrove::quantity::{Interval, LabelRate, Per, SpoonSystem};

type Exact = Ratio<i128>;

fn r(over: i128, under: i128) -> Exact {
    Exact::new(over, under)
}

fn decimal(x: Exact) -> f64 {
    *x.numer() as f64 / *x.denom() as f64
}

/// Within a few units of the last place.
fn same(ours: f64, exact: Exact) -> Result<(), TestCaseError> {
    let exact = decimal(exact);
    prop_assert!(
        (ours - exact).abs() <= 4e-15 * exact.abs().max(1e-9),
        "{ours} is not {exact}"
    );
    Ok(())
}

/// P in P2O5 and K in K2O from P 30.974, K 39.098, O 15.999 (CIAAW 2021), as fractions.
fn p_share() -> Exact {
    r(2 * 30_974, 2 * 30_974 + 5 * 15_999)
}
fn k_share() -> Exact {
    r(2 * 39_098, 2 * 39_098 + 15_999)
}

/// A feed of tenths of a per cent and tenths of a gram.
fn item(grade: [i32; 3], mg: i32, grams: i32) -> InCan<'static> {
    let mut minerals = Minerals::default();
    minerals.set(Mineral::Magnesium, f64::from(mg) / 10.0);
    InCan {
        grade: grade.map(|x| f64::from(x) / 10.0),
        forms: NitrogenForms::default(),
        minerals,
        material: None,
        release: Release::Ready,
        life_weeks: None,
        density: Interval::point(1.0),
        grams: Interval::point(f64::from(grams) / 10.0),
    }
}

/// Grade and magnesium in tenths of a per cent, tenths of a gram.
type Typed = ([i32; 3], i32, i32);

fn feeds() -> impl Strategy<Value = Vec<Typed>> {
    prop::collection::vec(([0..300_i32, 0..300, 0..300], 0..90_i32, 1..500_i32), 1..4)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// mg/L = Σ grams × per cent × 10 ÷ litres.
    #[test]
    fn a_can_adds_up(feeds in feeds(), deci in 5..400_i32) {
        let items: Vec<InCan<'_>> = feeds.iter().map(|(g, mg, grams)| item(*g, *mg, *grams)).collect();
        let can = Can::new(&items, f64::from(deci) / 10.0, Water::default(), 0.5).unwrap();
        let c = can.contents(1.0);
        let sum = |pick: fn(&Typed) -> i32| {
            feeds.iter().fold(r(0, 1), |sum, feed| {
                // (grams/10) × (per cent/10) × 10 ÷ (litres/10)
                sum + r(i128::from(feed.2) * i128::from(pick(feed)), i128::from(deci))
            })
        };
        same(c.n.1, sum(|f| f.0[0]))?;
        same(c.p2o5.1, sum(|f| f.0[1]))?;
        same(c.k2o.1, sum(|f| f.0[2]))?;
        same(c.p.1, sum(|f| f.0[1]) * p_share())?;
        same(c.k.1, sum(|f| f.0[2]) * k_share())?;
        same(c.minerals.1.get(Mineral::Magnesium), sum(|f| f.1))?;
    }

    /// Half of everything in the same water is half as strong; twice the water too.
    #[test]
    fn a_can_scales(feeds in feeds(), deci in 5..400_i32, part in 1..100_i32) {
        let items: Vec<InCan<'_>> = feeds.iter().map(|(g, mg, grams)| item(*g, *mg, *grams)).collect();
        let litres = f64::from(deci) / 10.0;
        let all: i128 = feeds.iter().map(|f| i128::from(f.2) * i128::from(f.0[0])).sum();
        let less = Can::new(&items, litres, Water::default(), 0.5).unwrap().contents(f64::from(part) / 100.0);
        same(less.n.1, r(all * i128::from(part), i128::from(deci) * 100))?;
    }

    /// A rate on a label: spoons of a US gallon's 3785.411784 mL, a tablespoon is a 256th of it.
    #[test]
    fn a_rate_fills_any_can(spoons in 1..20_i32, gallons in 1..50_i32) {
        let rate = LabelRate::parse(&format!("{spoons} US tbsp per {gallons} gal")).unwrap();
        let Per::LitresOfWater(per) = rate.per else { panic!("water") };
        same(per, r(3_785_411_784 * i128::from(gallons), 1_000_000_000))?;
        same(rate.amount.millilitres(SpoonSystem::Us).unwrap(), r(3_785_411_784 * i128::from(spoons), 256_000_000))?;
    }
}
