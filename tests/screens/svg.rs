//! A terminal's cells as an SVG picture: text stays text, colours follow light and dark.

use std::fmt::Write;

/// Width of a cell.
const CELL: f64 = 8.4;
/// Height of a line.
const LINE: f64 = 18.0;
/// Margin.
const EDGE: f64 = 14.0;

/// The first `rows` lines of a screen, with the command that was typed above them.
pub(crate) fn picture(screen: &vt100::Screen, rows: u16, command: &str) -> String {
    let columns = screen.size().1;
    let high = f64::from(rows + 2) * LINE + 2.0 * EDGE;
    let wide = f64::from(columns) * CELL + 2.0 * EDGE;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {wide:.0} {high:.0}\" width=\"{wide:.0}\" role=\"img\" aria-labelledby=\"t\">\n<title id=\"t\">A terminal: {}</title>\n<style>\n.g{{fill:#fbfcf8;stroke:#b9c4b2}}text{{fill:#1b231a;font:14px ui-monospace,Menlo,Consolas,\"DejaVu Sans Mono\",monospace;white-space:pre}}\n.b{{font-weight:700}}.f{{opacity:.75}}.c1{{fill:#a3201c}}.c2{{fill:#1f6b2a}}.c5{{fill:#7a3b86}}.c6{{fill:#00607a}}\n@media (prefers-color-scheme:dark){{.g{{fill:#141a14;stroke:#4a584a}}text{{fill:#e8ede6}}.c1{{fill:#ff9d94}}.c2{{fill:#86d693}}.c5{{fill:#d9a6e4}}.c6{{fill:#7fcfe6}}}}\n</style>\n<rect class=\"g\" x=\".5\" y=\".5\" width=\"{:.0}\" height=\"{:.0}\" rx=\"6\"/>\n",
        escaped(command),
        wide - 1.0,
        high - 1.0
    );
    line(&mut out, 0, &[(format!("$ {command}"), "f".to_owned(), 0)]);
    for row in 0..rows {
        line(&mut out, row + 2, &runs(screen, row, columns));
    }
    out.push_str("</svg>\n");
    out
}

/// Stretches of one look: text, class, column.
fn runs(screen: &vt100::Screen, row: u16, columns: u16) -> Vec<(String, String, u16)> {
    let mut runs: Vec<(String, String, u16)> = Vec::new();
    for column in 0..columns {
        let Some(cell) = screen.cell(row, column) else {
            continue;
        };
        let class = class(cell);
        let text = if cell.has_contents() {
            cell.contents()
        } else {
            " "
        };
        match runs.last_mut() {
            Some((run, same, _)) if *same == class => run.push_str(text),
            _ => runs.push((text.to_owned(), class, column)),
        }
    }
    runs
}

fn class(cell: &vt100::Cell) -> String {
    let mut names = Vec::new();
    if let vt100::Color::Idx(n) = cell.fgcolor() {
        names.push(format!("c{n}"));
    }
    if cell.bold() {
        names.push("b".to_owned());
    }
    if cell.dim() {
        names.push("f".to_owned());
    }
    names.join(" ")
}

fn line(out: &mut String, row: u16, runs: &[(String, String, u16)]) {
    let y = EDGE + f64::from(row) * LINE + 13.0;
    for (text, class, column) in runs {
        let shown = text.trim_end();
        if shown.trim().is_empty() {
            continue;
        }
        // The length keeps the columns in line whatever font is there.
        let length = f64::from(u16::try_from(shown.chars().count()).unwrap()) * CELL;
        let x = EDGE + f64::from(*column) * CELL;
        let class = if class.is_empty() {
            String::new()
        } else {
            format!(" class=\"{class}\"")
        };
        let _ = writeln!(
            out,
            "<text x=\"{x:.1}\" y=\"{y:.1}\" textLength=\"{length:.1}\" xml:space=\"preserve\"{class}>{}</text>",
            escaped(shown)
        );
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}
