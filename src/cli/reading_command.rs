//! `reading`: what a meter's or a laboratory's figure means.

use super::args::{Common, ReadingArgs};
use super::context::{self, Context};
use super::fail::Failure;
use crate::chemistry::extract::Extraction;
use crate::knowledge::Files;
use crate::quantity::parse_number;
use crate::reading::{self, Scale, Standards};
use crate::report;

/// Runs the command.
pub(super) fn run(args: &ReadingArgs, common: &Common, context: &Context) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let shipped = Files::shipped();
    let text = shipped.text("leaf_standards.yaml").unwrap_or_default();
    let standards = Standards::parse(text).map_err(|e| Failure::Outside(e.to_string()))?;
    let method = method(args.method.as_deref())?;
    let scale = scale(args.scale.as_deref())?;
    let style = context.style();
    let mut pages = Vec::new();
    let mut leaves = false;
    for typed in &args.readings {
        let wrong = |problem: String| Failure::Usage(format!("\"{typed}\": {problem}"));
        let Some((name, value)) = typed.split_once('=') else {
            return Err(wrong(
                "write it as NAME=VALUE, such as EC=1.2, pH=6.5 or N=2.4".into(),
            ));
        };
        let value = parse_number(value).map_err(|e| wrong(e.to_string()))?;
        let name = name.trim().to_lowercase();
        pages.push(match name.as_str() {
            "ec" if value <= 30.0 => {
                let line = reading::salt(&standards, &knowledge.rates, value, method.0);
                report::reading::salt(value, method, scale, &line, style)
            }
            "ec" => {
                return Err(wrong("more than any mix: give it in dS/m (1000 µS/cm is 1 dS/m; meters in ppm: ÷ 500, 640 or 700, see the meter)".into()));
            }
            "ph" if (2.0..=11.0).contains(&value) => report::reading::ph(value, &standards, style),
            "ph" => return Err(wrong("a pH of a mix lies between 2 and 11".into())),
            nutrient => {
                leaves = true;
                report::reading::leaf_line(nutrient, value, &standards, style).ok_or_else(|| {
                    let known: Vec<&str> = standards
                        .leaf_tables
                        .first()
                        .map_or_else(Vec::new, |t| t.rows.iter().map(|r| r.nutrient.as_str()).collect());
                    let near = crate::facts::nearest_of(nutrient, &known);
                    wrong(format!("no table has {nutrient}{near}; known are EC, pH, and of leaves {}", known.join(", ")))
                })?
            }
        });
    }
    if leaves {
        pages.push(report::reading::sampling(&standards, style));
    }
    pages.push(style.wrap("A reading explains; it gives no dose. tubgrove precheck and diagnose take mix_ec, ec_method and mix_ph into account.", "", "") + "\n");
    context.print(&pages.join("\n"))?;
    Ok(0)
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
