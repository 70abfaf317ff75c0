//! `strength`: what a can will contain, for this tree.

use crate::chemistry::extract::Extraction;
use crate::chemistry::water::Water;
use crate::cli::garden::file::open;
use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::look_up::feed_line;
use crate::cli::walk::answers;
use crate::cli::walk::of_tree;
use crate::cli::words::args::{Common, StrengthArgs};
use crate::dose::can::{self, Can, InCan};
use crate::dose::strength::{self, Strength};
use crate::dose::{Ids, Situation, need, water};
use crate::facts::{Sheet, Value};
use crate::knowledge::{Knowledge, Reaction};
use crate::quantity::{
    GradeBasis, Interval, LabelRate, Measure, Per, SpoonSystem, VolumeUnit, parse_number,
    parse_volume,
};
use crate::record::Site;
use crate::report::strength::{Limits, Page, Pot, json, text};

/// Runs the command.
pub(in crate::cli) fn run(
    args: &StrengthArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let common = with_water_ec(args, common);
    let mut known = answers::beforehand(&knowledge.vocabulary, &common, context)?;
    let site = match &args.tree {
        Some(tree) => {
            of_tree::take(tree, None, &knowledge, &common, &mut known)?;
            Some(open(&common)?.garden(context::today(&common)?)?.site)
        }
        None => None,
    };
    let ids = Ids::find(&knowledge.vocabulary).map_err(|lacking| {
        Failure::Outside(format!("facts are missing: {}", lacking.join(", ")))
    })?;
    if args.feeds.is_empty() {
        return Err(Failure::Usage(
            "strength: the can is empty: name what goes into it, such as tubgrove strength \"24-8-16 = 5 g\" --can \"5 L\"".into(),
        ));
    }
    let typed = args.can.as_deref().ok_or_else(|| {
        Failure::Usage(
            "strength: how much water goes into the can is missing: add it, such as --can \"5 L\" or --can \"1 gal\"".into(),
        )
    })?;
    let litres = parse_volume(typed, Some(VolumeUnit::Litre))
        .map_err(|e| Failure::Usage(format!("--can {e}")))?
        .lo();
    let spoons = whose_spoons(&knowledge, &ids, &known, &common);
    let basis = args
        .label_as
        .or_else(|| match choice(&knowledge, &known, ids.grade_basis) {
            Some("element") => Some(GradeBasis::Element),
            Some("oxide") => Some(GradeBasis::Oxide),
            _ => None,
        });
    let mut names = Vec::new();
    let mut items = Vec::new();
    let mut bases = Vec::new();
    for feed in &args.feeds {
        let (name, item, basis) = read_item(&knowledge, feed, litres, spoons, basis)?;
        names.push(name);
        items.push(item);
        bases.extend(basis);
    }
    // The strictest tree that the answers allow: seedlings and self-watering pots have the lowest limits.
    let situations = Situation::all(&ids, &knowledge.vocabulary, &knowledge.rates, &known);
    let water = water_of(args, site.as_ref(), &situations)?;
    let assumed = knowledge.rates.water_ec_default;
    let can = Can::new(&items, litres, water, assumed).ok_or_else(|| {
        Failure::Usage(format!(
            "--can {typed}: a can of no water; type a volume above zero, such as 5 L"
        ))
    })?;
    let held = can.contents(1.0);
    let rates = &knowledge.rates;
    let strictest = situations.iter().min_by(|a, b| {
        let key = |s: &Situation| {
            let (n, salt) = (strength::nitrogen(rates, s), strength::salt(rates, s));
            (salt.fine, n.fine)
        };
        let ((a_salt, a_n), (b_salt, b_n)) = (key(a), key(b));
        a_salt.total_cmp(&b_salt).then(a_n.total_cmp(&b_n))
    });
    let Some(situation) = strictest else {
        return Err(Failure::Outside("no situation".into()));
    };
    let judged = can::judge(rates, situation, &held);
    let reacting = reacting(&knowledge, &items);
    let pot_known = known.value(ids.pot_volume).is_known();
    let pot = pot_known.then(|| {
        let reading = reading(&knowledge, &ids, &known);
        pot_of(rates, situation, &held, reading)
    });
    let mix = situation
        .temperature
        .mid()
        .unwrap_or(rates.mix_temperature_unknown);
    let slow = can
        .undissolved()
        .iter()
        .map(|item| can::slow(rates, pot_known.then_some(situation), item, mix))
        .collect::<Vec<_>>();
    let limits = Limits::all(rates, situation);
    let page = Page {
        names: &names,
        dissolves: items.iter().map(InCan::dissolves).collect(),
        can: &can,
        contents: &held,
        judged,
        limits,
        by_pot: limits.verdicts(rates, &held),
        pot,
        strictest: situations.len() > 1,
        traces: can::traces(rates, &held).collect(),
        reacting: &reacting,
        sediment: can::sediment(rates, &can),
        less: can::less(
            rates,
            situation,
            &can,
            spoons.unwrap_or(SpoonSystem::Australian),
        ),
        edges: can::at_label_edge(rates, situation, &can, assumed),
        bases: &bases,
        slow: &slow,
        mix_temperature: mix,
    };
    let printed = if common.json {
        json(&page).map_err(|e| Failure::Outside(e.to_string()))? + "\n"
    } else {
        text(&page, context.style(), common.working)
    };
    if common.json {
        context.print(&printed)?;
    } else {
        context.print_text(&printed)?;
    }
    Ok(if page.verdict() >= Strength::Reduce {
        4
    } else {
        0
    })
}

