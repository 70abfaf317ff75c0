//! Tests of `line.rs`.

use super::read;
use crate::facts::FactId;
use crate::knowledge::{Files, Knowledge, load};

fn typed(k: &Knowledge, facts: &[&str], text: &str) -> (Vec<String>, Vec<String>) {
    let open: Vec<FactId> = facts
        .iter()
        .map(|f| k.vocabulary.find(f).unwrap())
        .collect();
    let (read, strange) = read(k, &open, text);
    let read = read
        .iter()
        .map(|(f, v)| {
            let fact = k.vocabulary.get(*f);
            format!("{}={}", fact.id, v.write(fact))
        })
        .collect();
    (read, strange)
}

/// What stands beside a word that was not understood settles nothing: a spoon is no day, a width no height, a count no litre.
#[test]
fn a_number_without_its_unit_settles_nothing() {
    let k = load(&Files::shipped(), &[]).unwrap();
    let tree = [
        "citrus_type",
        "tree_stage",
        "pot_kind",
        "pot_volume",
        "tree_height",
        "reservoir_volume",
    ];
    let place = ["place", "air_temperature", "season"];
    let label = ["label_rate", "label_interval_days"];
    let feed = ["material", "product_kind", "product_grade"];
    for (facts, text, wanted) in [
        (&tree[..], "kumkwat 12 inch pot", ""),
        (&tree, "two wheelbarrows", ""),
        (&tree, "some lime", ""),
        (&tree, "3 in a terracotta trough", "pot_kind=terracotta"),
        (&tree, "two kumquats", "citrus_type=kumquat"),
        (&tree, "20 cm terracotta pot", "pot_kind=terracotta"),
        (&tree, "terracotta pot 20 cm", "pot_kind=terracotta"),
        (
            &tree,
            "a 20 cm terracotta pot, 5 L",
            "pot_kind=terracotta pot_volume=5",
        ),
        (
            &tree,
            "120 cm kumquat in a terracotta pot",
            "tree_height=120 citrus_type=kumquat pot_kind=terracotta",
        ),
        (
            &tree,
            "terracotta pot, 20 cm tall",
            "pot_kind=terracotta tree_height=20",
        ),
        (
            &tree,
            "15 L reservoir with 4 L tank",
            "pot_volume=15 pot_kind=reservoir reservoir_volume=4",
        ),
        (
            &tree,
            "kumquat 20 L 20 cm 30 cm",
            "citrus_type=kumquat pot_volume=20 tree_height=20",
        ),
        (&tree, "terracotta pot, 20 cm", "pot_kind=terracotta"),
        (
            &tree,
            "kumquat in a 20 L pot, 120 cm",
            "citrus_type=kumquat pot_volume=20 tree_height=120",
        ),
        (
            &tree,
            "old kumquat",
            "tree_stage=large_old citrus_type=kumquat",
        ),
        (
            &tree,
            "kumquat, old",
            "citrus_type=kumquat tree_stage=large_old",
        ),
        (
            &tree,
            "kumquat, old plastic pot",
            "citrus_type=kumquat pot_kind=plastic",
        ),
        (&tree, "3 year old kumquat", "citrus_type=kumquat"),
        (
            &feed,
            "beads 18-6-12",
            "product_kind=coated product_grade=18-6-12",
        ),
        (
            &feed,
            "coated beads 18-6-12",
            "product_kind=coated product_grade=18-6-12",
        ),
        (&place, "12,5 l", ""),
        (&place, "1", ""),
        (
            &place,
            "outdoor, 22 C, spring",
            "place=outdoors air_temperature=22 season=spring",
        ),
        (&label, "2 scoops a bucket", ""),
        (
            &label,
            "1 g per L, every 14 days",
            "label_rate=1 g per 1 L label_interval_days=14",
        ),
    ] {
        let (read, strange) = typed(&k, facts, text);
        assert_eq!(read.join(" "), wanted, "{text}: {strange:?}");
    }
    assert_eq!(
        typed(&k, &tree, "kumkwat 12 inch pot").1,
        ["kumkwat", "12 inch pot"]
    );
    assert_eq!(typed(&k, &tree, "20 cm terracotta pot").1, ["20 cm pot"]);
    assert!(typed(&k, &tree, "a 20 cm terracotta pot, 5 L").1.is_empty());
}
