//! `round`: one feeding day for all trees, planned; `--done` enters it.

use crate::cli::ask::Asker;
use crate::cli::ask::entry_questions;
use crate::cli::garden::day_args::RoundArgs;
use crate::cli::garden::file::{open, stamp};
use crate::cli::here::context::{self, Context};
use crate::cli::here::cores::on_all_cores;
use crate::cli::here::fail::Failure;
use crate::cli::round::choice::{OnHand, chosen, default_product, products};
use crate::cli::round::done;
use crate::cli::round::looks;
use crate::cli::round::walk;
use crate::cli::walk::answers;
use crate::cli::walk::next_day::{Place, waits_for_a_day};
use crate::cli::walk::of_tree::is_slow;
use crate::cli::walk::one::write_page;
use crate::cli::walk::opening::{end_of_ban, open_walk};
use crate::cli::walk::told::{self, Told};
use crate::cli::words::args::{Common, Units};
use crate::facts::{OnRecord, Origin, Sheet, Value};
use crate::knowledge::{Knowledge, Rates};
use crate::plan::{Advisor, KnowledgeStamp, Plan, contradiction, prefer_spoons};
use crate::quantity::{Grade, GradeBasis, Interval};
use crate::record::{
    Garden, Kind, Outlook, Record, Sky, Story, Waiting, days_between, facts, keep, product_facts,
    quoted,
};
use crate::report;
use crate::report::html;
use crate::round::{OnShelf, Product, Round, Seen, TreeDay, round};
use crate::walk::{Session, Walk};
use jiff::civil::Date;
use std::collections::HashMap;

/// The walk that each tree goes.
const WALK: &str = "round";
/// What the record only knows from the typical climate: a thermometer and a look out of the window go first.
const TYPICAL: [&str; 2] = ["air_temperature", "rain_pattern"];

/// Runs the command.
pub(in crate::cli) fn run(
    args: &RoundArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    if args.done {
        return done::run(args, common, context);
    }
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let mut record = open(common)?;
    let garden = record.garden(today)?;
    let (walk, mut advisor) = open_walk(WALK, &knowledge, today)?;
    advisor.late = garden.site.too_late_for_slow(&knowledge.rates, today);
    advisor.ends.extend(end_of_ban(&garden.site, today));
    let stories = chosen(&record, &garden, &args.tree)?;
    let mut asker = asker(common, context);
    if let Some(asker) = asker.as_deref_mut().filter(|_| !args.looked) {
        asker.tell(&walk.title);
        asker.tell(&walk.intro);
    }
    let default = default_product(&garden, args.product.as_deref(), asker.as_deref_mut())?;
    let products = products(&garden, &stories, default, &args.give)?;
    let names: Vec<String> = stories.iter().map(|s| s.tree.name.clone()).collect();
    let fresh = known(&knowledge, &garden, &stories, &products, common, context)?;
    let on_record: Vec<OnRecord> = fresh
        .iter()
        .map(|sheet| OnRecord::of(&knowledge.vocabulary, sheet))
        .collect();
    let told_to_wait = waiting(&record, &stories, today)?;
    let apply = |mut sheets: Vec<Sheet>, seen: &Seen, from| {
        for (at, sheet) in sheets.iter_mut().enumerate() {
            // Growth may be told beforehand of one tree; nobody has seen it on all of them.
            let growth_told = stories.len() == 1 && sheet.value(advisor.ids.new_growth).is_known();
            seen.apply(&knowledge.round, at, sheet, from);
            // "All looked at" does not tell that fresh roots have made new growth.
            let fresh = stories.get(at).is_some_and(|story| {
                args.looked && !growth_told && repotted_lately(&knowledge.rates, story, today)
            });
            if fresh {
                sheet.set(advisor.ids.new_growth, Value::NotSure, from);
            }
            // One look along the row is no second look at what was found on one tree.
            if let Some(held) = on_record.get(at) {
                held.hold(&knowledge.vocabulary, sheet);
            }
            if told_to_wait.get(at).is_some_and(Option::is_some) {
                told(&knowledge, sheet);
            }
        }
        sheets
    };
    let (seen, sheets) = if args.looked {
        let seen = looks::by_flags(&knowledge, args, &names)?;
        let mut sheets = apply(fresh, &seen, Origin::Flag);
        the_day(
            &knowledge,
            &mut sheets,
            asker.as_deref_mut(),
            common.rest_not_sure,
        )?;
        (seen, sheets)
    } else if let Some(asker) = asker.as_deref_mut() {
        let day = !common.rest_not_sure;
        walk::ask(&knowledge, &names, (day, context.can_ask), asker, &|seen| {
            apply(fresh.clone(), seen, Origin::Asked)
        })?
    } else {
        return Err(Failure::Missing(vec![
            "what you saw along the pots  (--looked, with --dry, --wet, --signs, --lately, --unseen TREE)".into(),
        ]));
    };
    let mut days = days(
        &advisor,
        walk,
        &garden,
        (&stories, &told_to_wait),
        &products,
        &sheets,
    );
    for (at, tree) in days.iter_mut().enumerate() {
        tree.seen = seen.says(&knowledge.round, at);
    }
    let shelf: Vec<OnShelf> = garden
        .shelf
        .iter()
        .map(|p| OnShelf {
            id: p.subject.id,
            name: p.subject.name.clone(),
            left_g: p.left_g,
        })
        .collect();
    let stamped = KnowledgeStamp {
        version: knowledge.version.clone(),
        origin: knowledge.origin.clone(),
    };
    let plan = round(
        &knowledge.rates,
        &today.to_string(),
        stamped,
        &days,
        &garden.site.cans,
        &shelf,
    );
    let too_much: Vec<i64> = days
        .iter()
        .filter(|day| told::waits_for_it(&day.plan))
        .map(|day| day.id)
        .collect();
    let by_record: Vec<i64> = days
        .iter()
        .filter(|day| waits_for_a_day(&day.plan))
        .map(|day| day.id)
        .collect();
    let stored = store(&mut record, &plan, &too_much, &by_record, today, &knowledge);
    let printed = if common.json {
        let text =
            serde_json::to_string_pretty(&plan).map_err(|e| Failure::Outside(e.to_string()))?;
        context.print(&(text + "\n"))
    } else {
        context.print_text(&report::round::text(&plan, context.style(), context.us))
    };
    if let Some(path) = &args.html {
        write_page(
            path,
            &html::round(&plan, context.us),
            "the plan itself holds",
        )?;
    }
    printed?;
    stored?;
    // Taking thousands of plans apart before the end would cost as much as writing them.
    std::mem::forget((days, garden));
    Ok(0)
}

