//! Numbers as one would say them: halves and quarters of a thing, then whole ones.

use crate::quantity::{round_sig, show_number};

/// A thing is named where nearly half of it, or nearly all of it and more, was typed; else the next smaller one (own
/// choice).
const HALF_OF_IT: (f64, f64) = (0.45, 0.55);
const NEARLY_ALL: f64 = 0.9;
/// `1½ to 2 buckets`, `half a bucket to 2 buckets`.
pub(super) fn from_to(low: &str, high: &str) -> String {
    match (low.split_once(' '), high.split_once(' ')) {
        (Some((count, thing)), Some((_, same))) if thing == same => format!("{count} to {high}"),
        _ => format!("{low} to {high}"),
    }
}

/// Whether a thing may be named for a size: half of it, or nearly all of it and more.
pub(super) fn fits(share: f64) -> bool {
    share >= NEARLY_ALL || (HALF_OF_IT.0..=HALF_OF_IT.1).contains(&share)
}

/// So many, as one would say it: quarters below one, halves below three, then whole ones.
pub(super) fn count(times: f64, a: &str, many: &str) -> String {
    let quarters = (times * 4.0).round().max(1.0);
    let halves = (times * 2.0).round() / 2.0;
    if quarters <= 1.0 {
        format!("a quarter of {a}")
    } else if quarters <= 2.0 {
        format!("half {a}")
    } else if quarters <= 3.0 {
        format!("three quarters of {a}")
    } else if times < 1.25 {
        a.to_owned()
    } else if times < 2.75 {
        let whole = halves.floor();
        let half = if halves > whole { "½" } else { "" };
        format!("{}{half} {many}", show_number(whole))
    } else {
        format!("{} {many}", short(times.round()))
    }
}

/// What a density leaves open is not told to the third digit.
pub(super) fn two_digits(x: f64) -> String {
    show_number(round_sig(x, 2))
}

/// Two digits below ten, three above.
pub(super) fn short(x: f64) -> String {
    show_number(round_sig(x, if x.abs() < 10.0 { 2 } else { 3 }))
}

#[cfg(test)]
mod tests {
    use super::count;

    #[test]
    fn numbers_are_said_as_one_would() {
        for (times, said) in [
            (0.2, "a quarter of a mug"),
            (0.5, "half a mug"),
            (0.74, "three quarters of a mug"),
            (1.1, "a mug"),
            (1.4, "1½ mugs"),
            (2.1, "2 mugs"),
            (2.9, "3 mugs"),
            (11.6, "12 mugs"),
        ] {
            assert_eq!(count(times, "a mug", "mugs"), said, "{times}");
        }
    }
}
