//! The page as JSON: `docs/strength.schema.json` describes it.

use super::{Limit, Page};
use crate::chemistry::precipitation::Deposit;
use crate::chemistry::tolerance::{CITRUS_MAAS_1993, ORANGE_MAAS_HOFFMAN_1977};
use crate::quantity::GradeBasis;
use serde_json::{Map, Value, json};

fn pair((low, high): (f64, f64)) -> Value {
    json!([low, high])
}

fn limit(l: &Limit) -> Value {
    json!({
        "nitrogen_fine_mg_per_l": l.nitrogen.fine,
        "nitrogen_stop_mg_per_l": l.nitrogen.stop,
        "salt_fine_ds_per_m": l.salt.fine,
        "salt_stop_ds_per_m": l.salt.stop,
        "salt_added_ds_per_m": l.added,
    })
}

/// As JSON, `"format": "tubgrove.strength/1"`. Ranges are lowest and highest.
///
/// # Errors
/// Never in practice.
pub fn json(page: &Page<'_>) -> Result<String, serde_json::Error> {
    let c = page.contents;
    let water = page.can.water();
    let (low, high) = c.minerals;
    let minerals: Map<String, Value> = low
        .iter()
        .zip(high.iter())
        .map(|((m, from), (_, to))| (m.symbol().to_lowercase(), pair((from, to))))
        .collect();
    let yields = |extract: f64| {
        json!({
            "published": CITRUS_MAAS_1993.relative_yield(extract),
            "older": ORANGE_MAAS_HOFFMAN_1977.relative_yield(extract),
        })
    };
    let [draining, reservoir] = page.by_pot;
    let [weak, strong] = page.edges;
    serde_json::to_string_pretty(&json!({
        "format": "tubgrove.strength/1",
        "verdict": page.verdict().id(),
        "feeds": page.names,
        "litres": c.litres,
        "label_basis": page.bases.iter().map(|(basis, said)| json!({
            "basis": match basis { GradeBasis::Oxide => "oxide", GradeBasis::Element => "element" },
            "said": said,
        })).collect::<Vec<_>>(),
        "mg_per_l": {
            "n": pair(c.n), "nitrate_n": pair(c.nitrate), "ammonium_n": pair(c.ammonium), "urea_n": pair(c.urea),
            "p2o5": pair(c.p2o5), "p": pair(c.p), "k2o": pair(c.k2o), "k": pair(c.k),
            "minerals": minerals,
        },
        "ammonium_or_urea_share": c.ammonium_urea,
        "chloride_me_per_l": c.chloride,
        "chloride_open": c.chloride_open,
        "lime_mg_per_l": pair(c.lime),
        "salt_ds_per_m": {
            "water": c.water_ec, "water_measured": water.ec.is_some(),
            "added": pair(c.ec_added), "added_after_urea": pair(c.ec_added_later), "total": pair(c.ec),
        },
        "yield_percent_if_always": yields(c.ec_worst().1 * 1.5),
        "judged": {
            "nitrogen": page.judged.nitrogen.id(),
            "salt": page.judged.salt.id(),
            "chloride": page.judged.chloride.id(),
            "epsom": page.judged.epsom.id(),
            "sodium": page.judged.sodium.id(),
            "trace": page.judged.trace.id(),
            "strictest_tree": page.strictest,
            "bag_at_lower_edge": weak.id(),
            "bag_at_upper_edge": strong.id(),
        },
        "limits": {
            "here": limit(&page.limits.here),
            "draining": limit(&page.limits.draining.0),
            "self_watering": limit(&page.limits.reservoir.0),
        },
        "by_pot": { "draining": draining.id(), "self_watering": reservoir.id() },
        "less": page.less.as_ref().filter(|_| !page.refused()).map(|less| json!({
            "share": less.share,
            "g": less.parts.iter().map(|p| p.grams).collect::<Vec<_>>(),
            "spoons": less.parts.iter().map(|p| &p.spoons.spoonful.text).collect::<Vec<_>>(),
            "litres": less.litres,
        })),
        "pot": page.pot.as_ref().map(|pot| json!({
            "volume_l": pot.volume,
            "litres": pot.litres,
            "nitrogen_g": pair((pot.n_mg.0 / 1000.0, pot.n_mg.1 / 1000.0)),
            "week_need_mg": pot.weekly_mg,
            "share_of_week": (pot.weekly_mg > 0.0)
                .then(|| pair((pot.n_mg.0 / pot.weekly_mg, pot.n_mg.1 / pot.weekly_mg))),
            "mix_ds_per_m": pot.in_mix.as_ref().map(|m| json!({
                "before": m.before, "measured": m.measured, "after": pair(m.after),
                "yield_percent": yields(m.later.1),
            })),
        })),
        "slow": page.slow.iter().map(|s| json!({
            "nitrogen_g": pair((s.n_mg.0 / 1000.0, s.n_mg.1 / 1000.0)),
            "free_after_2_weeks": s.free.map(|[two, _]| pair(two)),
            "free_after_8_weeks": s.free.map(|[_, eight]| pair(eight)),
            "empty_weeks": s.empty_weeks,
            "most_g": s.most_mg.map(|mg| mg / 1000.0),
        })).collect::<Vec<_>>(),
        "reacts": page.reacting.iter().map(|r| &r.what).collect::<Vec<_>>(),
        "settles": page.sediment.deposits.iter().map(|d| match d {
            Deposit::Gypsum => "gypsum",
            Deposit::CalciumPhosphate => "calcium_phosphate",
            Deposit::Lime => "lime",
            Deposit::Struvite => "struvite",
        }).collect::<Vec<_>>(),
        "gypsum_saturation": page.sediment.gypsum,
    }))
}
