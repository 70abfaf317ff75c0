//! The same for mixing dry: each reaction, each rule for a pair, each row about a bag known by its numbers and each note is
//! done one small wrong, and `dry_mixes.yaml` must notice.

use serde::Deserialize;
use tubgrove::blend::{MaterialOnShelf, Shelf, handling, keep_apart, spared};
use tubgrove::knowledge::{Knowledge, PairVerdict, Share, Told};
use tubgrove::quantity::{Grade, GradeBasis};

const TOLD: [Told; 3] = [Told::Organic, Told::Mineral, Told::Nothing];

/// Wrongs that may live, each with the reason.
const MAY_LIVE: [(&str, &str); 2] = [
    (
        "reaction urea/oxidiser: can",
        "every nitrate and everything with urea dissolves, so a dry mix of the two always ends up in a can",
    ),
    (
        "numbers_of_a_meal: Organic too",
        "a bag told to be organic beside a nitrate is refused already, and then nothing more is said",
    ),
];

/// Two of a shelf, and all that is said of them.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Story {
    shelf: Vec<String>,
    pairs: Vec<String>,
    handling: Vec<String>,
}

/// One wrong done to the knowledge.
type Wrong = Box<dyn Fn(&mut Knowledge)>;

fn on_shelf(k: &Knowledge, typed: &str) -> MaterialOnShelf {
    if let Some(m) = k.materials.iter().find(|m| m.id == typed) {
        return MaterialOnShelf::plain(m);
    }
    let (numbers, told) = typed.split_once(' ').unwrap_or((typed, ""));
    let told = match told {
        "organic" => Told::Organic,
        "mineral" => Told::Mineral,
        "" => Told::Nothing,
        _ => panic!("{typed}"),
    };
    let grade = Grade::parse(numbers, GradeBasis::Oxide).unwrap();
    MaterialOnShelf::by_numbers(k, typed, &grade, told)
}

/// What the knowledge says of the two, in the words of a story; rules by the sentence that they have in the sound knowledge.
fn said(k: &Knowledge, sound: &Knowledge, story: &Story) -> (Vec<String>, Vec<String>) {
    let materials: Vec<_> = story.shelf.iter().map(|typed| on_shelf(k, typed)).collect();
    let names: Vec<String> = materials.iter().map(|m| m.name.clone()).collect();
    let mut shelf = Shelf::new(materials).unwrap();
    let pairs = keep_apart(&mut shelf, k).unwrap();
    assert_eq!(
        !shelf.apart().is_empty(),
        pairs.iter().any(|p| p.refused),
        "what is refused is kept apart"
    );
    let rule = |what: &str| {
        let reaction = sound.reactions.iter().find(|r| r.what == what);
        let pair = sound.dry_mix.pairs.iter().find(|p| p.what == what);
        reaction
            .map(|r| format!("{}/{}", r.a, r.b))
            .or_else(|| pair.map(|p| p.id.to_string()))
            .unwrap()
    };
    let mut pairs: Vec<String> = pairs
        .iter()
        .map(|p| {
            format!(
                "{} {}",
                if p.refused { "refuse" } else { "care" },
                rule(&p.what)
            )
        })
        .collect();
    let mut notes = Vec::new();
    for line in handling(&shelf, k) {
        let (of, summary) = line.split_once(". ").unwrap();
        let caution = sound
            .cautions
            .iter()
            .find(|c| c.summary == summary)
            .unwrap();
        let both = names.join(", ");
        let places = names
            .iter()
            .enumerate()
            .filter(|(_, name)| of == **name || of == both);
        notes.extend(places.map(|(at, _)| format!("{} {}", caution.id, at + 1)));
    }
    for one in spared(&shelf, k) {
        let mut rules = sound.dry_mix.spared.iter();
        let rule = rules.find(|r| *r.what == *one.what).unwrap();
        notes.push(format!("{} {}", rule.id, one.place + 1));
    }
    pairs.sort();
    notes.sort();
    (pairs, notes)
}

fn holds(k: &Knowledge, sound: &Knowledge, story: &Story) -> bool {
    let sorted = |list: &[String]| {
        let mut list = list.to_vec();
        list.sort();
        list
    };
    said(k, sound, story) == (sorted(&story.pairs), sorted(&story.handling))
}

/// Every way to do one wrong to a range.
fn ranges(share: &Share) -> Vec<(String, Share)> {
    let mut wrongs = Vec::new();
    let mut add = |name: String, wrong: Share| wrongs.push((name, wrong));
    if let Some(at) = share.above {
        add(
            format!("from {at}"),
            Share {
                above: None,
                from: Some(at),
                ..share.clone()
            },
        );
        add(
            "above left out".into(),
            Share {
                above: None,
                ..share.clone()
            },
        );
        add(
            format!("above {}", at + 1.0),
            Share {
                above: Some(at + 1.0),
                ..share.clone()
            },
        );
    }
    if let Some(at) = share.from {
        add(
            format!("above {at}"),
            Share {
                from: None,
                above: Some(at),
                ..share.clone()
            },
        );
        add(
            "from left out".into(),
            Share {
                from: None,
                ..share.clone()
            },
        );
        for at in [at - 1.0, at + 1.0] {
            add(
                format!("from {at}"),
                Share {
                    from: Some(at),
                    ..share.clone()
                },
            );
        }
    }
    if let Some(at) = share.at_most {
        add(
            "at_most left out".into(),
            Share {
                at_most: None,
                ..share.clone()
            },
        );
        add(
            format!("at_most {}", at + 1.0),
            Share {
                at_most: Some(at + 1.0),
                ..share.clone()
            },
        );
    }
    wrongs
}