/// Asks what holds for the whole place, where the looks were given by flags.
fn the_day(
    knowledge: &Knowledge,
    sheets: &mut [Sheet],
    asker: Option<&mut (dyn Asker + 'static)>,
    rest_not_sure: bool,
) -> Result<(), Failure> {
    let place = looks::WholePlace::of(knowledge, sheets);
    let missing = place.missing();
    if rest_not_sure || missing.is_empty() {
        return Ok(());
    }
    let asker = asker.ok_or(Failure::Missing(missing))?;
    let mut answers = Sheet::new(knowledge.vocabulary.len());
    while !place.ask(&mut answers, asker)? {
        if asker.yes_no("Leave?") != Some(false) {
            return Err(Failure::Interrupted("Left.".into()));
        }
    }
    looks::fill_in(&answers, sheets);
    Ok(())
}

fn store(
    record: &mut Record,
    plan: &Round,
    too_much: &[i64],
    by_record: &[i64],
    today: jiff::civil::Date,
    knowledge: &Knowledge,
) -> Result<(), Failure> {
    let stamp = stamp(knowledge);
    let kept = done::to_keep(plan, too_much, by_record)?;
    record.write(|db| keep(db, today, WALK, None, &kept, &stamp))?;
    Ok(())
}

/// Somebody to ask, where there is one.
fn asker(common: &Common, context: &Context) -> Option<Box<dyn Asker>> {
    let somebody = context.can_ask || context.piped || common.plain;
    if common.no_input || !somebody {
        return None;
    }
    Some(entry_questions::asker(context))
}

/// Whether it was repotted so lately that it is fed only where new growth was seen.
fn repotted_lately(rates: &Rates, story: &Story, today: Date) -> bool {
    story
        .last(Kind::Repot)
        .is_some_and(|e| f64::from(days_between(e.day, today)) < rates.fresh_mix_days)
}

/// What is known of each tree before anybody looks: flags and files first, then the record.
fn known(
    knowledge: &Knowledge,
    garden: &Garden,
    stories: &[&Story],
    products: &[&OnHand],
    common: &Common,
    context: &Context,
) -> Result<Vec<Sheet>, Failure> {
    let given = answers::beforehand(&knowledge.vocabulary, common, context)?;
    if let Some(what) = contradiction(knowledge, &given) {
        return Err(Failure::Usage(what));
    }
    let sky = Sky::of(&knowledge.rates, garden);
    let mut labels: HashMap<i64, Sheet> = HashMap::new();
    for product in products {
        labels
            .entry(product.subject.id)
            .or_insert_with(|| product_facts(knowledge, product));
    }
    on_all_cores(stories.len(), &|at| {
        let (story, product) = (stories.get(at)?, products.get(at)?);
        let label = labels.get(&product.subject.id)?;
        let mut sheet = given.clone();
        let of_tree = facts(knowledge, &sky, story);
        for (id, entry) in of_tree.iter().chain(label.iter()) {
            let fact = knowledge.vocabulary.get(id);
            match sheet.entry(id) {
                None => sheet.set(id, entry.value, Origin::Record),
                // A rule of the place or a feed on record cannot be set away for all trees at once.
                Some(g)
                    if g.value != entry.value
                        && g.from != Origin::Record
                        && !TYPICAL.contains(&fact.id.as_str()) =>
                {
                    return Some(Err(Failure::Usage(format!(
                        "{}: the record says {} for {}, the {} says {}; take the other out, or change the record",
                        fact.id,
                        entry.value.write(fact),
                        story.tree.name,
                        g.from.word(),
                        g.value.write(fact)
                    ))));
                }
                Some(_) => {}
            }
        }
        prefer_spoons(knowledge, common.units.map(Units::spoons), &mut sheet);
        Some(Ok(sheet))
    })
    .into_iter()
    .collect()
}

/// Decides every tree.
fn days(
    advisor: &Advisor<'_>,
    walk: &Walk,
    garden: &Garden,
    (stories, waiting): (&[&Story], &[Option<Waiting>]),
    products: &[&OnHand],
    sheets: &[Sheet],
) -> Vec<TreeDay> {
    let knowledge = advisor.knowledge;
    let outlook = Outlook::of(&knowledge.rates, garden);
    let opens = |sheet: &Sheet, gate| advisor.opens(sheet, gate);
    let complete = |sheet: &mut Sheet| advisor.complete(sheet);
    on_all_cores(stories.len(), &|at| {
        let (story, product, sheet) = (stories.get(at)?, products.get(at)?, sheets.get(at)?);
        let mut told = Told::of(
            knowledge,
            garden,
            advisor.late,
            story,
            is_slow(knowledge, sheet),
        );
        let waits = waiting.get(at).and_then(Option::as_ref);
        told.ends.extend(waits.map(|w| (TOLD_TO_WAIT, w.again)));
        let mut session = Session::new(knowledge, walk, sheet.clone(), &opens, &complete);
        let sheet = session.rest_not_sure();
        let mut plan = if told.ends.is_empty() {
            advisor.brief(walk, &sheet)
        } else {
            let mut advisor = advisor.clone();
            advisor.ends.extend_from_slice(&told.ends);
            advisor.brief(walk, &sheet)
        };
        told.tell_in_a_line(&mut plan);
        if let Some(waits) = waits {
            say_what_it_was_told(&mut plan, waits, &story.tree.name);
        }
        let place = Place {
            knowledge,
            garden,
            outlook: &outlook,
            story,
            product: Some(product.subject.id),
        };
        place.settle(&mut plan, &sheet);
        Some(TreeDay {
            id: story.tree.id,
            name: story.tree.name.clone(),
            reservoir: story.word("pot_kind") == Some("reservoir"),
            product: Some(given(knowledge, product, &sheet)),
            seen: Vec::new(),
            plan: slim(plan),
        })
    })
}

/// What each tree was told when it was looked at by itself, where that still stands.
fn waiting(
    record: &Record,
    stories: &[&Story],
    today: Date,
) -> Result<Vec<Option<Waiting>>, Failure> {
    let all = record.waiting_by_itself()?;
    let of = |story: &&Story| {
        all.iter()
            .find(|w| w.tree == story.tree.id && w.outlasts_a_round(story, today))
            .cloned()
    };
    Ok(stories.iter().map(of).collect())
}

/// The rule for a tree that was told to wait when it was looked at by itself, and the answer it reads.
const TOLD_TO_WAIT: &str = "told_to_wait";

fn told(knowledge: &Knowledge, sheet: &mut Sheet) {
    if let Some(id) = knowledge.vocabulary.find(TOLD_TO_WAIT)
        && let Ok(yes) = Value::read(knowledge.vocabulary.get(id), "yes")
    {
        sheet.set(id, yes, Origin::Record);
    }
}

/// The rule speaks of any tree; here it says what this one was told.
fn say_what_it_was_told(plan: &mut Plan, waits: &Waiting, name: &str) {
    if let Some(rule) = plan.cautions.iter_mut().find(|c| c.id == TOLD_TO_WAIT) {
        rule.summary = format!(
            "On {} it was told to wait: {}. Only a look at it by itself ends that: tubgrove precheck --tree {}",
            waits.on,
            waits.said.trim_end_matches('.'),
            quoted(name)
        )
        .into();
    }
}

/// A plan without what a round does not read: thousands of them lie in memory at once.
fn slim(mut plan: Plan) -> Plan {
    for caution in &mut plan.cautions {
        caution.detail = String::new().into();
        caution.lifts = String::new().into();
        caution.source = Vec::new();
    }
    plan
}

fn given(knowledge: &Knowledge, product: &OnHand, sheet: &Sheet) -> Product {
    let grade = knowledge
        .vocabulary
        .find("product_grade")
        .map(|f| sheet.value(f));
    let nitrogen = match grade {
        Some(Value::Grade(g)) => g.n(),
        _ => product
            .word("product_grade")
            .and_then(|g| Grade::parse(g, GradeBasis::Oxide).ok())
            .map_or(0.0, Grade::n),
    };
    Product {
        id: product.subject.id,
        name: product.subject.name.clone(),
        kind: product.word("product_kind").unwrap_or_default().to_owned(),
        nitrogen,
        density: product
            .word("density")
            .and_then(|d| d.parse::<f64>().ok())
            .filter(|d| *d > 0.0)
            .map(|d| {
                let spread = knowledge.rates.density_weighed_spread;
                Interval::spanning(d * (1.0 - spread), d * (1.0 + spread))
            }),
    }
}
