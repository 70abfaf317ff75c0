//! The workings: every figure of a dose with its formula and source, unfolded only when somebody asks.

use super::ceiling::Limit;
use super::need;
use super::proposal::Proposal;
use super::strength;
use super::water::{leaching_fraction, leaching_requirement};
use crate::chemistry::release;
use crate::knowledge::{Knowledge, Mark};
use crate::quantity::{round_sig, show_number};
use serde::Serialize;

/// One figure and how it came about.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Figure {
    /// What it is.
    pub name: String,
    /// Its value.
    pub value: f64,
    /// Its unit.
    pub unit: String,
    /// The formula with the numbers put in.
    pub formula: String,
    /// Where the numbers come from.
    pub source: String,
}

struct Sheet<'k> {
    knowledge: &'k Knowledge,
    figures: Vec<Figure>,
}

impl Sheet<'_> {
    fn add(&mut self, name: &str, value: f64, unit: &str, formula: String, numbers: &[&str]) {
        let mut said: Vec<String> = Vec::new();
        for id in numbers {
            let Some(n) = self.knowledge.number(id) else {
                continue;
            };
            let from = if n.source.is_empty() {
                n.mark.words().to_owned()
            } else {
                format!("{}: {}", n.mark.words(), n.source.join(", "))
            };
            let line = format!("{} {} ({from})", show_number(n.value), n.unit);
            if !said.contains(&line) {
                said.push(line);
            }
        }
        self.figures.push(Figure {
            name: name.to_owned(),
            value: round_sig(value, 4),
            unit: unit.to_owned(),
            formula,
            source: if said.is_empty() {
                "arithmetic".to_owned()
            } else {
                said.join("; ")
            },
        });
    }
}

fn n(x: f64) -> String {
    show_number(round_sig(x, 4))
}

/// The workings of a proposal.
#[must_use]
pub fn figures(knowledge: &Knowledge, p: &Proposal) -> Vec<Figure> {
    let r = &knowledge.rates;
    let s = &p.situation;
    let mut sheet = Sheet {
        knowledge,
        figures: Vec::new(),
    };
    sheet.add(
        "litres that count",
        s.litres,
        "L",
        format!("of {} L of mix, what the roots can use", n(s.mix_litres)),
        &["small_tree_litres", "repot_litres_factor"],
    );
    let base = need::base(r, s);
    sheet.add(
        "base need",
        base,
        "mg N/L/week",
        format!(
            "band {} to {}; the sources differ",
            n(r.base_need_low),
            n(r.base_need_high)
        ),
        &[
            "base_need",
            "base_need_low",
            "base_need_high",
            "base_need_large_pot",
        ],
    );
    sheet.add(
        "temperature factor",
        need::temperature_factor(r, s),
        "",
        "one row of the temperature table".into(),
        &[],
    );
    if let Some(last) = sheet.figures.last_mut() {
        let (mark, sources) = &knowledge.temperature_source;
        last.source = format!("{} on {}", mark_words(*mark), sources.join(", "));
    }
    sheet.add(
        "need",
        p.weekly_mg,
        "mg N/week",
        format!(
            "{} × {} L × {} (all factors)",
            n(base),
            n(s.litres),
            n(need::factor(r, s))
        ),
        &["stage_seedling", "cold_recovery"],
    );
    if let Some((_, ready)) = p.ready {
        let lf = leaching_fraction(r, s.water_ec);
        sheet.add(
            "leaching fraction",
            lf,
            "",
            format!(
                "water {} dS/m{}: requirement {}, at least {}",
                n(s.water_ec),
                if s.water_measured { "" } else { " (assumed)" },
                leaching_requirement(s.water_ec, r.citrus_ece).map_or("undefined".into(), n),
                n(r.leach_usual)
            ),
            &["leach_usual", "citrus_ece", "leach_most"],
        );
        sheet.add(
            "can",
            ready.can_litres,
            "L",
            format!(
                "{} × {} L ÷ (1 − {}), rounded down",
                n(r.lack_moist),
                n(s.mix_litres),
                n(lf)
            ),
            &["lack_moist"],
        );
        sheet.add(
            "ready nitrogen",
            ready.n_mg,
            "mg",
            format!(
                "{} days of need, limited by {}",
                n(r.ready_days),
                limit_words(ready.limit)
            ),
            &["ready_days", "ready_once", "reservoir_share"],
        );
        sheet.add(
            "strength of the can",
            ready.n_per_litre(),
            "mg N/L",
            format!(
                "{} mg ÷ {} L; fine up to {}",
                n(ready.n_mg),
                n(ready.can_litres),
                n(strength::nitrogen(r, s).fine)
            ),
            &["n_fine_draining", "n_fine_gentle", "n_fine_seedling"],
        );
    }
    if let Some((_, slow)) = p.slow {
        sheet.add(
            "slow nitrogen",
            slow.n_mg,
            "mg",
            format!(
                "need ÷ {} released, limited by {}",
                n(r.organic_released),
                limit_words(slow.limit)
            ),
            &["organic_released", "organic_once", "together_14_days"],
        );
        release_of(&mut sheet, p, slow.life_weeks, slow.n_mg);
    }
    if let Some(epsom) = p.epsom {
        sheet.add(
            "Epsom salt",
            epsom.grams,
            "g",
            if epsom.limit == Limit::Label {
                "what the label on the packet allows".to_owned()
            } else {
                format!(
                    "the smaller of {} g/L × {} L of water and {} g/L × {} L of mix",
                    n(r.epsom_per_litre),
                    n(epsom.litres),
                    n(r.epsom_per_mix),
                    n(s.litres)
                )
            },
            &["epsom_per_litre", "epsom_per_mix"],
        );
    }
    if let Some(planned) = &p.planned {
        sheet.add(
            "planned nitrogen",
            planned.n_mg,
            "mg",
            format!(
                "{} g at most in {} L",
                n(planned.grams.hi()),
                n(planned.litres)
            ),
            &[],
        );
        if planned.n_per_litre > 0.0 {
            sheet.add(
                "planned strength",
                planned.n_per_litre,
                "mg N/L",
                format!(
                    "fine up to {}, far too strong above {}",
                    n(strength::nitrogen(r, s).fine),
                    n(strength::nitrogen(r, s).stop)
                ),
                &["n_fine_draining", "n_stop_draining"],
            );
            sheet.add(
                "planned salt, high end",
                planned.ec.1,
                "dS/m",
                format!("water {} plus the ions of the feed", n(s.water_ec)),
                &[],
            );
            if let Some(last) = sheet.figures.last_mut() {
                last.source = "ions of the label's grade and forms: mccleskey_2012, phreeqc_dat; where the forms are not known, the saltiest mix with that grade and 10 % (our own choice)".into();
            }
        }
    }
    sheet.add(
        "next feed",
        p.next_days,
        "days",
        format!(
            "a third washed out at {} mm of rain a month, within {} to {} days, never under the label",
            n(s.rain_mm),
            n(r.interval_least),
            n(r.interval_most)
        ),
        &["washed_share", "interval_least", "interval_most"],
    );
    sheet.figures
}

