//! Answers by flag and by file: missing, unreadable, unknown, out of range, against each other.

use super::home::Home;
use std::time::{Duration, Instant};

#[test]
fn missing_answers_are_listed_when_nobody_can_be_asked() {
    let home = Home::new("missing");
    let run = home.run(&["precheck", "--no-input", "--set", "pot_kind=plastic"]);
    run.fails(
        5,
        &[
            "nobody can be asked",
            "pot_volume (Size of the pot)",
            "mix_moisture",
            "--rest-not-sure",
        ],
    );
    assert!(
        !run.err.contains("pot_kind"),
        "what was given is not missing"
    );
    // Standard input that ends with a question open.
    home.run(&["rescue"]).fails(5, &["pot_volume"]);
    home.run_with(&["precheck"], "bearing kumquat, terracotta, 20 L\n2\n")
        .fails(5, &["days_since_feed"]);
    home.run(&[]).fails(2, &["precheck", "--help"]);
}

#[test]
fn answers_files_that_cannot_be_read() {
    let home = Home::new("files");
    let with = |file: &str| home.precheck(&["--answers", file]);
    with("none.yaml").fails(1, &["none.yaml", "there is no such file"]);
    with(".").fails(1, &["directory"]);
    let broken = home.file("broken.yaml", "pot_kind: plastic\npot_volume: [\n");
    with(&broken).fails(2, &["broken.yaml", "YAML", "line 3"]);
    with(&home.file("empty.yaml", "")).fails(2, &["empty.yaml", "mix_moisture: moist"]);
    with(&home.file("list.yaml", "- plastic\n")).fails(2, &["mix_moisture: moist"]);
    with(&home.file("bytes.yaml", b"pot_kind: \xff\xfe\n")).fails(2, &["not UTF-8"]);
    with(&home.file("two.yaml", "pot_kind: plastic\n---\npot_kind: wood\n"))
        .fails(2, &["two.yaml", "more than one document"]);
    with(&home.file("twice.yaml", "pot_kind: plastic\npot_kind: wood\n"))
        .fails(2, &["duplicate", "pot_kind"]);
    with(&home.file("nothing.yaml", "pot_kind:\n")).fails(2, &["line 1", "write not_sure"]);
    with(&home.file("map.yaml", "pot_kind:\n  a: 1\n")).fails(2, &["line 1", "plain value"]);
    let json = home.file(
        "good.json",
        r#"{"pot_kind": "plastic", "pot_volume": 12.5}"#,
    );
    assert_eq!(with(&json).code, 4, "JSON is YAML too");
}

#[test]
fn files_made_to_exhaust_the_program() {
    let home = Home::new("bombs");
    let start = Instant::now();
    let with = |file: &str| home.precheck(&["--answers", file]);
    let mut bomb = String::from("a: &a [x,x,x,x,x,x,x,x,x]\n");
    for (name, before) in "bcdefghi".chars().zip("abcdefgh".chars()) {
        let many = vec![format!("*{before}"); 9].join(",");
        bomb.push_str(&format!("{name}: &{name} [{many}]\n"));
    }
    with(&home.file("bomb.yaml", bomb)).fails(2, &["bomb.yaml", "YAML"]);
    let deep = format!("pot_kind: {}", "[".repeat(50_000));
    with(&home.file("deep.yaml", deep)).fails(2, &["deep.yaml", "YAML"]);
    let nested = format!("pot_kind: {}{}\n", "[".repeat(100), "]".repeat(100));
    with(&home.file("nested.yaml", nested)).fails(2, &["line 1"]);
    let large = "# nothing\n".repeat(200_000);
    with(&home.file("large.yaml", large)).fails(2, &["large.yaml", "larger than 1024 KiB"]);
    // Half a minute is far more than four refusals take on a slow machine, and far less than a bomb would.
    assert!(start.elapsed() < Duration::from_secs(30));
}

#[test]
fn unknown_facts_come_with_the_nearest_known_one() {
    let home = Home::new("unknown");
    home.precheck(&["--set", "pot_volum=3"]).fails(
        2,
        &["--set", "no fact pot_volum", "did you mean pot_volume?"],
    );
    let file = home.file("typo.yaml", "pot_kind: plastic\npot_knd: wood\n");
    home.precheck(&["--answers", &file])
        .fails(2, &["typo.yaml", "line 2", "did you mean pot_kind?"]);
    home.precheck(&["--set", "pot_kind"])
        .fails(2, &["FACT=VALUE", "mix_moisture=moist"]);
    home.precheck(&["--set", "pot_kind=terracota"])
        .fails(2, &["terracota", "did you mean terracotta?", "not_sure"]);
    // What the program works out by itself cannot be told to it.
    home.precheck(&["--set", "can_salt=fine"])
        .fails(2, &["no fact can_salt"]);
}

