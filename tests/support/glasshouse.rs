//! The glasshouse and terrace of the examples, in a record of its own.

use super::place::Place;

/// Six trees, a bag of powder, a rule of the place from 10 January to 10 February.
pub(crate) fn glasshouse(name: &str) -> Place {
    let p = Place::new(name);
    p.ok(
        "2025-09-01",
        &[
            "site",
            "--hemisphere",
            "south",
            "--climate",
            "light_frost_wet_summer",
            "--water",
            "tap",
            "--ban",
            "Lake rule: 01-10..02-10 nitrogen phosphate",
        ],
    );
    for (tree, citrus, pot, volume, where_) in [
        ("Kumquat", "kumquat", "terracotta", "20 L", "outdoors"),
        ("Meyer", "meyer_lemon", "plastic", "15 L", "outdoors"),
        ("Calamondin", "calamondin", "glazed", "10 L", "under_cover"),
        ("Makrut", "makrut_lime", "reservoir", "15 L", "under_cover"),
        ("Yuzu", "yuzu", "plastic", "25 L", "outdoors"),
        ("Valencia", "sweet_orange", "wood", "40 L", "outdoors"),
    ] {
        p.ok(
            "2025-09-01",
            &[
                "tree",
                "add",
                tree,
                "--citrus",
                citrus,
                "--stage",
                "bearing",
                "--pot",
                pot,
                "--volume",
                volume,
                "--place",
                where_,
                "--height",
                "120 cm",
                "--repotted",
                "2024-03-01",
                "--fed",
                "2025-05-01",
            ],
        );
    }
    p.ok(
        "2025-09-01",
        &[
            "shelf",
            "add",
            "Powder",
            "--kind",
            "soluble",
            "--grade",
            "24-8-16",
            "--label",
            "1 g per L every 14 days",
            "--left",
            "500 g",
        ],
    );
    p
}
