//! `blend`: mix what is on the shelf toward a ratio, in whole scoops.

use crate::blend::{
    BatchSize, DEFAULT_BAGS, MaterialOnShelf, Scoop, Shelf, Target, Wish, handling, keep_apart,
    mix_without, spared,
};
use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::look_up::feed_line;
use crate::cli::words::args::{BlendArgs, Common};
use crate::knowledge::{Knowledge, Told};
use crate::quantity::{GradeBasis, Measure, SpoonSystem, parse_number};
use crate::report;

/// Runs the command.
pub(in crate::cli) fn run(
    args: &BlendArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let wrong = |e: &dyn std::fmt::Display| Failure::Usage(format!("blend: {e}"));
    let mut shelf_list = Vec::new();
    let mut bases = Vec::new();
    for text in &args.materials {
        let (item, basis) = material(&knowledge, text, args.label_as)?;
        shelf_list.push(item);
        bases.extend(basis);
    }
    let mut shelf = Shelf::new(shelf_list).map_err(|e| wrong(&e))?;
    let pairs = keep_apart(&mut shelf, &knowledge).map_err(|e| wrong(&e))?;
    let handling = handling(&shelf, &knowledge);
    let (system, usual) = if context.us {
        (SpoonSystem::Us, "1/4 cup")
    } else {
        (SpoonSystem::Metric, "50 mL")
    };
    let measure = args.scoop.as_deref().unwrap_or(usual);
    let scoop = scoop(measure, system)?;
    let target = target(&args.target)?;
    let wish = Wish::new(target, scoop)
        .at_most(args.at_most.unwrap_or(DEFAULT_BAGS))
        .map_err(|e| wrong(&e))?;
    let batch = args.batch.as_deref().map(batch).transpose()?;
    let spared = spared(&shelf, &knowledge);
    let (answer, left_out) = mix_without(&shelf, &wish, &spared).map_err(|e| wrong(&e))?;
    let sheet = report::blend::Sheet {
        shelf: &shelf,
        scoop: measure,
        target: &args.target,
        pairs: &pairs,
        spared: &spared,
        left_out,
        batch,
        bases: &bases,
        handling: &handling,
    };
    let text = if common.json {
        report::blend::json(&answer, &sheet).map_err(|e| Failure::Outside(e.to_string()))? + "\n"
    } else {
        report::blend::text(&answer, &sheet, context.style())
    };
    if common.json {
        context.print(&text)?;
    } else {
        context.print_text(&text)?;
    }
    Ok(0)
}

/// `blood meal`, `12-0-0`, or either with `,density=0.8,price=4,scoops=6,name=…,as=element` behind it; and what P and K were
/// taken as, where three numbers with one of them were typed.
fn material(
    knowledge: &Knowledge,
    text: &str,
    flag: Option<GradeBasis>,
) -> Result<(MaterialOnShelf, Option<(GradeBasis, bool)>), Failure> {
    let wrong = |problem: String| Failure::Usage(format!("blend \"{text}\": {problem}"));
    let mut pieces = text.split(',').map(str::trim);
    let what = pieces.next().unwrap_or("").to_lowercase();
    let (basis, said) = feed_line::basis_of(pieces.clone(), flag).map_err(&wrong)?;
    let mut taken = None;
    let mut item = match feed_line::material_named(knowledge, &what) {
        Some(m) => MaterialOnShelf::plain(m),
        None => {
            let grade = feed_line::grade_of(knowledge, &what, basis).map_err(&wrong)?;
            if grade.p2o5() > 0.0 || grade.k2o() > 0.0 {
                taken = Some((basis, said));
            }
            let told = pieces
                .clone()
                .filter_map(|p| p.split_once('='))
                .find(|(key, _)| key.trim() == "kind")
                .map_or(Ok(Told::Nothing), |(_, kind)| told_kind(kind))
                .map_err(&wrong)?;
            MaterialOnShelf::by_numbers(knowledge, what.clone(), &grade, told)
        }
    };
    for piece in pieces {
        let Some((key, value)) = piece.split_once('=') else {
            return Err(wrong(format!(
                "\"{piece}\" is not understood; write density=0.8, price=4, scoops=6, as=element or name=…"
            )));
        };
        let number = || parse_number(value).map_err(|e| wrong(format!("{key}: {e}")));
        match key.trim() {
            "as" => {}
            "kind" => {
                told_kind(value).map_err(&wrong)?;
            }
            "density" => {
                let density = number()?;
                item.density_lo = density;
                item.density_hi = density;
            }
            "price" => item.price_per_kg = Some(number()?),
            "scoops" => {
                item.max_scoops = Some(
                    value
                        .trim()
                        .parse()
                        .map_err(|_| wrong(format!("scoops: \"{value}\" is no whole number")))?,
                );
            }
            "name" => item.name = report::style::harmless(value.trim()),
            other => {
                let hint = crate::facts::nearest_of(
                    other,
                    &["density", "price", "scoops", "name", "as", "kind"],
                );
                return Err(wrong(format!(
                    "there is no {other}{hint}; known are density, price, scoops, as, kind and name"
                )));
            }
        }
    }
    Ok((item, taken))
}

/// `organic` or `mineral`.
fn told_kind(value: &str) -> Result<Told, String> {
    match value.trim() {
        "organic" => Ok(Told::Organic),
        "mineral" => Ok(Told::Mineral),
        _ => Err(format!("kind={value}: write organic or mineral")),
    }
}

/// `1/4 cup`, `1 tbsp`, `25 g`, `50 mL`.
fn scoop(text: &str, system: SpoonSystem) -> Result<Scoop, Failure> {
    let wrong = |e: &dyn std::fmt::Display| Failure::Usage(format!("--scoop {text}: {e}"));
    let measure = Measure::parse(text).map_err(|e| wrong(&e))?;
    match (measure, measure.millilitres(system)) {
        (Measure::Grams(grams), _) => Scoop::weight(grams).map_err(|e| wrong(&e)),
        (_, Some(ml)) => Scoop::volume(ml).map_err(|e| wrong(&e)),
        _ => Err(wrong(&"write it like 1/4 cup, 1 tbsp or 25 g")),
    }
}

/// `2-1-1`, `2:1:1`, `3-1-2`.
fn target(text: &str) -> Result<Target, Failure> {
    let wrong = |e: &dyn std::fmt::Display| Failure::Usage(format!("--target {text}: {e}"));
    let parts: Vec<f64> = text
        .split(['-', ':'])
        .map(parse_number)
        .collect::<Result<_, _>>()
        .map_err(|e| wrong(&e))?;
    let [n, p, k] = parts.as_slice() else {
        return Err(wrong(&"three numbers are needed, such as 2-1-1"));
    };
    Target::new([*n, *p, *k]).map_err(|e| wrong(&e))
}

/// `2 kg`, `500 g`, `3 L`.
fn batch(text: &str) -> Result<BatchSize, Failure> {
    let wrong = |e: &dyn std::fmt::Display| Failure::Usage(format!("--batch {text}: {e}"));
    let lower = text.trim().to_lowercase();
    if let Some(kg) = lower.strip_suffix("kg") {
        return parse_number(kg.trim())
            .map(|kg| BatchSize::Grams(kg * 1000.0))
            .map_err(|e| wrong(&e));
    }
    if let Ok(Measure::Grams(grams)) = Measure::parse(&lower) {
        return Ok(BatchSize::Grams(grams));
    }
    crate::quantity::parse_volume(&lower, None)
        .map(|v| BatchSize::Litres(v.lo()))
        .map_err(|_| wrong(&"write it like 2 kg, 500 g or 3 L"))
}
