//! Facts that are worked out: from other answers before the tree gate, and from the proposal before the dose gate.

use super::beside;
use super::ceiling::Limit;
use super::epsom::{self, EpsomPlanned};
use super::feed::{self, Acts};
use super::forms;
use super::ids::{Ids, Read};
use super::planned::OverPot;
use super::proposal::{Proposal, Role, Wanted, propose};
use super::situation::Situation;
use super::strength::{self, Strength};
use super::warmth;
use crate::facts::{FactId, Origin, Sheet, Value};
use crate::knowledge::{Bears, Knowledge, Material, ProductKind};
use crate::quantity::{Interval, Measure, Per, SpoonUnit};
use jiff::civil::Date;

struct Writer<'a> {
    knowledge: &'a Knowledge,
    sheet: &'a mut Sheet,
}

impl Writer<'_> {
    fn choice(&mut self, fact: FactId, id: &str) {
        if let Some(c) = self.knowledge.vocabulary.get(fact).choice_index(id) {
            self.sheet.set(fact, Value::Choice(c), Origin::WorkedOut);
        }
    }

    fn yes_no(&mut self, fact: FactId, yes: bool) {
        self.choice(fact, if yes { "yes" } else { "no" });
    }
}

/// Fills in what follows from other answers: kind and grade of a plain material, the month, the days of the interval that
/// are left, what the EC of the mix means, and the traits of the feed.
pub fn complete(ids: &Ids, knowledge: &Knowledge, today: Date, sheet: &mut Sheet) {
    let vocabulary = &knowledge.vocabulary;
    let material: Option<&Material> = match sheet.value(ids.material) {
        Value::Choice(c) => knowledge.material(usize::from(c)),
        _ => None,
    };
    if let Some(material) = material {
        if !sheet.answered(ids.product_kind)
            && let Some(kind) = vocabulary
                .get(ids.product_kind)
                .choice_index(&material.kind)
        {
            sheet.set(ids.product_kind, Value::Choice(kind), Origin::WorkedOut);
        }
        if !sheet.answered(ids.product_grade)
            && let Some(grade) = feed::material_grade(material)
        {
            sheet.set(ids.product_grade, Value::Grade(grade), Origin::WorkedOut);
        }
    }
    sheet.set(
        ids.month,
        Value::Number(Interval::point(f64::from(today.month()))),
        Origin::WorkedOut,
    );
    let read = Read { vocabulary, sheet };
    let bears = read.choice(ids.citrus_type).and_then(|id| {
        let mut types = knowledge.types.iter();
        types.find(|t| t.id == id).map(|t| t.bears)
    });
    let interval_left = read.number(ids.label_interval_days).map(|label| {
        // A packet of Epsom salt speaks of Epsom salt.
        let since = read.number(if read.is(ids.product_kind, "epsom_salt") {
            ids.days_since_epsom
        } else {
            ids.days_since_feed
        });
        match since {
            Some(since) => Interval::point((label.hi() - since.lo()).max(0.0)),
            None => Interval::spanning(0.0, label.hi()),
        }
    });
    let salt = mix_salt(ids, knowledge, read);
    let kind = read.choice(ids.product_kind).map(str::to_owned);
    let label_known =
        matches!(sheet.value(ids.label_rate), Value::Rate(rate) if rate.per != Per::Tree);
    let tablespoon = match sheet.value(ids.planned_amount) {
        Value::Amount(a) => {
            let teaspoons = matches!(
                a.amount,
                Measure::Spoons {
                    unit: SpoonUnit::Teaspoon,
                    ..
                }
            );
            a.amount.lacks_system() && !teaspoons
        }
        _ => false,
    } && feed::spoons(ids, knowledge, sheet).is_none();

    let warm = warmth::warm_days(&knowledge.rates, ids, read, today);
    let mut write = Writer { knowledge, sheet };
    let warm = Value::Number(Interval::point(warm));
    write.sheet.set(ids.warm_days_left, warm, Origin::WorkedOut);
    if let Some(left) = interval_left {
        write
            .sheet
            .set(ids.interval_left, Value::Number(left), Origin::WorkedOut);
    }
    if let Some(bears) = bears {
        write.yes_no(ids.fruits_all_year, bears == Bears::AllYear);
    }
    if let Some(salt) = salt {
        write.choice(ids.mix_salt, salt);
    }
    let Some(kind) = kind else {
        return;
    };
    // A kind that is not known is judged as a feed.
    let known = ProductKind::of(&kind);
    let is_feed = known.is_none_or(ProductKind::is_feed);
    let slow = known.is_some_and(ProductKind::is_slow);
    write.yes_no(ids.ready_feed, is_feed && !slow);
    write.yes_no(ids.slow_feed, slow);
    if is_feed {
        write.yes_no(ids.label_known, label_known);
    }
    write.yes_no(ids.spoon_unsure, tablespoon);
    let has = |name: &str| material.is_some_and(|m| m.has(name));
    // Without a named material the kind decides: the careful reading.
    write.yes_no(
        ids.dusty,
        material.map_or(known.is_some_and(ProductKind::is_dusty), |_| has("dusty")),
    );
    write.yes_no(ids.oxidiser, has("oxidiser"));
    let organic = known.is_some_and(ProductKind::is_organic);
    write.yes_no(
        ids.animal_origin,
        material.map_or(organic, |_| has("animal")),
    );
    write.yes_no(
        ids.raw_organic,
        material.map_or(organic || known == Some(ProductKind::CompostManure), |_| {
            has("raw_organic") || has("animal")
        }),
    );
    write.yes_no(ids.has_chloride, has("chloride"));
    write.yes_no(ids.has_sodium, has("sodium"));
    let read = Read {
        vocabulary,
        sheet: write.sheet,
    };
    let beside = read.choice(ids.also_in_can);
    if let Some(met) = beside.map(|what| beside::meet(knowledge, material, &kind, what)) {
        write.yes_no(ids.reacts_in_can, met.refused);
        write.yes_no(ids.spoils_in_can, met.spoiled);
    }
}

