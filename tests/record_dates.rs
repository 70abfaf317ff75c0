//! One truth about days: a plan, a feeding day, `due` and the log name the same next day, and none of them names a day on which
//! the rules would hold the feed for something that the record knows.
//!
//! The place is below 13 °C from the second half of May (14 °C in the middle of May, 10 in the middle of June; 13 is a quarter of the
//! way) to the middle of September (13 °C), so 16 September is the first day after the cold and the middle of April six weeks before it.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use jiff::ToSpan;
use jiff::civil::{Date, date};
use serde_json::Value as Json;

#[path = "support/dated.rs"]
mod dated;
#[path = "support/fit.rs"]
mod fit;
#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
#[path = "support/said.rs"]
mod said;
use dated::{due, wants};
use glasshouse::glasshouse;
use place::{Place, run_on};
use said::said;

const SPRING: &str = "2026-09-16";

/// Trees without a day of their own, and three products with their labels; beads of 20 weeks, and some of unknown life.
fn terrace(name: &str) -> Place {
    let p = Place::new(name);
    let on = "2025-07-01";
    let site = "site --hemisphere south --climate light_frost_wet_summer";
    p.ok(on, &site.split(' ').collect::<Vec<_>>());
    for (tree, rest) in [
        (
            "Kumquat",
            "kumquat --pot terracotta --volume 20L --place outdoors",
        ),
        ("Yuzu", "yuzu --pot plastic --volume 40L --place outdoors"),
        (
            "Valencia",
            "sweet_orange --pot wood --volume 40L --place outdoors",
        ),
        (
            "Makrut",
            "makrut_lime --pot reservoir --volume 15L --place under_cover",
        ),
        (
            "Calamondin",
            "calamondin --pot glazed --volume 10L --place indoors",
        ),
    ] {
        let mut args = vec!["tree", "add", tree, "--stage", "bearing", "--citrus"];
        args.extend(rest.split(' '));
        p.ok(on, &args);
    }
    for (product, kind, grade, label, more) in [
        (
            "Powder",
            "soluble",
            "24-8-16",
            "1 g per L every 14 days",
            None,
        ),
        (
            "Liquid",
            "liquid_mineral",
            "6-3-6",
            "3 mL per L every 21 days",
            None,
        ),
        (
            "Pellets",
            "organic_granular",
            "5-3-2",
            "40 g per pot every 56 days",
            None,
        ),
        (
            "Beads",
            "coated",
            "16-6-13",
            "100 g per pot every 14 days",
            Some("20"),
        ),
        (
            "Old beads",
            "coated",
            "15-9-12",
            "100 g per pot every 14 days",
            None,
        ),
    ] {
        let mut args = vec![
            "shelf", "add", product, "--kind", kind, "--grade", grade, "--label", label,
        ];
        args.extend(more.into_iter().flat_map(|weeks| ["--weeks", weeks]));
        p.ok(on, &args);
    }
    p
}

fn fed(p: &Place, day: &str, tree: &str, product: &str, amount: &str) -> String {
    let args = [
        "log",
        "feed",
        "--tree",
        tree,
        "--product",
        product,
        "--amount",
        amount,
    ];
    said(p, day, &args)
}

/// A plan for a fit tree; what the weather is comes from the record.
fn plan(p: &Place, day: &str, tree: &str, product: &str, more: &[&str]) -> Json {
    checked(&p.file(), day, tree, product, more)
}

fn checked(file: &std::path::Path, day: &str, tree: &str, product: &str, more: &[&str]) -> Json {
    let mut args: Vec<String> = ["precheck", "--json", "--rest-not-sure", "--tree", tree]
        .map(str::to_owned)
        .to_vec();
    args.extend(["--product".to_owned(), product.to_owned()]);
    let given = |fact: &str| more.iter().any(|m| m.starts_with(&format!("{fact}=")));
    for (fact, value) in fit::FIT.iter().filter(|(fact, _)| !given(fact)) {
        args.extend(["--set".to_owned(), format!("{fact}={value}")]);
    }
    for set in more {
        args.extend(["--set".to_owned(), (*set).to_owned()]);
    }
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    let (_, out, err) = run_on(file, day, &args);
    serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e}: {err}"))
}

fn next(plan: &Json) -> &str {
    plan["next"]["date"].as_str().unwrap()
}

