//! Tables with a caption and header cells, which a screen reader can walk through.

use maud::{Markup, html};

/// A table: a caption, the names of the columns, and rows. The first cell of each row is its header; a
/// column of nothing but figures is set to the right.
#[must_use]
pub fn table(caption: &str, columns: &[&str], rows: &[Vec<String>]) -> Markup {
    let figures: Vec<bool> = (0..columns.len())
        .map(|at| {
            !rows.is_empty()
                && rows
                    .iter()
                    .all(|row| row.get(at).is_some_and(|c| is_number(c)))
        })
        .collect();
    html! {
        // Wide tables scroll within themselves and can be reached by keyboard.
        div.wide role="region" aria-label=(caption) tabindex="0" {
            table {
                caption { (caption) }
                thead { tr { @for name in columns { th scope="col" { (name) } } } }
                tbody {
                    @for row in rows {
                        tr {
                            @for (i, cell) in row.iter().enumerate() {
                                @if i == 0 {
                                    th scope="row" { (cell) }
                                } @else {
                                    td.number[figures.get(i) == Some(&true)] { (cell) }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Pairs of a name and what is said about it.
#[must_use]
pub fn facts(pairs: &[(String, String)]) -> Markup {
    html! {
        dl {
            @for (name, said) in pairs {
                dt { (name) }
                dd { (said) }
            }
        }
    }
}

fn is_number(cell: &str) -> bool {
    cell.chars()
        .next()
        .is_some_and(|c| c.is_ascii_digit() || c == '–')
        && cell.len() <= 16
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_escaped_and_headers_are_headers() {
        let shown = table(
            "Trees & pots",
            &["Tree", "Litres"],
            &[vec!["<b>Yuzu</b>".into(), "12 L".into()]],
        )
        .into_string();
        assert!(shown.contains("<th scope=\"row\">&lt;b&gt;Yuzu&lt;/b&gt;</th>"));
        assert!(shown.contains("<th scope=\"col\">Litres</th>"));
        assert!(shown.contains("<td class=\"number\">12 L</td>"));
        assert!(shown.contains("<caption>Trees &amp; pots</caption>"));
    }
}
