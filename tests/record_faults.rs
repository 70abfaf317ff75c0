//! The record under fault: killed inside a transaction, a full disk, a folder that can only be read.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    missing_docs
)]

use std::fmt::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use tubgrove::record::{Event, Kind, Record, RecordError, Stamp, add_event};

#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
use glasshouse::glasshouse;
use place::Place;

/// Rows of the table whose reading is killed; one transaction.
const ROWS: usize = 1500;

fn table(rows: usize) -> String {
    let mut text = String::from("day,kind,tree,note\n");
    for n in 0..rows {
        writeln!(text, "2025-10-01,note,Yuzu,row {n} of a long list of notes").unwrap();
    }
    text
}

fn import(file: &Path, csv: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
    command
        .args(["--today", "2025-10-05", "--record"])
        .arg(file)
        .args(["record", "import", "--table", "events"])
        .arg(csv)
        .stdout(Stdio::piped())
        .stderr(Stdio::null());
    command
}

fn count(file: &Path) -> (usize, String) {
    let db = rusqlite::Connection::open(file).unwrap();
    let events: i64 = db
        .query_row("SELECT count(*) FROM event", [], |r| r.get(0))
        .unwrap();
    let whole: String = db
        .query_row("PRAGMA integrity_check", [], |r| r.get(0))
        .unwrap();
    (usize::try_from(events).unwrap(), whole)
}

/// A child acknowledges what it committed on its standard output; whatever moment it is killed at, the table is there as a
/// whole or not at all, and what was acknowledged is there. A journal left beside the file tells that a transaction was open.
#[test]
fn two_hundred_kills_inside_a_transaction_lose_nothing() {
    let p = glasshouse("kill-inside");
    let csv = p.dir.join("notes.csv");
    std::fs::write(&csv, table(ROWS)).unwrap();
    let trial = p.dir.join("trial.db");
    std::fs::copy(p.file(), &trial).unwrap();
    let start = Instant::now();
    assert!(import(&trial, &csv).status().unwrap().success());
    let usual = start.elapsed();
    let (mut have, _) = count(&p.file());
    let journal = p.dir.join("record.db-journal");
    let (mut inside, mut acknowledged) = (0, 0);
    let mut kills = 0_u32;
    // At least 200, and on until a hundred of them fell inside, which a slow or a busy machine may need.
    while kills < 200 || (inside < 100 && kills < 800) {
        let n = kills;
        kills += 1;
        let mut child = import(&p.file(), &csv).spawn().unwrap();
        // Spread over the usual time by the golden ratio, so that no stretch of it is left out.
        let share = (f64::from(n) * 0.618_033_988_75).fract();
        std::thread::sleep(Duration::from_secs_f64(
            usual.as_secs_f64() * (0.05 + share),
        ));
        let _ = child.kill();
        let out = child.wait_with_output().unwrap();
        let open = journal.metadata().is_ok_and(|m| m.len() > 0);
        inside += usize::from(open);
        let said = String::from_utf8_lossy(&out.stdout).contains("rows read");
        acknowledged += usize::from(said);
        let (now, whole) = count(&p.file());
        assert_eq!(whole, "ok", "kill {n}");
        assert!(
            now == have || now == have + ROWS,
            "kill {n}: half a table: {have} to {now}"
        );
        assert!(
            !said || now == have + ROWS,
            "kill {n}: acknowledged and gone"
        );
        assert!(
            !open || !said,
            "kill {n}: acknowledged with the transaction open"
        );
        have = now;
    }
    println!(
        "{kills} kills, {inside} inside an open transaction, {acknowledged} after it was acknowledged"
    );
    assert!(
        inside >= 100,
        "only {inside} of {kills} kills fell inside a transaction"
    );
    assert!(p.ok("2025-10-05", &["record", "check"]).contains("whole"));
}

fn stamp() -> Stamp {
    Stamp {
        written: "2025-10-05T08:00:00Z".into(),
        knowledge: "test".into(),
    }
}