/// What the slow feed gives off in the first two weeks, at most, and how it goes on.
fn release_of(sheet: &mut Sheet<'_>, p: &Proposal, life: Option<f64>, n_mg: f64) {
    let percent = |share: f64| n((share * 100.0).round());
    let r = &sheet.knowledge.rates;
    let (out, formula, source) = match life {
        None => {
            let (two, eight) = (release::organic(2.0), release::organic(8.0));
            let formula = format!(
                "{} to {} % of it is free after 2 weeks, {} to {} % after 8",
                percent(two.low),
                percent(two.high),
                percent(eight.low),
                percent(eight.high)
            );
            (two.high, formula, "published: hartz_johnstone")
        }
        Some(life) => {
            let label = r.coated_label_temperature;
            let warm = p.situation.temperature.mid().unwrap_or(f64::NAN);
            let mix = if warm.is_finite() { warm } else { label };
            let coated = release::Coated { life, label };
            let at = |weeks: f64| coated.released(weeks, mix).unwrap_or(1.0);
            let formula = format!(
                "{} % after 2 weeks, {} % after 8 at {} °C; empty after {} weeks",
                percent(at(2.0)),
                percent(at(8.0)),
                n(mix),
                n(coated.weeks_until_empty(mix).unwrap_or(life).round())
            );
            (at(2.0), formula, "our own choice on jacobs_2005")
        }
    };
    sheet.add(
        "given off in two weeks, at most",
        out * n_mg,
        "mg",
        formula,
        &[],
    );
    if let Some(last) = sheet.figures.last_mut() {
        last.source = source.to_owned();
    }
}

fn mark_words(mark: Mark) -> &'static str {
    mark.words()
}

/// Words for what limited an amount.
#[must_use]
pub fn limit_words(limit: Limit) -> &'static str {
    match limit {
        Limit::Need => "nothing; the need is met",
        Limit::OneGo => "the most in one go",
        Limit::CanNitrogen => "the nitrogen of the can",
        Limit::CanSalt => "the salt of the can",
        Limit::Phosphate => "its phosphate",
        Limit::Potash => "its potash",
        Limit::Together => "what both feeds give together",
        Limit::Chloride => "its chloride",
        Limit::Label => "the label",
        Limit::LabelUnknown => "the label not being known: half",
    }
}
