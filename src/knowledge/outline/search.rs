//! Looking things up in an outline: an entry by its id, a key or a piece of text in it, what stands at a line.

use super::{Inner, Node, Outline};
use crate::knowledge::place::{Place, Spot};

impl Outline {
    /// The spot of a place; `None` where it cannot be found or the place is the file as a whole.
    pub(crate) fn find(&self, place: Place<'_>) -> Option<Spot> {
        let root = self.root.as_ref()?;
        if place.id.is_empty() && place.key.is_empty() && place.item.is_none() {
            return None;
        }
        let mut entries = Vec::new();
        let item = place.item.and_then(|(list, at)| root.item(list, at));
        if let Some(item) = item {
            entries.push((item, item.first()));
        } else if place.id.is_empty() {
            entries.push((root, root.spot));
        } else {
            root.entries("id", place.id, &mut entries);
            if entries.is_empty() {
                // Other words for an entry name it under `of`.
                root.entries("of", place.id, &mut entries);
            }
        }
        let (entry, at) = if place.last {
            entries.last()?
        } else {
            entries.first()?
        };
        if place.key.is_empty() {
            return Some(*at);
        }
        let entry = match place.under {
            "" => entry,
            key => entry.below(key).unwrap_or(entry),
        };
        let mut best = None;
        entry.search(place.key, &mut best);
        let spot = match best {
            Some((_, node, from)) if node.plain => {
                let (from, width) = match place.piece {
                    Some((more, width)) => (from.saturating_add(more), width),
                    None => (from, place.key.chars().count()),
                };
                Spot {
                    column: node.spot.column.saturating_add(from),
                    width: width.max(1),
                    ..node.spot
                }
            }
            Some((_, node, _)) => node.spot,
            None => *at,
        };
        Some(spot)
    }

    /// The node that begins at this line and column, or the last one that begins before it on this line.
    pub(crate) fn at(&self, line: usize, column: usize) -> Option<Spot> {
        let mut best: Option<Spot> = None;
        if let Some(root) = &self.root {
            root.each(&mut |node| {
                let here = node.spot;
                let nearer = best.is_none_or(|b| here.column >= b.column);
                if here.line == line && here.column <= column.saturating_add(1) && nearer {
                    best = Some(here);
                }
            });
        }
        best
    }

    /// The key of this name that is nearest to the line, from it on if there is one.
    pub(crate) fn key_near(&self, key: &str, line: usize) -> Option<Spot> {
        let mut best: Option<Spot> = None;
        if let Some(root) = &self.root {
            root.each(&mut |node| {
                let Inner::Map(pairs) = &node.inner else {
                    return;
                };
                for node in pairs.iter().step_by(2) {
                    let far = |spot: Spot| (spot.line < line, spot.line.abs_diff(line));
                    let hit = matches!(&node.inner, Inner::Text(text) if text == key);
                    if hit && best.is_none_or(|b| far(node.spot) < far(b)) {
                        best = Some(node.spot);
                    }
                }
            });
        }
        best
    }

    /// First and last line of the item of a top-level list that holds this line.
    pub(crate) fn item_around(&self, line: usize) -> Option<(Spot, usize)> {
        let Some(Inner::Map(pairs)) = self.root.as_ref().map(|r| &r.inner) else {
            return None;
        };
        for value in pairs.iter().skip(1).step_by(2) {
            if let Inner::List(items) = &value.inner {
                for item in items {
                    if (item.spot.line..=item.last_line).contains(&line) {
                        return Some((item.spot, item.last_line));
                    }
                }
            }
        }
        None
    }
}

impl Node {
    /// What stands under this key.
    fn under(&self, key: &str) -> Option<&Node> {
        let Inner::Map(pairs) = &self.inner else {
            return None;
        };
        let at = pairs
            .iter()
            .step_by(2)
            .position(|k| matches!(&k.inner, Inner::Text(t) if t == key))?;
        pairs.get(at.saturating_mul(2).saturating_add(1))
    }

    /// What stands under this key, here or deeper.
    fn below(&self, key: &str) -> Option<&Node> {
        let deeper = || match &self.inner {
            Inner::Map(pairs) => pairs.iter().skip(1).step_by(2).find_map(|n| n.below(key)),
            _ => None,
        };
        self.under(key).or_else(deeper)
    }

    /// An item of a list that stands under this key.
    fn item(&self, list: &str, at: usize) -> Option<&Node> {
        match &self.under(list)?.inner {
            Inner::List(items) => items.get(at),
            _ => None,
        }
    }

    /// What stands for a node as a whole: a text itself, of a mapping its first value.
    fn first(&self) -> Spot {
        match &self.inner {
            Inner::Map(pairs) => pairs.get(1).map_or(self.spot, |v| v.spot),
            _ => self.spot,
        }
    }

    /// The mappings that hold this id under the key, with the spot of the id.
    fn entries<'a>(&'a self, word: &str, id: &str, found: &mut Vec<(&'a Node, Spot)>) {
        match &self.inner {
            Inner::Text(_) => {}
            Inner::List(list) => {
                for node in list {
                    node.entries(word, id, found);
                }
            }
            Inner::Map(pairs) => {
                let mut key: Option<&Node> = None;
                for (i, node) in pairs.iter().enumerate() {
                    if i.is_multiple_of(2) {
                        key = Some(node);
                        continue;
                    }
                    let is = |n: &Node, text: &str| matches!(&n.inner, Inner::Text(t) if t == text);
                    if key.is_some_and(|k| is(k, word)) && is(node, id) {
                        found.push((self, node.spot));
                    }
                    node.entries(word, id, found);
                }
            }
        }
    }

    /// Calls `visit` with this node and all in it, from the outside in.
    fn each<'a>(&'a self, visit: &mut dyn FnMut(&'a Node)) {
        visit(self);
        if let Inner::List(list) | Inner::Map(list) = &self.inner {
            for node in list {
                node.each(visit);
            }
        }
    }

    /// The best hit for a piece of text: a key of that name, then a value that is it, then a text that holds it; with the
    /// character at which it begins.
    fn search<'a>(&'a self, piece: &str, best: &mut Option<(u8, &'a Node, usize)>) {
        let mut offer = |rank: u8, node: &'a Node, from: usize| {
            if best.is_none_or(|(old, ..)| rank < old) {
                *best = Some((rank, node, from));
            }
        };
        match &self.inner {
            Inner::Text(text) if text == piece => offer(1, self, 0),
            Inner::Text(text) => {
                if let Some(at) = text.find(piece) {
                    let from = text.get(..at).map_or(0, |before| before.chars().count());
                    offer(2, self, from);
                }
            }
            Inner::List(list) => {
                for node in list {
                    node.search(piece, best);
                }
            }
            Inner::Map(pairs) => {
                for (i, node) in pairs.iter().enumerate() {
                    if i.is_multiple_of(2) && matches!(&node.inner, Inner::Text(t) if t == piece) {
                        offer(0, node, 0);
                    }
                }
                for node in pairs.iter().skip(1).step_by(2) {
                    node.search(piece, best);
                }
            }
        }
    }
}