/// `--water-ec` is the fact `water_ec`: two figures that differ are told as any two answers are.
fn with_water_ec(args: &StrengthArgs, common: &Common) -> Common {
    let mut common = common.clone();
    if let Some(ec) = &args.water_ec {
        common.set.push(format!("water_ec={ec}"));
    }
    common
}

/// The water's figures.
fn water_of(
    args: &StrengthArgs,
    site: Option<&Site>,
    situations: &[Situation],
) -> Result<Water, Failure> {
    let figure = |flag: &str, typed: &Option<String>| match typed {
        None => Ok(None),
        Some(typed) => {
            let x = parse_number(typed).map_err(|e| Failure::Usage(format!("{flag} {e}")))?;
            if x > 5000.0 {
                return Err(Failure::Usage(format!(
                    "{flag} {typed}: more than any water for plants; it is in mg per litre, as the water company prints it"
                )));
            }
            Ok(Some(x))
        }
    };
    let kept = |figure: fn(&Site) -> Option<f64>| site.and_then(figure);
    Ok(Water {
        ec: situations
            .first()
            .filter(|s| s.water_measured)
            .map(|s| s.water_ec),
        hardness: figure("--water-hardness", &args.water_hardness)?.or(kept(|s| s.water_hardness)),
        alkalinity: figure("--water-alkalinity", &args.water_alkalinity)?
            .or(kept(|s| s.water_alkalinity)),
        chloride: figure("--water-chloride", &args.water_chloride)?.or(kept(|s| s.water_chloride)),
    })
}

fn choice<'k>(
    knowledge: &'k Knowledge,
    sheet: &Sheet,
    fact: crate::facts::FactId,
) -> Option<&'k str> {
    let chosen = knowledge.vocabulary.get(fact).chosen(sheet.value(fact));
    chosen.map(|c| c.id.as_str())
}

/// Whose spoons: the units asked for, the answer, or not known.
fn whose_spoons(
    knowledge: &Knowledge,
    ids: &Ids,
    sheet: &Sheet,
    common: &Common,
) -> Option<SpoonSystem> {
    match common.units {
        Some(crate::cli::words::args::Units::Us) => Some(SpoonSystem::Us),
        Some(crate::cli::words::args::Units::Metric) => Some(SpoonSystem::Metric),
        None => crate::dose::feed::spoons(ids, knowledge, sheet),
    }
}

