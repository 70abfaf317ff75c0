//! What the record says in a plan of too much that was given: what and when, what mends it, and which entry tells that it is done.
//!
//! The rules speak of any tree; here the tree's own story takes the place of their words, and the day to look again is the one on
//! which the wait ends, the same in every run.

use crate::knowledge::{AdvicePart, Knowledge, Rates};
use crate::plan::{Plan, PlanAdvice};
use crate::record::{
    Aftermath, Event, Garden, Kind, Story, aftermath, days_on_record, quoted, whole_days,
};
use jiff::ToSpan;
use jiff::civil::Date;

/// The rule that waits after too much.
const STRONG: &str = "fed_strongly_lately";
/// The answer that it was fed strongly.
const ANSWER: &str = "strong_feed_lately";
/// The rule that waits after a flush.
const FLUSHED: &str = "flushed_lately";
/// The rule about signs that must be reported.
const NOTIFIABLE: &str = "notifiable_disease";
/// The step of first aid that flushes.
const FLUSH: &str = "rescue_flush";
/// The rule that waits between two feeds, one of which the flush after too much is.
const FED: &str = "fed_lately";

/// What the record says of one tree.
pub(in crate::cli) struct Told {
    /// Rules whose end the record knows, with the first day after them.
    pub(in crate::cli) ends: Vec<(&'static str, Date)>,
    /// Litres of plain water that still wash too much out of its pot.
    pub(in crate::cli) wash: Option<f64>,
    words: Option<Words>,
    /// Since when the record has signs that must be reported, and what ends that.
    signs: Option<String>,
    /// What a grower should know before the first question: it was fed too lately, whatever is answered.
    pub(in crate::cli) beforehand: Option<String>,
    /// The last feed, and how a slip is taken out.
    fed: Option<String>,
}

/// Words that take the place of a rule's own.
struct Words {
    summary: String,
    detail: String,
    lifts: String,
    action: String,
    until: Date,
    /// What a feeding day adds, where only the summary is read.
    enter: String,
    /// They are about the flush, so that the rules of a feed and of a flush only say the same again, one of them a sooner day.
    of_flush: bool,
}

impl Told {
    /// What the record says of this tree today; `late` is the coming span in which it is too late for a slow feed, `slow`
    /// whether the feed in question is one.
    pub(in crate::cli) fn of(
        knowledge: &Knowledge,
        garden: &Garden,
        late: Option<(Date, Date)>,
        story: &Story,
        slow: bool,
    ) -> Self {
        let rates = &knowledge.rates;
        let after = aftermath(rates, story, &garden.products, garden.today);
        let words = words(rates, garden, story, &after);
        let mut ends: Vec<(&'static str, Date)> = Vec::new();
        match &words {
            Some(words) => ends.push((STRONG, words.until)),
            None => ends.extend(answered(knowledge, garden, story).map(|day| (STRONG, day))),
        }
        if let Some(flush) = story.last(Kind::Flush) {
            let raw = whole_days(rates.flushed_wait);
            let end = flush.day.checked_add(raw.days()).ok();
            ends.extend(end.filter(|d| *d > garden.today).map(|d| (FLUSHED, d)));
        }
        ends.extend(days_on_record(rates, garden, late, story, slow));
        let wash = after.holds.filter(|held| !held.fresh_mix);
        Self {
            ends,
            wash: wash.map(|held| held.water_wanting),
            words,
            signs: signs(story),
            fed: story.last(Kind::Feed).map(on_record),
            beforehand: story
                .last(Kind::Feed)
                .and_then(|feed| beforehand(rates, feed, garden.today)),
        }
    }

    /// Puts them into a plan.
    pub(in crate::cli) fn tell(&self, plan: &mut Plan) {
        if let Some(fed) = &self.fed
            && let Some(rule) = plan.cautions.iter_mut().find(|c| c.id == FED)
        {
            rule.detail = format!("{fed} {}", rule.detail).into();
        }
        if let Some(signs) = &self.signs
            && let Some(rule) = plan.cautions.iter_mut().find(|c| c.id == NOTIFIABLE)
        {
            rule.detail = format!("{} {signs}", rule.detail).into();
        }
        let Some(words) = &self.words else { return };
        let Some(rule) = plan.cautions.iter_mut().find(|c| c.id == STRONG) else {
            return;
        };
        rule.summary = words.summary.clone().into();
        rule.detail = words.detail.clone().into();
        rule.lifts = capital(&words.lifts).into();
        if words.of_flush {
            plan.cautions.retain(|c| c.id != FED && c.id != FLUSHED);
        }
        // What is graver than a look that is open comes first.
        if let Some(at) = plan.cautions.iter().position(|c| c.id == STRONG) {
            let level = plan.cautions.get(at).map(|c| c.level);
            let first = plan.cautions.iter().position(|c| Some(c.level) == level);
            let strong = plan.cautions.remove(at);
            plan.cautions.insert(first.unwrap_or(0), strong);
        }
        if plan.next.date == words.until.to_string() {
            plan.next.action.clone_from(&words.action);
            plan.next.why = format!("What ends it: {}", words.lifts);
        }
    }

    /// The same for a feeding day, which reads only the line of each rule.
    pub(in crate::cli) fn tell_in_a_line(&self, plan: &mut Plan) {
        self.tell(plan);
        if let Some(words) = &self.words
            && let Some(rule) = plan.cautions.iter_mut().find(|c| c.id == STRONG)
        {
            rule.summary = format!("{}{}", words.summary, words.enter).into();
        }
    }
}

/// Since when the record has signs that must be reported.
fn signs(story: &Story) -> Option<String> {
    let (_, on) = story
        .words
        .get("notifiable_signs")
        .filter(|(value, _)| value != "none")?;
    Some(format!(
        "The record has these signs since {on}. Once the authority has looked and found nothing: tubgrove tree change {} --cleared",
        quoted(&story.tree.name)
    ))
}

/// What the record has of a feed.
fn on_record(feed: &Event) -> String {
    format!(
        "The record has a feed on {} (entry {seq}). Was that a slip? tubgrove log undo {seq} takes it out.",
        feed.day,
        seq = feed.seq
    )
}

/// That no answer will lead to a feed today, where the last one is not two weeks old.
fn beforehand(rates: &Rates, feed: &Event, today: Date) -> Option<String> {
    let until = feed
        .day
        .checked_add(whole_days(rates.interval_least).days())
        .ok()?;
    (until > today).then(|| {
        format!(
            "The record has a feed on {}: none before {until}, whatever is answered here.",
            feed.day
        )
    })
}

/// The day from which an answer that it was fed strongly counts no more.
fn answered(knowledge: &Knowledge, garden: &Garden, story: &Story) -> Option<Date> {
    let (value, on) = story.words.get(ANSWER)?;
    let fact = knowledge.vocabulary.get(knowledge.vocabulary.find(ANSWER)?);
    let days = i64::from(fact.fresh_for.filter(|_| value == "yes")?);
    let end = on.checked_add(days.days()).ok()?;
    (end > garden.today).then_some(end)
}

/// Whether a plan waits because of too much.
pub(in crate::cli) fn waits_for_it(plan: &Plan) -> bool {
    plan.cautions.iter().any(|c| c.id == STRONG)
}

fn words(rates: &Rates, garden: &Garden, story: &Story, after: &Aftermath) -> Option<Words> {
    let shelf = &garden.products;
    if let Some(held) = after.holds {
        let given = held.given(story, shelf);
        let command = held.entered_by(story);
        let ends = held.ends;
        let summary = match held.entry {
            Some(_) => format!("Too much was given: {given}. No feed until it is out of the mix."),
            None => format!("No feed until what {given} asks for is done and entered."),
        };
        let times = held
            .times(rates, story, shelf)
            .map_or_else(String::new, |t| capital(&t) + ". ");
        let back = held
            .taken_back_by(story)
            .map_or_else(String::new, |command| {
                format!(" Was that plan only looked at? {command} takes it back.")
            });
        return Some(Words {
            summary,
            detail: format!(
                "{times}{}, and enter it: {command}.{back}",
                capital(&held.to_do())
            ),
            lifts: if held.fresh_mix {
                format!(
                    "the entry of the fresh mix, and half a feed once it grows; without that entry the day itself, {ends}."
                )
            } else {
                format!(
                    "the entry of the flush, and half a feed two weeks after it; without that entry the day itself, {ends}."
                )
            },
            action: format!("Look again; sooner once this is entered: {command}"),
            until: ends,
            enter: format!(" Enter it: {command}"),
            of_flush: false,
        });
    }
    let until = after.until?;
    let (summary, detail) = match after.by_plan {
        Some(on) => (
            format!("The rescue plan of {on} says: no feed before {until}."),
            format!(
                "Was that plan only looked at? tubgrove log undo rescue --tree {} takes it back.",
                quoted(&story.tree.name)
            ),
        ),
        None => (
            format!(
                "It was flushed on {} after too much. A flush counts as a feed: none before {until}.",
                after.flushed.unwrap_or(garden.today)
            ),
            "Nothing more is to be poured through. Harmed roots need the two weeks.".to_owned(),
        ),
    };
    Some(Words {
        summary,
        detail,
        lifts: "the day itself; then half a feed, if it grows.".to_owned(),
        action: "Look again; feed at half at the earliest, if it grows".to_owned(),
        until,
        enter: String::new(),
        of_flush: after.by_plan.is_none(),
    })
}

/// What a rescue plan says when it is kept for a tree: what is to be entered, or that nothing more is.
pub(in crate::cli) fn first_aid(rates: &Rates, garden: &Garden, story: &Story) -> PlanAdvice {
    let after = aftermath(rates, story, &garden.products, garden.today);
    let name = quoted(&story.tree.name);
    let mut text = if after.weedkiller.is_some() {
        format!(
            "When it has fresh mix, enter it: tubgrove log repot --tree {name}. Until then the record holds the feed back."
        )
    } else if let Some(held) = after.holds.filter(|h| h.fresh_mix && !h.soaked) {
        format!(
            "Water does not take dry feed out for good. When it stands in fresh mix, enter it: {}. Until then, or until the feed is spent, the record holds the next one back.",
            held.entered_by(story)
        )
    } else if let Some(held) = after.holds {
        format!(
            "When it is done, enter it: {}. Until then the record holds the feed back.",
            held.entered_by(story)
        )
    } else if let Some(mended) = after.mended {
        format!(
            "The record has the flush or the fresh mix of {mended}: that counts, and need not be done again."
        )
    } else {
        "The record holds the feed back until that day.".to_owned()
    };
    text.push_str(&format!(
        " Only looked at this plan? tubgrove log undo rescue --tree {name} takes it back."
    ));
    PlanAdvice {
        id: "record_keeps_it".into(),
        part: AdvicePart::Rescue,
        text: text.into(),
        why: "".into(),
        mark: "own_choice",
        source: Vec::new(),
    }
}

/// A rescue plan for a tree that the record shows as mended already says so first, and orders no second flush.
pub(in crate::cli) fn mended(rates: &Rates, garden: &Garden, story: &Story, plan: &mut Plan) {
    let after = aftermath(rates, story, &garden.products, garden.today);
    let (Some(done), None, None) = (after.mended, after.holds, after.weedkiller) else {
        return;
    };
    // Blocked holes, foul roots and what must be reported come first all the same.
    if !plan.advice.iter().any(|step| step.id == FLUSH) {
        return;
    }
    let wait = after
        .until
        .map_or_else(String::new, |until| format!(" No feed before {until}."));
    plan.headline = format!(
        "The flush or the fresh mix of {done} is on record and counts. Nothing more is to be poured through.{wait}"
    );
    plan.advice.retain(|step| step.id != FLUSH);
}

/// With a capital letter.
fn capital(text: &str) -> String {
    crate::cli::garden::event_words::sentence(text)
}