/// What the EC of the mix means for citrus.
fn mix_salt(ids: &Ids, knowledge: &Knowledge, read: Read<'_>) -> Option<&'static str> {
    let ec = read.number(ids.mix_ec)?.hi();
    let (high, flush) = knowledge.rates.mix_ec_limits(read.choice(ids.ec_method));
    Some(if ec > flush {
        "flush"
    } else if ec > high {
        "high"
    } else {
        "fine"
    })
}

/// What these answers ask an amount of.
pub(super) fn wanted<'k>(ids: &Ids, knowledge: &'k Knowledge, sheet: &Sheet) -> Wanted<'k> {
    let read = Read {
        vocabulary: &knowledge.vocabulary,
        sheet,
    };
    let epsom = read.is(ids.product_kind, "epsom_salt");
    let main = feed::main(ids, knowledge, sheet);
    let other = feed::other(ids, knowledge, sheet).filter(|o| {
        main.is_some_and(|m| m.is_slow() != o.is_slow()) && !o.unbalanced(&knowledge.rates)
    });
    Wanted {
        main,
        other,
        epsom,
        epsom_days: read
            .number(ids.label_interval_days)
            .map(Interval::hi)
            .filter(|_| epsom),
        epsom_ago: read
            .number(ids.epsom_this_year)
            .is_none_or(|times| times.hi() >= 1.0)
            .then(|| read.number(ids.days_since_epsom).map_or(0.0, Interval::lo)),
    }
}