/// The measured EC of the mix with its method; the 1:2 row where the method is not known.
fn reading(knowledge: &Knowledge, ids: &Ids, sheet: &Sheet) -> Option<(f64, Extraction)> {
    let Value::Number(ec) = sheet.value(ids.mix_ec) else {
        return None;
    };
    let method = match choice(knowledge, sheet, ids.ec_method) {
        Some("saturated") => Extraction::Saturated,
        Some("pour_through") => Extraction::PourThrough,
        _ => Extraction::OneToTwo,
    };
    Some((ec.hi(), method))
}

/// What this pot gets of the can.
fn pot_of(
    rates: &crate::knowledge::Rates,
    s: &Situation,
    held: &can::Contents,
    reading: Option<(f64, Extraction)>,
) -> Pot {
    let litres = water::can_litres(rates, s).min(held.litres);
    let weekly = need::weekly(rates, s) * need::pot_share(rates, s);
    Pot {
        volume: s.mix_litres,
        takes: water::can_litres(rates, s),
        litres,
        n_mg: (held.n.0 * litres, held.n.1 * litres),
        weekly_mg: weekly,
        in_mix: can::in_mix(rates, s, held, litres, reading),
    }
}

/// Reactions between what goes into the can.
fn reacting<'k>(knowledge: &'k Knowledge, items: &[InCan<'_>]) -> Vec<&'k Reaction> {
    knowledge
        .reactions
        .iter()
        .filter(|r| r.when != "dry")
        .filter(|r| {
            items.iter().enumerate().any(|(i, a)| {
                items
                    .iter()
                    .enumerate()
                    .any(|(j, b)| i != j && a.carries(&r.a) && b.carries(&r.b))
            })
        })
        .collect()
}

type Item<'k> = (String, InCan<'k>, Option<(GradeBasis, bool)>);

/// `24-8-16 = 15 g`, `Epsom salt = 5 g`, `20-20-20, nitrate=6, ammonium=4, urea=10 = 1 tbsp per gallon`.
fn read_item<'k>(
    knowledge: &'k Knowledge,
    typed: &str,
    litres: f64,
    spoons: Option<SpoonSystem>,
    basis: Option<GradeBasis>,
) -> Result<Item<'k>, Failure> {
    let wrong = |problem: String| Failure::Usage(format!("\"{typed}\": {problem}"));
    let Some((feed, amount)) = typed.rsplit_once('=') else {
        return Err(wrong(
            "write it as FEED = AMOUNT, such as \"24-8-16 = 15 g\"".into(),
        ));
    };
    let amount = amount.trim();
    let feed = feed_line::read(knowledge, feed, basis)?;
    let (measure, times) = match Measure::parse(amount) {
        Ok(measure) => (measure, 1.0),
        Err(e) => match LabelRate::parse(amount).map(|rate| (rate.amount, rate.per)) {
            Ok((measure, Per::LitresOfWater(per))) if per > 0.0 => (measure, litres / per),
            Ok(_) => {
                return Err(wrong(format!(
                    "{amount}: for a can type the amount, such as 15 g, or a rate per litre or gallon of water, such as 1 g per L"
                )));
            }
            Err(_) => return Err(wrong(e.to_string())),
        },
    };
    let grams = match spoons {
        Some(system) => measure.grams(feed.density, system),
        // Whose spoon it is has not been said: from the smallest to the largest.
        None => measure.millilitres_any().map_or_else(
            || measure.grams(feed.density, SpoonSystem::Metric),
            |ml| Interval::spanning(feed.density.lo() * ml.lo(), feed.density.hi() * ml.hi()),
        ),
    };
    Ok((
        format!("{amount} of {}", feed.name),
        InCan {
            grade: feed.grade,
            forms: feed.forms,
            minerals: feed.minerals,
            material: feed.material,
            release: feed.release,
            life_weeks: feed.life_weeks,
            density: feed.density,
            grams: grams.scale(times),
        },
        feed.basis,
    ))
}
