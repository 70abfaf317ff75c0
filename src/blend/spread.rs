//! How far the grade of a mix may lie from the middle, because a scoop of a material weighs
//! more or less than reckoned.
//!
//! A grade or a share is a mean of the materials' values, weighted by their weights. It rises
//! with the weight of each material that lies above it and falls with the others, so its largest
//! value has the highest ones at their upper and the rest at their lower density, with the cut
//! somewhere in the order of values: all cuts are tried. Densities are taken as independent.

/// One material: its value and the ends of its weight.
#[derive(Debug, Clone, Copy)]
pub(super) struct Weighted {
    pub(super) value: f64,
    pub(super) lo: f64,
    pub(super) hi: f64,
}

/// The smallest and the largest weighted mean; noughts where nothing weighs anything.
pub(super) fn extremes(materials: &[Weighted]) -> (f64, f64) {
    let mut sorted = materials.to_vec();
    sorted.sort_by(|a, b| a.value.total_cmp(&b.value));
    let mean = |light: &[Weighted], heavy: &[Weighted]| {
        let weights = light
            .iter()
            .map(|m| (m.value, m.lo))
            .chain(heavy.iter().map(|m| (m.value, m.hi)));
        let (sum, weight) = weights.fold((0.0, 0.0), |(sum, all), (value, w)| {
            (sum + value * w, all + w)
        });
        if weight > 0.0 { sum / weight } else { 0.0 }
    };
    let cuts = || (0..=sorted.len()).map(|cut| sorted.split_at(cut));
    let largest = cuts()
        .map(|(low, high)| mean(low, high))
        .fold(f64::NEG_INFINITY, f64::max);
    let smallest = cuts()
        .map(|(low, high)| mean(high, low))
        .fold(f64::INFINITY, f64::min);
    (smallest, largest)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every corner of the box of densities, tried one by one.
    #[test]
    fn no_corner_lies_outside_and_two_lie_on_the_ends() {
        let materials = [
            Weighted {
                value: 12.0,
                lo: 1.0,
                hi: 1.7,
            },
            Weighted {
                value: 3.0,
                lo: 2.0,
                hi: 2.2,
            },
            Weighted {
                value: 0.0,
                lo: 0.5,
                hi: 1.5,
            },
            Weighted {
                value: 7.0,
                lo: 0.9,
                hi: 0.9,
            },
        ];
        let (smallest, largest) = extremes(&materials);
        let corners = (0..16_u32).map(|bits| {
            let weight = |(k, m): (usize, &Weighted)| if bits >> k & 1 == 1 { m.hi } else { m.lo };
            let weights: Vec<f64> = materials.iter().enumerate().map(weight).collect();
            let sum: f64 = materials
                .iter()
                .zip(&weights)
                .map(|(m, w)| m.value * w)
                .sum();
            sum / weights.iter().sum::<f64>()
        });
        let corners: Vec<f64> = corners.collect();
        let low = corners.iter().copied().fold(f64::INFINITY, f64::min);
        let high = corners.iter().copied().fold(0.0, f64::max);
        assert!((low - smallest).abs() < 1e-12 && (high - largest).abs() < 1e-12);
        assert!(smallest < largest);
    }
}
