//! Files that are no files, links, surroundings that lack what is usual, and texts made to do harm, through the built program:
//! it ends in bounded time and memory, says what is wrong, and writes nowhere but where the path leads.
#![cfg(target_os = "linux")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

#[path = "support/place.rs"]
mod place;
use place::{Place, glasshouse};

const DAY: &str = "2025-10-05";
/// Far more than any of these runs takes on a busy machine, and far less than for ever.
const LIMIT: Duration = Duration::from_secs(60);

struct Run {
    code: i32,
    out: String,
    err: String,
    /// The most memory that was seen, in KiB.
    memory: u64,
    took: Duration,
}

impl Run {
    /// Runs to the end, which must come in time.
    #[track_caller]
    fn of(command: &mut Command) -> Self {
        let start = Instant::now();
        let mut child = command
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let read = |stream: Option<Box<dyn std::io::Read + Send>>| {
            std::thread::spawn(move || {
                let mut bytes = Vec::new();
                stream.unwrap().read_to_end(&mut bytes).unwrap();
                String::from_utf8(bytes).unwrap()
            })
        };
        let out = read(child.stdout.take().map(|s| Box::new(s) as _));
        let err = read(child.stderr.take().map(|s| Box::new(s) as _));
        let mut memory = 0;
        let status = loop {
            memory = memory.max(peak(child.id()));
            if let Some(status) = child.try_wait().unwrap() {
                break status;
            }
            if start.elapsed() > LIMIT {
                child.kill().unwrap();
                panic!("no end after {LIMIT:?}: {command:?}");
            }
            std::thread::sleep(Duration::from_millis(2));
        };
        Self {
            code: status.code().expect("it ended by itself"),
            out: out.join().unwrap(),
            err: err.join().unwrap(),
            memory,
            took: start.elapsed(),
        }
    }

    /// The code and pieces of the message, which is short and harmless.
    #[track_caller]
    fn fails(&self, code: i32, pieces: &[&str]) {
        assert_eq!(self.code, code, "{}{}", self.err, self.out);
        for piece in pieces {
            assert!(
                self.err.contains(piece),
                "\"{piece}\" is not in: {}",
                self.err
            );
        }
        assert!(self.err.len() < 10_000, "{} bytes", self.err.len());
        harmless(&self.err);
    }
}

/// Peak memory of a process in KiB, 0 once it is gone.
fn peak(id: u32) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{id}/status")).unwrap_or_default();
    status
        .lines()
        .find_map(|l| l.strip_prefix("VmHWM:"))
        .and_then(|l| l.trim().trim_end_matches(" kB").parse().ok())
        .unwrap_or(0)
}

/// Nothing that steers a terminal or turns the direction of text; listed here anew and not asked of the program.
#[track_caller]
fn harmless(text: &str) {
    let bad = |c: char| {
        (c.is_control() && c != '\n')
            || ('\u{202a}'..='\u{202e}').contains(&c)
            || ('\u{2066}'..='\u{2069}').contains(&c)
            || ['\u{200e}', '\u{200f}', '\u{61c}'].contains(&c)
    };
    assert!(!text.contains(bad), "{text:?}");
    assert!(!text.contains("panicked"), "{text}");
}

fn command(record: &Path, args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
    command.arg("--record").arg(record);
    command.args(["--no-input", "--today", DAY]).args(args);
    command
}

fn run(record: &Path, args: &[&str]) -> Run {
    Run::of(&mut command(record, args))
}

fn mode(path: &Path) -> u32 {
    path.metadata().unwrap().permissions().mode() & 0o777
}

fn fifo(path: &Path) -> PathBuf {
    assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
    path.to_owned()
}

const PRECHECK: [&str; 2] = ["precheck", "--rest-not-sure"];

