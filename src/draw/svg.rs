//! A walk as a picture: one file, no script, no font or file from elsewhere, light and dark, and words for screen readers.

use super::layout::{LINE, Layout, Placed, lay_out};
use super::sign::Shape;
use super::ways::Way;
use crate::knowledge::Knowledge;
use crate::walk::Walk;
use crate::walk::graph::Edge;
use crate::walk::proof::figures;
use std::fmt::Write;

/// Height of the head: title, figures and the key.
const HEAD: f64 = 122.0;

const STYLE: &str = "
svg { font-family: 'DejaVu Sans', Verdana, Helvetica, Arial, sans-serif; font-size: 14px; background: #ffffff; }
.paper { fill: #ffffff; }
text { fill: #1a1a1a; }
.head { font-size: 22px; font-weight: bold; }
.name { font-weight: bold; }
.id { font-family: 'DejaVu Sans Mono', Consolas, monospace; font-size: 13px; }
.shape { fill: #f4f4f0; stroke: #1a1a1a; stroke-width: 1.5; }
.gate { fill: #fff3d6; }
.work { fill: #e8eef7; }
.end { fill: #e6f2e6; }
.thick { stroke-width: 4; }
.inner { fill: none; stroke: #1a1a1a; stroke-width: 1.5; }
.way { fill: none; stroke: #1a1a1a; stroke-width: 1.5; }
.way.long { stroke-width: 4; }
.way.over { stroke-dasharray: 7 5; }
.way.shut { stroke-dasharray: 2 4; stroke-width: 2; }
.tip { fill: #1a1a1a; }
.plate { fill: #ffffff; }
@media (prefers-color-scheme: dark) {
  svg { background: #14161a; }
  .paper, .plate { fill: #14161a; }
  text { fill: #f0f0f0; }
  .shape { fill: #23262c; stroke: #f0f0f0; }
  .gate { fill: #4a3a10; }
  .work { fill: #1f2e45; }
  .end { fill: #1d3a24; }
  .inner, .way { stroke: #f0f0f0; }
  .tip { fill: #f0f0f0; }
}
@media print {
  svg { background: none; }
  .paper, .plate { fill: #ffffff; }
  text { fill: #000000; }
  .shape { fill: #ffffff; stroke: #000000; }
  .inner, .way { stroke: #000000; }
  .tip { fill: #000000; }
}
";

/// The picture of one walk.
#[must_use]
pub fn svg(k: &Knowledge, walk: &Walk) -> String {
    let layout = lay_out(k, walk, HEAD);
    let f = figures(k, walk);
    let (width, height) = (layout.width.max(820.0), layout.height);
    let title = format!("{}: {}", walk.id, walk.title);
    let told = format!(
        "{} steps, {} ways between them, longest path {} questions, distinct paths {}",
        f.nodes, f.edges, f.longest, f.paths
    );
    let mut out = String::new();
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" height=\"{height}\" role=\"img\" aria-labelledby=\"title desc\" lang=\"en\">\n<title id=\"title\">{}</title>\n<desc id=\"desc\">{}</desc>\n<style>{STYLE}</style>\n",
        escaped(&title),
        escaped(&described(&layout, &told)),
    );
    out.push_str("<defs><marker id=\"tip\" viewBox=\"0 0 10 10\" refX=\"9\" refY=\"5\" markerWidth=\"9\" markerHeight=\"9\" markerUnits=\"userSpaceOnUse\" orient=\"auto\"><path class=\"tip\" d=\"M0 0L10 5L0 10z\"/></marker></defs>\n");
    let _ = writeln!(
        out,
        "<rect class=\"paper\" width=\"{width}\" height=\"{height}\"/>"
    );
    let _ = writeln!(
        out,
        "<text class=\"head\" x=\"30\" y=\"40\">{}</text>",
        escaped(&title)
    );
    let _ = writeln!(out, "<text x=\"30\" y=\"64\">{}</text>", escaped(&told));
    key(&mut out);
    for way in &layout.ways {
        draw_way(&mut out, way);
    }
    for step in &layout.steps {
        draw_step(&mut out, step);
    }
    out.push_str("</svg>\n");
    out
}

/// The key: what lines and shapes mean.
fn key(out: &mut String) {
    let lines = [
        (30.0, "way long", "longest path, asked"),
        (270.0, "way", "done, or opens"),
        (450.0, "way over", "passed over"),
        (620.0, "way shut", "stays shut"),
    ];
    for (x, class, says) in lines {
        let (end, text) = (x + 40.0, x + 48.0);
        let _ = writeln!(
            out,
            "<path class=\"{class}\" d=\"M{x} 88H{end}\"/><text x=\"{text}\" y=\"93\">{says}</text>"
        );
    }
    out.push_str("<text x=\"30\" y=\"120\">Box: question. Hexagon with a double line: gate. Cut corners: worked out. Round ends: end.</text>\n");
}

/// The picture in words: every step in order, with the way past it.
fn described(layout: &Layout, told: &str) -> String {
    let mut text = format!("{told}.");
    for (i, step) in layout.steps.iter().enumerate() {
        let sign = &step.sign;
        let _ = write!(
            text,
            " {}. {} {}",
            i.saturating_add(1),
            sign.kind.to_lowercase(),
            sign.name
        );
        if !sign.when.is_empty() {
            let _ = write!(text, ", {}", sign.when);
        }
        if let Some(at) = step.longest {
            let _ = write!(
                text,
                ", question {at} of {} on the longest path",
                layout.longest
            );
        }
        text.push('.');
    }
    text
}

fn draw_way(out: &mut String, way: &Way) {
    let class = match way.edge {
        Edge::Skipped => "way over",
        Edge::Blocked => "way shut",
        _ if way.longest => "way long",
        _ => "way",
    };
    let mut path = String::new();
    for (i, (x, y)) in way.points.iter().enumerate() {
        let _ = write!(path, "{}{x} {y}", if i == 0 { 'M' } else { 'L' });
    }
    let _ = writeln!(
        out,
        "<path class=\"{class}\" d=\"{path}\" marker-end=\"url(#tip)\"/>"
    );
    if let Some((says, x, y)) = way.label {
        let _ = writeln!(
            out,
            "<text x=\"{x}\" y=\"{y}\" text-anchor=\"middle\" font-size=\"12\">{says}</text>"
        );
    }
}

fn draw_step(out: &mut String, step: &Placed) {
    let (x, y, w, h) = (step.x, step.y, step.width, step.height);
    let thick = if step.longest.is_some() { " thick" } else { "" };
    let words = step.lines.join(", ");
    let _ = writeln!(out, "<g role=\"group\"><title>{}</title>", escaped(&words));
    match step.sign.shape {
        Shape::Question => {
            let _ = writeln!(
                out,
                "<rect class=\"shape{thick}\" x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\"/>"
            );
        }
        Shape::End => {
            let round = h / 2.0;
            let _ = writeln!(
                out,
                "<rect class=\"shape end\" x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" rx=\"{round}\"/>"
            );
        }
        Shape::Work => {
            let _ = writeln!(
                out,
                "<path class=\"shape work\" d=\"{}\"/>",
                cut(x, y, w, h, 12.0, 12.0)
            );
        }
        Shape::Gate => {
            let _ = writeln!(
                out,
                "<path class=\"shape gate\" d=\"{}\"/>",
                cut(x, y, w, h, 20.0, h / 2.0)
            );
            let _ = writeln!(
                out,
                "<path class=\"inner\" d=\"{}\"/>",
                cut(x + 5.0, y + 4.0, w - 10.0, h - 8.0, 17.0, h / 2.0 - 4.0)
            );
        }
    }
    let middle = x + w / 2.0;
    let name_lines = step
        .lines
        .iter()
        .position(|l| {
            *l == step.sign.id || l.starts_with("asked if") || l.starts_with("longest path")
        })
        .unwrap_or(step.lines.len());
    for (i, line) in step.lines.iter().enumerate() {
        let row = u16::try_from(i).map_or(0.0, f64::from);
        let base = y + 23.0 + row * LINE;
        let class = if i < name_lines {
            " class=\"name\""
        } else if *line == step.sign.id {
            " class=\"id\""
        } else {
            ""
        };
        let _ = writeln!(
            out,
            "<text{class} x=\"{middle}\" y=\"{base}\" text-anchor=\"middle\">{}</text>",
            escaped(line)
        );
    }
    out.push_str("</g>\n");
}

/// A box whose corners are cut by so much across and down.
fn cut(x: f64, y: f64, w: f64, h: f64, across: f64, down: f64) -> String {
    let (right, bottom) = (x + w, y + h);
    format!(
        "M{} {y}H{}L{right} {}V{}L{} {bottom}H{}L{x} {}V{}z",
        x + across,
        right - across,
        y + down,
        bottom - down,
        right - across,
        x + across,
        bottom - down,
        y + down
    )
}

/// A text in XML.
fn escaped(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_control())
        .map(|c| match c {
            '&' => "&amp;".to_owned(),
            '<' => "&lt;".to_owned(),
            '>' => "&gt;".to_owned(),
            '"' => "&quot;".to_owned(),
            c => c.to_string(),
        })
        .collect()
}
