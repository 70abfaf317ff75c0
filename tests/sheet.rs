#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]
//! Pages: what stands in them and in which order, that nothing from outside becomes markup, and that writing one never
//! costs the grower the plan. A real browser looks at the same pages in `tests/browser`.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;
use tubgrove::facts::{Origin, Sheet, Value};
use tubgrove::knowledge::{Files, Knowledge, load};
use tubgrove::plan::{Advisor, Plan};
use tubgrove::report::html;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");
const TODAY: &str = "2026-11-25";

#[path = "support/scratch.rs"]
mod scratch;
use scratch::Scratch;

fn run(arguments: &[&str], html: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(arguments)
        .arg("--html")
        .arg(html)
        .current_dir(ROOT)
        .env_clear()
        .output()
        .unwrap()
}

fn demo<'a>(walk: &'a str, answers: &'a str) -> Vec<&'a str> {
    vec![
        walk,
        "--answers",
        answers,
        "--today",
        TODAY,
        "--no-input",
        "--rest-not-sure",
    ]
}

/// The pages of every walk.
const DEMOS: [(&str, &str); 5] = [
    ("precheck", "docs/demo/kumquat-terrace.yaml"),
    ("first-feed", "docs/demo/kumquat-terrace.yaml"),
    ("diagnose", "docs/demo/pale-meyer.yaml"),
    ("diagnose", "docs/demo/wet-valencia.yaml"),
    ("rescue", "docs/demo/meyer-fed-too-much.yaml"),
];

/// The pages, made once.
fn pages() -> &'static [(String, String)] {
    static PAGES: OnceLock<Vec<(String, String)>> = OnceLock::new();
    PAGES.get_or_init(make_pages)
}

fn make_pages() -> Vec<(String, String)> {
    let scratch = Scratch::new("sheet-pages");
    let mut list = Vec::new();
    for (i, (walk, answers)) in DEMOS.iter().enumerate() {
        let file = scratch.0.join(format!("{i}.html"));
        let out = run(&demo(walk, answers), &file);
        assert!(
            matches!(out.status.code(), Some(0 | 4)),
            "{walk}: {}",
            String::from_utf8_lossy(&out.stderr)
        );
        list.push((
            format!("{walk} {answers}"),
            fs::read_to_string(file).unwrap(),
        ));
    }
    let file = scratch.0.join("guide.html");
    assert_eq!(run(&["leaf-guide"], &file).status.code(), Some(0));
    list.push(("leaf-guide".into(), fs::read_to_string(file).unwrap()));
    // Written beside first and renamed: nothing else is left.
    assert_eq!(fs::read_dir(&scratch.0).unwrap().count(), list.len());
    list
}

/// Every start tag of a page.
fn tags(page: &str) -> Vec<&str> {
    page.split('<')
        .skip(1)
        .filter_map(|rest| rest.split('>').next())
        .filter(|tag| !tag.starts_with('/'))
        .collect()
}

fn name_of(tag: &str) -> &str {
    tag.split([' ', '/']).next().unwrap()
}

fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    tag.split_once(&format!(" {name}=\""))?.1.split('"').next()
}

#[test]
fn a_page_is_one_file_without_script_and_fetches_nothing() {
    for (name, page) in pages() {
        assert!(
            page.starts_with("<!DOCTYPE html><html lang=\"en-GB\">"),
            "{name}"
        );
        for tag in tags(page) {
            let kind = name_of(tag);
            assert!(
                ![
                    "script", "iframe", "object", "embed", "img", "form", "base", "a"
                ]
                .contains(&kind),
                "{name}: {tag}"
            );
            for at in ["src", "href", "xlink:href", "action"] {
                let target = attribute(tag, at);
                assert!(target.is_none_or(|t| t == "data:,"), "{name}: {tag}");
            }
            assert!(
                ![
                    "onload=",
                    "onclick=",
                    "onerror=",
                    "onmouseover=",
                    "onfocus="
                ]
                .iter()
                .any(|event| tag.contains(event)),
                "{name}: {tag}"
            );
        }
        let without_names = page.replace("http://www.w3.org/2000/svg", "");
        assert!(!without_names.contains("://"), "{name} names an address");
        assert!(!page.contains("@import"), "{name}");
    }
}