#[test]
fn figures_out_of_range_and_no_figures_at_all() {
    let home = Home::new("figures");
    let set = |text: &str| home.precheck(&["--set", text]);
    for volume in ["0", "4000", "-3", "0,01 L", "4000 L"] {
        set(&format!("pot_volume={volume}")).fails(2, &["--set pot_volume", "out of range"]);
    }
    set("pot_volume=4000").fails(2, &["between 0.2 and 1000 L"]);
    for none in [
        "nan", "NaN", ".nan", "inf", "-inf", "infinity", "1e400", "", "twelvety",
    ] {
        set(&format!("pot_volume={none}")).fails(2, &["--set pot_volume"]);
    }
    for (name, text) in [("nan", ".nan"), ("inf", ".inf"), ("minus", "-.inf")] {
        let file = home.file(&format!("{name}.yaml"), format!("pot_volume: {text}\n"));
        home.precheck(&["--answers", &file])
            .fails(2, &["line 1: pot_volume", "Type"]);
    }
    set("product_grade=6-3").fails(2, &["6-3", "three numbers", "12-0-0"]);
    set("product_grade=60-60-60").fails(2, &["60-60-60", "100 %"]);
    set("product_grade=6--3-3").fails(2, &["below zero"]);
    set("air_temperature=200 C").fails(2, &["air_temperature", "200 C"]);
    set("label_rate=-5 mL per L").fails(2, &["label_rate"]);
    set("label_rate=lots").fails(2, &["label_rate", "lots"]);
    // Good figures, so that the refusals above are not refusals of everything.
    for good in [
        "pot_volume=12,5 L",
        "pot_volume=#5",
        "pot_volume=5 gal",
        "product_grade=6-3-3",
    ] {
        assert_eq!(set(good).code, 4, "{good}: {}", set(good).err);
    }
}

#[test]
fn answers_that_contradict_each_other() {
    let home = Home::new("contradict");
    let file = home.file("clay.yaml", "pot_kind: terracotta\npot_volume: 20\n");
    // "What if": the flag counts, and what it replaced is said.
    let other = home.precheck(&["--answers", &file, "--set", "pot_kind=plastic", "--json"]);
    assert_eq!(other.code, 4, "{}", other.err);
    assert!(
        other
            .err
            .contains("plastic this time; the answers file says terracotta"),
        "{}",
        other.err
    );
    assert!(
        other.out.contains("\"value\": \"plastic\""),
        "{}",
        other.out
    );
    home.precheck(&["--set", "pot_kind=wood", "--set", "pot_kind=plastic"])
        .fails(2, &["one --set says wood, another plastic"]);
    // The same answer twice, in other words, is none.
    let same = home.precheck(&["--answers", &file, "--set", "pot_volume=20 L"]);
    assert_eq!(same.code, 4, "{}", same.err);
    // A tank is no contradiction to a clay pot: it is not asked for there and not used.
    let tank = home.precheck(&["--answers", &file, "--set", "reservoir_volume=3"]);
    assert_eq!(tank.code, 4, "{}", tank.err);
    home.run(&[
        "diagnose",
        "--rest-not-sure",
        "--set",
        "symptoms=none, wilting",
    ])
    .fails(2, &["symptoms", "none at once"]);
    home.run(&["diagnose", "--rest-not-sure", "--set", "symptoms="])
        .fails(2, &["symptoms", "names nothing", "write none"]);
}

#[test]
fn days_in_the_wrong_form() {
    let home = Home::new("days");
    for day in [
        "25.11.2026",
        "2026-02-30",
        "tomorrow",
        "2026-13-01",
        "11/25/2026",
        "",
    ] {
        home.run(&["precheck", "--rest-not-sure", "--today", day])
            .fails(2, &["--today", "YYYY-MM-DD"]);
    }
    home.run(&["precheck", "--rest-not-sure", "--today", "1066-10-14"])
        .fails(2, &["2000 and 2200"]);
    // A day to come is for planning.
    let run = home.run(&["precheck", "--rest-not-sure", "--today", "2199-01-01"]);
    assert_eq!(run.code, 4, "{}", run.err);
}
