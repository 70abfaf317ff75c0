//! `tree`: the trees of the record.

use crate::cli::ask::entry_questions;
use crate::cli::garden::args::{TreeArgs, TreeCommand};
use crate::cli::garden::file::{begin, fact_text, open, past_day, stamp};
use crate::cli::garden::tree_words::{in_words, kind_in, worth};
use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::words::args::Common;
use crate::facts::{FactId, Origin, Sheet};
use crate::knowledge::Knowledge;
use crate::record::{
    About, Event, FROM_BEFORE, Kind, List, Sky, Word, add, add_event, facts, note, rename, retire,
    say,
};
use crate::report::style::Tone;
use jiff::civil::Date;

/// What is asked for when a tree is added and a flag does not say it.
const ASKED: [&str; 6] = [
    "citrus_type",
    "tree_stage",
    "pot_kind",
    "pot_volume",
    "tree_height",
    "place",
];
/// Asked for, but not named as lacking afterwards: it matters only for a small tree in a large pot.
const MAY_LACK: &str = "tree_height";

/// Runs the command.
pub(in crate::cli) fn run(
    command: &TreeCommand,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    match command {
        TreeCommand::Add { name, args } => add_tree(name.as_deref(), args, common, context),
        TreeCommand::Change {
            name,
            rename,
            cleared,
            args,
        } => change(name, (rename.as_ref(), *cleared), args, common, context),
        TreeCommand::List => list(common, context),
        TreeCommand::Show { name } => show(name, common, context),
        TreeCommand::Retire { name, on } => {
            let today = context::today(common)?;
            let day = match on {
                Some(typed) => past_day(typed, "--on", today)?,
                None => today,
            };
            let mut record = open(common)?;
            let tree = record.find(List::Tree, name)?;
            if tree.retired.is_some() {
                return Err(Failure::Usage(format!("{} is retired already", tree.name)));
            }
            if day < tree.since {
                return Err(Failure::Usage(format!(
                    "{} is in the record since {}; it cannot have left before",
                    tree.name, tree.since
                )));
            }
            record.write(|db| retire(db, List::Tree, tree.id, day))?;
            context.print(&format!(
                "{} is off the lists since {day}; its story stays.\n",
                tree.name
            ))?;
            Ok(0)
        }
    }
}

/// The fact of signs that must be reported.
const SIGNS: &str = "notifiable_signs";

/// That it has none of them, as somebody found who knows them.
fn no_signs(knowledge: &Knowledge) -> Option<(&'static str, FactId, crate::facts::Value, String)> {
    let id = knowledge.vocabulary.find(SIGNS)?;
    let fact = knowledge.vocabulary.get(id);
    let none = crate::facts::Value::read(fact, "none").ok()?;
    Some((SIGNS, id, none, none.write(fact)))
}