#[test]
fn a_record_behind_links_is_the_one_they_lead_to() {
    let p = Place::new("links");
    // A directory elsewhere.
    let elsewhere = p.dir.join("elsewhere");
    std::fs::create_dir(&elsewhere).unwrap();
    symlink(&elsewhere, p.dir.join("data")).unwrap();
    let behind = p.dir.join("data/record.db");
    assert_eq!(run(&behind, &["tree", "add", "Yuzu"]).code, 0);
    assert_eq!(mode(&elsewhere.join("record.db")), 0o600);
    assert_eq!(std::fs::read_dir(&elsewhere).unwrap().count(), 1);
    // A link to the file itself: it stays a link, and the file is the one that grows.
    let link = p.dir.join("link.db");
    symlink("elsewhere/record.db", &link).unwrap();
    assert_eq!(run(&link, &["tree", "add", "Makrut"]).code, 0);
    assert!(link.symlink_metadata().unwrap().is_symlink());
    assert!(run(&behind, &["tree", "list"]).out.contains("Makrut"));
    assert_eq!(mode(&elsewhere.join("record.db")), 0o600);
    // A link to something else: refused, untouched.
    let letter = p.dir.join("letter");
    std::fs::write(&letter, "a letter about lemons, and no record of anything").unwrap();
    std::fs::set_permissions(&letter, std::fs::Permissions::from_mode(0o400)).unwrap();
    let link = p.dir.join("letter.db");
    symlink("letter", &link).unwrap();
    run(&link, &["tree", "add", "Yuzu"]).fails(1, &["letter.db", "not a record"]);
    assert!(
        std::fs::read_to_string(&letter)
            .unwrap()
            .starts_with("a letter")
    );
    assert_eq!(mode(&letter), 0o400);
    // Links that lead nowhere.
    let dangling = p.dir.join("dangling.db");
    symlink("gone/record.db", &dangling).unwrap();
    for args in [&["tree", "add", "Yuzu"][..], &["due"]] {
        run(&dangling, args).fails(1, &["dangling.db", "link to gone/record.db", "mend"]);
    }
    assert!(!p.dir.join("gone").exists());
    symlink("b.db", p.dir.join("a.db")).unwrap();
    symlink("a.db", p.dir.join("b.db")).unwrap();
    run(&p.dir.join("a.db"), &["tree", "add", "Yuzu"]).fails(1, &["a.db", "symbolic links"]);
}

#[test]
fn what_is_no_file_is_no_record() {
    let p = Place::new("no-file");
    let pipe = fifo(&p.dir.join("pipe"));
    for (path, says) in [
        (pipe.as_path(), "pipe or a device"),
        (Path::new("/dev/full"), "pipe or a device"),
        (Path::new("/dev/zero"), "pipe or a device"),
        (Path::new("/dev/null"), "pipe or a device"),
        (Path::new("/"), "directory"),
        (Path::new(""), "--record"),
    ] {
        for args in [&["tree", "add", "Yuzu"][..], &["due"], &["record", "check"]] {
            let run = run(path, args);
            assert!(run.err.contains(says), "{}: {}", path.display(), run.err);
            assert!(matches!(run.code, 1 | 2) && run.took < LIMIT / 2);
            harmless(&run.err);
        }
    }
    // A part of the path is a file.
    let file = p.dir.join("file");
    std::fs::write(&file, "x").unwrap();
    run(&file.join("record.db"), &["tree", "add", "Yuzu"])
        .fails(1, &["file/record.db", "no directory", "--record"]);
}

/// SQLite gives these names a meaning of their own; here they are names.
#[test]
fn names_of_files_mean_files() {
    let p = Place::new("meanings");
    for name in [":memory:", "file:other.db", "file:x.db?mode=memory"] {
        for (args, code) in [(&["tree", "add", "Yuzu"][..], 0), (&["tree", "list"], 0)] {
            let mut command = command(Path::new(name), args);
            let run = Run::of(command.current_dir(&p.dir));
            assert_eq!(run.code, code, "{name}: {}", run.err);
        }
        assert_eq!(mode(&p.dir.join(name)), 0o600);
        std::fs::remove_file(p.dir.join(name)).unwrap();
        assert_eq!(std::fs::read_dir(&p.dir).unwrap().count(), 0, "{name}");
    }
}

