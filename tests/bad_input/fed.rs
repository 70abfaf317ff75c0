//! A tree under which the shipped rules let a dose out.

use super::fit::FIT;
use super::long_ago::LONG_AGO;

/// The kumquat of the terrace in its pot, and a feed with its label.
const KUMQUAT: [(&str, &str); 13] = [
    ("citrus_type", "kumquat"),
    ("tree_stage", "bearing"),
    ("pot_kind", "terracotta"),
    ("pot_volume", "20 L"),
    ("tree_height", "120 cm"),
    ("place", "outdoors"),
    ("air_temperature", "22 C"),
    ("season", "summer"),
    ("product_kind", "soluble"),
    ("product_grade", "24-8-16"),
    ("label_rate", "1.25 mL per L"),
    ("label_interval_days", "14"),
    ("planned_amount", "not_sure"),
];

/// Its answers as a file.
pub(crate) fn answers() -> String {
    let all = KUMQUAT.iter().chain(&FIT).chain(&LONG_AGO);
    all.map(|(fact, value)| format!("{fact}: {value}\n"))
        .collect()
}