fn holds(plan: &Json) -> Vec<String> {
    let list = plan["cautions"].as_array().unwrap();
    list.iter()
        .filter(|c| c["level"] == "hold" || c["level"] == "stop")
        .map(|c| c["id"].as_str().unwrap().to_owned())
        .collect()
}

/// The last feed before the cold is followed by none until it is over, in a plan, a feeding day and `due`.
#[test]
fn the_feed_after_the_last_one_before_the_cold_is_the_first_one_after_it() {
    let p = terrace("dates-last");
    let last = plan(&p, "2026-03-29", "Valencia", "Powder", &[]);
    assert_eq!(last["verdict"], "go", "{last}");
    assert_eq!(next(&last), SPRING);
    let round = p.ok(
        "2026-03-29",
        &[
            "round",
            "--json",
            "--tree",
            "Valencia",
            "--product",
            "Powder",
            "--looked",
            "--rest-not-sure",
            "--set",
            "heat_now=no",
            "--set",
            "rain_due=no",
            "--set",
            "also_in_can=nothing",
        ],
    );
    let round: Json = serde_json::from_str(&round).unwrap();
    assert_eq!(round["again"][0]["day"], SPRING, "{round}");
    p.ok("2026-03-29", &["round", "--done"]);
    let list = due(&p, "2026-03-30", "Valencia");
    assert_eq!(wants(&list, "feed").as_deref(), Some(SPRING));
    // Asked in between, the day is the same: 12 April by the interval of two weeks, which lies in the six weeks before the cold.
    for day in ["2026-04-04", "2026-04-30", "2026-06-20"] {
        let wait = plan(&p, day, "Valencia", "Powder", &[]);
        assert_eq!(
            (&wait["verdict"], next(&wait)),
            (&"hold".into(), SPRING),
            "{day}"
        );
    }
}

/// Without a record: an answer that the cold is six to eight weeks off leaves no second feed before it, and a named autumn in April
/// is the south's, whose spring begins on 1 September.
#[test]
fn without_a_record_spring_is_that_of_the_calendar() {
    let p = Place::new("dates-loose");
    let mut args: Vec<String> = "precheck --json --rest-not-sure --set days_since_feed=60 --set days_since_repot=800 \
        --set pot_kind=plastic --set pot_volume=20L --set place=outdoors --set tree_stage=bearing --set product_kind=soluble \
        --set product_grade=24-8-16 --set air_temperature=20 --set season=autumn"
        .split_whitespace()
        .map(str::to_owned)
        .collect();
    for (fact, value) in fit::FIT {
        args.extend(["--set".to_owned(), format!("{fact}={value}")]);
    }
    let run = |cold: &str| {
        let mut all: Vec<&str> = args.iter().map(String::as_str).collect();
        all.extend(["--set", cold]);
        let (_, out, err) = p.run("2026-04-05", &all);
        serde_json::from_str::<Json>(&out).unwrap_or_else(|e| panic!("{e}: {err}"))
    };
    let go = run("frost_ahead=six_to_eight_weeks");
    assert_eq!((&go["verdict"], next(&go)), (&"go".into(), "2026-09-01"));
    let wait = run("frost_ahead=within_six_weeks");
    assert_eq!(
        (&wait["verdict"], next(&wait)),
        (&"hold".into(), "2026-09-01")
    );
    // Later than that no day is named by the answer: two weeks.
    assert_eq!(next(&run("frost_ahead=later")), "2026-04-19");
}

/// Two weeks lie between two feeds of whatever product: 20 January + 14 days. Meal works for eight weeks: 17 March.
#[test]
fn due_looks_at_the_feeds_of_every_product() {
    let p = terrace("dates-two");
    fed(&p, "2026-01-01", "Kumquat", "Powder", "2 g");
    fed(&p, "2026-01-20", "Kumquat", "Pellets", "18 g");
    let list = due(&p, "2026-01-21", "Kumquat");
    assert_eq!(wants(&list, "feed").as_deref(), Some("2026-02-03"));
    assert_eq!(wants(&list, "top_dress").as_deref(), Some("2026-03-17"));
    let wait = plan(&p, "2026-01-21", "Kumquat", "Powder", &[]);
    assert_eq!(next(&wait), "2026-02-03");
    assert_eq!(
        plan(&p, "2026-02-03", "Kumquat", "Powder", &[])["verdict"],
        "go"
    );
}

