//! The lines about a litre of the can: nutrients, salt, acidity, and what is not sure about them.

use super::{Page, word};
use crate::chemistry::precipitation::Deposit;
use crate::chemistry::solubility::Mark;
use crate::chemistry::tolerance::{CITRUS_MAAS_1993, ORANGE_MAAS_HOFFMAN_1977, ToleranceLine};
use crate::chemistry::water::{Quality, Restriction};
use crate::quantity::{GradeBasis, round_sig, show_number};

/// A number with three digits.
pub(super) fn n(x: f64) -> String {
    show_number(round_sig(x, 3))
}

/// Lowest to highest, or one number where they hardly differ.
pub(super) fn range((low, high): (f64, f64)) -> String {
    if (high - low).abs() <= 0.02 * high.abs() {
        n(high)
    } else {
        format!("{} to {}", n(low), n(high))
    }
}

/// Yield at the lowest and highest salt, whole per cents, the poorer first.
pub(super) fn yields(line: ToleranceLine, extract: (f64, f64)) -> String {
    let [poor, good] = [extract.1, extract.0].map(|ec| line.relative_yield(ec).round());
    if poor < good {
        format!("{} to {}", show_number(poor), show_number(good))
    } else {
        show_number(poor)
    }
}

fn percent(share: f64) -> String {
    show_number((share * 100.0).round())
}

/// Nitrogen, phosphate, potash and the lines below them.
pub(super) fn nutrients(page: &Page<'_>) -> Vec<String> {
    let c = page.contents;
    let mut out = vec![format!("Nitrogen {} mg/L, all forms counted", range(c.n))];
    let forms: Vec<String> = [
        ("nitrate", c.nitrate),
        ("ammonium", c.ammonium),
        ("urea", c.urea),
    ]
    .into_iter()
    .filter(|(_, x)| x.1 > 0.0)
    .map(|(name, x)| format!("{name} {}", range(x)))
    .collect();
    if let Some(share) = c.ammonium_urea {
        let of = if forms.is_empty() {
            String::new()
        } else {
            format!(": {} mg/L", forms.join(", "))
        };
        out.push(format!(
            "{} % of the nitrogen is ammonium or urea{of}",
            percent(share)
        ));
    } else if c.n.1 > 0.0 {
        out.push(
            "The forms of nitrogen are not known: the salt is an estimate, from the weakest to the strongest mix of salts with this grade. The label's table tells them (nitrate=, ammonium=, urea=)"
                .to_owned(),
        );
    }
    out.push(format!(
        "Phosphate {} mg/L P2O5 ({} P), potash {} mg/L K2O ({} K)",
        range(c.p2o5),
        range(c.p),
        range(c.k2o),
        range(c.k)
    ));
    let (low, high) = c.minerals;
    let others: Vec<String> = low
        .iter()
        .zip(high.iter())
        .filter(|(_, (_, x))| *x > 0.0)
        .map(|((mineral, from), (_, to))| format!("{} {}", mineral.name(), range((from, to))))
        .collect();
    if !others.is_empty() {
        out.push(format!("Also, in mg/L: {}", others.join(", ")));
    }
    if let Some((basis, said)) = page.bases.first() {
        let one = page
            .bases
            .iter()
            .all(|b| b == page.bases.first().unwrap_or(b));
        let what = match basis {
            GradeBasis::Oxide => "P2O5 and K2O (oxides)",
            GradeBasis::Element => "P and K (elements)",
        };
        if !one {
            out.push("P and K were taken as each feed says (as=)".to_owned());
        } else if *said {
            out.push(format!(
                "The three numbers were taken as N and {what}, as told"
            ));
        } else {
            out.push(format!(
                "The three numbers were taken as N, {what}; bags in Australia and New Zealand print the elements (--label-as element)"
            ));
        }
    }
    out
}

/// Salt now and later, chloride, acidity.
pub(super) fn salts(page: &Page<'_>) -> Vec<String> {
    let c = page.contents;
    let water = page.can.water();
    let own = if water.ec.is_some() {
        format!("the water has {}", n(c.water_ec))
    } else {
        format!("the water was assumed at {} (--water-ec)", n(c.water_ec))
    };
    let mut out = vec![format!(
        "Salt {} dS/m at 25 °C, of which the feed adds {}; {own}",
        range(c.ec),
        range(c.ec_added)
    )];
    if c.ec_added_later.1 > c.ec_added.1 * 1.05 {
        out.push(format!(
            "Once its urea has broken down, in days, the feed adds {} dS/m",
            range(c.ec_added_later)
        ));
    }
    if c.chloride > 0.0 || c.chloride_open {
        let amount = if c.chloride > 0.0 {
            format!("Chloride {} me/L", n(c.chloride))
        } else {
            "Chloride: none printed".to_owned()
        };
        let counted = if water.chloride.is_some() {
            "feed and water"
        } else {
            "without the water's own (--water-chloride)"
        };
        let open = if c.chloride_open {
            "; a label without that line may hide more, where its potash is the chloride (Cl=)"
        } else {
            ""
        };
        out.push(format!("{amount}, {counted}{open}"));
    }
    out.extend(super::trace::lines(page));
    if c.epsom.1 > 0.0 {
        out.push(format!(
            "Epsom salt {} g/L; fine up to {} g/L in plain water, none for a seedling",
            range(c.epsom),
            n(page.limits.here.epsom)
        ));
    }
    if c.n.1 > 0.0 {
        out.push(acidity(page));
    }
    if let Some(line) = quality(page) {
        out.push(line);
    }
    let (low, high) = c.ec_worst();
    let extract = (low * 1.5, high * 1.5);
    out.push(format!(
        "Were every watering like this, citrus would yield {} % of the best by the published line, {} % by the older one; a feed is one can in several",
        yields(CITRUS_MAAS_1993, extract),
        yields(ORANGE_MAAS_HOFFMAN_1977, extract)
    ));
    out
}

