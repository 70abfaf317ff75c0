//! `shelf`: the products of the record.

use crate::cli::ask::entry_questions;
use crate::cli::garden::args::{ProductArgs, ShelfCommand};
use crate::cli::garden::file::{begin, fact_text, open, past_day, spoons, stamp};
use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::words::args::Common;
use crate::facts::{Origin, Sheet, Value};
use crate::knowledge::Knowledge;
use crate::quantity::{
    Interval, LabelLine, Measure, SpoonSystem, parse_volume, short_figures, show_grams,
};
use crate::record::{About, Event, Kind, List, Product, Word, add, add_event, rename, retire, say};
use crate::report::style::Tone;

/// Runs the command.
pub(in crate::cli) fn run(
    command: &ShelfCommand,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let today = context::today(common)?;
    match command {
        ShelfCommand::Add { name, args } => {
            let name = match name {
                Some(name) => name.clone(),
                None if context.can_ask && !common.no_input => {
                    entry_questions::name("What do you call this product?", context)?
                }
                None => {
                    return Err(Failure::Usage(
                        "what do you call this product? For example: tubgrove shelf add Powder --kind soluble --grade 24-8-16 --label \"1 g per L every 14 days\"".into(),
                    ));
                }
            };
            put(&name, None, args, true, common, context)
        }
        ShelfCommand::Change { name, rename, args } => {
            put(name, rename.as_ref(), args, false, common, context)
        }
        ShelfCommand::List => {
            let garden = open(common)?.garden(today)?;
            let mut out = String::new();
            if garden.shelf.is_empty() {
                out.push_str(
                    "The shelf is empty: tubgrove shelf add NAME --kind KIND --grade N-P-K\n",
                );
            }
            for product in &garden.shelf {
                out.push_str(&product_lines(product, context));
            }
            context.print(&out)?;
            Ok(0)
        }
        ShelfCommand::Show { name } => {
            let record = open(common)?;
            let found = record.find(List::Product, name)?;
            let garden = record.garden(today)?;
            let product = garden.shelf.iter().find(|p| p.subject.id == found.id);
            let text = product.map_or_else(
                || format!("{} is not on the shelf any more.\n", found.name),
                |p| product_lines(p, context),
            );
            context.print(&text)?;
            Ok(0)
        }
        ShelfCommand::Weigh { name, weight, of } => weigh(name, weight, of, common, context),
        ShelfCommand::Retire { name } => {
            let mut record = open(common)?;
            let product = record.find(List::Product, name)?;
            record.write(|db| retire(db, List::Product, product.id, today))?;
            context.print(&format!("{} is off the shelf.\n", product.name))?;
            Ok(0)
        }
    }
}

fn product_lines(product: &Product, context: &Context) -> String {
    let style = context.style();
    format!(
        "{}\n{}\n",
        style.tone(&product.subject.name, Tone::Heading),
        style.wrap(&about(product).join(" · "), "  ", "  ")
    )
}

/// What is known of a product, with units.
fn about(product: &Product) -> Vec<String> {
    let mut about: Vec<String> = ["product_kind", "product_grade", "label_rate"]
        .into_iter()
        .filter_map(|f| product.word(f).map(|v| short_figures(&v.replace('_', " "))))
        .collect();
    if let Some(days) = product.word("label_interval_days") {
        let unit = if days.chars().all(|c| c.is_ascii_digit()) {
            " days"
        } else {
            ""
        };
        about.push(format!("every {days}{unit}"));
    }
    if let Some(weeks) = product.word("coated_life_weeks") {
        let unit = if weeks.contains("week") { "" } else { " weeks" };
        about.push(format!("lasts {weeks}{unit}"));
    }
    if let Some(density) = product.word("density") {
        about.push(format!("{density} g/mL, weighed"));
    }
    if let Some(price) = product.word("price") {
        about.push(format!("{price} a kg"));
    }
    if let Some(left) = product.left_g {
        about.push(format!("{} left", show_grams(left)));
    }
    about
}

/// Grams of a weight that was typed.
pub(in crate::cli) fn grams(typed: &str, flag: &str) -> Result<f64, Failure> {
    let wrong = |what: String| Failure::Usage(format!("{flag} {typed}: {what}"));
    let measure = Measure::parse(typed).map_err(|e| wrong(e.to_string()))?;
    if measure.millilitres(SpoonSystem::Metric).is_some() {
        return Err(wrong("give a weight, such as 800 g or 2 kg".into()));
    }
    measure
        .grams(Interval::point(1.0), SpoonSystem::Metric)
        .mid()
        .ok_or_else(|| wrong("give one weight".into()))
}

