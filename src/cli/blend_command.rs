//! `blend`: mix what is on the shelf toward a ratio, in whole scoops.

use super::args::{BlendArgs, Common};
use super::context::{self, Context};
use super::fail::Failure;
use super::feed_line;
use crate::blend::{
    Answer, BatchSize, DEFAULT_BAGS, MaterialOnShelf, Scoop, Shelf, Target, Wish, mix,
};
use crate::knowledge::{Knowledge, Release};
use crate::quantity::{Grade, GradeBasis, Measure, SpoonSystem, parse_number};
use crate::report;

/// Density where nothing better is known: the span of all published bulk densities, g/mL.
const ANY_DENSITY: (f64, f64) = (0.6, 1.4);

/// Tag of every material.
const ANY: &str = "any";
/// Tag of what goes into solution.
const DISSOLVES: &str = "dissolves";
/// Tag of a bag that may be a nitrate, as far as its numbers tell.
const MAYBE_NITRATE: &str = "maybe_nitrate";
/// Tag of a bag whose numbers are those of a plain nitrate.
const LIKE_NITRATE: &str = "like_nitrate";
/// Tag of a bag that may be a meal: nobody said what kind it is.
const MAYBE_MEAL: &str = "maybe_meal";
/// Per cent of nitrogen beside no phosphate from which a bag may well be a plain nitrate: calcium, potassium, sodium and ammonium
/// nitrate hold 13 to 35 % (own choice).
const NITRATE_N: f64 = 13.0;

/// A rule about two materials in a dry mix that the knowledge's reactions do not state.
struct OwnRule {
    a: &'static str,
    b: &'static str,
    what: &'static str,
    refused: bool,
}

/// Lime and ash are no part of a mix for citrus in pots, and an unknown bag counts as the one that reacts.
const OWN_RULES: [OwnRule; 5] = [
    OwnRule {
        a: "alkaline",
        b: ANY,
        what: "Lime and ash are caustic, drive off ammonia and make the mix of a pot limy, where iron is locked up.",
        refused: true,
    },
    OwnRule {
        a: LIKE_NITRATE,
        b: "organic",
        what: "By its numbers one of them may be a nitrate, which can set a meal on fire. If it is a meal itself, add kind=organic.",
        refused: true,
    },
    OwnRule {
        a: MAYBE_NITRATE,
        b: "organic",
        what: "If the bag known by its numbers names nitrate, keep it apart from meals: mixed dry they can heat in store. If it is a meal, add kind=organic.",
        refused: false,
    },
    OwnRule {
        a: "oxidiser",
        b: MAYBE_MEAL,
        what: MEAL_BY_NUMBERS,
        refused: false,
    },
    OwnRule {
        a: LIKE_NITRATE,
        b: MAYBE_MEAL,
        what: MEAL_BY_NUMBERS,
        refused: false,
    },
];

/// Said of a nitrate beside a bag of which nobody told what it is.
const MEAL_BY_NUMBERS: &str = "If the bag known by its numbers is a meal, never mix it dry with a nitrate: they can heat in store. If it is none, add kind=mineral.";

/// What the grower should know about handling what stands on the shelf, in the words of the safety rules.
fn handling(knowledge: &Knowledge, shelf: &Shelf) -> Vec<String> {
    [
        ("oxidiser", ["oxidiser", LIKE_NITRATE]),
        ("pets", ["animal", "animal"]),
        ("hygiene", ["animal", "raw_organic"]),
    ]
    .into_iter()
    .filter_map(|(id, tags)| {
        let names: Vec<&str> = shelf
            .materials()
            .iter()
            .filter(|m| m.tags.iter().any(|t| tags.contains(&t.as_str())))
            .map(|m| m.name.as_str())
            .collect();
        let rule = knowledge.cautions.iter().find(|c| c.id == id)?;
        (!names.is_empty()).then(|| format!("{}. {}", names.join(", "), rule.summary))
    })
    .collect()
}

