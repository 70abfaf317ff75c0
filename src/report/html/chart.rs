//! The season as a chart: nitrogen for each litre of mix as bars, rain as a line, and the same figures in a table beside it.

use super::table::table;
use crate::quantity::show_number;
use maud::{Markup, html};

/// One month of a season.
#[derive(Debug, Clone, PartialEq)]
pub struct Month {
    /// Such as `Nov 2026`.
    pub name: String,
    /// mg of nitrogen given for each litre of mix; `None` where nothing is recorded.
    pub n_mg_per_litre: Option<f64>,
    /// mm of rain; `None` where nothing is recorded.
    pub rain_mm: Option<f64>,
}

/// Width of the drawing.
const WIDTH: f64 = 640.0;
/// Height of the drawing.
const HEIGHT: f64 = 260.0;
/// Left and right margin, for the figures of the two scales.
const SIDE: f64 = 56.0;
/// Top margin.
const TOP: f64 = 30.0;
/// Bottom margin, for the months.
const BOTTOM: f64 = 34.0;

/// The chart with its table. `id` must be unlike every other on the page; months stand in the order given. Figures that are
/// negative or not finite count as not recorded.
#[must_use]
pub fn chart(title: &str, id: &str, months: &[Month]) -> Markup {
    let clean = |x: Option<f64>| x.filter(|v| v.is_finite() && *v >= 0.0);
    let n: Vec<Option<f64>> = months.iter().map(|m| clean(m.n_mg_per_litre)).collect();
    let rain: Vec<Option<f64>> = months.iter().map(|m| clean(m.rain_mm)).collect();
    let (n_top, rain_top) = (top(&n), top(&rain));
    let step = (WIDTH - 2.0 * SIDE) / count(months.len().max(1));
    let left = |i: usize| SIDE + step * count(i);
    let high = |value: f64, top: f64| (HEIGHT - TOP - BOTTOM) * value / top;
    let ground = HEIGHT - BOTTOM;
    // Every second or third name where the months stand close.
    let every = if step >= 60.0 {
        1
    } else if step >= 30.0 {
        2
    } else {
        4
    };
    let dots: Vec<(f64, f64)> = rain
        .iter()
        .enumerate()
        .filter_map(|(i, r)| r.map(|r| (left(i) + step / 2.0, ground - high(r, rain_top))))
        .collect();
    let runs = runs(&rain);
    let says = in_words(months, &n, &rain);
    let shown =
        |x: &Option<f64>| x.map_or_else(|| "not recorded".to_owned(), |x| show_number(x.round()));
    let rows: Vec<Vec<String>> = months
        .iter()
        .zip(n.iter().zip(&rain))
        .map(|(m, (n, rain))| vec![m.name.clone(), shown(n), shown(rain)])
        .collect();
    html! {
        figure.chart {
            svg xmlns="http://www.w3.org/2000/svg" viewBox=(format!("0 0 {WIDTH} {HEIGHT}")) role="img"
                aria-labelledby=(format!("{id}-t")) aria-describedby=(format!("{id}-s")) {
                title id=(format!("{id}-t")) { (title) }
                @for share in [0.0, 0.5, 1.0] {
                    @let y = ground - high(share, 1.0);
                    line.axis x1=(SIDE) x2=(WIDTH - SIDE) y1=(y) y2=(y) stroke-dasharray=[(share > 0.0).then_some("2 4")] {}
                    text x=(SIDE - 6.0) y=(y + 4.0) text-anchor="end" { (show_number(n_top * share)) }
                    text x=(WIDTH - SIDE + 6.0) y=(y + 4.0) { (show_number(rain_top * share)) }
                }
                text x="4" y="16" { "N, mg per litre" }
                text x=(WIDTH - 4.0) y="16" text-anchor="end" { "rain, mm" }
                @for (i, month) in months.iter().enumerate() {
                    @if let Some(Some(n)) = n.get(i) {
                        rect.bar x=(tenth(left(i) + step * 0.2)) width=(tenth(step * 0.6))
                            y=(tenth(ground - high(*n, n_top))) height=(tenth(high(*n, n_top))) {}
                    }
                    @if i.checked_rem(every) == Some(0) {
                        text x=(tenth(left(i) + step / 2.0)) y=(HEIGHT - 12.0) text-anchor="middle" { (short(&month.name)) }
                    }
                }
                @for run in &runs {
                    polyline.rain points=(run.iter().map(|i| {
                        let value = rain.get(*i).copied().flatten().unwrap_or(0.0);
                        format!("{:.1},{:.1}", left(*i) + step / 2.0, ground - high(value, rain_top))
                    }).collect::<Vec<_>>().join(" ")) {}
                }
                @for (x, y) in &dots { circle.dot cx=(tenth(*x)) cy=(tenth(*y)) r="4" {} }
            }
            figcaption id=(format!("{id}-s")) { (says) }
        }
        (table(title, &["Month", "Nitrogen, mg per litre of mix", "Rain, mm"], &rows))
    }
}

