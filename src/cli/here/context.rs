//! The surroundings, read once: the day, the terminal, colour, paths, knowledge files.

use crate::cli::here::fail::Failure;
pub(in crate::cli) use crate::cli::here::sets::{knowledge, knowledge_with, standards};
use crate::cli::words::args::{Colour, Common, Units};
use crate::report::ascii::shows_utf8;
use crate::report::style::{Style, screened};
use jiff::civil::Date;
use std::io::{self, IsTerminal, Write};
use std::path::Path;
use std::sync::OnceLock;

/// Widest text that reads well.
const WIDEST: usize = 88;
/// Width of a line that is read aloud, columns: wider than any text of the program.
const UNBROKEN: usize = 20_000;
/// Width where no terminal tells one.
const USUAL: usize = 80;

/// The surroundings of one run.
pub(in crate::cli) struct Context {
    /// Whether somebody can be asked in a terminal.
    pub(in crate::cli) can_ask: bool,
    /// Whether standard input is a pipe or a file.
    pub(in crate::cli) piped: bool,
    /// Whether questions are put one plain line at a time.
    pub(in crate::cli) plain: bool,
    /// Whether the output is to be read aloud: asked for, not only a pipe.
    pub(in crate::cli) aloud: bool,
    /// Colour of stdout.
    pub(in crate::cli) colour: bool,
    /// Colour of stderr.
    pub(in crate::cli) colour_questions: bool,
    /// Whether signs beyond ASCII are spelt out.
    pub(in crate::cli) ascii: bool,
    /// Columns.
    pub(in crate::cli) width: usize,
    /// Rows.
    pub(in crate::cli) rows: usize,
    /// Whether US units are wanted.
    pub(in crate::cli) us: bool,
}

impl Context {
    /// Reads the surroundings.
    pub(in crate::cli) fn from_environment(common: &Common) -> Self {
        let set = |name: &str| std::env::var_os(name).filter(|v| !v.is_empty());
        let dumb = set("TERM").is_some_and(|t| t == "dumb");
        let accessible =
            set("ACCESSIBLE").is_some_and(|v| v != "0" && !v.eq_ignore_ascii_case("false"));
        let stdin = io::stdin().is_terminal();
        let stderr = io::stderr().is_terminal();
        let aloud = common.plain || accessible || dumb;
        let plain = aloud || !stdin;
        let colour = |terminal: bool| match common.color {
            Colour::Always => true,
            Colour::Never => false,
            Colour::Auto => {
                let forced = set("CLICOLOR_FORCE").is_some_and(|v| v != "0");
                (terminal || forced) && set("NO_COLOR").is_none() && !plain
            }
        };
        let (out, err) = (colour(io::stdout().is_terminal()), colour(stderr));
        // One decision for all libraries; each stream then asks the style.
        colored::control::set_override(out || err);
        let (width, rows) = size();
        // Read aloud, a line is a sentence or an item: it breaks only where somebody says how wide.
        let width = match columns() {
            Some(columns) => columns,
            None if aloud => UNBROKEN,
            None => width,
        };
        Self {
            can_ask: stdin && stderr,
            piped: !stdin,
            plain,
            aloud,
            colour: out,
            colour_questions: err,
            ascii: !utf8(),
            width,
            rows,
            us: common.units == Some(Units::Us),
        }
    }

    /// Looks at the window again: it may have changed while questions were answered.
    pub(in crate::cli) fn look_again(&mut self) {
        if self.can_ask && !self.plain {
            (self.width, self.rows) = window();
        }
    }

    /// Style of what goes to stdout.
    pub(in crate::cli) fn style(&self) -> Style {
        Style {
            width: self.width,
            colour: self.colour,
            plain: self.aloud && !self.colour,
            ascii: self.ascii,
        }
    }

    /// Style of questions, which go to stderr.
    pub(in crate::cli) fn question_style(&self) -> Style {
        Style {
            width: self.width,
            colour: self.colour_questions,
            plain: self.plain,
            ascii: self.ascii,
        }
    }

    /// Writes a text for people to stdout, spelt out where the terminal shows no more than ASCII.
    pub(in crate::cli) fn print_text(&self, text: &str) -> Result<(), Failure> {
        self.print(&self.style().spell(text))
    }

