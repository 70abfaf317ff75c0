//! A reading explained, in words.

use super::style::{Style, Tone};
use crate::chemistry::extract::Extraction;
use crate::quantity::{round_sig, show_number};
use crate::reading::{Band, SaltLine, Scale, Standards, chelates, leaf};

fn n(x: f64) -> String {
    show_number(round_sig(x, 3))
}

fn method_name(method: Extraction) -> &'static str {
    match method {
        Extraction::OneToTwo => "1:2",
        Extraction::OneToFive => "1:5",
        Extraction::Saturated => "saturated extract",
        Extraction::PourThrough => "pour-through",
    }
}

/// The salt of the mix; `method` says whether the grower named it.
#[must_use]
pub fn salt(
    ec: f64,
    (method, said): (Extraction, bool),
    scale: Option<Scale>,
    line: &SaltLine<'_>,
    style: Style,
) -> String {
    let mut out = vec![style.tone(
        &format!("Salt of the mix: {} dS/m by {}", n(ec), method_name(method)),
        Tone::Heading,
    )];
    let (hold, flush) = line.limits;
    let verdict = if ec > flush {
        "too salty: flush it, and no feed for now (tubgrove rescue)"
    } else if ec > hold {
        "on the salty side: no ready feed until it is lower"
    } else {
        "no reason to hold a feed"
    };
    if !said {
        out.push("- The method was not named (--method), so the figure was read as 1:2, which judges it hardest. The same mix reads about three times as high by pour-through.".into());
    }
    out.push(format!(
        "- For this tree: {verdict} (own limits for citrus: no feed above {}, flush above {})",
        n(hold),
        n(flush)
    ));
    if let Some(x) = line.saturated {
        out.push(format!("- As a saturated extract it would read about {} dS/m; citrus loses yield above 1.4 (published)", n(x)));
    }
    if scale != Some(Scale::Nursery)
        && let Some(band) = line.greenhouse
    {
        out.push(format!("- On the scale for greenhouse crops: {} (second-hand). Citrus wants low to normal there", band.reading));
    }
    if scale != Some(Scale::Greenhouse) {
        for (norm, [from, to]) in &line.nursery {
            let place = if ec < *from {
                "below"
            } else if ec > *to {
                "above"
            } else {
                "within"
            };
            out.push(format!(
                "- On the scale for {}: {place} {} to {} ({})",
                norm.what,
                n(*from),
                n(*to),
                norm.mark.words()
            ));
        }
    }
    if scale.is_none() && !line.nursery.is_empty() {
        out.push("- The two scales lie threefold apart. Ask the laboratory which one its words are from (--scale greenhouse or nursery)".into());
    }
    set(&out, style)
}

/// The pH of the mix, and which iron holds there.
#[must_use]
pub fn ph(ph: f64, standards: &Standards, style: Style) -> String {
    let mut out = vec![style.tone(&format!("pH of the mix: {}", n(ph)), Tone::Heading)];
    for range in &standards.mix_ph {
        let [from, to] = range.range;
        let place = if ph < from {
            "below"
        } else if ph > to {
            "above"
        } else {
            "within"
        };
        out.push(format!(
            "- {}: {place} {} to {} ({})",
            range.what,
            n(from),
            n(to),
            range.mark.words()
        ));
    }
    let names: Vec<&str> = chelates(ph)
        .into_iter()
        .map(crate::reading::Chelate::name)
        .collect();
    out.push(if names.is_empty() {
        "- No iron chelate holds here; a figure like this is rare, so measure again".into()
    } else {
        format!("- Iron, only where new leaves are yellow between green veins and the roots are neither wet nor cold: {} holds here (from memory). The product's label sets the amount", names.join(" or "))
    });
    set(&out, style)
}

/// One nutrient of a leaf analysis; `None` where no table has it.
#[must_use]
pub fn leaf_line(
    nutrient: &str,
    value: f64,
    standards: &Standards,
    style: Style,
) -> Option<String> {
    let lines = leaf(standards, nutrient, value);
    let first = lines.first()?;
    let title = format!(
        "Leaves: {} {}{}",
        sign(nutrient),
        n(value),
        unit(&first.row.unit)
    );
    let mut out = vec![style.tone(&title, Tone::Heading)];
    for line in &lines {
        let optimum = line.row.optimum.map_or_else(String::new, |[from, to]| {
            format!("; should be {} to {}", n(from), n(to))
        });
        out.push(format!(
            "- {}: {}{optimum} ({}, {})",
            line.table.name,
            line.band.word(),
            line.table.leaves.to_lowercase(),
            line.table.mark.words()
        ));
    }
    if lines.iter().any(|l| l.band != first.band) {
        out.push("- The tables disagree; neither is preferred. Act only where both say so".into());
    }
    for burn in standards
        .leaf_burn
        .iter()
        .filter(|b| b.nutrient.eq_ignore_ascii_case(nutrient) && value > b.above)
    {
        out.push(format!(
            "- Above {} % leaves burn as a rule ({})",
            n(burn.above),
            burn.mark.words()
        ));
    }
    if let Some(text) = spray(nutrient, lines.iter().map(|l| l.band).max()) {
        out.push(text);
    }
    Some(set(&out, style))
}

/// `zn` as `Zn`.
fn sign(nutrient: &str) -> String {
    let mut letters = nutrient.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

fn unit(unit: &str) -> String {
    if unit == "%" {
        " %".into()
    } else {
        format!(" {unit}")
    }
}

/// Zinc and manganese go onto leaves, and only where every table calls them low: the highest band decides.
fn spray(nutrient: &str, highest: Option<Band>) -> Option<String> {
    let (name, mg, salt, grams) = match nutrient.to_lowercase().as_str() {
        // 216 ÷ 0.2274 and 168 ÷ 0.3251, in grams.
        "zn" => ("zinc", 216, "zinc sulfate (seven-water salt)", 0.95),
        "mn" => ("manganese", 168, "manganese sulfate (one-water salt)", 0.52),
        _ => return None,
    };
    Some(if highest? <= Band::Low {
        format!(
            "- A need is shown. {mg} mg of {name} a litre on the young leaves cleared the signs on citrus (published); that is about {} g of {salt} a litre. The label comes first, goggles on, a few leaves first",
            n(grams)
        )
    } else {
        format!("- No {name} spray: without a shortage shown it gained nothing (published)")
    })
}

fn set(lines: &[String], style: Style) -> String {
    let mut out = String::new();
    for line in lines {
        let (first, rest, text) = match line.strip_prefix("- ") {
            Some(text) => ("- ", "  ", text),
            None => ("", "", line.as_str()),
        };
        out.push_str(&style.wrap(text, first, rest));
        out.push('\n');
    }
    out
}

/// Which leaves the tables are for, and where they come from.
#[must_use]
pub fn sampling(standards: &Standards, style: Style) -> String {
    let mut lines: Vec<String> = vec![style.tone("Which leaves", Tone::Heading)];
    for s in &standards.sampling {
        lines.push(format!("- {}: {} ({})", s.place, s.says, s.mark.words()));
    }
    for table in &standards.leaf_tables {
        lines.push(format!("- {}: {}", table.name, table.note));
    }
    set(&lines, style)
}