#[test]
fn headings_tables_pictures_and_ids_are_sound() {
    for (name, page) in pages() {
        let tags = tags(page);
        let mut last = 0;
        let mut ones = 0;
        let mut ids = Vec::new();
        for tag in &tags {
            let kind = name_of(tag);
            if let Some(level) = kind.strip_prefix('h').and_then(|n| n.parse::<u8>().ok()) {
                assert!(
                    level <= last + 1,
                    "{name}: a heading level is left out at {tag}"
                );
                last = level;
                ones += u8::from(level == 1);
            }
            if kind == "th" {
                assert!(attribute(tag, "scope").is_some(), "{name}: {tag}");
            }
            ids.extend(attribute(tag, "id"));
        }
        assert_eq!(ones, 1, "{name}");
        let count = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), count, "{name}: an id stands there twice");
        for tag in tags.iter().filter(|t| name_of(t) == "svg") {
            for at in ["aria-labelledby", "aria-describedby"] {
                let of = attribute(tag, at).unwrap();
                assert!(ids.binary_search(&of).is_ok(), "{name}: {of} is nowhere");
            }
        }
        assert_eq!(
            tags.iter().filter(|t| name_of(t) == "table").count(),
            tags.iter().filter(|t| name_of(t) == "caption").count(),
            "{name}"
        );
    }
}

#[test]
fn the_verdict_comes_first_and_the_workings_last() {
    for (name, page) in pages() {
        if name == "leaf-guide" {
            continue;
        }
        let at = |text: &str| {
            page.find(text)
                .unwrap_or_else(|| panic!("{name} lacks {text}"))
        };
        let mut order = vec![at("class=\"word\"")];
        for heading in [
            "Why",
            "What it may be",
            "How much, for this tree",
            "How to give it",
            "Mind this",
            "When again",
            "What was not known",
            "Your answers",
            "How it came about",
        ] {
            order.extend(page.find(&format!(">{heading}</h2>")));
        }
        assert!(order.len() >= 3, "{name}");
        assert!(order.is_sorted(), "{name}: {order:?}");
    }
}

#[test]
fn the_page_says_what_the_terminal_says() {
    let scratch = Scratch::new("sheet-same");
    let file = scratch.0.join("plan.html");
    let out = run(&demo("diagnose", "docs/demo/pale-meyer.yaml"), &file);
    let page = fs::read_to_string(file).unwrap();
    let plain: String = {
        let mut inside = false;
        page.chars()
            .filter(|c| {
                match c {
                    '<' => inside = true,
                    '>' => {
                        inside = false;
                        return false;
                    }
                    _ => {}
                }
                !inside
            })
            .collect()
    };
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let (shown, page) = (
        words(&String::from_utf8(out.stdout).unwrap()),
        words(&plain),
    );
    for text in [
        "6.8 g in 3.4 L of water.",
        "Magnesium shortage (likely)",
        "Epsom salt again at the earliest.",
    ] {
        assert!(shown.contains(text), "the terminal lacks {text}");
        assert!(page.contains(text), "the page lacks {text}");
    }
}

#[test]
fn the_pictures_are_those_of_the_answers_that_led_to_a_finding() {
    for (name, page) in pages() {
        let green_v = page.contains("Drawing: Green V at the base");
        let blotchy = page.contains("Drawing: Blotches that run across");
        match name.as_str() {
            "leaf-guide" => assert!(green_v && blotchy),
            // The pale Meyer lemon was answered "green_v" and "old".
            "diagnose docs/demo/pale-meyer.yaml" => assert!(green_v && !blotchy),
            _ => assert!(!green_v && !blotchy, "{name}"),
        }
    }
}

