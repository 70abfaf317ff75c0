//! Readings as JSON: `docs/reading.schema.json` describes it.

use super::Reading;
use crate::chemistry::extract::Extraction;
use crate::reading::{SaltVerdict, Scale, Standards, chelates, place, spray};
use serde_json::{Value, json};

fn method_id(method: Extraction) -> &'static str {
    match method {
        Extraction::OneToTwo => "one_to_two",
        Extraction::OneToFive => "one_to_five",
        Extraction::Saturated => "saturated",
        Extraction::PourThrough => "pour_through",
    }
}

/// As JSON, `"format": "tubgrove.reading/1"`. `knowledge` is where the standards come from and their version.
///
/// # Errors
/// Never in practice.
pub fn json(
    readings: &[Reading<'_>],
    standards: &Standards,
    knowledge: (&str, &str),
) -> Result<String, serde_json::Error> {
    let leaves = readings.iter().any(|r| matches!(r, Reading::Leaf { .. }));
    let sampling: Vec<Value> = standards
        .sampling
        .iter()
        .filter(|_| leaves)
        .map(|s| json!({ "for": s.place, "says": s.says, "mark": s.mark, "source": s.source }))
        .collect();
    serde_json::to_string_pretty(&json!({
        "format": "tubgrove.reading/1",
        "knowledge": { "origin": knowledge.0, "version": knowledge.1 },
        "readings": readings.iter().map(|r| one(r, standards)).collect::<Vec<_>>(),
        "sampling": sampling,
    }))
}

fn one(reading: &Reading<'_>, standards: &Standards) -> Value {
    match reading {
        Reading::Salt {
            ec,
            method: (method, named),
            scale,
            line,
        } => json!({
            "kind": "salt",
            "ds_per_m": ec,
            "method": method_id(*method),
            "method_named": named,
            "scale": scale.map(|s| match s {
                Scale::Greenhouse => "greenhouse",
                Scale::Nursery => "nursery",
            }),
            "verdict": match line.verdict(*ec) {
                SaltVerdict::Fine => "fine",
                SaltVerdict::Hold => "hold",
                SaltVerdict::Flush => "flush",
            },
            "hold_above": line.limits.0,
            "flush_above": line.limits.1,
            "saturated_ds_per_m": line.saturated,
            "greenhouse": line.greenhouse.map(|band| json!({
                "reading": band.reading,
                "mark": standards.mix_ec.mark,
                "source": standards.mix_ec.source,
            })),
            "nursery": line.nursery.iter().map(|(norm, range)| json!({
                "for": norm.what,
                "range": range,
                "place": place(*ec, *range),
                "mark": norm.mark,
                "source": norm.source,
            })).collect::<Vec<_>>(),
        }),
        Reading::Ph(ph) => json!({
            "kind": "ph",
            "ph": ph,
            "ranges": standards.mix_ph.iter().map(|r| json!({
                "for": r.what,
                "range": r.range,
                "place": place(*ph, r.range),
                "mark": r.mark,
                "source": r.source,
            })).collect::<Vec<_>>(),
            "iron_that_holds": chelates(*ph).into_iter().map(|c| c.name().to_lowercase()).collect::<Vec<_>>(),
        }),
        Reading::Leaf {
            nutrient,
            value,
            lines,
        } => json!({
            "kind": "leaf",
            "nutrient": nutrient.to_lowercase(),
            "value": value,
            "unit": lines.first().map_or("", |l| l.row.unit.as_str()),
            "tables": lines.iter().map(|l| json!({
                "id": l.table.id,
                "name": l.table.name,
                "leaves": l.table.leaves,
                "band": l.band.id(),
                "optimum": l.row.optimum,
                "mark": l.table.mark,
                "source": l.table.source,
            })).collect::<Vec<_>>(),
            "tables_agree": lines.windows(2).all(|pair| matches!(pair, [a, b] if a.band == b.band)),
            "burns_above": standards
                .leaf_burn
                .iter()
                .find(|b| b.nutrient.eq_ignore_ascii_case(nutrient))
                .map(|b| json!({ "value": b.above, "above": *value > b.above, "mark": b.mark, "source": b.source })),
            "spray": spray(nutrient, lines).map(|s| json!({
                "needed": s.needed,
                "element_mg_per_l": s.mg_per_litre,
                "salt": s.salt,
                "salt_g_per_l": s.salt_grams(),
            })),
        }),
    }
}