/// Nobody else can read a copy at any time, and nothing is written through a link that lies in the way.
#[test]
fn a_backup_is_the_owners_alone() {
    let p = glasshouse("backup");
    let to = p.dir.join("copy.db");
    assert_eq!(
        run(&p.file(), &["record", "backup", to.to_str().unwrap()]).code,
        0
    );
    assert_eq!(mode(&to), 0o600);
    symlink("target.db", p.dir.join("way.db")).unwrap();
    let way = p.dir.join("way.db");
    run(&p.file(), &["record", "backup", way.to_str().unwrap()]).fails(2, &["never overwrites"]);
    assert!(!p.dir.join("target.db").exists());
    let mut memory = command(&p.file(), &["record", "backup", ":memory:"]);
    assert_eq!(Run::of(memory.current_dir(&p.dir)).code, 0);
    assert_eq!(
        run(&p.dir.join(":memory:"), &["record", "check"]).code,
        0,
        "the copy is a file"
    );
    let nowhere = p.dir.join("nowhere/copy.db");
    run(&p.file(), &["record", "backup", nowhere.to_str().unwrap()]).fails(1, &["nowhere/copy.db"]);
    run(&p.file(), &["record", "backup", "/dev/full"]).fails(2, &["/dev/full"]);
}

#[test]
fn pipes_devices_and_directories_are_no_answers_and_no_tables() {
    let p = glasshouse("inlets");
    let pipe = fifo(&p.dir.join("pipe"));
    let pipe = pipe.to_str().unwrap();
    let with = |args: &[&str]| run(&p.file(), args);
    let answers = |path: &str| with(&[&PRECHECK[..], &["--answers", path]].concat());
    // Nobody writes into the pipe. The four wait side by side.
    std::thread::scope(|s| {
        s.spawn(|| answers(pipe).fails(1, &["pipe", "10 seconds", "name a file"]));
        s.spawn(|| with(&["record", "import", pipe]).fails(1, &["pipe", "10 seconds"]));
        s.spawn(|| {
            with(&["record", "import", "--table", "trees", pipe]).fails(1, &["pipe", "10 seconds"])
        });
        s.spawn(|| with(&["precheck", "--batch", pipe]).fails(1, &["pipe", "10 seconds"]));
    });
    answers("/dev/zero").fails(2, &["/dev/zero", "larger than 1024 KiB"]);
    answers("/").fails(1, &["directory"]);
    let full = answers("/dev/full");
    assert!(
        full.code == 2 && full.err.contains("larger"),
        "{}",
        full.err
    );
    let zero = with(&["record", "import", "/dev/zero"]);
    zero.fails(2, &["/dev/zero", "larger than"]);
    assert!(zero.memory < 700 << 10, "{} KiB", zero.memory);
    with(&["record", "import", "/"]).fails(1, &["directory"]);
    // Directories that are none, and a pipe among the files of one.
    for path in [pipe, "/dev/zero", "/dev/full"] {
        for flag in ["--local-rules", "--knowledge"] {
            with(&[&PRECHECK[..], &[flag, path]].concat()).fails(1, &[path, "not a directory"]);
        }
    }
    let rules = p.dir.join("rules");
    std::fs::create_dir(&rules).unwrap();
    fifo(&rules.join("cautions.yaml"));
    let told = with(&[&PRECHECK[..], &["--local-rules", rules.to_str().unwrap()]].concat());
    told.fails(1, &["cautions.yaml", "pipe or a device", "take it out"]);
    assert!(told.took < Duration::from_secs(8), "it waits for none");
}

