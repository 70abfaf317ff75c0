//! What rests on what: every entry with its mark and the sources it names.

use super::{Knowledge, Mark};
use crate::facts::Text;

/// No source.
const NONE: &[Text] = &[];

/// One entry, or one figure of an entry, and what it rests on.
#[derive(Debug, Clone, Copy)]
pub struct Use<'a> {
    /// What kind of thing: `rule`, `finding`, `number`, `material` ….
    pub what: &'static str,
    /// Id of the entry.
    pub id: &'a str,
    /// The figure of the entry that is meant; empty for the entry itself.
    pub part: &'a str,
    /// Whether it is a number.
    pub number: bool,
    /// How it is known; a finding names sources alone.
    pub mark: Option<Mark>,
    /// Source ids.
    pub source: &'a [Text],
    /// File it stands in.
    pub file: &'a str,
}

impl Knowledge {
    /// Everything that rests on a source or on a mark.
    #[must_use]
    pub fn uses(&self) -> Vec<Use<'_>> {
        // Room for all of it: a material has up to seven figures, a kind of citrus up to four.
        let lists = [
            self.cautions.len(),
            self.findings.len(),
            self.advice.len(),
            self.numbers.len(),
            self.materials.len().saturating_mul(7),
            self.reactions.len(),
            self.dry_mix.bags.len(),
            self.dry_mix.pairs.len(),
            self.dry_mix.spared.len(),
            self.types.len().saturating_mul(4),
            self.leaf_pictures.len(),
            self.climates.len(),
            self.things.len(),
            self.tables.len(),
        ];
        let mut uses = Vec::with_capacity(lists.iter().sum());
        let mut add = |what, id, part, mark: Option<Mark>, source, file| {
            let number = matches!(what, "number" | "material" | "citrus" | "thing");
            uses.push(Use {
                what,
                id,
                part,
                number,
                mark,
                source,
                file,
            });
        };
        for c in &self.cautions {
            add(
                "rule",
                c.id.as_str(),
                "",
                Some(c.mark),
                c.source.as_slice(),
                c.file.as_str(),
            );
        }
        for f in &self.findings {
            add("finding", &f.id, "", None, &f.sources, &f.file);
        }
        for a in &self.advice {
            add("advice", &a.id, "", Some(a.mark), &a.source, "advice.yaml");
        }
        for n in &self.numbers {
            add("number", &n.id, "", Some(n.mark), &n.source, "rates.yaml");
        }
        let (mark, source) = &self.temperature_source;
        add(
            "number",
            "temperature",
            "",
            Some(*mark),
            source,
            "rates.yaml",
        );
        for m in &self.materials {
            let figures = [("N", &m.n), ("P2O5", &m.p2o5), ("K2O", &m.k2o)];
            let acidity = m.acidity.iter().map(|a| ("acidity", a));
            for (part, figure) in figures.into_iter().chain(acidity) {
                add(
                    "material",
                    &m.id,
                    part,
                    Some(figure.mark),
                    &figure.source,
                    "materials.yaml",
                );
            }
            let d = &m.density;
            add(
                "material",
                &m.id,
                "density",
                Some(d.mark),
                &d.source,
                "materials.yaml",
            );
            if let Some(f) = &m.forms {
                add(
                    "material",
                    &m.id,
                    "forms of nitrogen",
                    Some(f.mark),
                    &f.source,
                    "materials.yaml",
                );
            }
            if !m.also.shares.is_empty() {
                let mark = m.also.mark;
                add(
                    "material",
                    &m.id,
                    "other elements",
                    mark,
                    &m.also.source,
                    "materials.yaml",
                );
            }
        }
        for r in &self.reactions {
            add(
                "reaction",
                &r.a,
                &r.b,
                Some(r.mark),
                &r.source,
                "materials.yaml",
            );
        }
        for row in &self.dry_mix.bags {
            add(
                "bag",
                &row.id,
                "",
                Some(row.mark),
                &row.source,
                "dry_mix.yaml",
            );
        }
        for p in &self.dry_mix.pairs {
            add("pair", &p.id, "", Some(p.mark), &p.source, "dry_mix.yaml");
        }
        for s in &self.dry_mix.spared {
            add("spared", &s.id, "", Some(s.mark), &s.source, "dry_mix.yaml");
        }
        for t in &self.types {
            let hardy = [("tree_c", &t.hardy.tree_c), ("fruit_c", &t.hardy.fruit_c)];
            let hardy = hardy
                .into_iter()
                .filter_map(|(p, f)| f.as_ref().map(|f| (p, f)));
            let salt = t
                .salt
                .iter()
                .flat_map(|s| [("salt threshold", &s.threshold), ("salt slope", &s.slope)]);
            for (part, figure) in hardy.chain(salt) {
                add(
                    "citrus",
                    &t.id,
                    part,
                    Some(figure.mark),
                    &figure.source,
                    "citrus.yaml",
                );
            }
        }
        for p in &self.leaf_pictures {
            add(
                "leaf picture",
                &p.name,
                "",
                Some(p.mark),
                &p.source,
                "leaf_pictures.yaml",
            );
        }
        for c in &self.climates {
            add("climate", &c.id, "", Some(c.mark), NONE, "climates.yaml");
        }
        for t in &self.things {
            add("thing", &t.id, "", Some(t.mark), NONE, "everyday.yaml");
        }
        for (file, source) in &self.tables {
            add(
                "table",
                file.trim_end_matches(".yaml"),
                "",
                None,
                source,
                file,
            );
        }
        uses
    }
}
