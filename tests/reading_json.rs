//! `reading` and `leaf-guide` as JSON, through the built program: against their schemas, and with the standards of `--knowledge`
//! and of local rules.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use serde_json::Value as Json;
use std::path::{Path, PathBuf};

#[path = "support/own_knowledge.rs"]
mod own_knowledge;
#[path = "support/program.rs"]
mod program;
use own_knowledge::write_shipped;
use program::{against_schema, one_line, run};

/// The output as JSON, which its schema allows.
fn json(args: &[&str]) -> Json {
    let mut all = args.to_vec();
    all.push("--json");
    let out = run(&all);
    assert_eq!(out.status.code(), Some(0), "{}", one_line(&out.stderr));
    let value: Json = serde_json::from_slice(&out.stdout).unwrap();
    let found = against_schema(args[0], &value);
    assert!(found.is_empty(), "{args:?}: {found:?}");
    value
}

/// A directory of this test alone, with a copy of the shipped knowledge where asked for.
fn directory(name: &str, shipped: bool) -> PathBuf {
    let dir = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&dir);
    std::fs::create_dir_all(&dir).unwrap();
    if shipped {
        write_shipped(&dir);
    }
    dir
}

const TABLE: &str = "leaf_tables:
  - id: town
    name: Town laboratory
    leaves: Spring leaves
    mark: published
    source: [uga22]
    note: A table of this place.
    rows:
      - {nutrient: zn, unit: mg/kg, deficient_below: 10, low: [10, 12], optimum: [13, 90]}
";

// 216 mg/L of zinc is 0.216 / 0.2274 = 0.95 g of the salt; EDTA holds its iron to pH 6.5 only.
#[test]
fn every_kind_of_reading_keeps_to_the_schema() {
    let all = json(&["reading", "EC=1.3", "pH=7.2", "Zn=15", "K=0.9", "Cl=0.4"]);
    let [salt, ph, zinc, potassium, chlorine] = all["readings"].as_array().unwrap().as_slice()
    else {
        panic!("{all}");
    };
    assert_eq!(
        (&salt["method_named"], &salt["scale"]),
        (&false.into(), &Json::Null)
    );
    assert_eq!(salt["verdict"], "flush");
    assert_eq!(ph["iron_that_holds"], serde_json::json!(["dtpa", "eddha"]));
    assert_eq!(zinc["spray"]["needed"], true);
    assert!((zinc["spray"]["salt_g_per_l"].as_f64().unwrap() - 0.95).abs() < 0.005);
    assert_eq!(
        (&potassium["tables_agree"], &potassium["spray"]),
        (&false.into(), &Json::Null)
    );
    assert_eq!(chlorine["burns_above"]["above"], true);
    for table in zinc["tables"].as_array().unwrap() {
        assert_eq!(table["mark"], "memory");
    }
    let named = json(&[
        "reading",
        "EC=1.3",
        "--method",
        "pour-through",
        "--scale",
        "nursery",
    ]);
    assert_eq!(named["readings"][0]["verdict"], "fine");
    assert_eq!(named["sampling"], serde_json::json!([]));
}

#[test]
fn the_schemas_have_teeth() {
    for args in [
        vec!["reading", "EC=1.3", "pH=7", "Zn=15"],
        vec!["leaf-guide"],
    ] {
        let good = json(&args);
        let mut more = good.clone();
        more["extra"] = 1.into();
        let mut less = good.clone();
        less.as_object_mut().unwrap().remove("knowledge");
        let mut odd = good.clone();
        let part = if args[0] == "reading" {
            "readings"
        } else {
            "questions"
        };
        odd[part][0]["extra"] = 1.into();
        for bad in [more, less, odd] {
            assert!(!against_schema(args[0], &bad).is_empty(), "{args:?}");
        }
    }
}

