//! How far a bag may fall short of its label before an inspector objects.
//!
//! **Nitrogen, phosphate, potash.** The investigational allowances of the American control officials, in percentage points
//! by the guarantee, straight lines between the rows. The rows are remembered; the last one for nitrogen (0.88 above 32 %)
//! was read in a text that quotes the schedule.
//!
//! **Secondary and trace elements.** New Hampshire Agr 1105.04, Table 1105-2 (published): a fixed part and a share of the
//! guarantee, never more than one point.
//!
//! **Europe.** Regulation 2019/1009: a quarter of the declared value, at most two points, either way (from memory).
//!
//! **Limits.** What the law lets pass, not what a bag holds. A guarantee is a least amount, so a bag may also hold more; the
//! program looks as far above the label as the allowance lets it fall below.

use super::analysis::Mineral;
use super::mixing::between;

/// Rows: guarantee, then the allowances of N, P2O5 and K2O, all in per cent of the product.
const ROWS: [(f64, [f64; 3]); 13] = [
    (4.0, [0.49, 0.67, 0.41]),
    (5.0, [0.51, 0.67, 0.43]),
    (6.0, [0.52, 0.67, 0.47]),
    (8.0, [0.55, 0.68, 0.60]),
    (10.0, [0.58, 0.69, 0.70]),
    (12.0, [0.61, 0.69, 0.79]),
    (14.0, [0.63, 0.70, 0.87]),
    (16.0, [0.67, 0.70, 0.94]),
    (18.0, [0.70, 0.71, 1.01]),
    (20.0, [0.73, 0.72, 1.08]),
    (24.0, [0.78, 0.73, 1.21]),
    (28.0, [0.83, 0.74, 1.33]),
    (32.0, [0.88, 0.76, 1.44]),
];

/// Allowances of a grade N, P2O5, K2O, in percentage points; nothing for what is not guaranteed.
#[must_use]
pub fn of_grade(grade: [f64; 3]) -> [f64; 3] {
    let mut allowed = [0.0; 3];
    for (place, (slot, guarantee)) in allowed.iter_mut().zip(grade).enumerate() {
        if guarantee > 0.0 {
            let column: Vec<(f64, f64)> = ROWS
                .iter()
                .filter_map(|(from, row)| Some((*from, *row.get(place)?)))
                .collect();
            *slot = between(&column, guarantee.clamp(4.0, 32.0)).unwrap_or(0.0);
        }
    }
    allowed
}

/// Allowance of a secondary or trace element, in percentage points; nothing for what is not guaranteed.
#[must_use]
pub fn of_mineral(mineral: Mineral, guarantee: f64) -> f64 {
    if guarantee <= 0.0 {
        return 0.0;
    }
    let (fixed, share) = match mineral {
        Mineral::Calcium | Mineral::Magnesium | Mineral::Sulfur => (0.2, 0.05),
        Mineral::Boron => (0.003, 0.15),
        Mineral::Molybdenum => (0.0001, 0.30),
        Mineral::Chlorine
        | Mineral::Copper
        | Mineral::Iron
        | Mineral::Manganese
        | Mineral::Sodium
        | Mineral::Zinc => (0.005, 0.10),
    };
    (fixed + share * guarantee).min(1.0)
}

/// What the European regulation lets a declared N, P2O5 or K2O miss, in percentage points.
#[must_use]
pub fn european(declared: f64) -> f64 {
    (0.25 * declared).clamp(0.0, 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand from New Hampshire's table.
    #[test]
    fn secondary_and_trace_elements() {
        for (mineral, guarantee, allowed) in [
            (Mineral::Magnesium, 2.0, 0.30),
            (Mineral::Iron, 0.1, 0.015),
            (Mineral::Boron, 0.02, 0.006),
            (Mineral::Calcium, 21.0, 1.0),
            (Mineral::Zinc, 0.0, 0.0),
        ] {
            assert!((of_mineral(mineral, guarantee) - allowed).abs() < 1e-12);
        }
    }

    // 0.88 from 32 % N on is the row that was read; between rows a straight line by hand.
    #[test]
    fn nitrogen_phosphate_potash() {
        for (n, allowed) in [(40.0, 0.88), (32.0, 0.88), (22.0, 0.755), (2.0, 0.49)] {
            let [ours, ..] = of_grade([n, 0.0, 0.0]);
            assert!((ours - allowed).abs() < 1e-12, "{n} {ours}");
        }
        let [none, p, k] = of_grade([0.0, 8.0, 16.0]);
        assert!(none.abs() < 1e-12 && (p - 0.68).abs() < 1e-12 && (k - 0.94).abs() < 1e-12);
        assert!((european(6.0) - 1.5).abs() < 1e-12 && (european(20.0) - 2.0).abs() < 1e-12);
    }
}