/// No page may be added any more: SQLite's own limit stands for a full disk.
#[test]
fn where_no_page_can_be_added_the_entry_is_refused_and_the_rest_stands() {
    let p = glasshouse("full-limit");
    let mut record = Record::open(&p.file()).unwrap();
    record.limit_pages(1).unwrap();
    let before = record.all_events().unwrap();
    let many = record.write(|db| {
        for _ in 0..500 {
            let mut e = Event::new("2025-10-01".parse().unwrap(), Kind::Note);
            e.tree = Some(1);
            e.note = Some("a long note ".repeat(40));
            add_event(db, &e, &stamp())?;
        }
        Ok(())
    });
    assert!(matches!(many, Err(RecordError::Full(_))), "{many:?}");
    assert_eq!(record.all_events().unwrap(), before);
    assert!(record.check().unwrap().is_empty());
}

/// A small file system in memory that is filled to the brim. It needs the right to mount.
#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_is_told_and_nothing_is_lost() {
    let p = glasshouse("full-disk");
    let disk = p.dir.join("disk");
    std::fs::create_dir(&disk).unwrap();
    let mounted = Command::new("mount")
        .args(["-t", "tmpfs", "-o", "size=512k", "none"])
        .arg(&disk)
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|s| s.success());
    if !mounted {
        println!(
            "NOT TRIED: no right to mount a small disk here; SQLite's page limit stood for it in the test before"
        );
        return;
    }
    let file = disk.join("record.db");
    std::fs::copy(p.file(), &file).unwrap();
    let (have, _) = count(&file);
    let csv = p.dir.join("notes.csv");
    std::fs::write(&csv, table(20_000)).unwrap();
    let out = import(&file, &csv).stderr(Stdio::piped()).output().unwrap();
    let said = String::from_utf8_lossy(&out.stderr).into_owned();
    let after = count(&file);
    assert!(
        Command::new("umount")
            .arg(&disk)
            .status()
            .unwrap()
            .success()
    );
    assert_eq!(out.status.code(), Some(1), "{said}");
    assert!(said.contains("full"), "{said}");
    assert_eq!(after, (have, "ok".to_owned()));
}

/// A folder in which nothing can be written. Root may write anywhere, so there the program runs as somebody else.
#[test]
#[cfg(unix)]
fn a_folder_that_can_only_be_read_is_told_and_the_record_can_be_read() {
    use std::os::unix::fs::{PermissionsExt, chown};
    use std::os::unix::process::CommandExt;
    /// Nobody, on most systems.
    const NOBODY: u32 = 65_534;
    let p: Place = glasshouse("read-only");
    let program = p.dir.join("program");
    std::fs::copy(env!("CARGO_BIN_EXE_tubgrove"), &program).unwrap();
    let folder = p.dir.join("folder");
    std::fs::create_dir(&folder).unwrap();
    let file = folder.join("record.db");
    std::fs::copy(p.file(), &file).unwrap();
    let root = chown(&file, Some(NOBODY), None).is_ok();
    std::fs::set_permissions(&folder, std::fs::Permissions::from_mode(0o555)).unwrap();
    let bytes = std::fs::read(&file).unwrap();
    let run = |args: &[&str]| {
        let mut command = Command::new(&program);
        command.args(["--no-input", "--today", "2025-10-05", "--record"]);
        command.arg(&file).args(args);
        if root {
            command.uid(NOBODY);
        }
        let out = command.output().unwrap();
        (
            out.status.code(),
            String::from_utf8_lossy(&out.stderr).into_owned(),
        )
    };
    let (code, said) = run(&["log", "rain", "5"]);
    assert_eq!(code, Some(1), "{said}");
    assert!(said.contains("read"), "{said}");
    assert_eq!(
        std::fs::read(&file).unwrap(),
        bytes,
        "the record was touched"
    );
    // What only reads still answers.
    let (code, said) = run(&["due"]);
    assert_eq!(code, Some(0), "{said}");
    std::fs::set_permissions(&folder, std::fs::Permissions::from_mode(0o755)).unwrap();
}