fn words(
    args: &ProductArgs,
    knowledge: &Knowledge,
    common: &Common,
) -> Result<Vec<(String, String)>, Failure> {
    let today = context::today(common)?;
    let mut words: Vec<(String, String)> = Vec::new();
    for (fact, flag, typed) in [
        ("product_kind", "--kind", &args.kind),
        ("product_grade", "--grade", &args.grade),
        ("grade_basis", "--basis", &args.basis),
        ("coated_life_weeks", "--weeks", &args.weeks),
    ] {
        if let Some(typed) = typed {
            let (_, _, text) = fact_text(&knowledge.vocabulary, fact, flag, typed)?;
            words.push((fact.into(), text));
        }
    }
    if let Some(typed) = &args.label {
        let line =
            LabelLine::parse(typed).map_err(|e| Failure::Usage(format!("--label {typed}: {e}")))?;
        let (_, _, text) = fact_text(
            &knowledge.vocabulary,
            "label_rate",
            "--label",
            &line.rate.to_string(),
        )?;
        words.push(("label_rate".into(), text));
        if let Some(days) = line.interval_days {
            let (_, _, text) = fact_text(
                &knowledge.vocabulary,
                "label_interval_days",
                "--label",
                &format!("{days} days"),
            )?;
            words.push(("label_interval_days".into(), text));
        }
    }
    if let Some(price) = args.price {
        if !(0.0..1e6).contains(&price) {
            return Err(Failure::Usage(format!(
                "--price {price}: a price lies between 0 and a million"
            )));
        }
        words.push(("price".into(), price.to_string()));
    }
    if let Some(typed) = &args.opened {
        words.push((
            "opened".into(),
            past_day(typed, "--opened", today)?.to_string(),
        ));
    }
    Ok(words)
}

fn put(
    name: &str,
    renamed: Option<&String>,
    args: &ProductArgs,
    new: bool,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let mut words = words(args, &knowledge, common)?;
    if new && context.can_ask && !common.no_input {
        ask(&knowledge, &mut words, context)?;
    }
    let left = args.left.as_ref().map(|t| grams(t, "--left")).transpose()?;
    let stamp = stamp(&knowledge);
    let mut record = if new { begin(common)? } else { open(common)? };
    let old = if new {
        None
    } else {
        Some(record.find(List::Product, name)?)
    };
    if !new && words.is_empty() && left.is_none() && renamed.is_none() {
        return Err(Failure::Usage(
            "say what changes, such as --left \"500 g\"".into(),
        ));
    }
    let id = record.write(|db| {
        let id = match &old {
            Some(product) => product.id,
            None => add(db, List::Product, name, today)?,
        };
        if let Some(name) = renamed {
            rename(db, List::Product, id, name)?;
        }
        for (what, value) in &words {
            let word = Word {
                about: About::Product(id),
                what: what.clone(),
                value: value.clone(),
                day: today,
            };
            say(db, &word, &stamp)?;
        }
        if let Some(grams) = left {
            let mut event = Event::new(today, Kind::Stock);
            event.product = Some(id);
            event.grams = Some(grams);
            add_event(db, &event, &stamp)?;
        }
        Ok(id)
    })?;
    let garden = record.garden(today)?;
    let product = garden.shelf.iter().find(|p| p.subject.id == id);
    let (called, known) = product.map_or_else(
        || (name.to_owned(), String::new()),
        |p| (p.subject.name.clone(), about(p).join(", ")),
    );
    let line = match (new, known.is_empty()) {
        (true, true) => format!("{called} is on the shelf."),
        (true, false) => format!("On the shelf: {called}: {known}."),
        (false, _) => format!("Changed {called}: {known}."),
    };
    context.print(&format!("{}\n", context.style().wrap(&line, "", "  ")))?;
    Ok(0)
}

/// Asks for what the label says, as far as the flags left it open.
fn ask(
    knowledge: &Knowledge,
    words: &mut Vec<(String, String)>,
    context: &Context,
) -> Result<(), Failure> {
    let mut sheet = Sheet::new(knowledge.vocabulary.len());
    for (what, text) in words.iter() {
        if let Some(id) = knowledge.vocabulary.find(what)
            && let Ok(value) = Value::read(knowledge.vocabulary.get(id), text)
        {
            sheet.set(id, value, Origin::Flag);
        }
    }
    let more = entry_questions::fill(
        knowledge,
        &["which_feed", "label_line"],
        "A new product",
        &mut sheet,
        None,
        context,
    )?;
    words.extend(more);
    Ok(())
}

fn weigh(
    name: &str,
    weight: &str,
    of: &str,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let mut record = open(common)?;
    let product = record.find(List::Product, name)?;
    let grams = grams(weight, "the weight")?;
    // Where nobody said whose cup: the smallest, for a dose in spoons errs to less and an entry to more.
    let site = record.site(today)?;
    let whose = spoons(common, &site).unwrap_or(SpoonSystem::Us);
    let ml = Measure::parse(of)
        .ok()
        .and_then(|m| m.millilitres(whose))
        .or_else(|| Some(parse_volume(of, None).ok()?.mid()? * 1000.0))
        .filter(|ml| *ml > 0.0)
        .ok_or_else(|| {
            Failure::Usage(format!(
                "--of {of}: name a measure, such as 1 cup or 250 mL"
            ))
        })?;
    let density = grams / ml;
    if !(0.1..=3.0).contains(&density) {
        return Err(Failure::Usage(format!(
            "{weight} in {of} would be {density:.2} g per mL; feeds lie between 0.1 and 3. Weigh again, without the vessel"
        )));
    }
    let word = Word {
        about: About::Product(product.id),
        what: "density".into(),
        value: format!("{density:.3}"),
        day: today,
    };
    let stamp = stamp(&knowledge);
    record.write(|db| say(db, &word, &stamp))?;
    context.print(&format!(
        "{}: {density:.2} g per mL; a level metric teaspoon is {:.1} g.\n",
        product.name,
        density * 5.0
    ))?;
    Ok(0)
}
