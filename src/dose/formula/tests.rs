//! Tests of `formula.rs`.

use super::{Line, Sheet, Within};
use crate::dose::reckoning::{Func, Reckon};
use crate::dose::traced::Traced;
use crate::knowledge::{Files, Knowledge, load};

fn shipped() -> Knowledge {
    load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"))
}

fn said(k: &Knowledge, number: &Traced) -> String {
    let mut line = Line {
        knowledge: k,
        text: String::new(),
        sources: Vec::new(),
    };
    line.made(&number.0, Within::Line);
    line.text
}

fn bare(x: f64) -> Traced {
    Traced::bare(x)
}

// What must stand in brackets, by the rules of arithmetic.
#[test]
fn brackets_keep_the_order_of_a_sum() {
    let k = shipped();
    let sum = || bare(6.0).less(bare(4.0));
    let product = || bare(2.0).times(bare(5.0));
    for (number, text, value) in [
        (
            sum().times(bare(3.0)).over(product()),
            "(6 − 4) × 3 ÷ (2 × 5)",
            0.6,
        ),
        (bare(9.0).less(sum()), "9 − (6 − 4)", 7.0),
        (bare(9.0).plus(product()), "9 + 2 × 5", 19.0),
        (
            product().least(sum()).over(bare(4.0)),
            "(the smaller of: 2 × 5; 6 − 4) ÷ 4",
            0.5,
        ),
        (
            bare(3.0).least(bare(7.0)).least(bare(5.0)).most(bare(4.0)),
            "the larger of: (the smallest of: 3; 7; 5); 4",
            4.0,
        ),
        (
            bare(8.0)
                .apply(Func::CubeRoot)
                .times(sum().apply(Func::PowerOfTwo)),
            "∛(8) × 2^(6 − 4)",
            8.0,
        ),
        (
            bare(1.25).times(bare(2.5)).apply(Func::Down(2)),
            "1.25 × 2.5, rounded down",
            3.1,
        ),
    ] {
        assert_eq!(said(&k, &number), text);
        assert!(
            (number.value() - value).abs() < 1e-12,
            "{text}: {}",
            number.value()
        );
    }
}

// A figure with a name has one line, before the first that uses it, however often it is used.
#[test]
fn a_named_figure_has_a_line_of_its_own() {
    let k = shipped();
    let side = || bare(2.0).plus(bare(1.0)).named("", "side", "m");
    let mut sheet = Sheet::new(&k, None);
    sheet.show(&side().times(side()).named("square", "area", "m²"));
    let lines: Vec<String> = sheet
        .figures
        .iter()
        .map(|f| format!("{} {} {} = {}", f.name, f.value, f.unit, f.formula))
        .collect();
    assert_eq!(
        lines,
        [
            "side 3 m = 2 + 1",
            "square: area 9 m² = 3 m (side) × 3 m (side)"
        ]
    );
}