/// A pipe with somebody at its other end works: what a shell makes of `<(command)` is one.
#[test]
fn answers_come_through_a_pipe() {
    let p = Place::new("through");
    let pipe = fifo(&p.dir.join("pipe"));
    let into = pipe.clone();
    let writer = std::thread::spawn(move || {
        std::thread::sleep(Duration::from_millis(300));
        std::fs::write(into, "mix_moisture: wet\n").unwrap();
    });
    let run = run(
        &p.file(),
        &[&PRECHECK[..], &["--answers", pipe.to_str().unwrap()]].concat(),
    );
    writer.join().unwrap();
    assert_eq!(run.code, 4, "{}", run.err);
    assert!(run.out.starts_with("[WAIT]"), "{}", run.out);
}

#[test]
fn pages_and_calendars_go_where_the_path_leads() {
    let p = glasshouse("outlets");
    let at = |name: &str| p.dir.join(name).to_str().unwrap().to_owned();
    let page = |to: &str| run(&p.file(), &["history", "Yuzu", "--html", to]);
    let ics = |to: &str| run(&p.file(), &["due", "--within", "365", "--ics", to]);
    let pipe = fifo(&p.dir.join("pipe"));
    let pipe = pipe.to_str().unwrap();
    std::thread::scope(|s| {
        s.spawn(|| page(pipe).fails(1, &["pipe", "10 seconds"]));
        s.spawn(|| ics(pipe).fails(1, &["pipe", "10 seconds"]));
    });
    for write in [&page as &dyn Fn(&str) -> Run, &ics] {
        write("/dev/full").fails(1, &["/dev/full", "disk is full"]);
        write("/").fails(1, &["directory"]);
        write(&at("nowhere/x")).fails(1, &["nowhere/x", "no such file or directory"]);
        assert_eq!(write("/dev/null").code, 0);
        // A file keeps its rights, a link stays and its file is written.
        std::fs::write(at("mine"), "old").unwrap();
        std::fs::set_permissions(at("mine"), std::fs::Permissions::from_mode(0o600)).unwrap();
        symlink("mine", at("link")).unwrap();
        assert_eq!(write(&at("link")).code, 0);
        assert!(
            Path::new(&at("link"))
                .symlink_metadata()
                .unwrap()
                .is_symlink()
        );
        assert_eq!(mode(Path::new(&at("mine"))), 0o600);
        assert!(std::fs::read_to_string(at("mine")).unwrap().len() > 100);
        // One that leads to nothing yet.
        symlink("new", at("ahead")).unwrap();
        assert_eq!(write(&at("ahead")).code, 0);
        assert!(std::fs::read_to_string(at("new")).unwrap().len() > 100);
        // What lies beside under a name that might be taken for the file in the making is left alone.
        std::fs::write(at("other"), "mine").unwrap();
        symlink("other", at("plain.new")).unwrap();
        assert_eq!(write(&at("plain")).code, 0);
        assert_eq!(std::fs::read_to_string(at("other")).unwrap(), "mine");
        symlink("y", at("x")).unwrap();
        symlink("x", at("y")).unwrap();
        write(&at("x")).fails(1, &["links"]);
        for name in [
            "mine",
            "link",
            "ahead",
            "new",
            "other",
            "plain.new",
            "plain",
            "x",
            "y",
        ] {
            std::fs::remove_file(at(name)).unwrap();
        }
        let mut left: Vec<_> = std::fs::read_dir(&p.dir)
            .unwrap()
            .map(|f| f.unwrap().file_name())
            .collect();
        left.sort();
        assert_eq!(left, ["pipe", "record.db"], "nothing else is left");
    }
}

