//! A reading explained, in words; [`json`] for scripts.

mod as_json;

pub use as_json::json;

use super::style::{Style, Tone};
use super::words::upper_first;
use crate::chemistry::extract::Extraction;
use crate::quantity::{round_sig, show_number};
use crate::reading::{
    LeafLine, SaltLine, SaltVerdict, Scale, Spray, Standards, Together, chelates, place, spray,
    together,
};

/// One figure with what the standards make of it.
#[derive(Debug, Clone)]
pub enum Reading<'s> {
    /// The salt of the mix.
    Salt {
        /// As measured, dS/m.
        ec: f64,
        /// How it was measured, and whether the grower named it.
        method: (Extraction, bool),
        /// Whose words the laboratory uses.
        scale: Option<Scale>,
        /// What the standards make of it.
        line: SaltLine<'s>,
    },
    /// The pH of the mix.
    Ph(f64),
    /// One nutrient of a leaf analysis, found in at least one table.
    Leaf {
        /// Its sign, in any case.
        nutrient: String,
        /// As measured, in the tables' unit.
        value: f64,
        /// Each table with what it makes of it.
        lines: Vec<LeafLine<'s>>,
    },
}

/// All readings in words, with how leaves are to be taken where there are any.
#[must_use]
pub fn text(readings: &[Reading<'_>], standards: &Standards, style: Style) -> String {
    let mut pages: Vec<String> = readings
        .iter()
        .map(|reading| match reading {
            Reading::Salt {
                ec,
                method,
                scale,
                line,
            } => salt(*ec, *method, *scale, line, style),
            Reading::Ph(value) => ph(*value, standards, style),
            Reading::Leaf {
                nutrient,
                value,
                lines,
            } => leaf_line(nutrient, *value, lines, standards, style),
        })
        .collect();
    if readings.iter().any(|r| matches!(r, Reading::Leaf { .. })) {
        pages.push(sampling(standards, style));
    }
    let mut end = "A reading explains; no feed is dosed here.".to_owned();
    let flags = flags(readings);
    if !flags.is_empty() {
        end.push_str(&format!(" Tell precheck or diagnose: {}", flags.join(" ")));
    }
    pages.push(style.wrap(&end, "", "") + "\n");
    pages.join("\n")
}

/// How a walk is told of these readings; leaves are no reading of the mix, and no walk asks for theirs.
fn flags(readings: &[Reading<'_>]) -> Vec<String> {
    let mut flags = Vec::new();
    for reading in readings {
        match reading {
            Reading::Salt { ec, method, .. } => {
                let (method, named) = *method;
                let id = method_id(method);
                // A walk knows no 1:5, and would take the figure for another method's.
                if !named || id.is_some() {
                    flags.push(format!("--set mix_ec={}", show_number(*ec)));
                }
                flags.extend(
                    id.filter(|_| named)
                        .map(|id| format!("--set ec_method={id}")),
                );
            }
            Reading::Ph(value) => flags.push(format!("--set mix_ph={}", show_number(*value))),
            Reading::Leaf { .. } => {}
        }
    }
    flags
}

/// The choice of the fact `ec_method`, where there is one.
fn method_id(method: Extraction) -> Option<&'static str> {
    match method {
        Extraction::OneToTwo => Some("one_to_two"),
        Extraction::OneToFive => None,
        Extraction::Saturated => Some("saturated"),
        Extraction::PourThrough => Some("pour_through"),
    }
}

/// pH from which the findings call a mix limy, and below which very acid (`knowledge/findings/leaves.yaml`).
const LIMY: f64 = 7.0;
const SOUR: f64 = 5.5;

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
fn salt(
    ec: f64,
    (method, said): (Extraction, bool),
    scale: Option<Scale>,
    line: &SaltLine<'_>,
    style: Style,
) -> String {
    let by = if said {
        format!("by {}", method_name(method))
    } else {
        "method not named".to_owned()
    };
    let mut out = vec![style.tone(
        &format!("Salt of the mix: {} dS/m, {by}", n(ec)).replace(", by", " by"),
        Tone::Heading,
    )];
    let (hold, flush) = line.limits;
    let verdict = match line.verdict(ec) {
        SaltVerdict::Flush => "too salty: flush it, and no feed for now (tubgrove rescue)",
        SaltVerdict::Hold => "on the salty side: no ready feed until it is lower",
        SaltVerdict::Fine => "no reason to hold a feed",
    };
    if !said {
        out.push("- The method decides what it means: the same mix reads about three times as high by pour-through. Name it first (--method 1:2, saturated or pour-through); until then it is judged as 1:2, the hardest.".into());
    }
    let whose = if said {
        "For this tree"
    } else {
        "If it was 1:2"
    };
    out.push(format!(
        "- {whose}: {verdict} (own limits for citrus: no feed above {}, flush above {})",
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
        for (norm, range @ [from, to]) in &line.nursery {
            out.push(format!(
                "- On the scale for {}: {} {} to {} ({})",
                norm.what,
                place(ec, *range),
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
fn ph(ph: f64, standards: &Standards, style: Style) -> String {
    let mut out = vec![style.tone(&format!("pH of the mix: {}", n(ph)), Tone::Heading)];
    out.push(format!(
        "- For this tree: {}",
        if ph < SOUR {
            "too sour; look at the water and the feed, and repot if it stays so (tubgrove show mix_too_acid)"
        } else if ph < LIMY {
            "no trouble for a citrus in a pot"
        } else {
            "limy: iron, manganese and zinc are locked up the higher it is; test the water, and give no lime or ash (tubgrove show mix_too_limy)"
        }
    ));
    for range in &standards.mix_ph {
        let [from, to] = range.range;
        out.push(format!(
            "- {}: {} {} to {} ({})",
            range.what,
            place(ph, range.range),
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

/// One nutrient of a leaf analysis.
fn leaf_line(
    nutrient: &str,
    value: f64,
    lines: &[LeafLine<'_>],
    standards: &Standards,
    style: Style,
) -> String {
    let first = lines.first();
    let title = format!(
        "Leaves: {} {}{}",
        upper_first(nutrient),
        n(value),
        unit(first.map_or("", |l| &l.row.unit))
    );
    let mut out = vec![style.tone(&title, Tone::Heading)];
    for line in lines {
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
    match together(lines) {
        Together::Same => {}
        Together::TooLittle => {
            out.push("- All tables say too little; they differ only in how much".into());
        }
        Together::TooMuch => {
            out.push("- All tables say too much; they differ only in how much".into());
        }
        Together::Apart => out
            .push("- The tables disagree; neither is preferred. Act only where both say so".into()),
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
    out.extend(spray(nutrient, lines).map(spray_line));
    set(&out, style)
}

fn unit(unit: &str) -> String {
    if unit == "%" {
        " %".into()
    } else {
        format!(" {unit}")
    }
}

/// A spray, or why none.
fn spray_line(spray: Spray) -> String {
    let name = spray.element;
    if spray.needed {
        format!(
            "- The figure shows a need. Before a spray look whether the young leaves show it, and at the pH of the mix and the roots: limy, wet or cold mix locks it up. {} mg of {name} a litre on the young leaves cleared the signs on citrus (published); that is about {} g of {} a litre. The label comes first. Goggles and gloves on, in the cool of the day, a few leaves first; nothing into ponds, where it harms fish; wash fruit",
            n(spray.mg_per_litre),
            show_number(round_sig(spray.salt_grams(), 2)),
            spray.salt
        )
    } else {
        format!("- No {name} spray: without a shortage shown it gained nothing (published)")
    }
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
fn sampling(standards: &Standards, style: Style) -> String {
    let mut lines: Vec<String> = vec![style.tone("Which leaves", Tone::Heading)];
    for s in &standards.sampling {
        lines.push(format!("- {}: {} ({})", s.place, s.says, s.mark.words()));
    }
    for table in &standards.leaf_tables {
        lines.push(format!("- {}: {}", table.name, table.note));
    }
    set(&lines, style)
}

#[cfg(test)]
mod tests {
    use super::{Reading, flags};
    use crate::chemistry::extract::Extraction;
    use crate::knowledge::{Files, load};
    use crate::reading;

    /// Each of these flags is one that a walk takes; a figure by a method that no walk knows is told to none.
    #[test]
    fn readings_are_told_to_a_walk_flag_by_flag() {
        let knowledge = load(&Files::shipped(), &[]).unwrap();
        let standards =
            reading::Standards::parse(include_str!("../../../knowledge/leaf_standards.yaml"))
                .unwrap();
        let salt = |method, named| Reading::Salt {
            ec: 1.2,
            method: (method, named),
            scale: None,
            line: reading::salt(&standards, &knowledge.rates, 1.2, method),
        };
        let leaf = Reading::Leaf {
            nutrient: "n".into(),
            value: 2.1,
            lines: Vec::new(),
        };
        let told = |reading: Reading<'_>| flags(&[reading]);
        assert_eq!(
            told(salt(Extraction::PourThrough, true)),
            ["--set mix_ec=1.2", "--set ec_method=pour_through"]
        );
        assert_eq!(
            told(salt(Extraction::OneToTwo, false)),
            ["--set mix_ec=1.2"]
        );
        assert!(told(salt(Extraction::OneToFive, true)).is_empty());
        assert_eq!(told(Reading::Ph(6.5)), ["--set mix_ph=6.5"]);
        assert!(told(leaf).is_empty());
        for flag in flags(&[salt(Extraction::Saturated, true), Reading::Ph(6.5)]) {
            let (fact, value) = flag.trim_start_matches("--set ").split_once('=').unwrap();
            let fact = knowledge.vocabulary.find(fact).unwrap();
            let fact = knowledge.vocabulary.get(fact);
            assert!(crate::facts::Value::read(fact, value).is_ok(), "{flag}");
        }
    }
}
