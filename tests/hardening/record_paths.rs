//! Where a record is: behind links, in a pipe, under a name that means something to somebody else.

use super::glasshouse::glasshouse;
use super::odd_files::{fifo, mode};
use super::place::Place;
use super::run::{LIMIT, Run, command, harmless, run};
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::Path;

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
