//! `strength`: what a can will contain, for this tree.

use super::answers;
use super::args::{Common, StrengthArgs};
use super::context::{self, Context};
use super::fail::Failure;
use crate::chemistry::NitrogenForms;
use crate::dose::can::{Contents, InCan, Judged, contents, judge};
use crate::dose::strength::Strength;
use crate::dose::{Ids, Situation, need, water};
use crate::knowledge::{Knowledge, Reaction};
use crate::plan::in_other_words;
use crate::quantity::{
    Grade, GradeBasis, Interval, Measure, SpoonSystem, VolumeUnit, parse_number, parse_volume,
};
use crate::report::strength::{Page, json, text};

/// Density where nothing better is known, g/mL: powders that dissolve.
const POWDER: (f64, f64) = (0.9, 1.25);

/// Runs the command.
pub(super) fn run(args: &StrengthArgs, common: &Common, context: &Context) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let known = answers::beforehand(&knowledge.vocabulary, common)?;
    let ids = Ids::find(&knowledge.vocabulary).map_err(|lacking| {
        Failure::Outside(format!("facts are missing: {}", lacking.join(", ")))
    })?;
    let litres = parse_volume(&args.can, Some(VolumeUnit::Litre))
        .map_err(|e| Failure::Usage(format!("--can {e}")))?
        .lo();
    let system = if context.us {
        SpoonSystem::Us
    } else {
        SpoonSystem::Metric
    };
    let mut names = Vec::new();
    let mut items = Vec::new();
    let mut said = Vec::new();
    for feed in &args.feeds {
        let (name, amount, density, item) = read_item(&knowledge, feed, system)?;
        let (amount, water) = in_other_words(&knowledge.things, amount, litres, density, system);
        said.push((format!("{name} is about {amount}"), water));
        names.push(name);
        items.push(item);
    }
    let water = said.first().map_or("", |(_, water)| water.as_str());
    let amounts: Vec<&str> = said.iter().map(|(amount, _)| amount.as_str()).collect();
    let echo = format!("{}, in {water}", amounts.join("; "));
    // The strictest tree that the answers allow: seedlings and self-watering pots have the lowest limits.
    let situations = Situation::all(&ids, &knowledge.vocabulary, &knowledge.rates, &known);
    let water_ec = situations.first().map_or(0.0, |s| s.water_ec);
    let held = contents(&items, litres, water_ec)
        .ok_or_else(|| Failure::Usage(format!("--can {}: a can of no water", args.can)))?;
    let judged = situations
        .iter()
        .map(|s| (s, judge(&knowledge.rates, s, &held)))
        .max_by(|a, b| {
            a.1.worst()
                .cmp(&b.1.worst())
                .then(b.1.fine_share.total_cmp(&a.1.fine_share))
        });
    let Some((situation, judged)) = judged else {
        return Err(Failure::Outside("no situation".into()));
    };
    let pot_known = known.value(ids.pot_volume).is_known();
    let reacting = reacting(&knowledge, &items);
    let page = Page {
        names: &names,
        echo: &echo,
        contents: &held,
        judged,
        water_measured: situation.water_measured,
        pot: pot_known.then(|| pot(&knowledge, situation, &held)),
        strictest: situations.len() > 1,
        reacting: &reacting,
    };
    let printed = if common.json {
        json(&page).map_err(|e| Failure::Outside(e.to_string()))? + "\n"
    } else {
        text(&page, context.style())
    };
    if common.json {
        context.print(&printed)?;
    } else {
        context.print_text(&printed)?;
    }
    let refused = reacting.iter().any(|r| r.verdict == "refuse");
    Ok(if refused || judged.worst() >= Strength::Reduce {
        4
    } else {
        0
    })
}

/// Litres for this pot, mg of nitrogen in them, and the weeks of need they carry.
fn pot(knowledge: &Knowledge, s: &Situation, held: &Contents) -> (f64, f64, f64) {
    let litres = water::can_litres(&knowledge.rates, s).min(held.litres);
    let n = held.n.1 * litres;
    let weekly = need::weekly(&knowledge.rates, s) * need::pot_share(&knowledge.rates, s);
    (
        litres,
        n,
        if weekly > 0.0 {
            n / weekly
        } else {
            f64::INFINITY
        },
    )
}