#[test]
fn a_home_that_is_none_gets_no_record() {
    let p = Place::new("home");
    let with = |home: Option<&str>, data: Option<&str>, args: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
        command.args(["--no-input", "--today", DAY]).args(args);
        command.current_dir(&p.dir);
        for (name, value) in [
            ("HOME", home),
            ("XDG_DATA_HOME", data),
            ("XDG_STATE_HOME", data),
            ("XDG_CONFIG_HOME", data),
        ] {
            match value {
                Some(value) => command.env(name, value),
                None => command.env_remove(name),
            };
        }
        Run::of(&mut command)
    };
    let add = ["tree", "add", "Yuzu"];
    // An empty HOME counts as none: then the system is asked, and what it says is not for a test to write into.
    for home in [Some("home"), Some("./home"), Some("../home")] {
        for data in [None, Some(""), Some("data")] {
            with(home, data, &add).fails(1, &["no home directory", "--record"]);
            assert_eq!(with(home, data, &PRECHECK).code, 4);
        }
    }
    assert_eq!(
        std::fs::read_dir(&p.dir).unwrap().count(),
        0,
        "nothing was written where the program was started"
    );
    // A whole path for the data is enough, whatever the home is.
    let data = p.dir.join("data");
    let data = data.to_str().unwrap();
    assert_eq!(with(Some(""), Some(data), &add).code, 0);
    assert_eq!(mode(&p.dir.join("data/tubgrove/record.db")), 0o600);
    // A directory that cannot be made.
    with(Some("/dev/null"), None, &add).fails(1, &["/dev/null", "no directory", "--record"]);
    with(Some("/proc/nowhere"), None, &add).fails(1, &["/proc/nowhere"]);
}

#[test]
fn a_time_zone_that_is_a_pipe_is_not_waited_for() {
    let p = Place::new("zone");
    let pipe = fifo(&p.dir.join("pipe"));
    for zone in [pipe.display().to_string(), format!(":{}", pipe.display())] {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
        let run = Run::of(command.args(PRECHECK).arg("--no-input").env("TZ", zone));
        assert_eq!(run.code, 4, "{}", run.err);
    }
}

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

/// Names that do what they can to whoever prints them.
const NAMES: [&str; 7] = [
    "'; DROP TABLE tree; --",
    "=HYPERLINK(\"x\")",
    "@SUM(1)",
    "<b onclick=x>Yuzu</b>",
    "a;b\\,c",
    "Ōgon 🍊👩‍🌾",
    "%s{}$(id)`id`",
];

/// What the program refuses to take as a name, in the form in which another program may have written it.
const EVIL: &str =
    "\u{1b}[2J\u{1b}]0;owned\u{7}\u{9b}31m\u{202e}gnol\r\nBEGIN:VEVENT<script>x</script>";

/// Every command that prints names of a record.
fn printed(p: &Place, name: &str) -> Vec<(String, String)> {
    let page = p.dir.join("page.html").to_str().unwrap().to_owned();
    let ics = p.dir.join("due.ics").to_str().unwrap().to_owned();
    let commands: [&[&str]; 21] = [
        &["tree", "list"],
        &["tree", "list", "--json"],
        &["tree", "show", name],
        &["history", name],
        &["history", name, "--json"],
        &["history", name, "--csv"],
        &["history", name, "--html", &page],
        &["due", "--within", "365"],
        &["due", "--json"],
        &["due", "--ics", &ics, "--within", "365"],
        &["shelf", "list"],
        &["shelf", "list", "--json"],
        &["round", "--rest-not-sure"],
        &["round", "--rest-not-sure", "--json"],
        &["site"],
        &["site", "--json"],
        &["precheck", "--rest-not-sure", "--tree", name],
        &["record", "export"],
        &["record", "export", "--table", "trees"],
        &["record", "export", "--table", "shelf"],
        &["record", "export", "--table", "events"],
    ];
    let mut all = Vec::new();
    for args in commands {
        for colour in ["never", "always"] {
            let run = run(&p.file(), &[args, &["--color", colour]].concat());
            assert!(!run.err.contains("panicked"), "{args:?}: {}", run.err);
            harmless(&run.err);
            if colour == "never" {
                harmless(&run.out);
                all.push((args.join(" "), run.out));
            } else {
                // Colours of our own, and nothing else that begins with an escape.
                for (at, _) in run.out.match_indices('\u{1b}') {
                    let rest = run.out[at + 1..]
                        .trim_start_matches(|c: char| c == '[' || c == ';' || c.is_ascii_digit());
                    assert!(rest.starts_with('m'), "{args:?}: {:?}", run.out);
                }
            }
        }
    }
    for file in [page, ics] {
        if let Ok(text) = std::fs::read_to_string(&file) {
            harmless(&text.replace("\r\n", "\n"));
            all.push((file, text));
        }
    }
    all
}