/// Works out the proposal for these answers and writes what it means for the dose gate; `less` where a likely finding asks
/// for less feed.
pub fn judge(ids: &Ids, knowledge: &Knowledge, sheet: &mut Sheet, less: bool) -> Option<Proposal> {
    let rates = &knowledge.rates;
    let wanted = wanted(ids, knowledge, sheet);
    let (main, other, is_epsom) = (wanted.main, wanted.other, wanted.epsom);
    let mut situations = Situation::all(ids, &knowledge.vocabulary, rates, sheet);
    for s in &mut situations {
        s.less = less;
    }
    let planned = match sheet.value(ids.planned_amount) {
        Value::Amount(a) => Some(a),
        _ => None,
    };
    let mut proposal = (main.is_some() || is_epsom)
        // Two feeds share a dose that no planned amount of one of them tells.
        .then(|| {
            let planned = planned.filter(|_| wanted.other.is_none());
            propose(rates, &situations, &wanted, planned)
        })
        .flatten();

    let over = situations.iter().any(|s| {
        let limit = strength::salt(rates, s);
        s.water_measured && s.water_ec > limit.fine - rates.least_room
    });
    let gentle_cool = situations
        .iter()
        .any(|s| s.temperature.lo() < rates.gentle_below);
    let weighed: Vec<super::planned::Planned> = planned
        .zip(main)
        .map(|(amount, feed)| {
            situations
                .iter()
                .map(|s| super::planned::weigh(rates, s, &feed, amount))
                .collect()
        })
        .unwrap_or_default();
    let strongest = |of: fn(&super::planned::Planned) -> Strength| {
        weighed.iter().map(of).max().unwrap_or(Strength::Fine)
    };
    let (nitrogen, salt, chloride) = (
        strongest(|p| p.nitrogen),
        strongest(|p| p.salt),
        strongest(|p| p.chloride_strength),
    );
    let over_label = weighed.iter().any(|p| p.over_label);
    let over_pot = weighed
        .iter()
        .map(|p| p.over_pot)
        .max()
        .unwrap_or(OverPot::Fine);

    let spoons = feed::spoons(ids, knowledge, sheet);
    let mut write = Writer { knowledge, sheet };
    write.yes_no(ids.water_over_limit, over);
    if let Some(amount) = planned.filter(|_| is_epsom) {
        let weighed: Vec<EpsomPlanned> = situations
            .iter()
            .map(|s| epsom::planned(rates, s, amount, spoons))
            .collect();
        let over = weighed.iter().any(|w| w.over_pot);
        write.choice(ids.planned_over_pot, if over { "over" } else { "fine" });
        let over = weighed.iter().any(|w| w.over_label);
        write.yes_no(ids.planned_over_label, over);
        // A weaker can never becomes a larger dose than the grower meant to give.
        if let Some(own) = proposal.as_mut().and_then(|p| p.epsom.as_mut()) {
            let most = weighed.iter().map(|w| w.grams).fold(0.0, f64::max);
            let most = super::ceiling::show_down(most);
            if most < own.grams {
                own.grams = most;
                own.limit = Limit::Planned;
            }
        }
    }
    if write.sheet.value(ids.other_product_kind).is_known() {
        let by_other = |role: Option<Role>| role == Some(Role::Other);
        let spread = proposal.as_ref().and_then(|p| p.slow.as_ref());
        let poured = proposal.as_ref().and_then(|p| p.ready.as_ref());
        let second = if by_other(spread.map(|(role, _)| *role)) {
            "dry"
        } else if by_other(poured.map(|(role, _)| *role)) {
            "poured"
        } else {
            "left_out"
        };
        write.choice(ids.second_feed, second);
    }
    let Some(main) = main else {
        return proposal;
    };
    if proposal.as_ref().is_some_and(|p| p.ready_left_out) {
        // What is left out is not given: the rules about ready feed do not speak of it.
        write.yes_no(ids.ready_feed, false);
        write.yes_no(ids.slow_feed, true);
    }
    let spring = Read {
        vocabulary: &knowledge.vocabulary,
        sheet: write.sheet,
    }
    .is(ids.season, "spring");
    let warm_days = match write.sheet.value(ids.warm_days_left) {
        Value::Number(days) => days.lo(),
        _ => 0.0,
    };
    let outlasts = [Some(main), other]
        .into_iter()
        .flatten()
        .filter(|f| f.acts == Acts::Coated)
        .flat_map(|f| {
            situations
                .iter()
                .map(move |s| warmth::coat_days(rates, s, &f, spring))
        })
        .any(|days| days > warm_days);
    // Closer to the cold than that no slow feed goes on at all.
    write.yes_no(
        ids.beads_outlast_warmth,
        outlasts && warm_days > rates.organic_days,
    );
    write.yes_no(ids.unbalanced_alone, main.unbalanced(rates));
    let held_down = |limit: Limit| match limit {
        Limit::Phosphate => main.p2o5_most > main.p2o5,
        Limit::Potash => main.k2o_most > main.k2o,
        _ => false,
    };
    let as_elements = !main.unbalanced(rates) && main.unbalanced_at_most(rates);
    write.yes_no(ids.unbalanced_as_elements, as_elements);
    let basis_matters = proposal.as_ref().is_some_and(|p| {
        p.ready.is_some_and(|(_, r)| held_down(r.limit))
            || p.slow.is_some_and(|(_, s)| held_down(s.limit))
    });
    write.yes_no(ids.basis_matters, basis_matters);
    let feeds = || [Some(main), other].into_iter().flatten();
    write.yes_no(
        ids.urea_in_feed,
        feeds().any(|f| forms::holds_urea(rates, &f)),
    );
    if let Some(souring) = feeds().map(|f| forms::souring(rates, &f)).max() {
        write.choice(ids.sours_mix, souring.id());
    }
    let mostly = main.ammonium_urea.is_none_or(|a| a > rates.ammonium_most) && !main.is_slow();
    write.yes_no(ids.cold_ammonium, gentle_cool && mostly);
    write.choice(ids.can_nitrogen, nitrogen.id());
    write.choice(ids.can_salt, salt.id());
    write.choice(ids.can_chloride, chloride.id());
    write.yes_no(ids.planned_over_label, over_label);
    write.choice(
        ids.planned_over_pot,
        match over_pot {
            OverPot::Fine => "fine",
            OverPot::OverWhenCool => "over_when_cool",
            OverPot::Over => "over",
            OverPot::FarOver => "far_over",
        },
    );
    proposal
}