#[test]
fn the_leaf_guide_keeps_to_the_schema_and_to_the_picture_asked_for() {
    let all = json(&["leaf-guide"]);
    assert!(all["questions"].as_array().unwrap().len() >= 3);
    let net = json(&["leaf-guide", "net"]);
    let pictures = net["questions"][0]["pictures"].as_array().unwrap();
    assert_eq!(
        (net["questions"].as_array().unwrap().len(), pictures.len()),
        (1, 1)
    );
    let meanings = pictures[0]["meanings"].as_array().unwrap();
    assert!(
        meanings.iter().any(|m| m["finding"] == "iron_short"),
        "{meanings:?}"
    );
    assert_eq!(
        run(&["leaf-guide", "nett", "--json"]).status.code(),
        Some(2)
    );
}

// A table of the laboratory at hand that calls 15 mg/kg of zinc right: no table alone makes a spray, nor hides one.
#[test]
fn local_rules_add_a_table_and_make_nothing_bolder() {
    let dir = directory("reading-local", false);
    std::fs::write(dir.join("leaf_standards.yaml"), TABLE).unwrap();
    let path = dir.to_str().unwrap();
    let with = json(&["reading", "Zn=15", "--local-rules", path]);
    let zinc = &with["readings"][0];
    assert_eq!(zinc["tables"].as_array().unwrap().len(), 3);
    assert_eq!(zinc["tables"][2]["band"], "optimum");
    assert_eq!(
        (&zinc["spray"]["needed"], &zinc["tables_agree"]),
        (&false.into(), &false.into())
    );
    assert!(
        with["knowledge"]["origin"]
            .as_str()
            .unwrap()
            .ends_with(path)
    );
    let text = one_line(&run(&["reading", "Zn=15", "--local-rules", path]).stdout);
    assert!(
        text.contains("Town laboratory: as it should be") && text.contains("Knowledge: shipped + "),
        "{text}"
    );
}

#[test]
fn a_table_that_cannot_be_used_is_refused_with_its_line() {
    for (from, to, part) in [
        ("id: town", "id: florida", "stands there twice"),
        ("[uga22]", "[hearsay]", "names the source hearsay"),
        ("[10, 12]", "[12, 10]", "do not rise"),
        ("mg/kg", "\"%\"", "elsewhere in"),
        ("rows:", "row:", "unknown key"),
        ("leaf_tables:", "mix_ph:", "unknown key"),
    ] {
        let dir = directory(&format!("reading-bad-{}", part.replace(' ', "-")), false);
        std::fs::write(dir.join("leaf_standards.yaml"), TABLE.replace(from, to)).unwrap();
        let out = run(&["reading", "Zn=15", "--local-rules", dir.to_str().unwrap()]);
        let text = one_line(&out.stderr);
        assert_eq!(
            (out.status.code(), out.stdout.is_empty()),
            (Some(3), true),
            "{to}: {text}"
        );
        assert!(
            text.contains(part) && text.contains("leaf_standards.yaml:"),
            "{to}: {text}"
        );
    }
}

#[test]
fn another_set_of_knowledge_brings_its_own_tables() {
    let dir = directory("reading-set", true);
    let file = dir.join("leaf_standards.yaml");
    let text = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, text.replace("name: Florida\n", "name: Valley\n")).unwrap();
    let path = dir.to_str().unwrap();
    let all = json(&["reading", "N=2.6", "--knowledge", path]);
    assert_eq!(all["readings"][0]["tables"][0]["name"], "Valley");
    assert_eq!(all["knowledge"]["origin"], path);
    std::fs::remove_file(&file).unwrap();
    for args in [vec!["reading", "N=2.6"], vec!["knowledge", "check"]] {
        let mut all = args.clone();
        all.extend(["--knowledge", path]);
        let out = run(&all);
        let text = one_line(&out.stderr);
        assert_eq!(out.status.code(), Some(3), "{args:?}: {text}");
        assert!(
            text.contains("leaf_standards.yaml: file: the file is missing"),
            "{text}"
        );
    }
}