#[test]
fn names_of_every_kind_come_out_harmless_everywhere() {
    for (at, name) in NAMES.iter().enumerate() {
        let p = Place::new(&format!("names-{at}"));
        for args in [
            &[
                "tree",
                "add",
                name,
                "--volume",
                "20 L",
                "--fed",
                "2025-05-01",
            ][..],
            &[
                "shelf", "add", name, "--kind", "soluble", "--grade", "24-8-16", "--left", "5 g",
            ],
            &[
                "site",
                "--hemisphere",
                "south",
                "--ban",
                &format!("{name}: 01-10..02-10 nitrogen"),
            ],
            &["log", "note", "--tree", name, name],
        ] {
            let run = run(&p.file(), args);
            // A rule of the place has no colon or equals sign in its name; then it is refused in words.
            assert!(run.code == 0 || args[0] == "site", "{args:?}: {}", run.err);
        }
        for (what, text) in printed(&p, name) {
            if what.ends_with("--csv") || what.contains("--table") {
                let mut reader = csv::ReaderBuilder::new()
                    .has_headers(false)
                    .from_reader(text.as_bytes());
                for cell in reader
                    .records()
                    .flat_map(|r| r.unwrap().iter().map(str::to_owned).collect::<Vec<_>>())
                {
                    let formula = cell.starts_with(['=', '+', '@', '\t']);
                    assert!(!formula, "{what}: {cell}");
                }
            }
            let is_file = |ending| what.starts_with('/') && what.ends_with(ending);
            if is_file(".html") {
                assert!(!text.contains("<b onclick"), "{what}");
            }
            if is_file(".ics") {
                assert_eq!(
                    text.matches("BEGIN:VEVENT").count(),
                    text.matches("\r\nEND:VEVENT\r\n").count()
                );
            }
            if ["tree list --json", "due --json"].contains(&what.as_str()) {
                serde_json::from_str::<serde_json::Value>(&text)
                    .unwrap_or_else(|e| panic!("{what}: {e}"));
            }
        }
    }
}

/// A record that another program wrote, or that came from somebody: its texts were never checked on the way in.
#[test]
fn a_record_from_elsewhere_cannot_steer_the_terminal() {
    let p = glasshouse("evil");
    let db = rusqlite::Connection::open(p.file()).unwrap();
    db.execute(
        "UPDATE tree SET name = ?1, folded = 'evil' WHERE id = 1",
        [EVIL],
    )
    .unwrap();
    db.execute("UPDATE product SET name = ?1", [EVIL]).unwrap();
    for what in ["note", "mix", "citrus_type", "place", "pot_kind", EVIL] {
        db.execute(
            "INSERT INTO said (tree, what, value, day, written, knowledge) VALUES (1, ?1, ?2, '2025-09-02', ?2, ?2)",
            [what, EVIL],
        )
        .unwrap();
    }
    for what in [&format!("ban {EVIL}"), "water_source", "can_sizes"] {
        db.execute(
            "INSERT INTO said (what, value, day, written, knowledge) VALUES (?1, ?2, '2025-09-02', '', '')",
            [what, if what.starts_with("ban") { "01-01..12-31 nitrogen" } else { EVIL }],
        )
        .unwrap();
    }
    for kind in ["feed", "note", "rain", "reading", "cold", "move", "repot"] {
        db.execute(
            "INSERT INTO event (day, kind, tree, product, what, amount, grams, note, written, knowledge)
             VALUES ('2025-09-03', ?1, 1, 1, ?2, 1, 1, ?2, '', '')",
            [kind, EVIL],
        )
        .unwrap();
    }
    let plan = serde_json::json!({"verdict": "hold", "headline": EVIL, "next": {"date": "2025-11-01"},
        "waits": [], "entries": []});
    db.execute(
        "INSERT INTO advice (day, kind, tree, plan, written, knowledge) VALUES ('2025-09-04', ?1, 1, ?2, '', '')",
        [EVIL, &plan.to_string()],
    )
    .unwrap();
    drop(db);
    let all = printed(&p, "evil");
    assert!(
        all.iter().any(|(_, text)| text.contains("gnol")),
        "it was printed"
    );
    for (what, text) in all {
        let is_file = |ending| what.starts_with('/') && what.ends_with(ending);
        assert!(!text.contains("<script>") || !is_file(".html"), "{what}");
        if is_file(".ics") {
            let lines = text.lines().filter(|l| *l == "BEGIN:VEVENT").count();
            assert_eq!(lines, text.matches("\r\nEND:VEVENT\r\n").count());
        }
    }
    // Names that are asked for and are not there.
    run(&p.file(), &["tree", "show", "elsewhere"]).fails(2, &["there are: ", "gnol"]);
    run(&p.file(), &["tree", "add", "Evil"]).fails(2, &["already"]);
}

