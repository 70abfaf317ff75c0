//! Knowledge and local rules that do not hold.

use super::fed;
use super::home::Home;
use std::path::Path;

/// Replaces a text that stands there exactly as often as told in one file.
#[track_caller]
fn replace(path: &Path, old: &str, new: &str) {
    let text = std::fs::read_to_string(path).unwrap();
    assert!(text.contains(old), "{} has no {old}", path.display());
    std::fs::write(path, text.replacen(old, new, 1)).unwrap();
}

#[test]
fn local_rules_add_and_tighten_and_never_loosen() {
    let home = Home::new("local");
    let answers = home.file("go.yaml", fed::answers());
    let with = |dir: &str, day: &str| {
        let dir = home.path(dir);
        home.run(&[
            "precheck",
            "--no-input",
            "--today",
            day,
            "--answers",
            &answers,
            "--local-rules",
            dir.to_str().unwrap(),
        ])
    };

    home.file(
        "replaced/cautions.yaml",
        "cautions:\n  - id: notifiable_disease\n    level: note\n    gate: tree\n    \
         when: notifiable_signs has ringed_spots\n    hazard: spots\n    summary: Never mind.\n    \
         lifts: Nothing.\n    source: []\n    mark: own_choice\n",
    );
    with("replaced", "2026-11-25").fails(
        3,
        &[
            "cautions.yaml:2:",
            "notifiable_disease is a built-in rule",
            "replaced",
            "an id of its own",
        ],
    );
    home.file(
        "loose/rates.yaml",
        "numbers:\n  - {id: base_need, value: 50, unit: mg N/L/week, mark: own_choice}\n",
    );
    with("loose", "2026-11-25").fails(
        3,
        &["rates.yaml:2:", "base_need", "only tighten", "35 or lower"],
    );
    home.file(
        "ban/cautions.yaml",
        "cautions:\n  - id: summer_ban\n    level: hold\n    gate: tree\n    \
         when: month >= 12 or month <= 2\n    hazard: local ban\n    \
         summary: No feeding of pots from December to February in this town.\n    \
         detail: The town asks for it to keep its pond clear.\n    lifts: March has come.\n    \
         until: {days: 30}\n    source: []\n    mark: own_choice\n",
    );
    let spring = with("ban", "2026-11-25");
    assert_eq!(spring.code, 0, "{}{}", spring.out, spring.err);
    assert!(spring.out.contains("[GO]"));
    let summer = with("ban", "2027-01-10");
    assert_eq!(summer.code, 4, "{}", summer.err);
    assert!(
        summer
            .out
            .contains("No feeding of pots from December to February")
    );
    assert!(summer.out.contains("[WAIT]"), "{}", summer.out);
    with("nowhere", "2026-11-25").fails(1, &["nowhere", "there is no such file or directory"]);
}

#[test]
fn knowledge_broken_in_syntax_schema_and_graph() {
    let home = Home::new("knowledge");
    let check =
        |dir: &Path| home.run(&["knowledge", "check", "--knowledge", dir.to_str().unwrap()]);

    let good = home.knowledge("good");
    let run = check(&good);
    assert_eq!(run.code, 0, "{}", run.err);

    let syntax = home.knowledge("syntax");
    replace(&syntax.join("walks/precheck.yaml"), "steps:", "steps: [");
    check(&syntax).fails(3, &["walks/precheck.yaml:", "syntax"]);

    let schema = home.knowledge("schema");
    replace(
        &schema.join("cautions.yaml"),
        "    level: stop\n",
        "    level: halt\n",
    );
    check(&schema).fails(3, &["cautions.yaml:", "halt", "stop"]);

    let name = home.knowledge("name");
    replace(
        &name.join("cautions.yaml"),
        "when: mix_moisture is dry",
        "when: mix_moistur is dry",
    );
    check(&name).fails(
        3,
        &[
            "cautions.yaml:",
            "mix_moistur",
            "did you mean mix_moisture?",
        ],
    );

    let graph = home.knowledge("graph");
    replace(&graph.join("walks/precheck.yaml"), "  - gate: tree\n", "");
    check(&graph).fails(
        3,
        &["walks/precheck.yaml:", "without the tree gate", "mend:"],
    );
    // A walk refuses such knowledge too, and says so before it asks anything.
    let run = home.run(&["precheck", "--knowledge", graph.to_str().unwrap()]);
    run.fails(3, &["walks/precheck.yaml:"]);
    assert!(!run.err.contains("Question"));

    // A question that a stop depends on is left out: the proof finds it.
    let unasked = home.knowledge("unasked");
    replace(
        &unasked.join("walks/precheck.yaml"),
        "  - ask: mix_moisture\n",
        "",
    );
    check(&unasked).fails(3, &["mix_moisture"]);

    check(&home.path("nowhere")).fails(1, &["nowhere", "there is no such file or directory"]);
    std::fs::create_dir(home.path("bare")).unwrap();
    check(&home.path("bare")).fails(1, &["no YAML file"]);
}