/// Runs the command.
pub(super) fn run(args: &BlendArgs, common: &Common, context: &Context) -> Result<u8, Failure> {
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
    let mut spoken = Vec::new();
    let dissolving = shelf.tagged_pairs(DISSOLVES, DISSOLVES);
    for reaction in &knowledge.reactions {
        for (a, b) in shelf.tagged_pairs(&reaction.a, &reaction.b) {
            // What reacts in a can reacts when a dry mix of two soluble feeds is dissolved.
            if reaction.when == "can" && !dissolving.contains(&(a, b)) {
                continue;
            }
            let kept = if reaction.verdict == "refuse" {
                shelf.keep_apart(a, b)
            } else {
                shelf.caution(a, b)
            };
            kept.map_err(|e| wrong(&e))?;
            spoken.push(report::blend::Pair {
                places: (a, b),
                what: reaction.what.clone().into(),
                refused: reaction.verdict == "refuse",
            });
        }
    }
    for rule in OWN_RULES {
        for (a, b) in shelf.tagged_pairs(rule.a, rule.b) {
            if spoken
                .iter()
                .any(|p| p.refused && (p.places == (a, b) || p.places == (b, a)))
            {
                continue;
            }
            let kept = if rule.refused {
                shelf.keep_apart(a, b)
            } else {
                shelf.caution(a, b)
            };
            kept.map_err(|e| wrong(&e))?;
            spoken.push(report::blend::Pair {
                places: (a, b),
                what: rule.what.to_owned(),
                refused: rule.refused,
            });
        }
    }
    let handling = handling(&knowledge, &shelf);
    let system = if context.us {
        SpoonSystem::Us
    } else {
        SpoonSystem::Metric
    };
    let scoop = scoop(&args.scoop, system)?;
    let target = target(&args.target)?;
    let wish = Wish::new(target, scoop)
        .at_most(args.at_most.unwrap_or(DEFAULT_BAGS))
        .map_err(|e| wrong(&e))?;
    let batch = args.batch.as_deref().map(batch).transpose()?;
    let answer = mix(&shelf, &wish);
    let sheet = report::blend::Sheet {
        shelf: &shelf,
        scoop: &args.scoop,
        target: &args.target,
        pairs: &spoken,
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
    Ok(match answer {
        Answer::Mix(_) | Answer::Cannot(_) => 0,
    })
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
        Some(m) => MaterialOnShelf {
            name: m.name.clone().into(),
            n: m.n.value,
            p2o5: m.p2o5.value,
            k2o: m.k2o.value,
            density_lo: m.density.low,
            density_hi: m.density.high,
            price_per_kg: None,
            max_scoops: None,
            tags: m
                .traits
                .iter()
                .map(String::from)
                .chain((m.release == Release::Ready).then(|| DISSOLVES.to_owned()))
                .collect(),
        },
        None => {
            let grade = feed_line::grade_of(knowledge, &what, basis).map_err(&wrong)?;
            if grade.p2o5() > 0.0 || grade.k2o() > 0.0 {
                taken = Some((basis, said));
            }
            let mut item = MaterialOnShelf::new(
                what.clone(),
                [grade.n(), grade.p2o5(), grade.k2o()],
                ANY_DENSITY.0,
            );
            item.density_hi = ANY_DENSITY.1;
            let told = pieces
                .clone()
                .filter_map(|p| p.split_once('='))
                .find(|(key, _)| key.trim() == "kind")
                .map(|(_, kind)| kind.trim());
            item.tags = carried(&grade, told);
            item
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
                if !matches!(value.trim(), "organic" | "mineral") {
                    return Err(wrong(format!("kind={value}: write organic or mineral")));
                }
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
    item.tags.push(ANY.to_owned());
    Ok((item, taken))
}

/// What a bag known by its three numbers alone may hold of what reacts: nothing told counts as there.
fn carried(grade: &Grade, kind: Option<&str>) -> Vec<String> {
    let organic = kind == Some("organic");
    let n = grade.n() > 0.0;
    let plain = grade.p2o5() <= 0.0 && grade.n() >= NITRATE_N;
    let held = [
        ("phosphate", grade.p2o5() > 0.0),
        ("ammonium", n && !organic),
        ("urea", n && !organic),
        (LIKE_NITRATE, plain && !organic),
        (MAYBE_NITRATE, n && !plain && !organic),
        (MAYBE_MEAL, n && kind.is_none()),
        (DISSOLVES, !organic),
        ("organic", organic),
        ("raw_organic", organic),
        ("animal", organic),
    ];
    held.into_iter()
        .filter(|(_, holds)| *holds)
        .map(|(name, _)| name.to_owned())
        .collect()
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
