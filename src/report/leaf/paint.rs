//! A leaf picture as SVG. Each tone has a hatching of its own, so that a grey print shows the pattern as well.

use super::shape::{
    HEIGHT, PAIRS, WIDTH, bent, between, blotch, closed, midrib, outline, part, petiole, place,
    side_vein,
};
use crate::knowledge::{Blade, Layer, LeafPicture};
use maud::{Markup, PreEscaped, html};
use std::fmt::Write;

/// Colour of outlines.
const INK: &str = "#20301c";
/// Size of the picture of a shoot.
const SHOOT: (f64, f64) = (250.0, 120.0);

/// The picture as one `<svg>`. `id` must be unlike every other on the page; `described_by` is the id of the element that
/// says it in words.
#[must_use]
pub fn svg(picture: &LeafPicture, title: &str, id: &str, described_by: &str) -> Markup {
    let shoot = picture.layers.contains(&Layer::Shoot);
    let (wide, high) = if shoot { SHOOT } else { (WIDTH, HEIGHT) };
    let mut paint = Paint {
        id,
        out: String::new(),
    };
    paint.hatchings();
    if shoot {
        paint.shoot(&picture.layers);
    } else {
        paint.leaf(picture.blade, &picture.layers);
    }
    html! {
        svg class=(if shoot { "leaf shoot" } else { "leaf" }) xmlns="http://www.w3.org/2000/svg"
            viewBox=(format!("0 0 {wide} {high}")) role="img"
            aria-labelledby=(format!("{id}-t")) aria-describedby=(described_by) {
            title id=(format!("{id}-t")) { "Drawing: " (title) }
            // Numbers and our own names only; nothing from outside stands in it.
            (PreEscaped(paint.out))
        }
    }
}

/// What an area is filled with.
#[derive(Clone, Copy)]
enum Tone {
    Green,
    Yellow,
    Bronze,
    Brown,
    Bleached,
}

impl Tone {
    const ALL: [Self; 5] = [
        Self::Green,
        Self::Yellow,
        Self::Bronze,
        Self::Brown,
        Self::Bleached,
    ];

    fn letter(self) -> char {
        match self {
            Self::Green => 'g',
            Self::Yellow => 'y',
            Self::Bronze => 'b',
            Self::Brown => 'd',
            Self::Bleached => 'w',
        }
    }

    /// Its colour, the colour of its hatching, and the hatching in a square of 6.
    fn look(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Self::Green => ("#5f9f4a", "#2f6424", "M-1 1L1-1M0 6L6 0M5 7L7 5"),
            Self::Yellow => ("#f3e68c", "#c9b64a", "M3 3h.7"),
            Self::Bronze => ("#b59a66", "#7a6236", "M0 1.5h3M3 4.5h3"),
            Self::Brown => ("#a87142", "#5c3816", "M0 0L6 6M0 6L6 0"),
            Self::Bleached => ("#f6f1e2", "#b5ab8d", "M1.5 0v3M4.5 3v3"),
        }
    }
}

struct Paint<'a> {
    id: &'a str,
    out: String,
}

