//! What a can holds, as text and as JSON.

use super::style::{Style, Tone};
use crate::chemistry::tolerance::{CITRUS_MAAS_1993, ORANGE_MAAS_HOFFMAN_1977};
use crate::dose::can::{Contents, Judged};
use crate::dose::strength::Strength;
use crate::knowledge::Reaction;
use crate::quantity::{round_sig, show_litres_down, show_number};
use serde_json::json;

/// What is told.
#[derive(Debug, Clone)]
pub struct Page<'a> {
    /// What goes in, in words.
    pub names: &'a [String],
    /// The amounts and the water as they were typed, in other words.
    pub echo: &'a str,
    /// What a litre holds.
    pub contents: &'a Contents,
    /// The verdict.
    pub judged: Judged,
    /// Whether the water was measured.
    pub water_measured: bool,
    /// Litres for this pot, mg of nitrogen in them, and how many weeks of need they carry.
    pub pot: Option<(f64, f64, f64)>,
    /// Whether the strictest tree that the answers allow was taken.
    pub strictest: bool,
    /// What reacts.
    pub reacting: &'a [&'a Reaction],
}

fn n(x: f64) -> String {
    show_number(round_sig(x, 3))
}

fn range((low, high): (f64, f64)) -> String {
    if (high - low).abs() <= 0.02 * high.abs() {
        n(high)
    } else {
        format!("{} to {}", n(low), n(high))
    }
}

/// Writes it.
#[must_use]
pub fn text(page: &Page<'_>, style: Style) -> String {
    let c = page.contents;
    let mut out = String::new();
    let mut line = |text: &str, first: &str| {
        out.push_str(&style.wrap(text, first, if first.is_empty() { "" } else { "  " }));
        out.push('\n');
    };
    let refused = page.reacting.iter().any(|r| r.verdict == "refuse");
    let word = if refused { "STOP" } else { page.judged.word() };
    let tone = match word {
        "FINE" => Tone::Good,
        "STOP" => Tone::Stop,
        _ => Tone::Mind,
    };
    let verdict = style.tone(&format!("[{word}]"), tone);
    let what = if refused {
        "These react with each other in the can."
    } else {
        match page.judged.worst() {
            Strength::Fine => "This can is fine.",
            Strength::Care => "This can is on the strong side.",
            Strength::Reduce => "This can is too strong.",
            Strength::Stop => "This can would burn the roots.",
        }
    };
    line(&format!("{verdict} {what}"), "");
    line(
        &format!(
            "{} in {}",
            page.names.join(" and "),
            show_litres_down(c.litres)
        ),
        "",
    );
    line(&format!("You typed: {}.", page.echo), "");
    line("", "");
    line(
        &format!("Nitrogen {} mg/L, all forms counted", range(c.n)),
        "- ",
    );
    line(
        &format!(
            "Phosphate {} mg/L P2O5 ({} P), potash {} mg/L K2O ({} K)",
            range(c.p2o5),
            n(c.p),
            range(c.k2o),
            n(c.k)
        ),
        "- ",
    );
    let others: Vec<String> = [("magnesium", c.mg), ("calcium", c.ca), ("sulfur", c.s)]
        .into_iter()
        .filter(|(_, x)| *x > 0.0)
        .map(|(name, x)| format!("{name} {} mg/L", n(x)))
        .chain((c.chloride > 0.0).then(|| format!("chloride {} me/L", n(c.chloride))))
        .collect();
    if !others.is_empty() {
        line(&others.join(", "), "- ");
    }
    line(
        &format!(
            "Salt {} dS/m at 25 °C, of which the feed adds {}{}",
            range(c.ec),
            range(c.ec_added),
            if page.water_measured {
                ""
            } else {
                "; the water was assumed at 0.5 (set water_ec)"
            }
        ),
        "- ",
    );
    if c.ec_added_later.1 > c.ec_added.1 * 1.05 {
        line(
            &format!(
                "Once its urea has broken down, in days, the feed adds {} dS/m",
                range(c.ec_added_later)
            ),
            "- ",
        );
    }
    if let Some(share) = c.ammonium_urea {
        line(
            &format!(
                "{} % of the nitrogen is ammonium or urea",
                show_number((share * 100.0).round())
            ),
            "- ",
        );
    } else if c.n.1 > 0.0 {
        line(
            "The forms of nitrogen are not known, hence the range; the label's table tells them (nitrate=, ammonium=, urea=)",
            "- ",
        );
    }
    let extract = c.ec.1 * 1.5;
    line(
        &format!(
            "Were every watering like this, citrus would yield {} % (older line {} %) of the best; a feed is one can in several",
            n(CITRUS_MAAS_1993.relative_yield(extract)),
            n(ORANGE_MAAS_HOFFMAN_1977.relative_yield(extract))
        ),
        "- ",
    );
    if let Some((litres, mg, weeks)) = page.pot {
        line(
            &format!(
                "This pot takes {} of it: {} mg of nitrogen, {}",
                show_litres_down(litres),
                n(mg),
                if weeks.is_finite() {
                    format!("{} weeks of need", n(weeks))
                } else {
                    "while the tree rests and needs none".to_owned()
                }
            ),
            "- ",
        );
    }
    for r in page.reacting {
        line(&r.what, "- ");
    }
    line("", "");
    if page.judged.fine_share < 1.0 {
        line(
            &format!(
                "Fine would be {} % of this amount in the same water.",
                show_number((page.judged.fine_share * 100.0).floor())
            ),
            "",
        );
    }
    if page.strictest {
        line(
            "Judged for the most delicate tree that the answers allow; name the pot, the age and the place with --set pot_kind=…, tree_stage=…, place=…, air_temperature=….",
            "",
        );
    }
    line(
        "A can that is fine may still come at the wrong time: tubgrove precheck looks at the tree. The label comes first.",
        "",
    );
    out
}

/// As JSON, `"format": "tubgrove.strength/1"`.
///
/// # Errors
/// Never in practice.
pub fn json(page: &Page<'_>) -> Result<String, serde_json::Error> {
    let id = |s: Strength| s.id();
    let refused = page.reacting.iter().any(|r| r.verdict == "refuse");
    serde_json::to_string_pretty(&json!({
        "format": "tubgrove.strength/1",
        "verdict": if refused { "stop" } else { id(page.judged.worst()) },
        "feeds": page.names,
        "echo": page.echo,
        "contents": page.contents,
        "judged": {
            "nitrogen": id(page.judged.nitrogen),
            "salt": id(page.judged.salt),
            "chloride": id(page.judged.chloride),
            "fine_share": page.judged.fine_share.min(1.0),
        },
        "pot": page.pot.map(|(litres, mg, weeks)| json!({
            "litres": litres, "nitrogen_mg": mg,
            "weeks_of_need": if weeks.is_finite() { Some(weeks) } else { None },
        })),
        "reacts": page.reacting.iter().map(|r| &r.what).collect::<Vec<_>>(),
    }))
}