/// Reactions between what goes into the can.
fn reacting<'k>(knowledge: &'k Knowledge, items: &[InCan<'_>]) -> Vec<&'k Reaction> {
    let has = |item: &InCan<'_>, name: &str| item.material.is_some_and(|m| m.has(name));
    knowledge
        .reactions
        .iter()
        .filter(|r| r.when != "dry")
        .filter(|r| {
            items.iter().enumerate().any(|(i, a)| {
                items
                    .iter()
                    .enumerate()
                    .any(|(j, b)| i != j && has(a, &r.a) && has(b, &r.b))
            })
        })
        .collect()
}

/// `24-8-16 = 15 g`, `Epsom salt = 5 g`, `20-20-20, nitrate=6, ammonium=4, urea=10 = 1 tbsp`.
fn read_item<'k>(
    knowledge: &'k Knowledge,
    text: &str,
    system: SpoonSystem,
) -> Result<(String, Measure, Interval, InCan<'k>), Failure> {
    let wrong = |problem: String| Failure::Usage(format!("\"{text}\": {problem}"));
    let Some((feed, amount)) = text.rsplit_once('=') else {
        return Err(wrong(
            "write it as FEED = AMOUNT, such as \"24-8-16 = 15 g\"".into(),
        ));
    };
    let mut pieces = feed.split(',').map(str::trim);
    let what = pieces.next().unwrap_or("").to_lowercase();
    let material = knowledge.materials.iter().find(|m| {
        m.id == what.replace(' ', "_")
            || m.name.to_lowercase() == what
            || m.words.iter().any(|w| w.to_lowercase() == what)
    });
    let (name, grade, mut density) = match material {
        Some(m) => (
            m.name.clone(),
            [m.n.value, m.p2o5.value, m.k2o.value],
            (m.density.low, m.density.high),
        ),
        None => {
            let grade = Grade::parse(&what, GradeBasis::Oxide).map_err(|e| wrong(e.to_string()))?;
            (
                grade.to_string(),
                [grade.n(), grade.p2o5(), grade.k2o()],
                POWDER,
            )
        }
    };
    let mut forms =
        material
            .and_then(|m| m.forms.as_ref())
            .map_or_else(NitrogenForms::default, |f| NitrogenForms {
                nitrate: Some(f.nitrate),
                ammoniacal: Some(f.ammonium),
                urea: Some(f.urea),
            });
    for piece in pieces {
        let Some((key, value)) = piece.split_once('=') else {
            return Err(wrong(format!("\"{piece}\" is not understood")));
        };
        let number = parse_number(value).map_err(|e| wrong(format!("{key}: {e}")))?;
        match key.trim() {
            "nitrate" => forms.nitrate = Some(number),
            "ammonium" => forms.ammoniacal = Some(number),
            "urea" => forms.urea = Some(number),
            "density" if number > 0.0 => density = (number, number),
            other => {
                let hint =
                    crate::facts::nearest_of(other, &["nitrate", "ammonium", "urea", "density"]);
                return Err(wrong(format!("{other} = {value} is not understood{hint}")));
            }
        }
    }
    let printed: f64 = [forms.nitrate, forms.ammoniacal, forms.urea]
        .into_iter()
        .flatten()
        .sum();
    if printed > grade.first().copied().unwrap_or(0.0) + 0.5 {
        return Err(wrong(format!(
            "the forms of nitrogen add up to {printed} %, more than its nitrogen"
        )));
    }
    let measure = Measure::parse(amount.trim()).map_err(|e| wrong(e.to_string()))?;
    let density = Interval::spanning(density.0, density.1);
    let grams = measure.grams(density, system);
    Ok((
        format!("{} of {name}", amount.trim()),
        measure,
        density,
        InCan {
            grade,
            forms,
            material,
            grams,
        },
    ))
}

impl Judged {
    /// The word for the whole can.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self.worst() {
            Strength::Fine => "FINE",
            Strength::Care => "MIND",
            Strength::Reduce => "LESS",
            Strength::Stop => "STOP",
        }
    }
}