/// Nothing goes on beads that still feed. Twenty weeks from 28 October end on 17 March where every day is as warm as the label's
/// 21 °C; here October and November are cooler, so they last a few days longer (2^((17 − 21)/10) = 0.76 of a day each).
#[test]
fn beads_hold_as_long_as_they_last_and_no_longer() {
    let p = terrace("dates-beads");
    fed(&p, "2025-10-05", "Yuzu", "Powder", "2 g");
    fed(&p, "2025-10-28", "Yuzu", "Beads", "70 g");
    let list = due(&p, "2026-01-21", "Yuzu");
    let empty: Date = wants(&list, "feed").unwrap().parse().unwrap();
    assert!(
        date(2026, 3, 17) < empty && empty < date(2026, 4, 10),
        "{empty}"
    );
    // Beads of twenty weeks, spread then, would feed on into the cold.
    assert_eq!(wants(&list, "top_dress").as_deref(), Some(SPRING));
    let before = empty.checked_sub(1.day()).unwrap().to_string();
    for day in ["2026-01-21", "2026-03-10", before.as_str()] {
        let wait = plan(&p, day, "Yuzu", "Powder", &[]);
        assert_eq!(holds(&wait), ["coated_still_works"], "{day}");
        assert_eq!(next(&wait), empty.to_string(), "{day}");
    }
    let go = plan(&p, &empty.to_string(), "Yuzu", "Powder", &[]);
    assert_eq!(go["verdict"], "go", "{go}");
    // Squeezed and found empty before that: the grower's look counts.
    let squeezed = plan(&p, "2026-03-10", "Yuzu", "Powder", &["beads_empty=yes"]);
    assert_eq!(squeezed["verdict"], "go", "{squeezed}");
}

/// Whose life nobody knows count for half a year: 28 October + 180 days is 26 April, in the six weeks before the cold.
#[test]
fn beads_of_unknown_life_hold_for_half_a_year() {
    let p = terrace("dates-unknown");
    fed(&p, "2025-09-20", "Yuzu", "Old beads", "70 g");
    // 20 September + 180 days.
    let wait = plan(&p, "2026-01-21", "Yuzu", "Powder", &[]);
    assert_eq!(next(&wait), "2026-03-19");
    fed(&p, "2025-10-28", "Valencia", "Old beads", "70 g");
    let wait = plan(&p, "2026-01-21", "Valencia", "Powder", &[]);
    assert_eq!(next(&wait), SPRING);
}

/// Twelve weeks are 84 days at the label's 21 °C; at 20 °C 84 × 2^(1/10) = 90.03, so the 91st day: 20 December.
#[test]
fn a_plan_for_beads_names_the_day_on_which_they_are_empty() {
    let p = Place::new("dates-twelve");
    let mut args: Vec<String> = "precheck --json --rest-not-sure --set days_since_feed=200 --set days_since_repot=800 \
        --set frost_ahead=later --set pot_kind=plastic --set pot_volume=20L --set place=outdoors --set tree_stage=bearing \
        --set product_kind=coated --set product_grade=16-6-13 --set coated_life_weeks=12 --set air_temperature=20 \
        --set season=spring"
        .split_whitespace()
        .map(str::to_owned)
        .collect();
    for (fact, value) in fit::FIT {
        args.extend(["--set".to_owned(), format!("{fact}={value}")]);
    }
    let all: Vec<&str> = args.iter().map(String::as_str).collect();
    let (_, out, err) = p.run("2025-09-20", &all);
    let go: Json = serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e}: {err}"));
    assert_eq!((&go["verdict"], next(&go)), (&"go".into(), "2025-12-20"));
}

