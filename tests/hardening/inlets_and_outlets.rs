//! What is read from and written to a path that is a pipe, a device, a directory or a link.

use super::glasshouse::glasshouse;
use super::odd_files::{fifo, mode};
use super::place::Place;
use super::run::{PRECHECK, Run, run};
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::Path;
use std::time::Duration;

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
