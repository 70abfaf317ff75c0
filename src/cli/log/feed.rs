//! A feed as it is entered: of a product on the shelf, or the dose of the tree's last plan.

use crate::cli::garden::file::spoons;
use crate::cli::here::fail::Failure;
use crate::cli::log::args::Which;
use crate::cli::log::command::{Entry, blank};
use crate::cli::log::missing;
use crate::cli::words::args::Common;
use crate::knowledge::ProductKind;
use crate::quantity::{Grade, GradeBasis, Interval, PlannedAmount, SpoonSystem, parse_volume};
use crate::record::{Kind, List, Product, Record, Subject, days_between};
use jiff::civil::Date;

/// A volume of water as it was typed, in litres.
pub(in crate::cli) fn litres(typed: Option<&String>, flag: &str) -> Result<Option<f64>, Failure> {
    typed
        .map(|t| {
            parse_volume(t, None)
                .map_err(|e| {
                    let name = if t.chars().any(|c| c.is_ascii_digit()) {
                        ""
                    } else {
                        " A tree is named with --tree NAME."
                    };
                    Failure::Usage(format!("{flag} {t}: {e}{name}"))
                })?
                .mid()
                .ok_or_else(|| Failure::Usage(format!("{flag} {t}: give one volume")))
        })
        .transpose()
}

/// What was typed of a feed.
pub(in crate::cli) struct Typed<'t> {
    pub(in crate::cli) product: Option<&'t String>,
    pub(in crate::cli) amount: Option<&'t String>,
    pub(in crate::cli) water: Option<&'t String>,
}

/// A feed: with product and amount as typed, with neither as the last plan said.
pub(in crate::cli) fn feed(
    record: &Record,
    which: &Which,
    day: Date,
    trees: &[Subject],
    typed: &Typed<'_>,
    common: &Common,
) -> Result<Entry, Failure> {
    let litres = litres(typed.water, "--water")?;
    match (typed.product, typed.amount) {
        (Some(product), Some(amount)) => {
            let garden = record.garden(day)?;
            let found = record.find(List::Product, product)?;
            let product = garden
                .shelf
                .iter()
                .find(|p| p.subject.id == found.id)
                .ok_or_else(|| {
                    Failure::Usage(format!("{} was not on the shelf on {day}", found.name))
                })?;
            let spoons = spoons(common, &garden.site);
            fed(which, day, trees, product, amount, litres, spoons)
        }
        (None, None) => taken_over(record, which, day, trees),
        _ => Err(Failure::Usage(missing::FEED.into())),
    }
}

/// A feed with its product and amount.
fn fed(
    which: &Which,
    day: Date,
    trees: &[Subject],
    product: &Product,
    amount: &str,
    litres: Option<f64>,
    spoons: Option<SpoonSystem>,
) -> Result<Entry, Failure> {
    // "2.9 g in 3.4 L", as a plan says it: of it all, unless --water tells how much of the can this tree got.
    let planned = PlannedAmount::parse(amount)
        .map_err(|e| Failure::Usage(format!("--amount {amount}: {e}")))?;
    if planned.water_litres.is_some() && litres.is_some() {
        return Err(Failure::Usage(format!(
            "--amount {amount}: the water stands there and behind --water; take one of them out"
        )));
    }
    let litres = litres.or(planned.water_litres);
    let measure = planned.amount;
    // Where nobody said whose spoons: the largest, for an entry errs to more.
    let spoons = spoons.unwrap_or(SpoonSystem::Australian);
    let density = product.word("density").and_then(|d| d.parse::<f64>().ok());
    let grams = match (measure.millilitres(spoons), density) {
        (None, _) => measure.grams(Interval::point(1.0), spoons).mid(),
        (Some(ml), Some(density)) => Some(ml * density),
        (Some(_), None) => {
            return Err(Failure::Usage(format!(
                "--amount {amount}: {} has not been weighed, so a spoon of it has no weight; give grams, or weigh one level cup: tubgrove shelf weigh",
                product.subject.name
            )));
        }
    };
    let nitrogen = product
        .word("product_grade")
        .and_then(|g| Grade::parse(g, GradeBasis::Oxide).ok())
        .map(Grade::n);
    let kind = product.word("product_kind").map(str::to_owned);
    let mut events = Vec::new();
    for tree in trees {
        let mut event = blank(which, day, tree, trees.len())?;
        event.kind = if kind.as_deref().and_then(ProductKind::of) == Some(ProductKind::EpsomSalt) {
            Kind::Epsom
        } else {
            Kind::Feed
        };
        event.product = Some(product.subject.id);
        event.what.clone_from(&kind);
        event.grams = grams;
        event.n_mg = grams.zip(nitrogen).map(|(g, n)| g * n * 10.0);
        event.litres = litres;
        events.push(event);
    }
    Ok(Entry {
        events,
        words: vec![],
    })
}

/// Takes over the dose of the last plan of each tree, if it was made for this day or the seven before it.
fn taken_over(
    record: &Record,
    which: &Which,
    day: Date,
    trees: &[Subject],
) -> Result<Entry, Failure> {
    let mut events = Vec::new();
    for tree in trees {
        let advice = record
            .last_advice(Some(tree.id), day)?
            .filter(|a| (0..=7).contains(&days_between(a.day, day)));
        let of_plan = advice.as_ref().map(|a| a.seq);
        let plan = advice.and_then(|a| serde_json::from_str::<serde_json::Value>(&a.plan).ok());
        let portions = plan
            .as_ref()
            .and_then(|p| p.get("dose")?.get("portions")?.as_array())
            .filter(|p| !p.is_empty())
            .ok_or_else(|| {
                Failure::Usage(format!(
                    "{}: no plan of the last seven days gives a dose to take over; give --product and --amount, or run tubgrove precheck --tree first",
                    tree.name
                ))
            })?;
        for portion in portions {
            let number = |key: &str| portion.get(key).and_then(serde_json::Value::as_f64);
            let text = |key: &str| portion.get(key).and_then(serde_json::Value::as_str);
            let mut event = blank(which, day, tree, trees.len())?;
            event.kind = if text("how") == Some("epsom") {
                Kind::Epsom
            } else {
                Kind::Feed
            };
            event.what = text("kind").map(str::to_owned);
            event.grams = number("g");
            event.n_mg = number("n_mg");
            event.litres = number("can_litres");
            event.product = portion
                .get("product_id")
                .and_then(serde_json::Value::as_i64);
            event.advice = of_plan;
            event.then.p2o5_mg = number("p2o5_mg");
            event.then.k2o_mg = number("k2o_mg");
            event.then.label_days = number("label_days");
            event.amount = number("life_weeks");
            if event.note.is_none() {
                event.note = text("feed").map(|f| format!("as planned: {f}"));
            }
            events.push(event);
        }
    }
    Ok(Entry {
        events,
        words: vec![],
    })
}