fn shipped() -> Knowledge {
    load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"))
}

fn plan_of(k: &Knowledge, walk: &str, answers: &[(&str, &str)]) -> Plan {
    let advisor = Advisor::new(k, TODAY.parse().unwrap()).unwrap();
    let mut sheet = Sheet::new(k.vocabulary.len());
    for (fact, value) in answers {
        let id = k.fact(fact).unwrap();
        let value = Value::read(k.vocabulary.get(id), value).unwrap();
        sheet.set(id, value, Origin::File);
    }
    advisor.plan(k.walk(walk).unwrap(), &sheet)
}

#[test]
fn a_name_cannot_run_on_the_page() {
    let k = shipped();
    let mut plan = plan_of(&k, "precheck", &[("mix_moisture", "moist")]);
    let evil = "<script>alert(1)</script>\"'><svg onload=alert(1)>";
    plan.headline = evil.into();
    plan.next.action = evil.into();
    plan.knowledge.origin = evil.into();
    for answer in &mut plan.answers {
        answer.said = evil.into();
    }
    for caution in &mut plan.cautions {
        caution.summary = evil.into();
    }
    let page = html::plan(
        &plan,
        html::Sheet {
            knowledge: &k,
            tree: Some(evil),
            us: false,
        },
    );
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    for tag in tags(&page) {
        assert!(name_of(tag) != "script" && !tag.contains("onload"), "{tag}");
    }
}

#[test]
fn local_words_cannot_run_either() {
    let scratch = Scratch::new("sheet-local");
    let rules = scratch.0.join("rules");
    fs::create_dir_all(&rules).unwrap();
    fs::write(
        rules.join("cautions.yaml"),
        "cautions:\n  - id: house_rule\n    level: care\n    gate: tree\n    when: mix_moisture is moist\n    hazard: dry root ball\n    summary: \"<script>alert(2)</script> & <b>soak</b>\"\n    detail: \"\"\n    lifts: \"\"\n    source: []\n    mark: own_choice\n",
    )
    .unwrap();
    let file = scratch.0.join("plan.html");
    let mut arguments = demo("precheck", "docs/demo/kumquat-terrace.yaml");
    arguments.extend(["--local-rules", rules.to_str().unwrap()]);
    let out = run(&arguments, &file);
    assert_eq!(
        out.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    let page = fs::read_to_string(file).unwrap();
    assert!(page.contains("&lt;script&gt;alert(2)&lt;/script&gt; &amp; &lt;b&gt;soak"));
    assert!(!page.contains("<script"));
}

#[test]
fn a_page_that_cannot_be_written_costs_nothing_but_the_page() {
    let scratch = Scratch::new("sheet-unwritable");
    for place in [scratch.0.join("nowhere/plan.html"), PathBuf::from("/")] {
        let out = run(&demo("precheck", "docs/demo/kumquat-terrace.yaml"), &place);
        let said = String::from_utf8(out.stderr).unwrap();
        assert_eq!(out.status.code(), Some(1), "{said}");
        assert!(said.contains("the page could not be written to"), "{said}");
        assert!(said.contains("the plan itself holds"), "{said}");
        assert!(String::from_utf8(out.stdout).unwrap().starts_with("[GO]"));
    }
}

#[test]
fn an_old_page_is_replaced_whole() {
    let scratch = Scratch::new("sheet-replace");
    let file = scratch.0.join("plan.html");
    fs::write(&file, "x".repeat(500_000)).unwrap();
    run(&demo("precheck", "docs/demo/kumquat-terrace.yaml"), &file);
    let first = fs::read_to_string(&file).unwrap();
    assert!(first.ends_with("</html>\n"));
    assert!(!first.contains("xxxx"));
    run(&demo("precheck", "docs/demo/kumquat-terrace.yaml"), &file);
    assert_eq!(first, fs::read_to_string(&file).unwrap());
}
