//! The lines about one pot, about feeds that do not dissolve, and about how much less is fine.

use super::lines::{dissolving, n, range, yields};
use super::{Page, Pot, word};
use crate::chemistry::tolerance::{CITRUS_MAAS_1993, ORANGE_MAAS_HOFFMAN_1977};
use crate::dose::can::{Less, Slow};
use crate::dose::strength::Strength;
use crate::quantity::{show_grams_down, show_litres, show_litres_down, show_number};

/// How the litres of this pot are spoken of: none of what is too strong goes on it.
pub(super) fn takes(page: &Page<'_>) -> &'static str {
    match page.verdict() {
        Strength::Fine | Strength::Care => "takes",
        Strength::Reduce | Strength::Stop => "would get",
    }
}

/// What this pot gets.
pub(super) fn pot(page: &Page<'_>, pot: &Pot) -> Vec<String> {
    let mut out = Vec::new();
    let need = if pot.weekly_mg > 0.0 {
        let share = |mg: f64| (mg / pot.weekly_mg * 100.0).round();
        format!(
            "{} % of a week's need ({} mg)",
            range((share(pot.n_mg.0), share(pot.n_mg.1))),
            n(pot.weekly_mg)
        )
    } else {
        "against a week's need of none: cold, great heat or no new growth stops it, and what is not told counts as that (tell air_temperature and new_growth)".to_owned()
    };
    out.push(format!(
        "The pot of {} {} {} of it: {} g of nitrogen, {need}",
        show_litres(pot.volume),
        takes(page),
        show_litres_down(pot.litres),
        range((pot.n_mg.0 / 1000.0, pot.n_mg.1 / 1000.0)),
    ));
    if pot.litres < pot.takes * 0.98 {
        out.push(format!(
            "It could take {}; give the rest as plain water",
            show_litres_down(pot.takes)
        ));
    }
    if let Some(mix) = &pot.in_mix {
        let from = if mix.measured {
            "as measured"
        } else {
            "from the water alone; measure it with mix_ec"
        };
        let urea = if mix.later.1 > mix.after.1 * 1.02 {
            format!(", {} once urea has broken down", range(mix.later))
        } else {
            String::new()
        };
        let newer = yields(CITRUS_MAAS_1993, mix.later);
        let older = yields(ORANGE_MAAS_HOFFMAN_1977, mix.later);
        out.push(format!(
            "Salt in the mix, as a saturated extract: {} dS/m before ({from}), {} right after{urea}. Were it to stay so, citrus would yield {newer} % (published line) or {older} % (older line)",
            n(mix.before),
            range(mix.after)
        ));
    }
    let here = &page.limits.here;
    out.push(format!(
        "Fine here: nitrogen up to {} mg/L, salt up to {} dS/m in all and {} from the feed, chloride up to {} me/L",
        n(here.nitrogen.fine),
        n(here.salt.fine),
        n(here.added),
        n(here.chloride.fine)
    ));
    out
}

/// Limits of the two kinds of pot, where the pot is not known.
pub(super) fn kinds(page: &Page<'_>, verdicts: [Strength; 2]) -> Vec<String> {
    [
        ("a pot with drain holes", page.limits.draining.0),
        ("a self-watering pot", page.limits.reservoir.0),
    ]
    .into_iter()
    .zip(verdicts)
    .map(|((what, limit), verdict)| {
        format!(
            "In {what}, a grown tree in the warm: {} (fine to {} mg/L of nitrogen and {} dS/m)",
            word(verdict),
            n(limit.nitrogen.fine),
            n(limit.salt.fine)
        )
    })
    .collect()
}

/// Feeds that do not dissolve.
pub(super) fn slow(page: &Page<'_>) -> Vec<String> {
    let names = page
        .names
        .iter()
        .zip(page.dissolves.iter())
        .filter_map(|(name, yes)| (!yes).then_some(name));
    names
        .zip(page.slow)
        .map(|(name, s)| one_slow(page, name, s))
        .collect()
}

fn one_slow(page: &Page<'_>, name: &str, s: &Slow) -> String {
    let Some([two, eight]) = s.free else {
        return format!(
            "{name} does not dissolve and is no feed for a can; nothing of it is counted"
        );
    };
    let percent = |(low, high): (f64, f64)| range(((low * 100.0).round(), (high * 100.0).round()));
    let when = match s.empty_weeks {
        Some(weeks) => format!(
            "At a mix of {} °C about {} % of its nitrogen is out after two weeks and {} % after eight; it is empty after {} weeks (own estimate from the label's life)",
            show_number(page.mix_temperature.round()),
            percent(two),
            percent(eight),
            show_number(weeks.round())
        ),
        None => format!(
            "Of its nitrogen {} % is free after two weeks and {} % after eight (published, for meals of 11.7 to 15.8 % N)",
            percent(two),
            percent(eight)
        ),
    };
    let most = match s.most_mg {
        Some(most) if s.n_mg.1 > most => format!(
            " It holds {} g of nitrogen; this pot takes {} g in one top-dress, so give less",
            range((s.n_mg.0 / 1000.0, s.n_mg.1 / 1000.0)),
            n(most / 1000.0)
        ),
        Some(most) => format!(
            " It holds {} g of nitrogen, within the {} g that this pot takes in one top-dress",
            range((s.n_mg.0 / 1000.0, s.n_mg.1 / 1000.0)),
            n(most / 1000.0)
        ),
        None => format!(
            " It holds {} g of nitrogen",
            range((s.n_mg.0 / 1000.0, s.n_mg.1 / 1000.0))
        ),
    };
    format!("{name} does not dissolve: spread it on the mix. {when}.{most}")
}

/// How much less makes it fine.
pub(super) fn less(page: &Page<'_>, less: &Less) -> String {
    if less.share <= 0.0 {
        return "This water alone is over the limit: no feed in it is fine. Use rain or other water.".to_owned();
    }
    let parts: Vec<String> = dissolving(page)
        .zip(&less.parts)
        .map(|(name, part)| {
            let what = name
                .split_once(" of ")
                .map_or(name.as_str(), |(_, what)| what);
            let spoons = if part.spoons.spoonful.is_too_small() {
                String::new()
            } else {
                format!(" (by spoon at most {})", part.spoons.spoonful.text)
            };
            format!("{}{spoons} of {what}", show_grams_down(part.grams))
        })
        .collect();
    let litres = less.litres.map_or_else(String::new, |l| {
        format!(
            ", or the whole amount in {} of water, of which each pot gets no more than it takes",
            show_litres(l)
        )
    });
    format!(
        "Fine would be {} in the same {}{litres}.",
        parts.join(" and "),
        show_litres_down(page.contents.litres)
    )
}

/// Whether bags within what inspectors let pass would be judged otherwise, in short.
pub(super) fn close(page: &Page<'_>) -> Option<String> {
    let here = page.judged.worst();
    let said: Vec<String> = page
        .edges
        .iter()
        .zip(["weaker", "richer"])
        .filter(|(edge, _)| **edge != here)
        .map(|(edge, which)| {
            format!(
                "from a bag that is {which} than its label it would be {}",
                super::brief::said(*edge)
            )
        })
        .collect();
    (!said.is_empty()).then(|| format!("It is close: {}", said.join("; ")))
}
