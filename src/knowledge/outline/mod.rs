//! The outline of a file: what stands where, read by a YAML parser that reports positions.
//!
//! The files themselves are read by `serde_yaml`, which loses places and, in some, lets a key stand twice. An outline is made
//! only where something is to be looked up: for a problem, and where a text may hold anchors, tags or a second document.

mod search;

use super::Files;
use super::place::Spot;
use crate::facts::steers_terminal;
use granit_parser::{Event, Options, Parser, ScalarStyle, Span};
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

/// Deepest nesting that is read; knowledge files need 6.
const DEPTH: usize = 64;

/// At most so many pieces of a file are kept; the largest file of knowledge, written as ours are, has half as many.
const MOST: usize = 500_000;
/// Net opening brackets from which a text is looked at closely: far more than a file needs, far fewer than cost time.
const BRACKETS: usize = 128;

/// Whether brackets stand in one another far deeper than any file needs. `serde_yaml` refuses such a text too, but only after a
/// time that grows with the square of the depth: minutes for a few hundred kilobytes.
#[must_use]
pub fn too_deep(text: &str) -> bool {
    may_nest(text) && Outline::of(text).broken.is_some()
}

/// Whether more brackets are open at some place than a file needs, counted without regard to quotes and comments.
pub(super) fn may_nest(text: &str) -> bool {
    let mut open = 0_usize;
    text.bytes().any(|byte| {
        match byte {
            b'[' | b'{' => open = open.saturating_add(1),
            b']' | b'}' => open = open.saturating_sub(1),
            _ => {}
        }
        open > BRACKETS
    })
}

/// What is said of a text that could steer a terminal.
pub(super) const CONTROL: &str = "a control character";

/// Whether a character of a text would steer the terminal on which it is shown; line ends are set anew.
pub(super) fn steers(c: char) -> bool {
    steers_terminal(c) && !matches!(c, '\n' | '\r' | '\t')
}

/// Outlines by path, made when first needed.
#[derive(Debug, Clone, Default)]
pub(crate) struct Outlines(HashMap<String, Arc<Outline>>);

impl Outlines {
    /// The outline of a file of the set.
    pub(crate) fn of(&mut self, set: &Files, file: &str) -> &Arc<Outline> {
        self.0
            .entry(set.path(file))
            .or_insert_with(|| Arc::new(Outline::of(set.text(file).unwrap_or(""))))
    }
}

