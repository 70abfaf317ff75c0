//! A walk for a tree of the record: what the record gives to it, and what it keeps of it.

use crate::cli::garden::file::{open, path, stamp};
use crate::cli::here::context;
use crate::cli::here::fail::Failure;
use crate::cli::walk::next_day::{Place, given};
use crate::cli::walk::opening::{LOCAL_BAN, end_of_ban};
use crate::cli::walk::told::{Told, first_aid, mended};
use crate::cli::words::args::Common;
use crate::facts::{BesideRecord, Entry, Fact, OnRecord, Origin, Sheet, Value};
use crate::knowledge::{AdvicePart, Knowledge, ProductKind};
use crate::plan::Plan;
use crate::record::{
    About, Garden, List, Outlook, Record, Site, Sky, Story, Subject, Word, facts, keep,
    product_facts, say, site_facts,
};
use crate::report::style::harmless;
use crate::walk::Purpose;
use jiff::civil::Date;
use std::io::Write;

/// As which kind of advice the record keeps first aid, whatever the walk is called.
const RESCUE: &str = "rescue";

/// Facts of the feed, of the amount or of what the record works out by itself: not kept as words on the tree.
const NOT_KEPT: [&str; 27] = [
    "beads_empty",
    "product_kind",
    "material",
    "product_grade",
    "grade_basis",
    "n_nitrate",
    "n_ammonium",
    "n_urea",
    "label_rate",
    "label_interval_days",
    "planned_amount",
    "spoon_system",
    "also_in_can",
    "other_product_kind",
    "other_product_grade",
    "coated_life_weeks",
    "days_since_feed",
    "last_feed_kind",
    "slow_feed_at_work",
    "days_since_repot",
    "days_since_epsom",
    "epsom_this_year",
    "overdose_feed",
    "overdose_days",
    "overdose_signs",
    "season",
    "frost_ahead",
];

