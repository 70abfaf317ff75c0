//! A tree's season as a page: the year as a chart, and its story.

use super::chart::{Month, chart};
use super::page::page;
use super::table::table;
use maud::html;

/// The page. `story` is a day and what happened, the newest first.
#[must_use]
pub fn season(
    name: &str,
    today: &str,
    months: &[Month],
    story: &[(String, String)],
    total: Option<&str>,
) -> String {
    let title = format!("{name}: the season to {today}");
    let rows: Vec<Vec<String>> = story
        .iter()
        .map(|(day, said)| vec![day.clone(), said.clone()])
        .collect();
    let body = html! {
        h1 { (title) }
        @if let Some(total) = total { p { (total) } }
        @if !months.is_empty() {
            h2 { "Nitrogen and rain" }
            (chart("Nitrogen given and rain, month by month", "season", months))
            p.soft { "Rain is what the gauge said, or what is typical where it was not read." }
        }
        h2 { "What happened" }
        @if rows.is_empty() {
            p { "Nothing has been entered yet." }
        } @else {
            (table("The story, the newest first", &["Day", "What"], &rows))
        }
        p.soft { "The product label and local rules come first." }
    };
    page(&title, "en-GB", &body)
}
