//! The day in a plan for a tree of the record: the one that `due` will name once the plan is carried out and entered.

use crate::cli::walk::of_tree::is_slow;
use crate::facts::{FactId, Sheet, Value};
use crate::knowledge::{Knowledge, Level, ProductKind};
use crate::plan::{AFTER_THE_COLD, Plan, Portion};
use crate::quantity::{GradeBasis, Interval};
use crate::record::{BY_RECORD, Event, Garden, Kind, NextFeed, Outlook, Story};
use crate::safety::Verdict;
use crate::walk::Purpose;
use jiff::civil::Date;

/// What kind of feed a portion is, and what the record keeps of it.
pub(in crate::cli) struct Given {
    pub(in crate::cli) kind: String,
    /// Percent of nitrogen.
    pub(in crate::cli) n: f64,
    /// Percent of P2O5 and of K2O, at most.
    pub(in crate::cli) other: [f64; 2],
    /// Days that the label says at least.
    pub(in crate::cli) label_days: Option<f64>,
    /// Whether it is the feed that was asked about, not the second one.
    pub(in crate::cli) main: bool,
    /// Weeks that coated beads last, as it was answered.
    pub(in crate::cli) life_weeks: Option<f64>,
}

/// What a portion of this plan is: top-dressed the slow feed of the answers, else the other.
pub(in crate::cli) fn given(knowledge: &Knowledge, sheet: &Sheet, how: &str) -> Option<Given> {
    let vocabulary = &knowledge.vocabulary;
    let find = |id: &str| -> Option<FactId> { vocabulary.find(id) };
    let of = |kind: &str, grade: &str, main: bool| {
        let kind = find(kind)?;
        let text = sheet.entry(kind)?.value.write(vocabulary.get(kind));
        let choice = |fact: &str| {
            let fact = find(fact)?;
            let value = sheet.value(fact);
            value.is_known().then(|| value.write(vocabulary.get(fact)))
        };
        let basis = match choice("grade_basis").as_deref() {
            Some("element") => Some(GradeBasis::Element),
            Some("oxide") => Some(GradeBasis::Oxide),
            _ => None,
        };
        let plain = main && choice("material").is_some();
        let (n, other) = match sheet.value(find(grade)?) {
            Value::Grade(g) => (g.n(), g.phosphate_and_potash(basis, plain).1),
            _ => (0.0, [0.0; 2]),
        };
        let label_days = match sheet.value(find("label_interval_days")?) {
            Value::Number(days) if main => Some(Interval::hi(days)),
            _ => None,
        };
        let life_weeks = match sheet.value(find("coated_life_weeks")?) {
            Value::Number(weeks) if text == "coated" => Some(Interval::hi(weeks)),
            _ => None,
        };
        Some(Given {
            kind: text,
            n,
            other,
            label_days,
            main,
            life_weeks,
        })
    };
    let slow = |kind: &str| ProductKind::of(kind).is_some_and(ProductKind::is_slow);
    [
        of("product_kind", "product_grade", true),
        of("other_product_kind", "other_product_grade", false),
    ]
    .into_iter()
    .flatten()
    .find(|feed| slow(&feed.kind) == (how == "top_dress"))
}

/// Where a plan for a tree stands.
pub(in crate::cli) struct Place<'a> {
    pub(in crate::cli) knowledge: &'a Knowledge,
    pub(in crate::cli) garden: &'a Garden,
    pub(in crate::cli) outlook: &'a Outlook,
    pub(in crate::cli) story: &'a Story,
    /// The product on the shelf that was asked about.
    pub(in crate::cli) product: Option<i64>,
}

impl Place<'_> {
    /// Puts the day that the record will name into the plan.
    pub(in crate::cli) fn settle(&self, plan: &mut Plan, sheet: &Sheet) {
        let portions: &[Portion] = plan.dose.as_ref().map_or(&[], |d| &d.portions);
        let feeds: Vec<Event> = portions
            .iter()
            .filter(|p| p.g > 0.0)
            .filter_map(|p| self.event(sheet, p))
            .collect();
        let rates = &self.knowledge.rates;
        if feeds.iter().any(|e| e.kind == Kind::Feed) {
            // Where no climate is known `due` moves no day for the cold, and says so; the plan keeps to the careful one.
            let careful =
                self.garden.site.temperature.is_none() && plan.next.why.ends_with(AFTER_THE_COLD);
            let next = self
                .outlook
                .next_feed(rates, self.garden, self.story, feeds)
                .filter(|_| !careful);
            if let Some(next) = next {
                self.put(plan, next, "");
            }
        } else if feeds.is_empty() && waits_for_a_day(plan) {
            self.not_before_it_may(plan, sheet);
        }
    }

    /// A wait for a day only ends on the first day on which nothing else on record holds the feed.
    fn not_before_it_may(&self, plan: &mut Plan, sheet: &Sheet) {
        let Ok(ends) = plan.next.date.parse::<Date>() else {
            return;
        };
        let is = |fact: &str, value: &str| {
            let fact = self.knowledge.vocabulary.find(fact);
            fact.is_some_and(|f| sheet.value(f).write(self.knowledge.vocabulary.get(f)) == value)
        };
        if is("product_kind", "epsom_salt") {
            return;
        }
        let slow = is_slow(self.knowledge, sheet);
        let rates = &self.knowledge.rates;
        let open = self
            .outlook
            .open_from(rates, self.garden, self.story, slow, ends);
        if let Some(next) = open.filter(|next| next.day > ends) {
            let lifts = plan.next.why.clone();
            self.put(plan, next, &lifts);
        }
    }

    fn put(&self, plan: &mut Plan, next: NextFeed, before: &str) {
        let date = next.day.to_string();
        if plan.next.date == date {
            return;
        }
        let days = crate::record::days_between(self.garden.today, next.day);
        plan.next.days = u16::try_from(days).unwrap_or(plan.next.days);
        plan.next.date = date;
        if let Some(bar) = next.bar {
            let bar = crate::cli::garden::event_words::sentence(&bar);
            plan.next.why = format!("{before} {bar}.").trim().to_owned();
        }
    }

    fn event(&self, sheet: &Sheet, portion: &Portion) -> Option<Event> {
        let mut event = Event::new(self.garden.today, Kind::Feed);
        event.seq = i64::MAX;
        event.tree = Some(self.story.tree.id);
        event.grams = Some(portion.g);
        if portion.how == "epsom" {
            event.kind = Kind::Epsom;
            return Some(event);
        }
        let feed = given(self.knowledge, sheet, portion.how)?;
        event.n_mg = Some(portion.g * feed.n * 10.0);
        event.then.label_days = feed.label_days;
        event.product = self.product.filter(|_| feed.main);
        event.amount = feed.life_weeks;
        event.what = Some(feed.kind);
        Some(event)
    }
}

/// Whether a plan waits for nothing but a day that the record knows.
pub(in crate::cli) fn waits_for_a_day(plan: &Plan) -> bool {
    let mut holds = plan
        .cautions
        .iter()
        .filter(|c| c.level >= Level::Hold)
        .peekable();
    plan.purpose != Purpose::FirstAid
        && plan.verdict == Verdict::Hold
        && holds.peek().is_some()
        && holds.all(|c| BY_RECORD.contains(&c.id.as_ref()))
}
