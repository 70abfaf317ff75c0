//! A blend as JSON: `docs/blend.schema.json` describes it.

use super::Sheet;
use crate::blend::{Answer, Fit, Mix, Proof};
use crate::quantity::GradeBasis;
use serde_json::{Value, json};

/// A blend as JSON, `"format": "tubgrove.blend/1"`.
///
/// # Errors
/// Never in practice.
pub fn json(answer: &Answer, sheet: &Sheet<'_>) -> Result<String, serde_json::Error> {
    let (recipe, because) = match answer {
        Answer::Mix(recipe) => (Some(recipe.as_ref()), Vec::new()),
        Answer::Cannot(refusal) => (
            refusal.without.as_deref(),
            refusal.reasons.iter().map(ToString::to_string).collect(),
        ),
    };
    serde_json::to_string_pretty(&json!({
        "format": "tubgrove.blend/1",
        "target": sheet.target,
        "scoop": sheet.scoop,
        "label_basis": sheet.bases.iter().map(|(basis, said)| json!({
            "basis": match basis { GradeBasis::Oxide => "oxide", GradeBasis::Element => "element" },
            "said": said,
        })).collect::<Vec<_>>(),
        "can": matches!(answer, Answer::Mix(_)),
        "because": because,
        "best": recipe.map(|r| mix_json(&r.best, sheet)),
        "alternatives": recipe.map_or_else(Vec::new, |r| {
            r.alternatives.iter().map(|m| mix_json(m, sheet)).collect()
        }),
        "proof": recipe.map(|r| match r.proof {
            Proof::Exhaustive => "exhaustive",
            Proof::Within(_) => "within",
            Proof::BestFound => "best_found",
        }),
        "spared": sheet.spared.iter().map(|one| json!({
            "name": sheet.name(one.place),
            "what": one.what,
            "left_out": sheet.left_out,
        })).collect::<Vec<_>>(),
        "handling": sheet.handling,
        "pairs": sheet.pairs.iter().map(|pair| json!({
            "a": sheet.name(pair.places.0),
            "b": sheet.name(pair.places.1),
            "what": pair.what,
            "refused": pair.refused,
        })).collect::<Vec<_>>(),
    }))
}

fn mix_json(mix: &Mix, sheet: &Sheet<'_>) -> Value {
    let batch = sheet.batch.and_then(|size| mix.batch(size).ok());
    json!({
        "parts": mix.parts.iter().map(|p| json!({
            "name": p.name, "scoops": p.scoops, "g": p.grams,
            "g_range": [p.grams_range.0, p.grams_range.1],
        })).collect::<Vec<_>>(),
        "grade": mix.grade.as_array(),
        "grade_low": mix.grade_lo.as_array(),
        "grade_high": mix.grade_hi.as_array(),
        "ratio": mix.ratio.as_array(),
        "deviation": mix.deviation.as_f64(),
        "deviation_at_worst": mix.deviation_at_worst,
        "fit": match mix.fit {
            Fit::OnTarget => "on_target",
            Fit::Near => "near",
            Fit::Far => "far",
        },
        "furthest": mix.furthest.map(|f| f.nutrient.to_string()),
        "sum_of_percentages": mix.shortcut.sum.as_array(),
        "shortcut_misleads": {
            "on_strength": mix.shortcut.misleads_on_strength,
            "on_ratio": mix.shortcut.misleads_on_ratio,
        },
        "cost": mix.cost.as_ref().map(|c| c.known),
        "cost_per_kg": mix.cost.as_ref().and_then(|c| c.per_kg),
        "batch": batch.map(|parts| parts.iter().map(|p| json!({
            "name": sheet.name(p.place),
            "g": p.grams,
        })).collect::<Vec<_>>()),
    })
}