/// Twice in twelve months: with one 200 days ago and one today the first is a year old in 165 days, later than the 120 between two.
#[test]
fn a_third_epsom_salt_within_twelve_months_is_named_on_no_day() {
    let p = terrace("dates-epsom");
    p.ok("2025-07-04", &["log", "epsom", "--tree", "Kumquat", "5 g"]);
    p.ok(
        "2025-07-02",
        &["shelf", "add", "Salt", "--kind", "epsom_salt"],
    );
    let day = "2026-01-20";
    let go = plan(
        &p,
        day,
        "Kumquat",
        "Salt",
        &[
            "magnesium_signs=yes",
            "days_since_feed=60",
            "rain_pattern=moderate",
        ],
    );
    assert_eq!(go["verdict"], "go", "{go}");
    assert_eq!(next(&go), "2026-07-04");
    p.ok(day, &["log", "epsom", "--tree", "Kumquat", "5 g"]);
    // Asked again, the same day; and a feed two weeks after the salt, the same day whenever it is asked.
    let wait = plan(
        &p,
        "2026-03-01",
        "Kumquat",
        "Salt",
        &[
            "magnesium_signs=yes",
            "days_since_feed=60",
            "rain_pattern=moderate",
        ],
    );
    assert!(
        holds(&wait).contains(&"epsom_too_soon".to_owned()),
        "{wait}"
    );
    assert_eq!(next(&wait), "2026-07-04");
    for asked in ["2026-01-21", "2026-01-27", "2026-02-02"] {
        let wait = plan(&p, asked, "Kumquat", "Powder", &["days_since_feed=60"]);
        assert_eq!(holds(&wait), ["epsom_same_day"], "{asked}");
        assert_eq!(next(&wait), "2026-02-03", "{asked}");
    }
    let go = plan(
        &p,
        "2026-02-03",
        "Kumquat",
        "Powder",
        &["days_since_feed=60"],
    );
    assert_eq!(go["verdict"], "go", "{go}");
}

/// What comes too soon is said when it is entered: Epsom salt eight days after the last, a feed inside its label's 21 days.
#[test]
fn an_entry_that_comes_too_soon_is_told() {
    let p = terrace("dates-soon");
    let salt = ["log", "epsom", "--tree", "Kumquat", "5 g"];
    assert!(!said(&p, "2025-11-01", &salt).contains("oo soon"));
    // 1 November + 120 days.
    let again = said(&p, "2025-11-09", &salt);
    assert!(
        again.contains("Too soon for Kumquat") && again.contains("not before 2026-03-01"),
        "{again}"
    );
    assert!(!fed(&p, "2025-11-01", "Yuzu", "Liquid", "5 g").contains("Soon for"));
    let early = fed(&p, "2025-11-18", "Yuzu", "Liquid", "5 g");
    assert!(
        early.contains("Soon for Yuzu") && early.contains("not before 2025-11-22"),
        "{early}"
    );
    assert!(!fed(&p, "2025-12-10", "Yuzu", "Liquid", "5 g").contains("Soon for"));
}

/// A flush of a tank pot goes before its feed, and a week lies between them: eight weeks after 1 September are 27 October; a gram of 16
/// October is used up after two weeks, on the 30th, and waits until a week after the flush.
#[test]
fn a_flush_that_is_due_moves_the_feed_behind_it() {
    let p = terrace("dates-flush");
    p.ok("2025-09-01", &["log", "flush", "--tree", "Makrut", "30 L"]);
    fed(&p, "2025-10-16", "Makrut", "Powder", "1 g");
    let list = due(&p, "2025-10-20", "Makrut");
    assert_eq!(wants(&list, "flush").as_deref(), Some("2025-10-27"));
    assert_eq!(wants(&list, "feed").as_deref(), Some("2025-11-03"));
    p.ok("2025-10-27", &["log", "flush", "--tree", "Makrut", "30 L"]);
    let after = due(&p, "2025-10-28", "Makrut");
    assert_eq!(wants(&after, "feed").as_deref(), Some("2025-11-03"));
    // One that is too small leaves the flush due, and the feed behind it.
    let p = terrace("dates-small-flush");
    p.ok("2025-09-01", &["log", "flush", "--tree", "Makrut", "30 L"]);
    fed(&p, "2025-10-10", "Makrut", "Powder", "1 g");
    p.ok("2025-10-26", &["log", "flush", "--tree", "Makrut", "3 L"]);
    let after = due(&p, "2025-10-27", "Makrut");
    assert_eq!(wants(&after, "flush").as_deref(), Some("2025-10-27"));
    assert_eq!(wants(&after, "feed").as_deref(), Some("2025-11-03"));
}

