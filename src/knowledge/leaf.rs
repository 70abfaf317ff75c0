//! Leaf pictures: what a choice of a question about leaves looks like, in words, in characters and as layers of paint.

use super::Mark;
use super::kind::ProblemKind;
use super::place::Place;
use super::problem::Problems;
use super::raw::RawLeafPicture;
use crate::facts::{FactId, Text, Vocabulary};
use crate::packed::{packed, packed_enum};
use serde::{Deserialize, Serialize};

/// Widest small drawing, in columns.
const WIDEST: usize = 38;
/// Longest name below a small drawing, in letters.
const LONGEST_NAME: usize = 11;

/// The ground that a leaf is painted on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Blade {
    /// Healthy.
    Green,
    /// Pale green to yellow.
    Yellow,
    /// Dull.
    Bronze,
}

/// One layer of paint. Layers lie on each other in the order of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Layer {
    /// A whole shoot in place of one leaf.
    Shoot,
    /// On a shoot: the large leaves near the trunk are pale.
    OldLeavesPale,
    /// On a shoot: the small leaves at the tip are pale.
    NewLeavesPale,
    /// Veins as a thin green net.
    ThinGreenVeins,
    /// Green bands along midrib and side veins.
    BroadGreenBands,
    /// Yellow midrib and side veins.
    YellowVeins,
    /// Small yellow patches between side veins, alike in both halves.
    YellowPatchesBetween,
    /// A few large yellow spots between side veins.
    LargeYellowSpots,
    /// A green wedge at the base, its point on the midrib.
    GreenWedgeAtBase,
    /// A green tip.
    GreenTip,
    /// A green centre within the edge.
    GreenCentre,
    /// Brown stretches along the edge.
    BrownEdge,
    /// Brown along the edge of the upper half.
    BrownUpperEdge,
    /// A yellow tip.
    YellowTip,
    /// Yellow spots scattered behind the tip.
    SpotsBehindTip,
    /// The very edge of the tip is dead.
    BrownTipEdge,
    /// A brown tip.
    BrownTip,
    /// The upper third is dead, with a sharp line.
    BrownEnd,
    /// A bleached patch on one half.
    BleachedPatch,
    /// Large blotches at different places left and right.
    UnevenBlotches,
    /// Blotches at the same places left and right.
    MatchingBlotches,
}

/// A picture of one choice.
#[derive(Debug, Clone, Serialize)]
pub struct LeafPicture {
    /// The fact.
    #[serde(skip)]
    pub fact: FactId,
    /// Place of the choice among those of the fact.
    #[serde(skip)]
    pub choice: u8,
    /// One or two words.
    pub name: Text,
    /// The picture in plain words.
    pub says: Text,
    /// The ground.
    pub blade: Blade,
    /// What lies on it.
    pub layers: Vec<Layer>,
    /// The small drawing, in ASCII.
    pub drawing: Text,
    /// How the words are known.
    pub mark: Mark,
    /// Source ids.
    pub source: Vec<Text>,
}

impl LeafPicture {
    /// Links a picture as written; a picture that does not fit is reported and left out.
    pub(super) fn link(
        raw: RawLeafPicture,
        vocabulary: &Vocabulary,
        place: Place<'_>,
        problems: &mut Problems,
    ) -> Option<Self> {
        let mut wrong = |kind: ProblemKind, what: String, mend: &str| {
            problems.at(kind, place.key(&raw.choice), what, mend);
        };
        let about = format!("the picture of {} {}", raw.fact, raw.choice);
        let found = vocabulary
            .find(&raw.fact)
            .and_then(|fact| Some((fact, vocabulary.get(fact).choice_index(&raw.choice)?)));
        let Some((fact, choice)) = found else {
            wrong(
                ProblemKind::UnknownId,
                format!("{about}: there is no such fact or choice"),
                "name a fact and one of its choices",
            );
            return None;
        };
        let fits = raw
            .drawing
            .lines()
            .all(|line| line.len() <= WIDEST && line.bytes().all(|b| (b' '..=b'~').contains(&b)));
        if !fits || raw.drawing.trim().is_empty() {
            wrong(
                ProblemKind::WrongType,
                format!("{about}: the drawing is empty, wider than {WIDEST} columns or not ASCII"),
                "draw it with plain characters",
            );
        }
        if raw.says.trim().is_empty() || raw.name.chars().count() > LONGEST_NAME {
            wrong(
                ProblemKind::MissingText,
                format!("{about}: says is empty, or the name is longer than {LONGEST_NAME}"),
                "describe it in words; keep the name short",
            );
        }
        if raw.mark.quotes() && raw.source.is_empty() {
            wrong(
                ProblemKind::NoSource,
                format!("{about} is marked {} without a source", raw.mark.words()),
                "name the source, or change the mark",
            );
        }
        Some(Self {
            fact,
            choice,
            name: raw.name,
            says: raw.says,
            blade: raw.blade,
            layers: raw.layers,
            drawing: raw.drawing,
            mark: raw.mark,
            source: raw.source,
        })
    }
}

packed! {
    LeafPicture {
        fact, choice, name, says, blade, layers, drawing, mark, source,
    }
}
packed_enum! { Blade { 0 => Green, 1 => Yellow, 2 => Bronze } }
packed_enum! { Layer { 0 => Shoot, 1 => OldLeavesPale, 2 => NewLeavesPale, 3 => ThinGreenVeins, 4 => BroadGreenBands, 5 => YellowVeins, 6 => YellowPatchesBetween, 7 => LargeYellowSpots, 8 => GreenWedgeAtBase, 9 => GreenTip, 10 => GreenCentre, 11 => BrownEdge, 12 => BrownUpperEdge, 13 => YellowTip, 14 => SpotsBehindTip, 15 => BrownTipEdge, 16 => BrownTip, 17 => BrownEnd, 18 => BleachedPatch, 19 => UnevenBlotches, 20 => MatchingBlotches } }

#[cfg(test)]
mod tests {
    use crate::knowledge::{Files, load};

    /// The problems of the shipped set with one text of the pictures' file changed.
    fn changed(from: &str, to: &str) -> String {
        let mut files = Files::shipped();
        for file in &mut files.files {
            if file.name == "leaf_pictures.yaml" {
                assert!(file.text.contains(from));
                file.text = file.text.replacen(from, to, 1).into();
            }
        }
        load(&files, &[]).map_or_else(|p| p.to_string(), |_| String::new())
    }

    #[test]
    fn a_picture_of_nothing_is_refused_with_its_place() {
        let said = changed("choice: green_net", "choice: green_nett");
        assert!(said.contains("leaf_pictures.yaml:"), "{said}");
        assert!(said.contains("leaf_pattern green_nett: there is no such fact or choice"));
    }

    #[test]
    fn drawings_that_do_not_fit_and_words_without_a_source_are_refused() {
        let wide = changed(
            "       |.##|##.|\n",
            "       |.##|##.|                              #\n",
        );
        assert!(wide.contains("wider than 38 columns"), "{wide}");
        let strange = changed("       |.##|##.|\n", "       |.##│##.|\n");
        assert!(strange.contains("not ASCII"), "{strange}");
        let bare = changed("source: [mor_a]", "source: []");
        assert!(
            bare.contains("is marked published without a source"),
            "{bare}"
        );
        let unknown = changed("source: [mor_a]", "source: [mor_zz]");
        assert!(unknown.contains("mor_zz"), "{unknown}");
    }
}
