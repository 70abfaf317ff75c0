//! What is due, as an iCalendar (RFC 5545) that phones import.
//!
//! All-day events with UIDs that stay the same from one export to the next, so that a later one updates the earlier. Lines
//! end with CR LF and are folded at 75 octets, never inside a character.

use crate::report::style::steers_terminal;
use jiff::ToSpan;
use jiff::civil::Date;

/// Longest line, in octets, without its end (RFC 5545, 3.1).
const LONGEST: usize = 75;

/// One all-day entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Unique in the record and stable, such as `feed-3`.
    pub key: String,
    /// The day.
    pub day: Date,
    /// One line.
    pub summary: String,
    /// More.
    pub description: String,
    /// Hour of the day of the alarm.
    pub alarm_hour: u8,
}

/// Writes a calendar. `record` is the record's id; `stamp` the moment of writing in UTC as `20260120T080000Z`; `sequence`
/// grows from export to export.
#[must_use]
pub fn calendar(record: &str, stamp: &str, sequence: u32, name: &str, entries: &[Entry]) -> String {
    let mut out = String::new();
    let mut line = |text: &str| fold(text, &mut out);
    line("BEGIN:VCALENDAR");
    line("VERSION:2.0");
    line("PRODID:-//tubgrove//record//EN");
    line("CALSCALE:GREGORIAN");
    line("METHOD:PUBLISH");
    line(&format!("X-WR-CALNAME:{}", escape(name)));
    for e in entries {
        let end = e.day.checked_add(1.day()).unwrap_or(e.day);
        line("BEGIN:VEVENT");
        line(&format!("UID:{}-{record}@tubgrove", e.key));
        line(&format!("DTSTAMP:{stamp}"));
        line(&format!("SEQUENCE:{sequence}"));
        line(&format!("DTSTART;VALUE=DATE:{}", e.day.strftime("%Y%m%d")));
        line(&format!("DTEND;VALUE=DATE:{}", end.strftime("%Y%m%d")));
        line(&format!("SUMMARY:{}", escape(&e.summary)));
        line(&format!("DESCRIPTION:{}", escape(&e.description)));
        line("TRANSP:TRANSPARENT");
        line("BEGIN:VALARM");
        line("ACTION:DISPLAY");
        line(&format!("DESCRIPTION:{}", escape(&e.summary)));
        line(&format!("TRIGGER:PT{}H", e.alarm_hour.min(23)));
        line("END:VALARM");
        line("END:VEVENT");
    }
    line("END:VCALENDAR");
    out
}

/// A text value: backslash, comma, semicolon and line ends escaped, other control characters, and those that turn the direction of text, taken out (3.3.11).
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.replace("\r\n", "\n").chars() {
        match c {
            '\\' => out.push_str("\\\\"),
            ';' => out.push_str("\\;"),
            ',' => out.push_str("\\,"),
            '\n' => out.push_str("\\n"),
            c if steers_terminal(c) => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

/// Adds a line, folded.
fn fold(text: &str, out: &mut String) {
    let mut used = 0_usize;
    for c in text.chars() {
        let wide = c.len_utf8();
        if used.saturating_add(wide) > LONGEST {
            out.push_str("\r\n ");
            used = 1;
        }
        out.push(c);
        used = used.saturating_add(wide);
    }
    out.push_str("\r\n");
}