    /// Writes a result to stdout, to the letter but for what could steer a terminal.
    pub(in crate::cli) fn print(&self, text: &str) -> Result<(), Failure> {
        let mut out = io::stdout().lock();
        out.write_all(screened(text, self.colour).as_bytes())?;
        out.flush()?;
        Ok(())
    }
}

/// Columns that text takes, and rows, as the window is now.
fn size() -> (usize, usize) {
    let size = terminal_size::terminal_size_of(io::stderr())
        .or_else(|| terminal_size::terminal_size_of(io::stdout()));
    let (width, rows) = size.map_or((USUAL, 24), |(w, h)| (usize::from(w.0), usize::from(h.0)));
    (width.clamp(20, WIDEST), rows.max(4))
}

/// The width that somebody asked for, whatever the window has.
fn columns() -> Option<usize> {
    let asked = std::env::var_os("COLUMNS")?;
    let columns = asked.to_str()?.parse::<usize>().ok()?;
    (columns > 0).then(|| columns.clamp(20, WIDEST))
}

/// Columns and rows of a window in which somebody is asked, as it is now.
pub(in crate::cli) fn window() -> (usize, usize) {
    let (width, rows) = size();
    (columns().unwrap_or(width), rows)
}

/// Whether the locale shows UTF-8.
fn utf8() -> bool {
    let read = |name: &str| std::env::var_os(name).map(|v| v.to_string_lossy().into_owned());
    let (all, ctype, lang) = (read("LC_ALL"), read("LC_CTYPE"), read("LANG"));
    shows_utf8(all.as_deref(), ctype.as_deref(), lang.as_deref())
}

/// The clock's day, read once: the time zone stands in a file.
fn by_the_clock() -> Date {
    static DAY: OnceLock<Date> = OnceLock::new();
    *DAY.get_or_init(|| jiff::ZonedDateTime::new(jiff::Timestamp::now(), here()).date())
}

/// The day: `--today`, or the clock's.
pub(in crate::cli) fn today(common: &Common) -> Result<Date, Failure> {
    let Some(text) = &common.today else {
        return Ok(by_the_clock());
    };
    let date = crate::record::read_day(text, None)
        .map_err(|what| Failure::Usage(format!("--today {text}: {what}")))?;
    if date.year() < 2000 || date.year() > 2200 {
        return Err(Failure::Usage(format!(
            "--today {text}: the year must lie between 2000 and 2200"
        )));
    }
    Ok(date)
}

/// The time zone of this place. Where `TZ` is not set, Unix systems keep it in one small file; looking it up by name
/// would list every zone there is.
fn here() -> jiff::tz::TimeZone {
    // It may name a file; a pipe in its place would be waited for.
    let no_zone = |tz: std::ffi::OsString| {
        let tz = tz.to_string_lossy();
        std::fs::metadata(tz.trim_start_matches(':')).is_ok_and(|m| !m.is_file() && !m.is_dir())
    };
    let usual = std::env::var_os("TZ").is_none_or(no_zone);
    usual
        .then(|| std::fs::read("/etc/localtime").ok())
        .flatten()
        .and_then(|file| jiff::tz::TimeZone::tzif("local", &file).ok())
        .unwrap_or_else(jiff::tz::TimeZone::system)
}

/// What kept a file from being read or written, in plain words where there are any.
pub(in crate::cli) fn why(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file or directory; look at the spelling and at the directory you are in".into(),
        io::ErrorKind::PermissionDenied => "you have no permission for it".into(),
        io::ErrorKind::ReadOnlyFilesystem => "the disk can only be read".into(),
        io::ErrorKind::IsADirectory => "this is a directory, not a file".into(),
        io::ErrorKind::NotADirectory => "this is a file, not a directory".into(),
        io::ErrorKind::StorageFull => "the disk is full".into(),
        _ => error.to_string(),
    }
}

/// Reads a text file of at most `most` bytes.
pub(in crate::cli) fn read_text(path: &Path, most: u64) -> Result<String, Failure> {
    let shown = path.display();
    let bytes = crate::cli::here::named_file::read(path, most)
        .map_err(|e| Failure::Outside(format!("{shown}: {}", why(&e))))?;
    if bytes.len() as u64 > most {
        return Err(Failure::Usage(format!(
            "{shown}: the file is larger than {} KiB",
            most / 1024
        )));
    }
    String::from_utf8(bytes)
        .map_err(|_| Failure::Usage(format!("{shown}: the file is not UTF-8 text")))
}