impl Paint<'_> {
    fn put(&mut self, text: std::fmt::Arguments<'_>) {
        let _ = self.out.write_fmt(text);
    }

    fn hatchings(&mut self) {
        let id = self.id;
        self.out.push_str("<defs>");
        for tone in Tone::ALL {
            let (ground, line, lines) = tone.look();
            let letter = tone.letter();
            self.put(format_args!(
                "<pattern id=\"{id}-{letter}\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\"><path fill=\"{ground}\" d=\"M0 0h6v6H0z\"/><path stroke=\"{line}\" stroke-width=\".9\" d=\"{lines}\"/></pattern>"
            ));
        }
        self.put(format_args!(
            "<clipPath id=\"{id}-c\"><path d=\"{}\"/></clipPath></defs>",
            outline(1.0)
        ));
    }

    fn fill(&mut self, path: &str, tone: Tone) {
        let (id, letter) = (self.id, tone.letter());
        self.put(format_args!(
            "<path d=\"{path}\" fill=\"url(#{id}-{letter})\"/>"
        ));
    }

    fn line(&mut self, path: &str, colour: &str, wide: f64) {
        self.put(format_args!(
            "<path d=\"{path}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{wide}\" stroke-linecap=\"round\"/>"
        ));
    }

    /// A broad line with the hatching of a tone.
    fn band(&mut self, path: &str, tone: Tone, wide: f64, dashes: &str) {
        let (id, letter) = (self.id, tone.letter());
        self.put(format_args!(
            "<path d=\"{path}\" fill=\"none\" stroke=\"url(#{id}-{letter})\" stroke-width=\"{wide}\" stroke-linecap=\"round\"{dashes}/>"
        ));
    }

    fn veins(&self) -> Vec<String> {
        (0..PAIRS)
            .flat_map(|pair| [-1.0, 1.0].map(|side| bent(side_vein(pair, side))))
            .collect()
    }

    fn leaf(&mut self, blade: Blade, layers: &[Layer]) {
        let ground = match blade {
            Blade::Green => Tone::Green,
            Blade::Yellow => Tone::Yellow,
            Blade::Bronze => Tone::Bronze,
        };
        self.put(format_args!(
            "<path d=\"{}\" fill=\"#7a9a5c\" stroke=\"{INK}\" stroke-width=\"1.4\"/>",
            petiole()
        ));
        let id = self.id;
        self.put(format_args!("<g clip-path=\"url(#{id}-c)\">"));
        self.fill(&outline(1.0), ground);
        for layer in layers {
            self.layer(*layer);
        }
        let coloured = layers
            .iter()
            .any(|l| matches!(l, Layer::ThinGreenVeins | Layer::YellowVeins));
        if !coloured {
            for vein in self.veins() {
                self.line(&vein, INK, 0.6);
            }
            self.line(&midrib(), INK, 1.4);
        }
        self.out.push_str("</g>");
        self.line(&outline(1.0), INK, 1.8);
    }

    fn layer(&mut self, layer: Layer) {
        match layer {
            Layer::Shoot | Layer::OldLeavesPale | Layer::NewLeavesPale => {}
            Layer::ThinGreenVeins => {
                for vein in self.veins() {
                    self.line(&vein, "#2f6424", 2.4);
                }
                self.net();
                self.line(&midrib(), "#2f6424", 3.6);
            }
            Layer::BroadGreenBands => {
                for vein in self.veins() {
                    self.band(&vein, Tone::Green, 8.5, "");
                }
                self.fill(
                    &closed(&[
                        place(0.0, -0.4),
                        place(0.3, -0.2),
                        place(1.0, 0.0),
                        place(0.3, 0.2),
                        place(0.0, 0.4),
                    ]),
                    Tone::Green,
                );
            }
            Layer::YellowVeins => {
                for vein in self.veins() {
                    self.band(&vein, Tone::Yellow, 5.0, "");
                    self.line(&vein, "#8a7a20", 0.7);
                }
                let (x, low, high) = (WIDTH / 2.0, place(0.0, 0.0).1, place(0.97, 0.0).1);
                // A level or upright stroke has no area to be hatched; a narrow wedge has.
                self.fill(
                    &format!(
                        "M{:.1} {low:.1}L{x:.1} {high:.1}L{:.1} {low:.1}Z",
                        x - 5.0,
                        x + 5.0
                    ),
                    Tone::Yellow,
                );
                self.line(&midrib(), "#8a7a20", 0.9);
            }
            Layer::YellowPatchesBetween => {
                for pair in 0..PAIRS.saturating_sub(1) {
                    for side in [-1.0, 1.0] {
                        for (u, size) in [(0.3, 4.6), (0.62, 5.6)] {
                            let spot = between(pair, side * u);
                            let turn = side * f64::from(pair) + u;
                            self.fill(&blotch(spot, size * 1.25, size * 0.8, turn), Tone::Yellow);
                        }
                    }
                }
            }
            Layer::LargeYellowSpots => {
                for (t, u, size) in [(0.70, -0.45, 9.0), (0.52, 0.55, 11.0), (0.34, -0.5, 10.5)] {
                    self.fill(
                        &blotch(place(t, u), size, size * 0.9, t * 9.0),
                        Tone::Yellow,
                    );
                }
                self.fill(&blotch(place(0.2, 0.45), 8.0, 7.0, 1.0), Tone::Yellow);
            }
            Layer::GreenWedgeAtBase => self.fill(
                &closed(&[
                    place(0.0, -1.0),
                    place(0.1, -1.0),
                    place(0.18, -0.98),
                    place(0.5, 0.0),
                    place(0.18, 0.98),
                    place(0.1, 1.0),
                    place(0.0, 1.0),
                ]),
                Tone::Green,
            ),
            Layer::GreenTip => self.fill(&part(0.82, 1.0, -12.0), Tone::Green),
            Layer::GreenCentre => self.fill(&outline(0.62), Tone::Green),
            Layer::BrownEdge => {
                self.band(
                    &outline(1.0),
                    Tone::Brown,
                    9.0,
                    " stroke-dasharray=\"26 38\"",
                );
            }
            Layer::BrownUpperEdge => {
                for side in [-1.0, 1.0] {
                    self.fill(
                        &closed(&[
                            place(0.45, side),
                            place(0.6, side * 0.9),
                            place(0.85, side * 0.5),
                            place(1.0, 0.0),
                            place(0.85, side * 1.2),
                            place(0.6, side * 1.2),
                        ]),
                        Tone::Brown,
                    );
                }
            }
            Layer::YellowTip => self.fill(&part(0.74, 1.0, 12.0), Tone::Yellow),
            Layer::SpotsBehindTip => {
                for (t, u) in [
                    (0.66, -0.55),
                    (0.68, 0.2),
                    (0.6, 0.65),
                    (0.57, -0.2),
                    (0.52, -0.7),
                    (0.48, 0.35),
                    (0.42, 0.75),
                    (0.4, -0.45),
                ] {
                    self.fill(&blotch(place(t, u), 4.0, 3.4, t * 20.0), Tone::Yellow);
                }
            }
            Layer::BrownTipEdge => self.fill(&part(0.92, 1.0, 6.0), Tone::Brown),
            Layer::BrownTip => self.fill(&part(0.84, 1.0, 8.0), Tone::Brown),
            Layer::BrownEnd => {
                self.fill(&part(0.66, 1.0, 0.0), Tone::Brown);
                let y = place(0.66, 0.0).1;
                self.line(&format!("M0 {y:.1}H{WIDTH}"), INK, 2.2);
            }
            Layer::BleachedPatch => {
                self.fill(&blotch(place(0.58, -0.5), 15.0, 24.0, 0.6), Tone::Bleached);
                self.line(&blotch(place(0.58, -0.5), 15.0, 24.0, 0.6), INK, 0.8);
            }
            Layer::UnevenBlotches => {
                for (t, u, wide, high) in [
                    (0.52, -0.5, 19.0, 15.0),
                    (0.78, 0.42, 13.0, 15.0),
                    (0.3, 0.35, 14.0, 10.0),
                ] {
                    self.fill(&blotch(place(t, u), wide, high, t * 14.0), Tone::Yellow);
                }
            }
            Layer::MatchingBlotches => {
                for (t, u, wide, high) in [(0.64, 0.45, 11.0, 13.0), (0.3, 0.55, 13.0, 10.0)] {
                    for side in [-1.0, 1.0] {
                        let spot = blotch(place(t, side * u), wide, high, 0.0);
                        self.fill(&spot, Tone::Yellow);
                    }
                }
            }
        }
    }

    /// The finest veins, between the side veins.
    fn net(&mut self) {
        for pair in 0..PAIRS.saturating_sub(1) {
            for side in [-1.0, 1.0] {
                for u in [0.32, 0.62] {
                    let (x, y) = between(pair, side * u);
                    self.line(
                        &format!(
                            "M{:.1} {:.1}L{:.1} {:.1}",
                            x - 2.0,
                            y - 6.5,
                            x + 2.0,
                            y + 6.5
                        ),
                        "#2f6424",
                        1.1,
                    );
                }
            }
        }
    }

    /// A shoot: small leaves at its tip on the left, large ones near the trunk on the right.
    fn shoot(&mut self, layers: &[Layer]) {
        let middle = SHOOT.1 / 2.0;
        self.put(format_args!(
            "<path d=\"M14 {middle}H236\" stroke=\"#6b5236\" stroke-width=\"4\" stroke-linecap=\"round\"/><path d=\"M238 8V112\" stroke=\"#6b5236\" stroke-width=\"14\" stroke-linecap=\"round\"/>"
        ));
        let leaves = [
            (26.0, 0.17),
            (50.0, 0.2),
            (76.0, 0.24),
            (120.0, 0.38),
            (160.0, 0.42),
            (202.0, 0.44),
        ];
        for (i, (x, size)) in leaves.into_iter().enumerate() {
            let new = i < 3;
            let pale = layers.contains(if new {
                &Layer::NewLeavesPale
            } else {
                &Layer::OldLeavesPale
            });
            let tone = if pale { Tone::Yellow } else { Tone::Green };
            for up in [1.0, -1.0] {
                let id = self.id;
                let letter = tone.letter();
                // The leaf's own origin is the foot of its petiole; it stands aslant, towards the tip of the shoot.
                self.put(format_args!(
                    "<g transform=\"translate({x} {middle}) scale(1 {up}) rotate(-24) scale({size}) translate(-60 -150)\"><path d=\"{}\" fill=\"#6b8a4e\"/><path d=\"{}\" fill=\"url(#{id}-{letter})\" stroke=\"{INK}\" stroke-width=\"4\"/><path d=\"{}\" stroke=\"{INK}\" stroke-width=\"3\"/></g>",
                    petiole(), outline(1.0), midrib()
                ));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::knowledge::{Files, load};

    #[test]
    fn no_two_patterns_of_one_fact_are_painted_alike() {
        let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
        let painted: Vec<_> = k
            .leaf_pictures
            .iter()
            .map(|p| (p.fact, svg(p, "", "x", "y").into_string()))
            .collect();
        for (i, a) in painted.iter().enumerate() {
            for b in painted.iter().skip(i.saturating_add(1)) {
                assert!(a != b, "two pictures of one fact are the same");
            }
        }
    }

    #[test]
    fn every_tone_has_a_hatching_of_its_own() {
        let mut lines: Vec<_> = Tone::ALL.iter().map(|t| t.look().2).collect();
        lines.sort_unstable();
        lines.dedup();
        assert_eq!(lines.len(), Tone::ALL.len());
    }
}