/// A tree of the record during a walk.
pub(in crate::cli) struct Kept {
    record: Record,
    garden: Garden,
    tree: Subject,
    /// The product on the shelf that was named.
    product: Option<i64>,
    today: Date,
    /// Which of two answers counts, to be said.
    pub(in crate::cli) notices: Vec<String>,
    /// What of it no other answer may soften.
    pub(in crate::cli) on_record: OnRecord,
    /// Rules of the place whose end the record knows, with the first day after them.
    pub(in crate::cli) ends: Vec<(&'static str, Date)>,
    /// What the record says of the tree's own story.
    pub(in crate::cli) told: Told,
    /// The coming span in which it is too late for a slow feed.
    pub(in crate::cli) late: Option<(Date, Date)>,
    /// Litres of plain water that still wash too much out of its pot.
    pub(in crate::cli) wash: Option<f64>,
}

/// Puts what the record knows of the tree, and of a product, beside the answers given beforehand.
///
/// # Errors
/// A flag or file that says something else about the tree than the record, which must be settled first.
pub(in crate::cli) fn take(
    tree: &str,
    product: Option<&str>,
    knowledge: &Knowledge,
    common: &Common,
    known: &mut Sheet,
) -> Result<Kept, Failure> {
    let today = context::today(common)?;
    let record = open(common)?;
    let tree = record.find(List::Tree, tree)?;
    let garden = record.garden(today)?;
    let story = garden
        .trees
        .iter()
        .find(|s| s.tree.id == tree.id)
        .ok_or_else(|| Failure::Usage(format!("{} is not there on {today}", tree.name)))?;
    let mut sheets = vec![facts(knowledge, &Sky::of(&knowledge.rates, &garden), story)];
    let mut on_shelf = None;
    if let Some(name) = product {
        let found = record.find(List::Product, name)?;
        let product = garden
            .shelf
            .iter()
            .find(|p| p.subject.id == found.id)
            .ok_or_else(|| {
                Failure::Usage(format!("{} is not on the shelf on {today}", found.name))
            })?;
        on_shelf = Some(product.subject.id);
        sheets.push(product_facts(knowledge, product));
    }
    let on_record = sheets
        .first()
        .map(|of_tree| OnRecord::of(&knowledge.vocabulary, of_tree))
        .unwrap_or_default();
    let mut notices = Vec::new();
    for sheet in &sheets {
        for (id, entry) in sheet.iter() {
            match known.entry(id) {
                None => known.set(id, entry.value, Origin::Record),
                Some(given) if given.from != Origin::Record => {
                    let counts = on_record.outweighs(&knowledge.vocabulary, id, known);
                    notices.extend(beside(
                        knowledge.vocabulary.get(id),
                        story,
                        entry.value,
                        given,
                        counts,
                    )?);
                }
                Some(_) => {}
            }
        }
    }
    on_record.hold(&knowledge.vocabulary, known);
    let mut ends = Vec::from_iter(end_of_ban(&garden.site, today));
    let late = garden.site.too_late_for_slow(&knowledge.rates, today);
    let told = Told::of(knowledge, &garden, late, story, is_slow(knowledge, known));
    let wash = told.wash;
    ends.extend_from_slice(&told.ends);
    Ok(Kept {
        record,
        garden,
        tree,
        product: on_shelf,
        today,
        notices,
        on_record,
        ends,
        told,
        late,
        wash,
    })
}

/// The rules that keep feed back until the cold season is over.
pub(in crate::cli) fn none_before(warm: Date) -> [(&'static str, Date); 3] {
    ["late_nitrogen", "slow_before_cold", "slow_into_cold"].map(|rule| (rule, warm))
}

/// Whether the answers name a slow feed.
pub(in crate::cli) fn is_slow(knowledge: &Knowledge, answers: &Sheet) -> bool {
    let Some(kind) = knowledge.vocabulary.find("product_kind") else {
        return false;
    };
    let chosen = knowledge.vocabulary.get(kind).chosen(answers.value(kind));
    chosen
        .and_then(|c| ProductKind::of(&c.id))
        .is_some_and(ProductKind::is_slow)
}

/// Which of two answers counts where they differ, in words; an error where that must be settled first.
fn beside(
    fact: &Fact,
    story: &Story,
    record: Value,
    given: Entry,
    record_counts: bool,
) -> Result<Option<String>, Failure> {
    if !given.value.is_known() || given.value == record {
        return Ok(None);
    }
    let (on_record, other) = (record.write(fact), given.value.write(fact));
    let (id, from, tree) = (&fact.id, given.from.word(), &story.tree.name);
    let said = story.words.get(fact.id.as_str());
    let as_said = said.is_some_and(|(value, _)| *value == on_record);
    let both_right = !fact.contradicts(record, given.value);
    let line = match fact.beside_record {
        Some(BesideRecord::Same) if !as_said => {
            return Err(Failure::Usage(format!(
                "{id}: the record has a reading of {on_record} for {tree}, the {from} says {other}; enter the new reading with tubgrove log reading, or take the other out"
            )));
        }
        // What does not age cannot differ; what does is answered anew by the flag or file.
        None if said.is_some() && fact.fresh_for.is_none() => {
            return Err(Failure::Usage(format!(
                "{id}: the record says {on_record} for {tree}, the {from} says {other}; change the record with tubgrove tree change, or take the other out"
            )));
        }
        None | Some(BesideRecord::Same) => return Ok(None),
        Some(_) if both_right || fact.alike(record, given.value) => return Ok(None),
        // What was said at a look is no entry that could be taken out.
        Some(_) if record_counts && as_said => {
            format!("{id}: the record says {on_record}, the {from} {other}; the record counts")
        }
        Some(_) if record_counts => format!(
            "{id}: the record says {on_record}, the {from} {other}; the record counts. Was it a slip? tubgrove history shows the entry, tubgrove log undo takes it out"
        ),
        Some(_) => {
            format!("{id}: the record says {on_record}, the {from} {other}; the {from} counts")
        }
    };
    Ok(Some(line))
}

/// The place, where there is a record. One that cannot be read breaks no walk; it is said on standard error.
fn site_on_record(common: &Common, today: Date) -> Option<Site> {
    let path = path(common).ok().filter(|p| p.exists())?;
    match Record::open(&path).and_then(|record| record.site(today)) {
        Ok(site) => Some(site),
        Err(why) => {
            let _ = writeln!(
                std::io::stderr(),
                "tubgrove: the rules of the place were not looked at: {}",
                harmless(&why.to_string())
            );
            None
        }
    }
}

/// In walks for no tree of the record: the site's rules hold all the same. Returns when the rules in force end.
pub(in crate::cli) fn rules_of_the_site(
    knowledge: &Knowledge,
    common: &Common,
    known: &mut Sheet,
) -> Result<Option<(&'static str, Date)>, Failure> {
    let today = context::today(common)?;
    let site = site_on_record(common, today);
    Ok(site.and_then(|site| rules(knowledge, &site, today, known)))
}

fn rules(
    knowledge: &Knowledge,
    site: &Site,
    today: Date,
    known: &mut Sheet,
) -> Option<(&'static str, Date)> {
    site.bans_on(today).next()?;
    let ban = knowledge.vocabulary.find(LOCAL_BAN)?;
    let yes = Value::read(knowledge.vocabulary.get(ban), "yes").ok()?;
    known.set(ban, yes, Origin::Site);
    end_of_ban(site, today)
}

/// What the place says in a walk for no tree of the record.
#[derive(Default)]
pub(in crate::cli) struct OfTheSite {
    /// When the rules in force end.
    pub(in crate::cli) ban: Option<(&'static str, Date)>,
    /// The coming span in which no feed is to meet the cold.
    pub(in crate::cli) late: Option<(Date, Date)>,
}

/// In one walk for no tree of the record: the site's rules, and the season, which follows from day and hemisphere; how far the
/// cold is off where a flag or file says where the tree stands. An answer given beforehand goes before it.
pub(in crate::cli) fn of_the_site(
    knowledge: &Knowledge,
    common: &Common,
    known: &mut Sheet,
) -> Result<OfTheSite, Failure> {
    let today = context::today(common)?;
    let Some(site) = site_on_record(common, today) else {
        return Ok(OfTheSite::default());
    };
    let late = site.too_late_for_slow(&knowledge.rates, today);
    let ban = rules(knowledge, &site, today, known);
    let place = knowledge.vocabulary.find("place").and_then(|id| {
        let value = known.entry(id)?.value;
        value
            .is_known()
            .then(|| value.write(knowledge.vocabulary.get(id)))
    });
    let garden = Garden::empty(today, site);
    let of_site = site_facts(
        knowledge,
        &Sky::of(&knowledge.rates, &garden),
        place.as_deref(),
    );
    for (id, entry) in of_site.iter() {
        if known.entry(id).is_none() {
            known.set(id, entry.value, Origin::Site);
        }
    }
    Ok(OfTheSite { ban, late })
}

impl Kept {
    /// Keeps the plan, and what was answered about the tree.
    pub(in crate::cli) fn keep(
        mut self,
        knowledge: &Knowledge,
        plan: &mut Plan,
        sheet: &Sheet,
    ) -> Result<(), Failure> {
        self.told.tell(plan);
        let id = self.tree.id;
        if let Some(story) = self.garden.trees.iter().find(|s| s.tree.id == id) {
            let place = Place {
                knowledge,
                garden: &self.garden,
                outlook: &Outlook::of(&knowledge.rates, &self.garden),
                story,
                product: self.product,
            };
            place.settle(plan, sheet);
        }
        let mut json = serde_json::to_value(&*plan).map_err(|e| Failure::Outside(e.to_string()))?;
        complete_portions(knowledge, sheet, self.product, &mut json);
        let stamp = stamp(knowledge);
        let (today, tree) = (self.today, self.tree.id);
        let first = plan.purpose == Purpose::FirstAid;
        let kind = if first { RESCUE } else { &plan.walk };
        self.record.write(|db| {
            for (id, entry) in sheet.iter() {
                let fact = knowledge.vocabulary.get(id);
                let new = matches!(entry.from, Origin::Asked | Origin::Flag | Origin::File);
                if !new
                    || !entry.value.is_known()
                    || NOT_KEPT.contains(&fact.id.as_str())
                    || fact.fresh_for == Some(0)
                {
                    continue;
                }
                let word = Word {
                    about: About::Tree(tree),
                    what: fact.id.clone().into(),
                    value: entry.value.write(fact),
                    day: today,
                };
                say(db, &word, &stamp)?;
            }
            keep(db, today, kind, Some(tree), &json.to_string(), &stamp)
        })?;
        if first {
            let garden = self.record.garden(today)?;
            let story = garden.trees.iter().find(|s| s.tree.id == tree);
            let rescue = plan
                .advice
                .iter()
                .rposition(|a| a.part == AdvicePart::Rescue);
            if let (Some(story), Some(at)) = (story, rescue) {
                let aid = first_aid(&knowledge.rates, &garden, story);
                plan.advice.insert(at.saturating_add(1), aid);
                mended(&knowledge.rates, &garden, story, plan);
            }
        }
        Ok(())
    }
}

/// Adds to each portion which kind of feed it is, its nitrogen and the product, so that `log feed` can take it over.
fn complete_portions(
    knowledge: &Knowledge,
    sheet: &Sheet,
    product: Option<i64>,
    json: &mut serde_json::Value,
) {
    let Some(portions) = json
        .pointer_mut("/dose/portions")
        .and_then(serde_json::Value::as_array_mut)
    else {
        return;
    };
    for portion in portions {
        let how = portion.get("how").and_then(serde_json::Value::as_str);
        let Some(feed) = given(knowledge, sheet, how.unwrap_or_default()) else {
            continue;
        };
        let grams = portion
            .get("g")
            .and_then(serde_json::Value::as_f64)
            .unwrap_or(0.0);
        if let Some(object) = portion.as_object_mut() {
            object.insert("kind".into(), feed.kind.into());
            object.insert("n_mg".into(), (grams * feed.n * 10.0).into());
            let [p2o5, k2o] = feed.other.map(|percent| grams * percent * 10.0);
            object.insert("p2o5_mg".into(), p2o5.into());
            object.insert("k2o_mg".into(), k2o.into());
            if let Some(days) = feed.label_days {
                object.insert("label_days".into(), days.into());
            }
            if let Some(product) = product.filter(|_| feed.main) {
                object.insert("product_id".into(), product.into());
            }
            if let Some(weeks) = feed.life_weeks {
                object.insert("life_weeks".into(), weeks.into());
            }
        }
    }
}