fn wrongs(k: &Knowledge) -> Vec<(String, Wrong)> {
    let mut all: Vec<(String, Wrong)> = Vec::new();
    let mut add = |name: String, wrong: Wrong| all.push((name, wrong));
    for (i, r) in k.reactions.iter().enumerate() {
        let name = format!("reaction {}/{}", r.a, r.b);
        add(
            format!("{name} left out"),
            Box::new(move |k| drop(k.reactions.remove(i))),
        );
        let other = if r.verdict == "refuse" {
            "care"
        } else {
            "refuse"
        };
        add(
            format!("{name}: {other}"),
            Box::new(move |k| k.reactions[i].verdict = other.into()),
        );
        // A blend takes "dry" and "both" alike: both mean the dry mix.
        let other = if r.when == "can" { "dry" } else { "can" };
        add(
            format!("{name}: {other}"),
            Box::new(move |k| k.reactions[i].when = other.into()),
        );
    }
    for (i, row) in k.dry_mix.bags.iter().enumerate() {
        add(
            format!("{} left out", row.id),
            Box::new(move |k| drop(k.dry_mix.bags.remove(i))),
        );
        for (name, n) in ranges(&row.n) {
            add(
                format!("{}: N {name}", row.id),
                Box::new(move |k| k.dry_mix.bags[i].n = n.clone()),
            );
        }
        for (name, p) in ranges(&row.p2o5) {
            add(
                format!("{}: P2O5 {name}", row.id),
                Box::new(move |k| k.dry_mix.bags[i].p2o5 = p.clone()),
            );
        }
        for told in TOLD {
            let had = row.told.contains(&told);
            let wrong: Wrong = Box::new(move |k| {
                let list = &mut k.dry_mix.bags[i].told;
                if had {
                    list.retain(|t| *t != told);
                } else {
                    list.push(told);
                }
            });
            add(
                format!(
                    "{}: {told:?} {}",
                    row.id,
                    if had { "left out" } else { "too" }
                ),
                wrong,
            );
        }
    }
    for (i, pair) in k.dry_mix.pairs.iter().enumerate() {
        add(
            format!("{} left out", pair.id),
            Box::new(move |k| drop(k.dry_mix.pairs.remove(i))),
        );
        let other = match pair.verdict {
            PairVerdict::Refuse => PairVerdict::Care,
            PairVerdict::Care => PairVerdict::Refuse,
        };
        add(
            format!("{}: {other:?}", pair.id),
            Box::new(move |k| k.dry_mix.pairs[i].verdict = other),
        );
        for (at, name) in pair.a.iter().enumerate() {
            add(
                format!("{}: without {name}", pair.id),
                Box::new(move |k| drop(k.dry_mix.pairs[i].a.remove(at))),
            );
        }
        for (at, name) in pair.b.iter().enumerate() {
            add(
                format!("{}: without {name}", pair.id),
                Box::new(move |k| drop(k.dry_mix.pairs[i].b.remove(at))),
            );
        }
    }
    for (i, row) in k.dry_mix.spared.iter().enumerate() {
        add(
            format!("{} left out", row.id),
            Box::new(move |k| drop(k.dry_mix.spared.remove(i))),
        );
    }
    for (i, note) in k.dry_mix.handling.iter().enumerate() {
        add(
            format!("note {} left out", note.caution),
            Box::new(move |k| drop(k.dry_mix.handling.remove(i))),
        );
        for (at, name) in note.traits.iter().enumerate() {
            add(
                format!("note {}: without {name}", note.caution),
                Box::new(move |k| drop(k.dry_mix.handling[i].traits.remove(at))),
            );
        }
    }
    all
}

#[test]
fn every_wrong_done_to_a_dry_mix_is_noticed() {
    let sound = super::answers::shipped();
    let stories: Vec<Story> = serde_yaml::from_str(include_str!("dry_mixes.yaml")).unwrap();
    for story in &stories {
        let (pairs, notes) = said(&sound, &sound, story);
        assert!(
            holds(&sound, &sound, story),
            "{story:?}: {pairs:?} {notes:?}"
        );
    }
    let wrongs = wrongs(&sound);
    let mut alive = Vec::new();
    for (name, wrong) in &wrongs {
        let mut k = sound.clone();
        wrong(&mut k);
        if stories.iter().all(|story| holds(&k, &sound, story)) {
            alive.push(name);
        }
    }
    println!("{} wrongs, {} stories", wrongs.len(), stories.len());
    let may: Vec<&str> = MAY_LIVE.iter().map(|(name, _)| *name).collect();
    assert_eq!(
        alive, may,
        "nobody notices the left; the right have a reason"
    );
}

/// The forms of nitrogen and the shares of a material say what it reacts as: a trait that was forgotten would put a rule to sleep.
#[test]
fn what_a_material_holds_it_reacts_as() {
    let k = super::answers::shipped();
    for m in k.materials.iter() {
        let forms = |of: fn(&tubgrove::knowledge::Forms) -> f64| m.forms.as_ref().map_or(0.0, of);
        for (held, name) in [
            (forms(|f| f.ammonium), "ammonium"),
            (forms(|f| f.urea), "urea"),
            (m.element("na"), "sodium"),
            (m.element("cl"), "chloride"),
        ] {
            assert!(held <= 0.0 || m.has(name), "{} holds {held} % {name}", m.id);
        }
    }
}
