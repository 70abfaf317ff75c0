//! Files made to exhaust each reader.

use super::glasshouse::glasshouse;
use super::run::{harmless, run};
use std::path::Path;
use std::time::Duration;

/// Files made to exhaust each reader. A hundred megabytes in one line, brackets without end, aliases that multiply, bytes that
/// are no text.
#[test]
fn every_reader_bounds_time_and_memory() {
    let p = glasshouse("exhaust");
    let before = run(&p.file(), &["record", "export"]).out;
    let write = |name: &str, bytes: &[u8]| {
        let path = p.dir.join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, bytes).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let mut bomb = String::from("a: &a [x,x,x,x,x,x,x,x,x]\n");
    for (name, before) in "bcdefghi".chars().zip("abcdefgh".chars()) {
        let many = vec![format!("*{before}"); 9].join(",");
        bomb.push_str(&format!("{name}: &{name} [{many}]\n"));
    }
    let brackets = "[".repeat(100_000);
    let braces = "{\"a\":".repeat(100_000);
    let texts: [(&str, Vec<u8>); 14] = [
        ("line", vec![b'x'; 100 << 20]),
        ("quoted", [vec![b'"'], vec![b'x'; 100 << 20]].concat()),
        ("brackets", brackets.clone().into_bytes()),
        ("braces", braces.into_bytes()),
        ("flow", "[a: ".repeat(100_000).into_bytes()),
        ("keys", "{? ".repeat(100_000).into_bytes()),
        ("dashes", "- ".repeat(100_000).into_bytes()),
        ("twice", "a: 1\n".repeat(100_000).into_bytes()),
        (
            "once",
            format!("{{{}}}", "a: 1, ".repeat(100_000)).into_bytes(),
        ),
        ("map", format!("pot_kind: {brackets}").into_bytes()),
        ("bomb", bomb.into_bytes()),
        ("bytes", b"name\n\xff\xfe\xc3\x28\n".to_vec()),
        ("nul", b"name\0\0\n\0: x\n".to_vec()),
        ("utf16", "n\0a\0m\0e\0\n\0".repeat(50).into_bytes()),
    ];
    let scratch = p.dir.join("other.db");
    let mut slowest = (Duration::ZERO, String::new());
    let mut largest = (0, String::new());
    for (name, bytes) in &texts {
        let file = write(name, bytes);
        let rules = p.dir.join(format!("rules-{name}"));
        write(&format!("rules-{name}/cautions.yaml"), bytes);
        let rules = rules.to_str().unwrap();
        let readers: [(&[&str], &Path); 8] = [
            (
                &["precheck", "--rest-not-sure", "--answers", &file],
                &scratch,
            ),
            (&["precheck", "--rest-not-sure", "--batch", &file], &scratch),
            (
                &["precheck", "--rest-not-sure", "--local-rules", rules],
                &scratch,
            ),
            (&["knowledge", "check", "--knowledge", rules], &scratch),
            (&["record", "import", "--table", "trees", &file], &p.file()),
            (&["record", "import", "--table", "events", &file], &p.file()),
            (&["record", "import", &file], &scratch),
            (&["due"], Path::new(&file)),
        ];
        for (args, record) in readers {
            let run = run(record, args);
            assert!((1..=3).contains(&run.code), "{name} {args:?}: {}", run.err);
            // A batch answers each line.
            let said = run.err.len()
                + if args.contains(&"--batch") {
                    0
                } else {
                    run.out.len()
                };
            assert!(said < 10_000, "{name} {args:?}: {said} bytes");
            harmless(&run.err);
            harmless(&run.out);
            let what = format!("{name} {args:?}");
            if run.took > slowest.0 {
                slowest = (run.took, what.clone());
            }
            if run.memory > largest.0 {
                largest = (run.memory, what);
            }
        }
        std::fs::remove_file(&file).unwrap();
        std::fs::remove_dir_all(rules).unwrap();
    }
    println!("slowest: {slowest:?}; largest, in KiB: {largest:?}");
    assert!(slowest.0 < Duration::from_secs(20), "{slowest:?}");
    // The largest table that is read is 256 MiB; here it is 100.
    assert!(largest.0 < 600 << 10, "{largest:?}");
    assert_eq!(run(&p.file(), &["record", "export"]).out, before);
}