/// What stands where in one file.
#[derive(Debug, Clone, Default)]
pub(crate) struct Outline {
    root: Option<Node>,
    /// Keys that stand a second time in one mapping.
    pub(crate) twice: Vec<(Spot, String)>,
    /// Anchors, aliases, tags, merge keys and further documents.
    pub(crate) odd: Vec<(Spot, &'static str)>,
    /// Why the text is not YAML.
    pub(crate) broken: Option<(Spot, String)>,
}

#[derive(Debug, Clone)]
struct Node {
    spot: Spot,
    /// Whether a piece of it can be pointed at: a text on one line, as it is written.
    plain: bool,
    last_line: usize,
    inner: Inner,
}

#[derive(Debug, Clone)]
enum Inner {
    Text(String),
    List(Vec<Node>),
    /// Keys and values by turns.
    Map(Vec<Node>),
}

impl Outline {
    fn of(text: &str) -> Self {
        let mut outline = Self::default();
        let mut open: Vec<Node> = Vec::new();
        let mut options = Options::default();
        options.flow_nesting_limit = DEPTH;
        options.block_nesting_limit = DEPTH;
        options.simple_key_max_lookahead = 4096;
        let mut documents = 0_usize;
        for event in Parser::new_from_str_with_options(text, options).take(MOST) {
            let (event, span) = match event {
                Ok(pair) => pair,
                Err(error) => {
                    let mark = error.marker();
                    let spot = Spot {
                        line: mark.line(),
                        column: mark.col().saturating_add(1),
                        width: 1,
                    };
                    outline.broken = Some((spot, error.kind().to_string()));
                    break;
                }
            };
            let spot = spot(&span);
            let mut odd = |hit: bool, what| {
                if hit {
                    outline.odd.push((spot, what));
                }
            };
            match event {
                Event::DocumentStart(..) => {
                    documents = documents.saturating_add(1);
                    odd(documents > 1, "a second document");
                }
                Event::Alias(_) => {
                    odd(true, "an alias");
                    let node = Node {
                        spot,
                        plain: false,
                        last_line: spot.line,
                        inner: Inner::Text(String::new()),
                    };
                    outline.close(node, &mut open);
                }
                Event::Scalar(value, style, anchor, tag) => {
                    odd(anchor > 0, "an anchor");
                    odd(tag.is_some(), "a tag");
                    odd(value.chars().any(steers), CONTROL);
                    odd(
                        value == "<<" && matches!(style, ScalarStyle::Plain),
                        "a merge key",
                    );
                    let quoted = !matches!(style, ScalarStyle::Plain);
                    let one_line = span.start.line() == span.end.line();
                    let as_written = span.slice(text).is_some_and(|s| s.contains(&*value));
                    let mut spot = spot;
                    if one_line && as_written && quoted {
                        spot.column = spot.column.saturating_add(1);
                        spot.width = value.chars().count().max(1);
                    }
                    let node = Node {
                        spot,
                        plain: one_line && as_written,
                        last_line: span.end.line(),
                        inner: Inner::Text(value.into_owned()),
                    };
                    outline.close(node, &mut open);
                }
                Event::SequenceStart(_, anchor, tag) => {
                    odd(anchor > 0, "an anchor");
                    odd(tag.is_some(), "a tag");
                    open.push(Node {
                        spot,
                        plain: false,
                        last_line: spot.line,
                        inner: Inner::List(Vec::new()),
                    });
                }
                Event::MappingStart(_, anchor, tag) => {
                    odd(anchor > 0, "an anchor");
                    odd(tag.is_some(), "a tag");
                    open.push(Node {
                        spot,
                        plain: false,
                        last_line: spot.line,
                        inner: Inner::Map(Vec::new()),
                    });
                }
                Event::SequenceEnd | Event::MappingEnd => {
                    if let Some(node) = open.pop() {
                        outline.close(node, &mut open);
                    }
                }
                _ => {}
            }
        }
        // Of a text that breaks off, what was read so far is kept.
        while let Some(node) = open.pop() {
            outline.close(node, &mut open);
        }
        outline
    }

    /// Puts a finished node where it belongs.
    fn close(&mut self, mut node: Node, open: &mut [Node]) {
        if let Inner::Map(pairs) = &node.inner {
            let mut seen: HashSet<&str> = HashSet::new();
            for key in pairs.iter().step_by(2) {
                if let Inner::Text(text) = &key.inner
                    && !seen.insert(text)
                {
                    self.twice.push((key.spot, text.clone()));
                }
            }
        }
        if let Inner::Map(list) | Inner::List(list) = &node.inner {
            // The span of a collection ends where the next thing begins; its last child says where it really ends.
            node.last_line = list.last().map_or(node.last_line, |n| n.last_line);
        }
        match open.last_mut().map(|parent| &mut parent.inner) {
            Some(Inner::Map(list) | Inner::List(list)) => list.push(node),
            _ => {
                if self.root.is_none() {
                    self.root = Some(node);
                }
            }
        }
    }
}

fn spot(span: &Span) -> Spot {
    let width = if span.start.line() == span.end.line() {
        span.end.col().saturating_sub(span.start.col())
    } else {
        1
    };
    Spot {
        line: span.start.line(),
        column: span.start.col().saturating_add(1),
        width: width.max(1),
    }
}

#[cfg(test)]
mod tests {
    use super::too_deep;

    #[test]
    fn brackets_without_end_are_told_from_many_brackets() {
        for piece in ["[", "{", "[a: ", "{\"a\":", "{? "] {
            assert!(too_deep(&piece.repeat(10_000)), "{piece}");
        }
        assert!(!too_deep(&"- [a, {b: c}]\n".repeat(10_000)));
        // In words they mean nothing.
        let words = "- \"from [0, 5) on\"\n- from [5, 10) on\n# [[[\n".repeat(1000);
        assert!(!too_deep(&words));
    }
}