/// The upper end of a scale: 1, 2 or 5 times a power of ten.
fn top(values: &[Option<f64>]) -> f64 {
    let most = values.iter().flatten().copied().fold(0.0, f64::max);
    if most <= 0.0 {
        return 1.0;
    }
    let power = 10_f64.powf(most.log10().floor());
    [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|m| m * power)
        .find(|t| *t >= most * (1.0 - 1e-9))
        .unwrap_or(most)
}

/// Stretches of months that follow on each other, so that no line crosses a month without a figure.
fn runs(values: &[Option<f64>]) -> Vec<Vec<usize>> {
    let mut runs: Vec<Vec<usize>> = vec![Vec::new()];
    for (i, value) in values.iter().enumerate() {
        match (value, runs.last_mut()) {
            (Some(_), Some(run)) => run.push(i),
            (None, Some(run)) if !run.is_empty() => runs.push(Vec::new()),
            _ => {}
        }
    }
    runs.retain(|run| run.len() > 1);
    runs
}

/// What the chart shows, in words.
fn in_words(months: &[Month], n: &[Option<f64>], rain: &[Option<f64>]) -> String {
    let most = |values: &[Option<f64>]| {
        values
            .iter()
            .zip(months)
            .filter_map(|(v, m)| v.map(|v| (v, m.name.clone())))
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .filter(|(v, _)| *v > 0.0)
    };
    let mut says = "Bars: nitrogen given for each litre of mix. Line with dots: rain.".to_owned();
    match most(n) {
        Some((v, month)) => says.push_str(&format!(
            " Most nitrogen in {month}, {} mg per litre.",
            show_number(v.round())
        )),
        None => says.push_str(" No nitrogen was given."),
    }
    match most(rain) {
        Some((v, month)) => says.push_str(&format!(
            " Most rain in {month}, {} mm.",
            show_number(v.round())
        )),
        None => says.push_str(" No rain is recorded."),
    }
    says
}

/// A month's name without its year, where it has one.
fn short(name: &str) -> &str {
    name.split_once(' ').map_or(name, |(month, _)| month)
}

/// A small count as a number.
fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}

fn tenth(x: f64) -> f64 {
    (x * 10.0).round() / 10.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn month(name: &str, n: Option<f64>, rain: Option<f64>) -> Month {
        Month {
            name: name.into(),
            n_mg_per_litre: n,
            rain_mm: rain,
        }
    }

    #[test]
    fn the_bar_of_half_the_scale_is_half_as_high() {
        let shown = chart(
            "Season",
            "c",
            &[
                month("Nov 2026", Some(100.0), Some(0.0)),
                month("Dec 2026", Some(50.0), Some(80.0)),
            ],
        )
        .into_string();
        let heights: Vec<f64> = shown
            .split("height=\"")
            .skip(1)
            .filter_map(|rest| rest.split('"').next()?.parse().ok())
            .collect();
        assert_eq!(heights.len(), 2, "{shown}");
        assert!((heights[0] / heights[1] - 2.0).abs() < 1e-9);
        assert!(shown.contains("Most nitrogen in Nov 2026, 100 mg per litre."));
        assert!(shown.contains("Most rain in Dec 2026, 80 mm."));
    }

    #[test]
    fn a_month_without_a_figure_breaks_the_line_and_says_so() {
        let rain = [
            Some(1.0),
            Some(2.0),
            None,
            Some(3.0),
            Some(4.0),
            None,
            Some(9.0),
        ];
        assert_eq!(runs(&rain), vec![vec![0, 1], vec![3, 4]]);
        let shown = chart("Season", "c", &[month("Nov", None, Some(f64::NAN))]).into_string();
        assert!(shown.contains("not recorded"));
        assert!(shown.contains("No nitrogen was given."));
        assert!(!shown.contains("NaN"));
    }

    #[test]
    fn the_scale_ends_at_a_round_figure_above_the_highest() {
        for (most, end) in [
            (0.0, 1.0),
            (1.0, 1.0),
            (1.2, 2.0),
            (37.0, 50.0),
            (180.0, 200.0),
            (501.0, 1000.0),
        ] {
            assert!((top(&[Some(most)]) - end).abs() < 1e-9, "{most}");
        }
    }

    #[test]
    fn an_empty_season_is_no_fault() {
        assert!(
            chart("Season", "c", &[])
                .into_string()
                .contains("No rain is recorded.")
        );
    }
}