/// What another hand put into the file to run when it is opened, without end or beyond what a command says.
#[test]
fn a_record_that_runs_something_is_none() {
    let endless = "DROP TABLE advice; CREATE VIEW advice AS WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n)
         SELECT x AS seq, '2025-10-01' AS day, 'round' AS kind, NULL AS tree, '{}' AS plan FROM n ORDER BY x";
    let meddling = "CREATE TRIGGER more AFTER INSERT ON event BEGIN DELETE FROM tree; END";
    // Under the name of one of ours.
    let disguised = "DROP TRIGGER event_kept; CREATE TRIGGER event_kept AFTER INSERT ON event BEGIN DELETE FROM tree; END";
    for (at, change) in [endless, meddling, disguised].into_iter().enumerate() {
        let p = glasshouse(&format!("runs-{at}"));
        rusqlite::Connection::open(p.file())
            .unwrap()
            .execute_batch(change)
            .unwrap();
        let before = std::fs::read(p.file()).unwrap();
        for args in [&["due"][..], &["log", "rain", "5"]] {
            run(&p.file(), args).fails(1, &["not a record of tubgrove", "left as it is"]);
        }
        assert_eq!(std::fs::read(p.file()).unwrap(), before);
    }
}

/// Lines of a record from somebody: what the program would not write is refused, and the line and the column are named.
#[test]
fn an_import_takes_only_what_every_command_can_read() {
    let p = Place::new("import-evil");
    let head = r#"{"format":"tubgrove.record/1","schema":2}"#;
    let tree = r#"{"table":"tree","id":1,"name":"Yuzu","folded":"yuzu","since":"2025-09-01"}"#;
    let event = |more: &str| {
        format!(
            r#"{{"table":"event","seq":1,"day":"2025-09-02","kind":"note","tree":1,"written":"","knowledge":""{more}}}"#
        )
    };
    let cases = [
        (r#"{"table":"tree","id":1,"name":"\u001b[2J","folded":"x","since":"2025-09-01"}"#.to_owned(), "name"),
        (r#"{"table":"tree","id":1,"name":"  ","folded":"x","since":"2025-09-01"}"#.to_owned(), "name"),
        (format!(r#"{{"table":"tree","id":1,"name":"{}","folded":"x","since":"2025-09-01"}}"#, "x".repeat(10_000)), "name"),
        (r#"{"table":"tree","id":1,"name":"Yuzu","folded":"yuzu","since":"soon"}"#.to_owned(), "since"),
        (r#"{"table":"tree","id":-1,"name":"Yuzu","folded":"yuzu","since":"2025-09-01"}"#.to_owned(), "id"),
        (r#"{"table":"about","key":"id","value":"a\nEND:VEVENT"}"#.to_owned(), "value"),
        (event(r#","kind":"prune""#), "kind"),
        (event(r#","note":"\u202egnol""#), "note"),
        (event(r#","day":"2025-02-31""#), "day"),
        (event(r#","grams":-3"#), "grams"),
        (event(r#","amount":1e300"#), "amount"),
        (event(r#","kind":"undo""#), "corrects"),
        (event(r#","kind":"undo","corrects":1"#), "corrects"),
        (event(r#","size":3"#), "size"),
        (r#"{"table":"said","seq":1,"tree":1,"what":"note","value":"a\u009b31m","day":"2025-09-01","written":"","knowledge":""}"#.to_owned(), "value"),
        (r#"{"table":"advice","seq":1,"day":"2025-09-01","kind":"precheck","tree":1,"plan":"{","written":"","knowledge":""}"#.to_owned(), "plan"),
    ];
    for (line, column) in cases {
        let needs_tree = !line.contains("\"table\":\"tree\"");
        let text = format!(
            "{head}\n{}{line}\n",
            if needs_tree {
                format!("{tree}\n")
            } else {
                String::new()
            }
        );
        let file = p.dir.join("lines");
        std::fs::write(&file, &text).unwrap();
        let run = run(&p.file(), &["record", "import", file.to_str().unwrap()]);
        run.fails(
            2,
            &["line ", &format!("{column}:")].map(|s| if s == "size:" { "size" } else { s }),
        );
        assert!(
            self::run(&p.file(), &["record", "export"])
                .out
                .lines()
                .count()
                <= 2
        );
    }
    // The very row that was refused, without what was wrong in it, is taken.
    let file = p.dir.join("lines");
    std::fs::write(&file, format!("{head}\n{tree}\n{}\n", event(""))).unwrap();
    assert_eq!(
        run(&p.file(), &["record", "import", file.to_str().unwrap()]).code,
        0
    );
    assert!(run(&p.file(), &["due"]).code == 0);
}

/// What was typed, and names of files, come back in errors.
#[test]
fn errors_repeat_nothing_that_steers() {
    let p = glasshouse("echo");
    let evil = "x\u{1b}[2J\u{1b}]0;t\u{7}\u{9b}1m\u{202e}y\u{2066}";
    let long = "z".repeat(10_000);
    for text in [evil, &long, "🍊=1+1<b>", "%s%n{}"] {
        let path = format!("/nowhere/{}", text.chars().take(200).collect::<String>());
        for args in [
            &[text][..],
            &["precheck", text],
            &["precheck", &format!("--{text}")],
            &["precheck", "--set", text],
            &["precheck", "--set", &format!("pot_kind={text}")],
            &["precheck", "--units", text],
            &["precheck", "--answers", &path],
            &["precheck", "--batch", &path],
            &["precheck", "--local-rules", &path],
            &["precheck", "--knowledge", &path],
            &["precheck", "--rest-not-sure", "--html", &path],
            &["tree", "show", text],
            &["tree", "add", text, "--volume", text],
            &["history", text],
            &["log", "note", "--tree", text, "x"],
            &["log", "feed", "--tree", "Yuzu", "--on", text],
            &["log", "rain", text],
            &["shelf", "add", "Flakes", "--kind", text],
            &["site", "--ban", text],
            &["site", "--climate", text],
            &["show", text],
            &["draw", text],
            &["blend", text],
            &["strength", "--set", text],
            &["reading", "--set", text],
            &["record", "import", &path],
            &["record", "backup", &path],
            &["due", "--ics", &path],
        ] {
            let run = run(&p.file(), args);
            assert_ne!(run.code, 101, "{args:?}: {}", run.err);
            harmless(&run.err);
            harmless(&run.out);
            assert!(run.err.len() < 25_000, "{args:?}: {} bytes", run.err.len());
        }
    }
    // A path that is no UTF-8.
    use std::os::unix::ffi::OsStrExt;
    let odd = std::ffi::OsStr::from_bytes(b"/nowhere/\xff\x1b[2J");
    let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
    command
        .args(["precheck", "--no-input", "--answers"])
        .arg(odd);
    Run::of(&mut command).fails(1, &["/nowhere/", "no such file"]);
    run(Path::new(odd), &["due"]).fails(2, &["/nowhere/"]);
}
