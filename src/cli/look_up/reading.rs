//! `reading`: what a meter's or a laboratory's figure means.

use crate::chemistry::extract::Extraction;
use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::words::args::{Common, ReadingArgs};
use crate::quantity::parse_number;
use crate::reading::{self, Scale, Standards};
use crate::report::reading::{Reading, json, text};

/// More of one nutrient than any dry leaf of citrus holds, per cent; calcium, the highest, reaches about 7 (own choice).
const MOST_PERCENT: f64 = 10.0;

/// Runs the command.
pub(in crate::cli) fn run(
    args: &ReadingArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    if args.readings.is_empty() {
        return Err(Failure::Usage(
            "reading: there is no figure to explain: name one, such as EC=1.2, pH=6.5 or of leaves N=2.4".into(),
        ));
    }
    let knowledge = context::knowledge(common)?;
    let standards = context::standards(common)?;
    let method = method(args.method.as_deref())?;
    let scale = scale(args.scale.as_deref())?;
    let mut readings = Vec::new();
    for typed in &args.readings {
        let wrong = |problem: String| Failure::Usage(format!("\"{typed}\": {problem}"));
        let (name, value) = typed.split_once('=').ok_or_else(|| {
            wrong("write it as NAME=VALUE, such as EC=1.2, pH=6.5 or N=2.4".into())
        })?;
        let value = parse_number(value).map_err(|e| wrong(e.to_string()))?;
        let name = name.trim().to_lowercase();
        readings.push(match name.as_str() {
            "ec" if value <= 30.0 => Reading::Salt {
                ec: value,
                method,
                scale,
                line: reading::salt(&standards, &knowledge.rates, value, method.0),
            },
            "ec" => {
                return Err(wrong("more than any mix: give it in dS/m (1000 µS/cm is 1 dS/m; meters in ppm: ÷ 500, 640 or 700, see the meter)".into()));
            }
            "ph" if (2.0..=11.0).contains(&value) => Reading::Ph(value),
            "ph" => return Err(wrong("a pH of a mix lies between 2 and 11".into())),
            nutrient => leaf(&standards, nutrient, value).map_err(wrong)?,
        });
    }
    if common.json {
        let from = (knowledge.origin.as_str(), knowledge.version.as_str());
        let out = json(&readings, &standards, from).map_err(|e| Failure::Outside(e.to_string()))?;
        context.print(&(out + "\n"))?;
    } else {
        let mut out = text(&readings, &standards, context.style());
        if !knowledge.is_shipped() {
            let from = format!("Knowledge: {} ({}).", knowledge.origin, knowledge.version);
            let line = context
                .style()
                .wrap(&crate::report::style::harmless(&from), "", "");
            out.push_str(&format!("\n{line}\n"));
        }
        context.print_text(&out)?;
    }
    Ok(0)
}

/// One nutrient of a leaf analysis, or which ones are known.
fn leaf<'s>(standards: &'s Standards, nutrient: &str, value: f64) -> Result<Reading<'s>, String> {
    let lines = reading::leaf(standards, nutrient, value);
    let Some(first) = lines.first() else {
        let mut known: Vec<&str> = Vec::new();
        for row in standards.leaf_tables.iter().flat_map(|t| &t.rows) {
            if !known.contains(&row.nutrient.as_str()) {
                known.push(&row.nutrient);
            }
        }
        let near = crate::facts::nearest_of(nutrient, &known);
        return Err(format!(
            "no table has {nutrient}{near}; known are EC, pH, and of leaves {}",
            known.join(", ")
        ));
    };
    if first.row.unit == "%" && value > MOST_PERCENT {
        return Err(
            "more than any dry leaf holds: this one is given in per cent (10 g/kg or 10 000 mg/kg is 1 %)".into(),
        );
    }
    Ok(Reading::Leaf {
        nutrient: nutrient.to_owned(),
        value,
        lines,
    })
}

/// The method and whether it was named; 1:2 judges hardest.
fn method(typed: Option<&str>) -> Result<(Extraction, bool), Failure> {
    Ok(match typed.map(str::to_lowercase).as_deref() {
        None => (Extraction::OneToTwo, false),
        Some("1:2" | "one_to_two") => (Extraction::OneToTwo, true),
        Some("saturated" | "saturated extract") => (Extraction::Saturated, true),
        Some("pour-through" | "pour_through") => (Extraction::PourThrough, true),
        Some(other) => {
            return Err(Failure::Usage(format!(
                "--method {other}: write 1:2, saturated or pour-through"
            )));
        }
    })
}

fn scale(typed: Option<&str>) -> Result<Option<Scale>, Failure> {
    Ok(match typed.map(str::to_lowercase).as_deref() {
        None => None,
        Some("greenhouse") => Some(Scale::Greenhouse),
        Some("nursery") => Some(Scale::Nursery),
        Some(other) => {
            return Err(Failure::Usage(format!(
                "--scale {other}: write greenhouse or nursery"
            )));
        }
    })
}