fn acidity(page: &Page<'_>) -> String {
    let c = page.contents;
    let like = |x: f64| {
        if x < 0.0 {
            format!("uses up {} mg of lime", n(-x))
        } else {
            format!("acts like {} mg of lime", n(x))
        }
    };
    let (sour, limy) = c.lime;
    let feed = if (limy - sour).abs() <= 0.02 * sour.abs().max(limy.abs()) {
        format!("In the long run each litre {}", like(sour))
    } else {
        format!(
            "In the long run each litre {} at the sourest, {} at the limiest",
            like(sour),
            like(limy)
        )
    };
    match page.can.water().alkalinity {
        Some(alkalinity) => format!(
            "{feed}; the alkalinity of the water brings {} mg",
            n(alkalinity)
        ),
        None => feed,
    }
}

/// How FAO's table rates the water.
fn quality(page: &Page<'_>) -> Option<String> {
    let water = page.can.water();
    let said: Vec<String> = [
        ("salt", water.ec.map(|ec| Quality::Salinity.restriction(ec))),
        (
            "chloride",
            water
                .chloride_me_per_l()
                .map(|cl| Quality::ChlorideAtRoot.restriction(cl)),
        ),
        (
            "bicarbonate on leaves",
            water
                .bicarbonate_me_per_l()
                .map(|b| Quality::BicarbonateOnLeaf.restriction(b)),
        ),
    ]
    .into_iter()
    .filter_map(|(what, r)| {
        Some(format!(
            "{what} {}",
            match r? {
                Restriction::None => "no trouble",
                Restriction::SlightToModerate => "slight to moderate trouble",
                Restriction::Severe => "severe trouble",
            }
        ))
    })
    .collect();
    (!said.is_empty()).then(|| {
        format!(
            "The water itself, used all season (FAO's table, second-hand): {}",
            said.join(", ")
        )
    })
}

/// What reacts, clouds or stays on the bottom.
pub(super) fn sediment(page: &Page<'_>) -> Vec<String> {
    let mut out: Vec<String> = page
        .reacting
        .iter()
        .filter(|r| !page.only_tested(r))
        .map(|r| r.what.to_string())
        .collect();
    if epsom_beside_feed(page) {
        out.push("Epsom salt never goes on the same day as a feed: in plain water, two weeks apart from it. The figures are for the can as typed".to_owned());
    }
    let found = &page.sediment;
    for deposit in &found.deposits {
        out.push(match deposit {
            Deposit::Gypsum => format!(
                "Gypsum settles: {} times what the water can hold. Mix it weaker or on different days",
                n(found.gypsum)
            ),
            Deposit::CalciumPhosphate => "Calcium with phosphate may cloud the can (over 2.5 me/L). Leave a jar of it overnight: cloudy means do not use it".to_owned(),
            Deposit::Lime => "Calcium with the water's bicarbonate may leave lime (both over 2.5 me/L). Leave a jar overnight: cloudy means do not use it".to_owned(),
            Deposit::Struvite => "Magnesium, ammonium and phosphate may settle as a white sand".to_owned(),
        });
    }
    if page.jar_test() {
        out.push(format!(
            "At this strength gypsum stays dissolved ({} of what the water can hold); a concentrate of both would settle. Leave a jar of it overnight: cloudy means do not use it",
            n(found.gypsum)
        ));
    }
    for (place, given, most, mark) in &found.undissolved {
        let name = dissolving(page).nth(*place).map_or("?", String::as_str);
        let mark = match mark {
            Mark::Published => "measured, published",
            Mark::Memory => "a handbook figure, from memory",
        };
        out.push(format!(
            "Not all of it dissolves: {name} is {} g a litre, and a litre at 15 to 20 °C takes {} g ({mark})",
            n(*given),
            n(*most)
        ));
    }
    out
}

/// Whether Epsom salt and a feed are in one can.
pub(super) fn epsom_beside_feed(page: &Page<'_>) -> bool {
    page.contents.epsom.1 > 0.0 && dissolving(page).nth(1).is_some()
}

/// Names of the feeds that dissolve.
pub(super) fn dissolving<'p>(page: &'p Page<'_>) -> impl Iterator<Item = &'p String> {
    page.names
        .iter()
        .zip(page.dissolves.iter())
        .filter_map(|(name, yes)| yes.then_some(name))
}

/// Whether a bag at the edge of its tolerance would be judged otherwise.
pub(super) fn tolerance(page: &Page<'_>) -> Option<String> {
    let here = page.judged.worst();
    let said: Vec<String> = page
        .edges
        .iter()
        .zip([
            "a bag as weak as inspectors let pass",
            "one as far above its label",
        ])
        .filter(|(edge, _)| **edge != here)
        .map(|(edge, which)| format!("{which} would be {}", word(*edge)))
        .collect();
    (!said.is_empty()).then(|| {
        format!(
            "It is close: {} (American allowances for guaranteed figures, main nutrients from memory, others published)",
            said.join(", ")
        )
    })
}
