//! A remembered sum as a line to read: `35 mg N/L/week (base need) × 20 L (litres that count)`.
//!
//! Figures with a name stand in a formula by their value and name, and have a line of their own before it. Every number is
//! rounded to four digits where it is printed, never where it is reckoned with.

use super::reckoning::Func;
use super::traced::{How, Name, Node, Op, Traced};
use super::working::Figure;
use crate::knowledge::{Knowledge, Number, TemperatureRow};
use crate::quantity::{round_sig, show_number};
use std::fmt::Write;

/// Figures in the order in which they were worked out.
pub(super) struct Sheet<'k> {
    pub(super) knowledge: &'k Knowledge,
    pub(super) figures: Vec<Figure>,
    /// A word before every name that is an amount of a feed.
    own: Option<&'static str>,
    /// Values and names of the figures that are shown: a formula may have run more than once.
    seen: Vec<(u64, Name)>,
}

/// How tightly a part of a formula holds together.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Within {
    /// The whole line, or one entry of a list.
    Line,
    /// One side of a sum.
    Sum,
    /// One factor.
    Factor,
}

/// Puts down a number of four digits; the shortest way to write one is also the fastest, where it is short.
fn put(text: &mut String, x: f64) {
    let x = round_sig(x, 4);
    let start = text.len();
    // Writing to a string cannot fail.
    let _ = write!(text, "{x}");
    if text.len().saturating_sub(start) > 8 {
        text.truncate(start);
        text.push_str(&show_number(x));
    }
}

impl<'k> Sheet<'k> {
    pub(super) fn new(knowledge: &'k Knowledge, own: Option<&'static str>) -> Self {
        Self {
            knowledge,
            figures: Vec::with_capacity(32),
            own,
            seen: Vec::with_capacity(64),
        }
    }

    /// From here on the figures are not our own.
    pub(super) fn plain(&mut self) {
        self.own = None;
    }

    /// Shows a figure, and before it every named one that it was made of.
    pub(super) fn show(&mut self, figure: &Traced) {
        let node = &figure.0;
        let Some(name) = node.name else {
            self.parts(figure);
            return;
        };
        let seen = (node.value.to_bits(), name);
        if self.seen.contains(&seen) {
            return;
        }
        self.seen.push(seen);
        self.parts(figure);
        let mut line = Line {
            knowledge: self.knowledge,
            text: String::with_capacity(96),
            sources: Vec::new(),
        };
        line.made(node, Within::Line);
        if !node.limited.is_empty() {
            line.text.push_str(". Limited by: ");
            line.text.push_str(node.limited);
        }
        let mut said = String::with_capacity(48);
        if let Some(own) = self.own.filter(|_| is_amount(name.of, name.name)) {
            said.push_str(own);
            said.push(' ');
        }
        if !name.of.is_empty() {
            said.push_str(name.of);
            said.push_str(": ");
        }
        said.push_str(name.name);
        self.figures.push(Figure {
            name: said,
            value: round_sig(node.value, 4),
            unit: name.unit.to_owned(),
            formula: line.text,
            source: if line.sources.is_empty() {
                "arithmetic".to_owned()
            } else {
                line.sources.join("; ")
            },
        });
    }

    fn parts(&mut self, of: &Traced) {
        match &of.0.how {
            How::Two(_, a, b) => {
                self.show(a);
                self.show(b);
            }
            How::Apply(_, a) | How::Same(a) => self.show(a),
            How::Said { .. } | How::Rate { .. } | How::Row(_) | How::Bare => {}
        }
    }
}

/// Whether a figure is an amount that the program would give of its own.
fn is_amount(of: &str, name: &str) -> bool {
    !of.is_empty()
        || matches!(
            name,
            "ready feed" | "slow feed" | "ready nitrogen" | "slow nitrogen"
        )
}

/// A formula while it is written.
struct Line<'k> {
    knowledge: &'k Knowledge,
    text: String,
    sources: Vec<String>,
}