/// A wait for a day only is told by the day of the feed; a look for another reason stays.
#[test]
fn a_look_that_the_record_answers_is_not_due_beside_the_feed() {
    let p = terrace("dates-look");
    fed(&p, "2025-11-01", "Kumquat", "Powder", "2 g");
    assert_eq!(
        plan(&p, "2025-11-05", "Kumquat", "Powder", &[])["verdict"],
        "hold"
    );
    p.ok("2025-11-06", &["log", "epsom", "--tree", "Kumquat", "5 g"]);
    let list = due(&p, "2025-11-16", "Kumquat");
    assert_eq!(wants(&list, "look"), None, "{list:?}");
    assert_eq!(wants(&list, "feed").as_deref(), Some("2025-11-20"));
    assert_eq!(
        plan(&p, "2025-11-21", "Kumquat", "Powder", &["sour_smell=yes"])["verdict"],
        "hold"
    );
    assert!(wants(&due(&p, "2025-11-22", "Kumquat"), "look").is_some());
}

/// Of several holds the one that lasts longest is told with its own words; a suspected disease has its own week.
#[test]
fn the_day_to_look_again_comes_with_its_own_reason() {
    let p = terrace("dates-reason");
    let why = |plan: &Json| plan["next"]["why"].as_str().unwrap().to_owned();
    let both = plan(
        &p,
        "2026-01-20",
        "Yuzu",
        "Powder",
        &["mix_moisture=dry", "salt_crust=yes", "days_since_feed=60"],
    );
    assert_eq!(next(&both), "2026-01-27");
    assert!(
        why(&both).contains("flushed") && !why(&both).contains("finger"),
        "{}",
        why(&both)
    );
    let disease = plan(
        &p,
        "2026-05-01",
        "Yuzu",
        "Powder",
        &[
            "notifiable_signs=psyllid",
            "salt_crust=yes",
            "days_since_feed=60",
        ],
    );
    assert_eq!(next(&disease), "2026-05-08");
    assert!(why(&disease).contains("inspector"), "{}", why(&disease));
}

/// A tree that is left out though the round gave it nothing is no mistake.
#[test]
fn leaving_out_a_tree_that_got_nothing_enters_the_others() {
    let p = glasshouse("dates-except");
    let args = [
        "round",
        "--product",
        "Powder",
        "--looked",
        "--dry",
        "Yuzu",
        "--rest-not-sure",
        "--set",
        "heat_now=no",
        "--set",
        "rain_due=no",
        "--set",
        "also_in_can=nothing",
    ];
    p.ok("2025-12-01", &args);
    let text = said(&p, "2025-12-01", &["round", "--done", "--except", "Yuzu"]);
    assert!(
        text.contains("Kumquat") && text.contains("Nothing anyway: Yuzu"),
        "{text}"
    );
}

/// Before the record nothing is known: no month of it reads as if nothing had been fed, and no rain as if none had fallen.
#[test]
fn what_was_before_the_record_is_not_told_as_nothing() {
    let p = Place::new("dates-history");
    p.ok(
        "2025-11-10",
        &["tree", "add", "Kumquat", "--place", "outdoors"],
    );
    p.ok(
        "2025-11-10",
        &[
            "shelf", "add", "Powder", "--kind", "soluble", "--grade", "24-8-16",
        ],
    );
    fed(&p, "2025-12-01", "Kumquat", "Powder", "2 g");
    let text = p.ok("2026-02-10", &["history", "Kumquat"]);
    assert!(
        text.contains("to 2025-10") && text.contains("before this record"),
        "{text}"
    );
    assert!(
        !text.contains("2025-09 ") && !text.contains(" mm"),
        "{text}"
    );
    // November, January and February: nothing was fed. December: 2 g × 24 %.
    assert_eq!(text.matches(" 0 mg N").count(), 3, "{text}");
    assert!(text.contains("480 mg N"), "{text}");
    let plain = p.ok("2026-02-10", &["history", "Kumquat", "--plain"]);
    assert!(
        plain.contains("Up to October 2025: before this record."),
        "{plain}"
    );
}

/// Seeded numbers (splitmix64).
struct Seed(u64);

impl Seed {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (z ^ (z >> 31)) % most
    }

    fn of<'t>(&mut self, list: &[&'t str]) -> &'t str {
        list[usize::try_from(self.below(list.len() as u64)).unwrap()]
    }
}

