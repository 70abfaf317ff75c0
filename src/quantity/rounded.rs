//! Figures within a text, as short as a hand with a spoon or a tape measure can use them. What was read stays exact; only what is
//! said is rounded.

/// Rounds long decimals, such as those of a gallon in litres or of feet in centimetres, to what the eye and a hand with a
/// tape measure can use; what was read stays exact.
#[must_use]
pub fn short_figures(text: &str) -> String {
    let figure = |c: char| c.is_ascii_digit() || c == '.';
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(start) = rest.find(figure) {
        let (before, from) = rest.split_at(start);
        let (token, after) = from.split_at(from.find(|c| !figure(c)).unwrap_or(from.len()));
        out.push_str(before);
        let decimals = token.split_once('.').map_or(0, |(_, d)| d.len());
        let places = match token.parse::<f64>() {
            Ok(number) if number >= 100.0 && decimals > 1 => Some((number, 0)),
            Ok(number) if number >= 10.0 && decimals > 2 => Some((number, 1)),
            Ok(number) if decimals > 2 => Some((number, 2)),
            _ => None,
        };
        match places {
            Some((number, 0)) => out.push_str(&format!("{number:.0}")),
            Some((number, places)) => out.push_str(
                format!("{number:.places$}")
                    .trim_end_matches('0')
                    .trim_end_matches('.'),
            ),
            None => out.push_str(token),
        }
        rest = after;
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::short_figures;

    #[test]
    fn long_decimals_are_rounded_and_short_ones_left_alone() {
        assert_eq!(short_figures("1 tsp per 3.785411784 L"), "1 tsp per 3.79 L");
        // 72 °F, and 6 ft.
        assert_eq!(short_figures("22.222222 °C"), "22.2 °C");
        assert_eq!(short_figures("182.88 cm"), "183 cm");
        assert_eq!(short_figures("13-1.5-0 · 22 °C."), "13-1.5-0 · 22 °C.");
        assert_eq!(short_figures("15.000001 L"), "15 L");
    }
}