impl Line<'_> {
    fn number(&mut self, value: f64, unit: &str, what: &str) {
        put(&mut self.text, value);
        for (before, part, after) in [(" ", unit, ""), (" (", what, ")")] {
            if !part.is_empty() {
                self.text.push_str(before);
                self.text.push_str(part);
                self.text.push_str(after);
            }
        }
    }

    fn from(&mut self, line: String) {
        if !self.sources.contains(&line) {
            self.sources.push(line);
        }
    }

    /// A part of a formula: a figure with a name by its name, any other by how it was made.
    fn part(&mut self, of: &Traced, within: Within) {
        match of.0.name {
            Some(name) => self.number(of.0.value, name.unit, name.name),
            None => self.made(&of.0, within),
        }
    }

    fn made(&mut self, node: &Node, within: Within) {
        match &node.how {
            How::Said { unit, what, from } => {
                self.number(node.value, unit, what);
                if !from.is_empty() {
                    self.from((*from).to_owned());
                }
            }
            How::Rate { id, what } => self.rate(node.value, id, what),
            How::Row(row) => self.row(node.value, *row),
            How::Bare => put(&mut self.text, node.value),
            How::Same(of) => self.part(of, within),
            How::Apply(func, of) => self.changed(*func, of, within),
            How::Two(op @ (Op::Least | Op::Most), ..) => {
                let bracket = within > Within::Line;
                self.bracket(bracket, |line| line.list(*op, node));
            }
            How::Two(op @ (Op::Plus | Op::Less), a, b) => {
                self.bracket(within > Within::Sum, |line| {
                    line.part(a, Within::Sum);
                    let minus = *op == Op::Less;
                    line.text.push_str(if minus { " − " } else { " + " });
                    line.part(b, if minus { Within::Factor } else { Within::Sum });
                });
            }
            How::Two(op @ (Op::Times | Op::Over), a, b) => {
                self.part(a, Within::Factor);
                let over = *op == Op::Over;
                self.text.push_str(if over { " ÷ " } else { " × " });
                let many = over && b.0.name.is_none() && matches!(b.0.how, How::Two(..));
                self.bracket(many, |line| {
                    line.part(b, if many { Within::Line } else { Within::Factor });
                });
            }
        }
    }

    fn bracket(&mut self, bracket: bool, write: impl FnOnce(&mut Self)) {
        if bracket {
            self.text.push('(');
        }
        write(self);
        if bracket {
            self.text.push(')');
        }
    }

    /// The smallest or the largest of several, however they were nested.
    fn list(&mut self, op: Op, node: &Node) {
        let mut all = Vec::new();
        entries(op, node, &mut all);
        self.text.push_str(match (op, all.len()) {
            (Op::Least, 2) => "the smaller of: ",
            (Op::Least, _) => "the smallest of: ",
            (_, 2) => "the larger of: ",
            _ => "the largest of: ",
        });
        for (at, entry) in all.iter().enumerate() {
            if at > 0 {
                self.text.push_str("; ");
            }
            let nested =
                entry.0.name.is_none() && matches!(entry.0.how, How::Two(Op::Least | Op::Most, ..));
            self.bracket(nested, |line| line.part(entry, Within::Line));
        }
    }

    fn changed(&mut self, func: Func, of: &Traced, within: Within) {
        let call = match func {
            Func::NegLn => "−ln",
            Func::CubeRoot => "∛",
            Func::PowerOfTwo => "2^",
            Func::Down(_) | Func::ShownDown | Func::Up => {
                self.bracket(within > Within::Line, |line| {
                    line.part(of, Within::Line);
                    line.text.push_str(if func == Func::Up {
                        ", rounded up"
                    } else {
                        ", rounded down"
                    });
                });
                return;
            }
        };
        self.text.push_str(call);
        self.bracket(true, |line| line.part(of, Within::Line));
    }

    fn rate(&mut self, value: f64, id: &str, what: &str) {
        let Some(number) = self.knowledge.number(id) else {
            self.number(value, "", what);
            return;
        };
        self.number(value, unit_in_formula(number), what);
        let (value, unit, mark) = (show_number(number.value), &number.unit, number.mark.words());
        let line = if number.source.is_empty() {
            format!("{value} {unit} ({mark})")
        } else {
            format!("{value} {unit} ({mark}: {})", number.source.join(", "))
        };
        self.from(line);
    }

    fn row(&mut self, value: f64, row: Option<TemperatureRow>) {
        put(&mut self.text, value);
        let (mark, sources) = &self.knowledge.temperature_source;
        let from = format!("{} on {}", mark.words(), sources.join(", "));
        self.from(from);
        let Some(row) = row else {
            return;
        };
        let (before, between) = match (row.from, row.below) {
            (Some(_), Some(_)) => ("", " to under "),
            (None, Some(_)) => ("below ", ""),
            (Some(_), None) => ("from ", ""),
            (None, None) => ("any warmth", ""),
        };
        self.text.push_str(" (");
        self.text.push_str(before);
        if let Some(from) = row.from {
            put(&mut self.text, from);
        }
        self.text.push_str(between);
        if let Some(below) = row.below {
            put(&mut self.text, below);
        }
        if row.from.or(row.below).is_some() {
            self.text.push_str(" °C");
        }
        if row.growing.total_cmp(&row.resting).is_ne() {
            let growing = row.growing.total_cmp(&value).is_eq();
            self.text.push_str(if growing {
                ", with new growth"
            } else {
                ", without new growth"
            });
        }
        self.text.push(')');
    }
}

/// Entries of a nested smallest or largest, in the order in which they were compared.
fn entries<'n>(op: Op, node: &'n Node, all: &mut Vec<&'n Traced>) {
    if let How::Two(same, a, b) = &node.how
        && *same == op
    {
        for side in [a, b] {
            let nested =
                side.0.name.is_none() && matches!(&side.0.how, How::Two(inner, ..) if *inner == op);
            if nested {
                entries(op, &side.0, all);
            } else {
                all.push(side);
            }
        }
    }
}

/// The unit of a number as it reads in a formula: a plain factor or share has none.
fn unit_in_formula(number: &Number) -> &str {
    match number.unit.as_str() {
        "factor" | "share" | "times" | "share of mix" | "points" => "",
        unit => unit,
    }
}

#[cfg(test)]
mod tests;
