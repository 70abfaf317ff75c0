#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]
#![cfg(unix)]
//! The real program in a pseudo-terminal, as a grower meets it: keys go in, the screen is read back.
//!
//! Every wait is for a text that the next prompt must show, never for a time. The same walk is then taken by plain lines
//! and by an answers file, and the three plans must agree but for where each answer came from.

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::collections::BTreeSet;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

const PROGRAM: &str = env!("CARGO_BIN_EXE_tubgrove");
const PATIENCE: Duration = Duration::from_secs(60);
const TODAY: &str = "2026-11-25";

const DOWN: &str = "\x1b[B";
const UP: &str = "\x1b[A";
const RIGHT: &str = "\x1b[C";
const ENTER: &str = "\r";
const ESC: &str = "\x1b";
const CTRL_C: &str = "\x03";

/// A directory of its own for every test, taken away at the end.
struct Scratch(PathBuf);

impl Scratch {
    fn new(name: &str) -> Self {
        let path =
            std::env::temp_dir().join(format!("tubgrove-terminal-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// The program in a pseudo-terminal.
struct Terminal {
    _master: Box<dyn MasterPty + Send>,
    writer: Box<dyn Write + Send>,
    child: Box<dyn Child + Send + Sync>,
    shared: Arc<Mutex<Shared>>,
    /// How much of the stream had been seen when the last keys were sent.
    mark: usize,
}

struct Shared {
    parser: vt100::Parser,
    stream: Vec<u8>,
    ended: bool,
}

impl Terminal {
    /// Starts a shell line, in which `$TUBGROVE` is the program.
    fn start(
        scratch: &Scratch,
        (cols, rows): (u16, u16),
        line: &str,
        env: &[(&str, &str)],
    ) -> Self {
        let pair = native_pty_system()
            .openpty(PtySize {
                rows,
                cols,
                pixel_width: 0,
                pixel_height: 0,
            })
            .unwrap();
        let mut command = CommandBuilder::new("/bin/sh");
        command.args(["-c", line]);
        command.env_clear();
        command.env("PATH", std::env::var_os("PATH").unwrap_or_default());
        command.env("TUBGROVE", PROGRAM);
        command.env("HOME", &scratch.0);
        command.env("XDG_STATE_HOME", scratch.path("state"));
        command.env("TERM", "xterm-256color");
        for (name, value) in env {
            command.env(name, value);
        }
        command.cwd(&scratch.0);
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().unwrap();
        let shared = Arc::new(Mutex::new(Shared {
            parser: vt100::Parser::new(rows, cols, 0),
            stream: Vec::new(),
            ended: false,
        }));
        let fed = Arc::clone(&shared);
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            loop {
                let got = reader.read(&mut bytes).unwrap_or(0);
                let mut shared = fed.lock().unwrap();
                if got == 0 {
                    shared.ended = true;
                    return;
                }
                shared.parser.process(&bytes[..got]);
                shared.stream.extend_from_slice(&bytes[..got]);
            }
        });
        Self {
            writer: pair.master.take_writer().unwrap(),
            _master: pair.master,
            child,
            shared,
            mark: 0,
        }
    }

    fn send(&mut self, keys: &str) {
        self.mark = self.shared.lock().unwrap().stream.len();
        self.writer.write_all(keys.as_bytes()).unwrap();
        self.writer.flush().unwrap();
    }

    /// What came since the last keys, without control sequences, runs of space made one.
    fn since(&self) -> String {
        let shared = self.shared.lock().unwrap();
        one_line(&plain(&shared.stream[self.mark.min(shared.stream.len())..]))
    }

    fn wait_until(&self, what: &str, mut ready: impl FnMut(&Self) -> bool) {
        let start = Instant::now();
        while !ready(self) {
            let ended = self.shared.lock().unwrap().ended;
            if (ended && !ready(self)) || start.elapsed() > PATIENCE {
                panic!("waited for {what}; the screen is\n{}", self.screen());
            }
            std::thread::sleep(Duration::from_millis(2));
        }
    }

    /// Waits for a text that came after the last keys, and for a prompt below it that takes keys.
    fn prompt(&self, text: &str) {
        self.wait_until(text, |t| {
            let since = t.since();
            since.find(text).is_some_and(|at| {
                ["Esc back]", "Enter ends]", "Ctrl-C leave]"]
                    .iter()
                    .any(|help| since[at..].contains(help))
            })
        });
    }

    /// Waits for a text that came after the last keys.
    fn text(&self, text: &str) {
        self.wait_until(text, |t| t.since().contains(text));
    }

    /// Waits for a text on the screen, wherever it was drawn.
    fn shows(&self, text: &str) {
        self.wait_until(text, |t| one_line(&t.screen()).contains(text));
    }

    fn screen(&self) -> String {
        self.shared.lock().unwrap().parser.screen().contents()
    }

    /// Whether any line ran over the edge of the terminal, which then cuts where it pleases.
    fn overran(&self) -> bool {
        let shared = self.shared.lock().unwrap();
        let screen = shared.parser.screen();
        (0..screen.size().0).any(|row| screen.row_wrapped(row))
    }

    fn end(&mut self) -> u32 {
        self.wait_until("the end", |t| t.shared.lock().unwrap().ended);
        self.child.wait().unwrap().exit_code()
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        let _ = self.child.kill();
    }
}

/// A stream without control sequences.
fn plain(bytes: &[u8]) -> String {
    let text = String::from_utf8_lossy(bytes);
    let mut out = String::new();
    let mut chars = text.chars();
    while let Some(c) = chars.next() {
        if c == '\x1b' {
            // CSI: up to its final letter. Others are two characters long. Movements part words, colours do not.
            let mut last = 'm';
            if chars.next() == Some('[') {
                for c in chars.by_ref() {
                    last = c;
                    if ('@'..='~').contains(&c) {
                        break;
                    }
                }
            }
            if last != 'm' {
                out.push(' ');
            }
        } else {
            out.push(c);
        }
    }
    out
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The healthy tree of the three ways: a bearing kumquat on the terrace in summer.
const TREE: &str = "bearing kumquat, terracotta, 20 L, 120 cm";
const PLACE: &str = "outdoors, 22 C, summer";
const FEED: &str = "soluble 24-8-16";
const LABEL: &str = "1,25 mL per L every 14 days";

/// Answers the eight questions, with one step back on the way.
fn walk_to_review(terminal: &mut Terminal) {
    terminal.prompt("Question 1 of at most 8");
    terminal.send(&format!("{TREE}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Question 3 of at most 8");
    // The three last rows are: none of these, cannot tell, why.
    terminal.send(&format!("{UP}{UP}{UP} {ENTER}"));
    terminal.prompt("Question 4 of at most 8");
    terminal.send(ESC);
    terminal.prompt("Question 3 of at most 8");
    assert!(
        terminal.since().contains("Before: none of these"),
        "the answer must be kept when going back:\n{}",
        terminal.screen()
    );
    terminal.send(ENTER);
    terminal.prompt("Question 4 of at most 8");
    terminal.send(&format!("{UP}{UP}{UP} {ENTER}"));
    terminal.prompt("Question 5 of at most 8");
    terminal.send(&format!("{PLACE}{ENTER}"));
    terminal.prompt("Question 6 of at most 8");
    terminal.send(&format!("{FEED}{ENTER}"));
    terminal.prompt("Question 7 of at most 8");
    terminal.send(&format!("{LABEL}{ENTER}"));
    terminal.prompt("Question 8 of at most 8");
    terminal.send(&format!("not sure{ENTER}"));
    terminal.prompt("Your answers.");
}

/// Runs the program without a terminal.
fn run(scratch: &Scratch, args: &[&str], lines: &str) -> (i32, String) {
    let mut child = Command::new(PROGRAM)
        .args(args)
        .env("HOME", &scratch.0)
        .env("XDG_STATE_HOME", scratch.path("state"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    // The program may end before it has read everything.
    let _ = child.stdin.take().unwrap().write_all(lines.as_bytes());
    let output = child.wait_with_output().unwrap();
    (
        output.status.code().unwrap(),
        String::from_utf8(output.stdout).unwrap(),
    )
}

/// A plan without where its answers came from.
fn plan(json: &str) -> serde_json::Value {
    let mut plan: serde_json::Value =
        serde_json::from_str(json).unwrap_or_else(|e| panic!("no plan ({e}):\n{json}"));
    let answers = plan["answers"].as_array_mut().unwrap();
    assert!(answers.len() >= 17, "the plan lists its answers");
    for answer in answers {
        answer.as_object_mut().unwrap().remove("from").unwrap();
    }
    plan
}

/// Compares two plans field by field, so that a difference can be read.
fn same(one: &serde_json::Value, other: &serde_json::Value, which: &str) {
    let (one, other) = (one.as_object().unwrap(), other.as_object().unwrap());
    assert_eq!(
        one.keys().collect::<Vec<_>>(),
        other.keys().collect::<Vec<_>>(),
        "{which}"
    );
    for (field, value) in one {
        assert_eq!(*value, other[field], "{which}: {field}");
    }
}

#[test]
fn keys_lines_and_a_file_give_the_same_plan() {
    let scratch = Scratch::new("three-ways");

    // By keys, with the plan sent to a file: the questions stay on the terminal.
    let out = scratch.path("by-keys.json");
    let mut terminal = Terminal::start(
        &scratch,
        (80, 24),
        &format!(
            "\"$TUBGROVE\" precheck --json --today {TODAY} > '{}'",
            out.display()
        ),
        &[],
    );
    walk_to_review(&mut terminal);
    let screen = one_line(&terminal.screen());
    for said in [
        "All right: show the plan",
        "Tree and pot: Kumquat",
        "20 L",
        "22 °C",
        "Summer",
    ] {
        assert!(screen.contains(said), "the review lacks {said}:\n{screen}");
    }
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Change an answer");
    // Esc takes the change back and leaves the answer; then the pot is changed in earnest.
    terminal.send(ESC);
    terminal.prompt("Your answers.");
    assert!(terminal.since().contains("20 L"));
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Change an answer");
    terminal.send(&format!("30 L{ENTER}"));
    terminal.prompt("Your answers.");
    assert!(terminal.since().contains("30 L"), "{}", terminal.screen());
    terminal.send(ENTER);
    assert_eq!(terminal.end(), 0, "{}", terminal.screen());
    let by_keys = plan(&std::fs::read_to_string(&out).unwrap());

    // By lines.
    let lines =
        format!("{TREE}\n2\nnone\nb\n=\nnone\n{PLACE}\n{FEED}\n{LABEL}\nnot sure\n1\n30 L\n\n");
    let (code, json) = run(
        &scratch,
        &["precheck", "--plain", "--json", "--today", TODAY],
        &lines,
    );
    assert_eq!(code, 0);
    let by_lines = plan(&json);

    // By a file.
    let file = scratch.path("answers.yaml");
    std::fs::write(
        &file,
        "citrus_type: kumquat\ntree_stage: bearing\npot_kind: terracotta\npot_volume: 30 L\n\
         tree_height: 1,2 m\nmix_moisture: moist\nsalt_crust: no\ndrainage: free\nsour_smell: no\n\
         water_runs_through: no\nwilting_now: no\nnew_growth: yes\npot_fit: fits\n\
         notifiable_signs: none\ndays_since_feed: 35..3650\nslow_feed_at_work: none\n\
         days_since_repot: 42..10000\ncold_event: none\nheat_now: no\nrain_due: no\n\
         frost_ahead: later\nalso_in_can: nothing\nplace: outdoors\nair_temperature: 22\n\
         season: summer\nmaterial: not_sure\nproduct_kind: soluble\nproduct_grade: 24-8-16\n\
         label_rate: 1.25 mL per 1 L\nlabel_interval_days: 14\nplanned_amount: not_sure\n",
    )
    .unwrap();
    let (code, json) = run(
        &scratch,
        &[
            "precheck",
            "--no-input",
            "--json",
            "--today",
            TODAY,
            "--answers",
            file.to_str().unwrap(),
        ],
        "",
    );
    assert_eq!(code, 0);
    let by_file = plan(&json);

    same(&by_keys, &by_lines, "keys and lines");
    same(&by_lines, &by_file, "lines and file");
    assert_eq!(by_keys["verdict"], "go");
    assert!(by_keys["dose"].is_object());
    let litres = by_keys["answers"]
        .as_array()
        .unwrap()
        .iter()
        .find(|a| a["fact"] == "pot_volume")
        .unwrap();
    assert_eq!(litres["value"], "30", "the changed answer counts");
}

#[test]
fn the_plan_on_the_screen_ends_with_the_verdict() {
    let scratch = Scratch::new("verdict");
    let mut terminal = Terminal::start(
        &scratch,
        (80, 70),
        &format!("\"$TUBGROVE\" precheck --today {TODAY}"),
        &[],
    );
    walk_to_review(&mut terminal);
    terminal.send(ENTER);
    assert_eq!(terminal.end(), 0);
    let screen = terminal.screen();
    let last = screen.trim_end().lines().last().unwrap().to_owned();
    assert!(
        last.starts_with("[GO]"),
        "the verdict is the last word:\n{screen}"
    );
    assert!(!terminal.overran(), "a line ran over the edge:\n{screen}");
}

#[test]
fn a_careless_key_certifies_nothing() {
    let scratch = Scratch::new("careless");
    let mut terminal = Terminal::start(&scratch, (80, 40), "\"$TUBGROVE\" precheck", &[]);
    terminal.prompt("Question 1 of at most 8");
    terminal.send(&format!("{TREE}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Question 3 of at most 8");
    // Enter on nothing.
    terminal.send(ENTER);
    terminal.prompt("Nothing is ticked.");
    // The right arrow ticks every row at once; two times Enter must not get past either.
    terminal.send(&format!("{RIGHT}{ENTER}"));
    terminal.prompt("nothing was taken");
    assert!(
        !terminal.screen().contains("[x]"),
        "the slip must not stay ticked:\n{}",
        terminal.screen()
    );
    terminal.send(ENTER);
    terminal.prompt("Nothing is ticked.");
    // "None of these" with a sign ticked beside it.
    terminal.send(&format!(" {UP}{UP}{UP} {ENTER}"));
    terminal.prompt("goes alone");
    // Why, and then the crust stays ticked.
    terminal.send(&format!("{UP} {ENTER}"));
    terminal.prompt("takes a minute to see");
    terminal.shows("[x] White or yellow crust");
    terminal.send(ENTER);
    terminal.prompt("Question 4 of at most 8");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn ctrl_c_keeps_the_answers_and_the_next_run_goes_on() {
    let scratch = Scratch::new("draft");
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" precheck", &[]);
    terminal.prompt("Question 1 of at most 8");
    terminal.send(&format!("{TREE}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    terminal.send(CTRL_C);
    terminal.text("Your answers are kept");
    assert_eq!(terminal.end(), 130);

    // Ctrl-C at the offer leaves too, and loses nothing.
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" precheck", &[]);
    terminal.prompt("You stopped half way");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);

    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" precheck", &[]);
    terminal.prompt("You stopped half way");
    // What is in it is told, and Enter alone begins anew.
    assert!(
        terminal.screen().contains("kumquat, terracotta"),
        "{}",
        terminal.screen()
    );
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    // Back shows the answer of the first run.
    terminal.send(ESC);
    terminal.prompt("Before: Kumquat");
    // Esc at the first question asks before it leaves.
    terminal.send(ESC);
    terminal.prompt("This is the first question. Leave?");
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Question 1 of at most 8");
    terminal.send(ENTER);
    terminal.prompt("Question 2 of at most 8");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);

    // Another walk has no draft.
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" rescue", &[]);
    terminal.prompt("Question 1 of at most 6");
    assert!(!terminal.screen().contains("half way"));
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

/// The words on the screen, hyphens taken as joints: a break there cuts no word.
fn words(terminal: &Terminal, into: &mut BTreeSet<String>) {
    for word in terminal.screen().split([' ', '\n', '-', '…']) {
        let word = word.trim();
        if !word.is_empty() {
            into.insert(word.to_owned());
        }
    }
}

/// Goes through every kind of prompt and collects the words of each screen, while no line is being typed.
fn words_of_a_walk(scratch: &Scratch, size: (u16, u16)) -> BTreeSet<String> {
    let _ = std::fs::remove_dir_all(scratch.path("state"));
    let mut seen = BTreeSet::new();
    let mut terminal = Terminal::start(
        scratch,
        size,
        &format!("\"$TUBGROVE\" precheck --today {TODAY}"),
        &[],
    );
    let keys = [
        ("Question 1 of at most 8", ENTER.to_owned()),
        ("How old or how far along", format!("{DOWN}{DOWN}{ENTER}")),
        ("What kind of pot", format!("{UP}{ENTER}")),
        // The last row of a list is "why"; then the list comes again.
        (
            "A self-watering pot has a water tank",
            format!("{DOWN}{ENTER}"),
        ),
        ("How much potting mix", format!("{DOWN}{DOWN}{DOWN}{ENTER}")),
        ("Question 2 of at most 8", format!("{DOWN}{ENTER}")),
        ("Question 3 of at most 8", ENTER.to_owned()),
        ("Nothing is ticked.", format!("{UP}{UP}{UP} {ENTER}")),
        ("Question 4 of at most 8", format!("{UP}{UP}{UP} {ENTER}")),
        ("Question 5 of at most 8", format!("{PLACE}{ENTER}")),
        ("Question 6 of at most 8", format!("{FEED}{ENTER}")),
        ("Question 7 of at most 8", format!("{LABEL}{ENTER}")),
        ("Question 8 of at most 8", format!("not sure{ENTER}")),
        ("Your answers.", ENTER.to_owned()),
    ];
    for (text, keys) in keys {
        terminal.prompt(text);
        assert!(!terminal.overran(), "{}", terminal.screen());
        words(&terminal, &mut seen);
        terminal.send(&keys);
    }
    assert_eq!(terminal.end(), 0, "{}", terminal.screen());
    assert!(!terminal.overran(), "{}", terminal.screen());
    words(&terminal, &mut seen);
    seen
}

#[test]
fn forty_columns_cut_no_word() {
    let scratch = Scratch::new("narrow");
    let wide = words_of_a_walk(&scratch, (120, 110));
    let narrow = words_of_a_walk(&scratch, (40, 110));
    assert!(narrow.len() > 300, "only {} words were seen", narrow.len());
    let cut: Vec<&String> = narrow.difference(&wide).collect();
    assert!(
        cut.is_empty(),
        "pieces that are no words at 120 columns: {cut:?}"
    );
}

#[test]
fn six_rows_are_enough() {
    let scratch = Scratch::new("low");
    let mut terminal = Terminal::start(
        &scratch,
        (40, 6),
        &format!("\"$TUBGROVE\" precheck --today {TODAY}"),
        &[],
    );
    terminal.prompt("Question 1 of at most 8");
    terminal.shows("Tree and pot:");
    terminal.send(&format!("{TREE}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    // The short name of the question and the row under the cursor are on the screen, and moving redraws cleanly.
    terminal.shows("Moisture at finger depth:");
    terminal.shows("> Dry: dusty");
    terminal.send(DOWN);
    terminal.shows("> Moist: cool");
    assert_eq!(
        terminal.screen().matches("Moisture at").count(),
        1,
        "{}",
        terminal.screen()
    );
    terminal.send(ENTER);
    terminal.prompt("Question 3 of at most 8");
    terminal.shows("What you see in the pot:");
    terminal.shows("> [ ] White or yellow crust");
    // Wet and sour: ticking works one row at a time.
    for row in ["Water stands on", "Water takes", "A sour or rotten"] {
        terminal.send(DOWN);
        terminal.shows(row);
    }
    terminal.send(" ");
    terminal.shows("[x] A sour or rotten");
    assert_eq!(
        terminal.screen().matches("What you see").count(),
        1,
        "{}",
        terminal.screen()
    );
    terminal.send(ENTER);
    terminal.prompt("Question 4 of at most 8");
    terminal.send(&format!("{UP}{UP}{UP} {ENTER}"));
    terminal.prompt("Question 5 of at most 8");
    terminal.send(&format!("{PLACE}{ENTER}"));
    terminal.prompt("Your answers.");
    terminal.send(ENTER);
    assert_eq!(terminal.end(), 4, "a sour pot is not fed");
    assert!(terminal.since().contains("[STOP]") || terminal.since().contains("[WAIT]"));
}

#[test]
fn plain_terminals_are_asked_by_lines() {
    let scratch = Scratch::new("plain");
    for env in [("TERM", "dumb"), ("ACCESSIBLE", "1")] {
        let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" rescue", &[env]);
        terminal.text("b goes back, q leaves. >");
        terminal.send("?\n");
        terminal.text("The dose follows");
        terminal.send("q\n");
        assert_eq!(terminal.end(), 130);
        let shared = terminal.shared.lock().unwrap();
        assert!(
            !shared.stream.contains(&0x1b),
            "{env:?}: no cursor movement and no colour"
        );
    }
    // "0" and "false" mean no.
    let mut terminal = Terminal::start(
        &scratch,
        (80, 24),
        "\"$TUBGROVE\" rescue",
        &[("ACCESSIBLE", "0")],
    );
    terminal.prompt("Question 1 of at most 6");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn without_arguments_it_asks_what_brings_the_grower() {
    let scratch = Scratch::new("menu");
    let mut terminal = Terminal::start(&scratch, (40, 24), "\"$TUBGROVE\"", &[("NO_COLOR", "1")]);
    terminal.prompt("What brings you here?");
    terminal.send(&format!("{UP}{UP}{ENTER}"));
    terminal.prompt("Question 1 of at most 6");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
    let colours = plain_colours(&terminal.shared.lock().unwrap().stream);
    assert!(colours.is_empty(), "NO_COLOR was set: {colours:?}");

    // Standard input from nowhere, at a terminal all the same: nobody is asked.
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" < /dev/null", &[]);
    assert_eq!(terminal.end(), 2);
    assert!(terminal.since().contains("say what you want"));
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" rescue < /dev/null", &[]);
    assert_eq!(terminal.end(), 5);
    // Questions sent to a file, at a terminal: nobody sees them, so nobody is asked.
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" rescue 2> log", &[]);
    assert_eq!(terminal.end(), 5);
    assert!(read(&scratch.path("log")).contains("missing"));
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap()
}

/// Colour sequences (`ESC [ … m`) with a colour in them.
fn plain_colours(bytes: &[u8]) -> Vec<String> {
    String::from_utf8_lossy(bytes)
        .split('\x1b')
        .filter_map(|s| s.strip_prefix('['))
        .filter_map(|s| s.split_once('m').map(|(codes, _)| codes.to_owned()))
        .filter(|codes| codes.chars().all(|c| c.is_ascii_digit() || c == ';'))
        .filter(|codes| {
            codes
                .split(';')
                .any(|c| c.len() == 2 && (c.starts_with('3') || c.starts_with('9')))
        })
        .filter(|codes| codes != "39")
        .collect()
}