/// What the flags say, as facts and their text in the record.
fn given(
    args: &TreeArgs,
    knowledge: &Knowledge,
) -> Result<Vec<(&'static str, FactId, crate::facts::Value, String)>, Failure> {
    let flags: [(&'static str, &str, &Option<String>); 7] = [
        ("citrus_type", "--citrus", &args.citrus),
        ("tree_stage", "--stage", &args.stage),
        ("pot_kind", "--pot", &args.pot),
        ("pot_volume", "--volume", &args.volume),
        ("reservoir_volume", "--tank", &args.tank),
        ("tree_height", "--height", &args.height),
        ("place", "--place", &args.place),
    ];
    flags
        .into_iter()
        .filter_map(|(fact, flag, typed)| Some((fact, flag, typed.as_ref()?)))
        .map(|(fact, flag, typed)| {
            let (id, value, text) = fact_text(&knowledge.vocabulary, fact, flag, typed)?;
            Ok((fact, id, value, text))
        })
        .collect()
}

/// What the flags say besides facts: words of our own and events from before the record.
fn others(args: &TreeArgs, id: i64, day: Date) -> Result<(Vec<Word>, Vec<Event>), Failure> {
    let mut words = Vec::new();
    let mut events = Vec::new();
    for (what, typed) in [("mix", &args.mix), ("note", &args.note)] {
        if let Some(typed) = typed {
            words.push(Word {
                about: About::Tree(id),
                what: what.into(),
                value: note(typed).map_err(|e| Failure::Usage(format!("--{what}: {e}")))?,
                day,
            });
        }
    }
    for (flag, typed, kind) in [
        ("--repotted", &args.repotted, Kind::Repot),
        ("--fed", &args.fed, Kind::Feed),
    ] {
        if let Some(typed) = typed {
            let mut event = Event::new(past_day(typed, flag, day)?, kind);
            event.tree = Some(id);
            event.note = Some(FROM_BEFORE.into());
            events.push(event);
        }
    }
    Ok((words, events))
}

fn add_tree(
    name: Option<&str>,
    args: &TreeArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let can_ask = context.can_ask && !common.no_input;
    let name = match name {
        Some(name) => crate::record::name(name).map_err(Failure::Usage)?,
        None if can_ask => entry_questions::name("What do you call this tree?", context)?,
        None => {
            return Err(Failure::Usage(
                "what do you call this tree? For example: tubgrove tree add \"Terrace kumquat\" --citrus kumquat --pot terracotta --volume \"20 L\"".into(),
            ));
        }
    };
    let mut said: Vec<(String, String)> = Vec::new();
    let mut sheet = Sheet::new(knowledge.vocabulary.len());
    for (fact, id, value, text) in given(args, &knowledge)? {
        sheet.set(id, value, Origin::Flag);
        said.push((fact.to_owned(), text));
    }
    if can_ask {
        let guess = kind_in(&name, &knowledge);
        let more =
            entry_questions::fill(&knowledge, &ASKED, "A new tree", &mut sheet, guess, context)?;
        said.extend(more);
    }
    let (words, events) = others(args, 0, today)?;
    let mut record = begin(common)?;
    let stamp = stamp(&knowledge);
    record.write(|db| {
        let id = add(db, List::Tree, &name, today)?;
        for (what, value) in &said {
            let word = Word {
                about: About::Tree(id),
                what: what.clone(),
                value: value.clone(),
                day: today,
            };
            say(db, &word, &stamp)?;
        }
        for word in words {
            say(
                db,
                &Word {
                    about: About::Tree(id),
                    ..word
                },
                &stamp,
            )?;
        }
        for event in events {
            add_event(
                db,
                &Event {
                    tree: Some(id),
                    ..event
                },
                &stamp,
            )?;
        }
        Ok(())
    })?;
    let open: Vec<&str> = ASKED
        .into_iter()
        .filter(|f| *f != MAY_LACK && !said.iter().any(|(s, _)| s == f))
        .filter_map(|f| {
            Some(
                knowledge
                    .vocabulary
                    .get(knowledge.vocabulary.find(f)?)
                    .short
                    .as_str(),
            )
        })
        .collect();
    let rest = if open.is_empty() {
        String::new()
    } else {
        format!(
            " Still open: {}; tubgrove tree change fills it in.",
            open.join(", ").to_lowercase()
        )
    };
    let known = record
        .garden(today)?
        .trees
        .iter()
        .find(|s| s.tree.name == name)
        .map(|s| in_words(s, &knowledge))
        .filter(|known| !known.is_empty());
    let line = match known {
        Some(known) => format!("{name}: {known}.{rest}"),
        None => format!("{name} is in the record.{rest}"),
    };
    context.print(&format!("{}\n", context.style().wrap(&line, "", "  ")))?;
    Ok(0)
}

fn change(
    name: &str,
    (renamed, cleared): (Option<&String>, bool),
    args: &TreeArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let mut record = open(common)?;
    let tree = record.find(List::Tree, name)?;
    let mut given = given(args, &knowledge)?;
    given.extend(cleared.then(|| no_signs(&knowledge)).flatten());
    let (words, events) = others(args, tree.id, today)?;
    if given.is_empty() && words.is_empty() && events.is_empty() && renamed.is_none() {
        return Err(Failure::Usage(
            "say what changes, such as --volume \"25 L\"; tubgrove tree change --help lists all"
                .into(),
        ));
    }
    let garden = record.garden(today)?;
    let before = garden.trees.iter().find(|s| s.tree.id == tree.id);
    // What is known so already is no change, and the record needs no second word of it.
    given.retain(|(fact, _, _, text)| before.and_then(|s| s.word(fact)) != Some(text.as_str()));
    if given.is_empty() && words.is_empty() && events.is_empty() && renamed.is_none() {
        let line = format!(
            "Nothing changed for {}: the record says all of that already.",
            tree.name
        );
        context.print(&format!("{}\n", context.style().wrap(&line, "", "  ")))?;
        return Ok(0);
    }
    let mut changes: Vec<String> = given
        .iter()
        .map(|(fact, _, _, text)| {
            let label = match *fact {
                "citrus_type" => "citrus",
                "tree_stage" => "age",
                "pot_kind" | "pot_volume" => "pot",
                "reservoir_volume" => "tank",
                "tree_height" => "height",
                SIGNS => "signs that must be reported",
                other => other,
            };
            let old = before
                .and_then(|s| s.word(fact))
                .map_or_else(String::new, |old| {
                    format!(" (was {})", worth(&knowledge, fact, old))
                });
            format!("{label} {}{old}", worth(&knowledge, fact, text))
        })
        .collect();
    changes.extend(words.iter().map(|w| format!("{} {}", w.what, w.value)));
    changes.extend(events.iter().map(|e| {
        let what = if e.kind == Kind::Feed {
            "fed"
        } else {
            "repotted"
        };
        format!("{what} {}", e.day)
    }));
    changes.extend(renamed.map(|new| format!("now called {}", new.trim())));
    let stamp = stamp(&knowledge);
    record.write(|db| {
        if let Some(new) = renamed {
            rename(db, List::Tree, tree.id, new)?;
        }
        for (fact, _, _, text) in &given {
            let word = Word {
                about: About::Tree(tree.id),
                what: (*fact).to_owned(),
                value: text.clone(),
                day: today,
            };
            say(db, &word, &stamp)?;
        }
        for word in &words {
            say(db, word, &stamp)?;
        }
        for event in &events {
            add_event(db, event, &stamp)?;
        }
        Ok(())
    })?;
    let line = format!(
        "Changed {}: {}. What was known before stays in the record.",
        tree.name,
        changes.join(", ")
    );
    context.print(&format!("{}\n", context.style().wrap(&line, "", "  ")))?;
    Ok(0)
}

fn list(common: &Common, context: &Context) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let record = open(common)?;
    let garden = record.garden(today)?;
    if common.json {
        let rows: Vec<serde_json::Value> = garden
            .trees
            .iter()
            .map(|s| serde_json::json!({"id": s.tree.id, "name": s.tree.name, "since": s.tree.since.to_string(),
                "known": s.words.iter().map(|(k, (v, _))| (k.clone(), v.clone())).collect::<std::collections::BTreeMap<_, _>>()}))
            .collect();
        context.print(&format!("{}\n", serde_json::Value::Array(rows)))?;
        return Ok(0);
    }
    let style = context.style();
    let mut out = String::new();
    if garden.trees.is_empty() {
        out.push_str("No trees yet: tubgrove tree add NAME\n");
    }
    for story in &garden.trees {
        let about = in_words(story, &knowledge).replace(", ", " · ");
        out.push_str(&style.tone(&story.tree.name, Tone::Heading));
        out.push('\n');
        out.push_str(&style.wrap(&about, "  ", "  "));
        out.push('\n');
    }
    context.print(&out)?;
    Ok(0)
}

fn show(name: &str, common: &Common, context: &Context) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let record = open(common)?;
    let tree = record.find(List::Tree, name)?;
    let garden = record.garden(today)?;
    let Some(story) = garden.trees.iter().find(|s| s.tree.id == tree.id) else {
        return Err(Failure::Usage(format!(
            "{} is not there on {today}",
            tree.name
        )));
    };
    let style = context.style();
    let mut out = style.tone(&tree.name, Tone::Heading);
    out.push('\n');
    let mut line = |text: String| {
        out.push_str(&style.wrap(&text, "  ", "    "));
        out.push('\n');
    };
    line(format!("In the record since {}.", tree.since));
    for (id, entry) in facts(&knowledge, &Sky::of(&knowledge.rates, &garden), story).iter() {
        let fact = knowledge.vocabulary.get(id);
        line(format!("{}: {}", fact.short, entry.value.say(fact)));
    }
    for what in ["mix", "note"] {
        if let Some(text) = story.word(what) {
            line(format!("{what}: {text}"));
        }
    }
    if let Some(advice) = record.last_advice(Some(tree.id), today)? {
        line(format!("Last plan: {} on {}.", advice.kind, advice.day));
    }
    context.print(&out)?;
    Ok(0)
}