/// Enters something of a season; gives back the product if it was a feed.
fn something(p: &Place, seed: &mut Seed, day: &str, tree: &str) -> Option<String> {
    let log = |args: &[&str]| {
        let mut all = vec!["log", args[0], "--tree", tree];
        all.extend(&args[1..]);
        p.ok(day, &all);
    };
    match seed.below(12) {
        0..5 => {
            let product = seed.of(&[
                "Powder",
                "Powder",
                "Liquid",
                "Pellets",
                "Beads",
                "Old beads",
            ]);
            let amount = if product.contains("eads") {
                "15 g"
            } else {
                "2 g"
            };
            log(&["feed", "--product", product, "--amount", amount]);
            return Some(product.to_owned());
        }
        5 | 6 => log(&["epsom", "1 g"]),
        7 => log(&["flush", seed.of(&["2 L", "90 L"])]),
        8 => log(&["repot"]),
        9 => log(&[
            "reading",
            "--ec",
            seed.of(&["0.6", "1.05"]),
            "--method",
            "one_to_two",
        ]),
        10 => log(&["reading", "--temperature", seed.of(&["9", "22", "36"])]),
        _ => log(&["reading", "--ph", "6.2"]),
    }
    None
}

/// The law: a feed or top-dress that `due` names on a day is held by nothing that the record knows, if it is checked on that day; and
/// the next day that the plan of it names is the day that `due` names once it is entered.
#[test]
fn no_day_of_due_is_held_by_what_the_record_knows() {
    let (mut named, mut entered) = (0, 0);
    for number in 0..16 {
        let mut seed = Seed(number);
        let p = terrace(&format!("dates-law-{number}"));
        let tree = seed.of(&["Kumquat", "Yuzu", "Valencia", "Makrut", "Calamondin"]);
        let mut day = date(2025, 9, 20);
        let (mut ready, mut slow) = (None, None);
        for _ in 0..9 {
            day = day
                .checked_add(i64::try_from(3 + seed.below(40)).unwrap().days())
                .unwrap();
            if let Some(product) = something(&p, &mut seed, &day.to_string(), tree) {
                let quick = matches!(product.as_str(), "Powder" | "Liquid");
                *(if quick { &mut ready } else { &mut slow }) = Some(product);
            }
            let all = due(&p, &day.to_string(), tree);
            for (what, on, _) in all.clone() {
                let product = match what.as_str() {
                    "feed" => ready.as_deref().unwrap_or("Powder"),
                    "top_dress" => slow.as_deref().unwrap(),
                    _ => continue,
                };
                if on.is_empty() {
                    continue;
                }
                // On a copy: what is checked and entered for that day must not be in the story of the next.
                let copy = p.dir.join("copy.db");
                std::fs::copy(p.file(), &copy).unwrap();
                // What `due` wants before that day is done: a self-watering pot is flushed, every eight weeks until then.
                if let Some(first) = wants(&all, "flush").filter(|first| *first < on) {
                    let feed: Date = on.parse().unwrap();
                    let late = feed.checked_sub(10.days()).unwrap();
                    let flush = first.parse::<Date>().unwrap().max(late).to_string();
                    run_on(&copy, &flush, &["log", "flush", "30 L", "--tree", tree]);
                }
                let indoors: &[&str] = &["indoor_light=enough", "air_temperature=22"];
                let more = if tree == "Calamondin" { indoors } else { &[] };
                let check = checked(&copy, &on, tree, product, more);
                let story = || run_on(&p.file(), &day.to_string(), &["history", tree]).1;
                assert!(
                    holds(&check).is_empty(),
                    "story {number}, {day}: {what} of {product} on {on}: {:?}\n{}",
                    holds(&check),
                    story()
                );
                named += 1;
                if check["dose"].is_null() {
                    continue;
                }
                run_on(&copy, &on, &["log", "feed", "--tree", tree]);
                let then: Date = on.parse().unwrap();
                let then = then.checked_add(1.day()).unwrap().to_string();
                let (_, out, _) = run_on(&copy, &then, &["due", "--within", "365", "--json"]);
                let list: Json = serde_json::from_str(&out).unwrap();
                let first = list["due"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .filter(|d| d["tree"] == tree && d["wants"] == what.as_str())
                    .filter_map(|d| d["day"].as_str())
                    .min();
                assert_eq!(
                    first,
                    Some(next(&check)),
                    "story {number}, {day}: {product} on {on}\n{}",
                    story()
                );
                entered += 1;
            }
        }
    }
    // The law looked at something.
    assert!(named > 80 && entered > 60, "{named} {entered}");
}
