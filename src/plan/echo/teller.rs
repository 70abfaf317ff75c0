//! Amount, label, pot and grade, each said back in another unit and beside an everyday thing.

use super::Echo;
use super::everyday::{count, fits, from_to, short, two_digits};
use crate::knowledge::{Thing, ThingUnit};
use crate::quantity::units::US_GALLON_ML;
use crate::quantity::{
    Grade, Interval, K_IN_K2O, LabelRate, Measure, P_IN_P2O5, Per, PlannedAmount, SpoonSystem,
    show_grams, show_litres,
};

/// A label's rate is told for so many litres: a bucket.
const BUCKET_LITRES: f64 = 10.0;

/// What the words need to know of the feed and of the world.
pub(super) struct Teller<'k> {
    pub(super) things: &'k [Thing],
    pub(super) density: Option<Interval>,
    pub(super) system: SpoonSystem,
}

impl Teller<'_> {
    pub(super) fn amount(&self, fact: String, planned: PlannedAmount) -> Echo {
        let (text, grams) = self.measure(planned.amount);
        let litres = planned.water_litres;
        let percent = litres.map(|l| self.per_litre(planned.amount, grams) / l / 10.0);
        let into = match (litres, planned.amount) {
            (Some(l), _) => format!(" in {}", self.beside(l, ThingUnit::Litres)),
            (None, Measure::Grams(g)) if self.density.is_some() => {
                format!(", as heavy as {}", self.beside(g, ThingUnit::Grams))
            }
            (None, _) => String::new(),
        };
        let strength = percent.map_or_else(String::new, |p| format!(" ({} %)", short(p)));
        Echo {
            fact,
            typed: litres.map_or_else(
                || written(planned.amount),
                |l| format!("{} in {}", written(planned.amount), show_litres(l)),
            ),
            text: format!("{text}{into}{strength}"),
            g: grams.map(ends),
            litres: litres.map(|l| [l, l]),
            percent,
        }
    }

    pub(super) fn label(&self, fact: String, rate: LabelRate) -> Echo {
        let amount = written(rate.amount);
        let (per, scaled, of) = match rate.per {
            Per::LitresOfWater(l) => (
                per_so_much(l),
                Some((l, scale(rate.amount, BUCKET_LITRES / l))),
                "a bucket",
            ),
            Per::LitresOfMix(l) => (
                format!("{} of mix", per_so_much(l)),
                Some((l, scale(rate.amount, BUCKET_LITRES / l))),
                "a bucket of mix",
            ),
            Per::Pot => ("pot".to_owned(), None, ""),
            Per::Tree => ("tree".to_owned(), None, ""),
        };
        let (_, grams) = self.measure(rate.amount);
        let per_litre = |l: f64| self.per_litre(rate.amount, grams) / l / 10.0;
        let percent = match rate.per {
            Per::LitresOfWater(l) => Some(per_litre(l)),
            _ => None,
        };
        let text = match scaled {
            Some((_, bucket)) => format!("{} {of}", self.measure(bucket).0),
            None if rate.per == Per::Tree => format!(
                "{}; a rate per tree is for the ground",
                self.measure(rate.amount).0
            ),
            None => self.measure(rate.amount).0,
        };
        Echo {
            fact,
            typed: format!("label {amount} per {per}"),
            text: percent.map_or(text.clone(), |p| format!("{text} ({} %)", short(p))),
            g: grams.map(ends),
            litres: scaled.map(|(l, _)| [l, l]),
            percent,
        }
    }

    pub(super) fn pot(&self, fact: String, litres: Interval) -> Option<Echo> {
        let (lo, hi) = (litres.lo(), litres.hi());
        if !hi.is_finite() || lo <= 0.0 {
            return None;
        }
        let gallons = |l: f64| short(l * 1000.0 / US_GALLON_ML);
        let words = |l: f64| self.beside(l, ThingUnit::Litres);
        let (typed, text, range) = if litres.is_point() {
            (format!("pot {}", show_litres(hi)), words(hi), gallons(hi))
        } else {
            (
                format!("pot {} to {}", show_litres(lo), show_litres(hi)),
                from_to(&words(lo), &words(hi)),
                format!("{} to {}", gallons(lo), gallons(hi)),
            )
        };
        // The other unit, whatever was typed: a slip between litres and gallons shows in it.
        let text = format!("{text}, {range} US gal");
        Some(Echo {
            fact,
            typed,
            text,
            g: None,
            litres: Some([lo, hi]),
            percent: None,
        })
    }

    /// An amount in the other unit and beside a thing, and its grams where they can be told.
    pub(super) fn measure(&self, measure: Measure) -> (String, Option<Interval>) {
        let grams = match (measure, self.density) {
            (Measure::Grams(g), _) => Some(Interval::point(g)),
            (_, Some(density)) => Some(measure.grams(density, self.system)),
            (_, None) => None,
        };
        let text = match (measure, self.density) {
            (Measure::Grams(g), Some(density)) => {
                let ml = g / middle(density);
                if ml >= self.system.teaspoon_ml() / 8.0 {
                    self.spoons(ml)
                } else {
                    self.weight(g)
                }
            }
            (Measure::Grams(g), None) => self.weight(g),
            (Measure::Millilitres(ml), _) => self.spoons(ml),
            (Measure::Spoons { .. }, _) => match (grams, measure.millilitres(self.system)) {
                (Some(grams), _) => {
                    let g = middle(grams);
                    format!("{} g ({})", two_digits(g), self.weight(g))
                }
                (None, Some(ml)) => format!("{} mL", short(ml)),
                (None, None) => written(measure),
            },
        };
        (text, grams)
    }

    /// Grams beside a thing that is no measure: nobody pours paper clips.
    fn weight(&self, grams: f64) -> String {
        format!("the weight of {}", self.beside(grams, ThingUnit::Grams))
    }

    /// Grams, or mL of what was typed in mL.
    fn per_litre(&self, measure: Measure, grams: Option<Interval>) -> f64 {
        match (measure, grams) {
            (Measure::Millilitres(ml), _) => ml,
            (_, Some(grams)) => middle(grams),
            (_, None) => measure.millilitres(self.system).unwrap_or(0.0),
        }
    }

    /// Level spoons and cups, to the nearest that one would say.
    fn spoons(&self, ml: f64) -> String {
        let teaspoons = ml / self.system.teaspoon_ml();
        let tablespoons = ml / self.system.tablespoon_ml();
        let cups = ml / self.system.cup_ml();
        if cups >= 0.95 {
            count(cups, "a cup", "cups")
        } else if teaspoons > 5.5 {
            count(tablespoons, "a tablespoon", "tablespoons")
        } else if teaspoons >= 0.1875 {
            count(teaspoons, "a teaspoon", "teaspoons")
        } else {
            "⅛ of a teaspoon".to_owned()
        }
    }

    /// So many of the largest everyday thing that fits, at least by half.
    pub(super) fn beside(&self, size: f64, unit: ThingUnit) -> String {
        let mut of_unit = self.things.iter().filter(|t| t.unit == unit);
        let smallest = of_unit.next();
        let thing = of_unit
            .rfind(|t| fits(size / t.size))
            .or(smallest)
            .filter(|t| t.size > 0.0);
        match thing {
            Some(t) if size / t.size >= 0.2 => count(size / t.size, &t.a, &t.many),
            Some(t) => format!("less than {}", t.a),
            None => match unit {
                ThingUnit::Litres => show_litres(size),
                ThingUnit::Grams => show_grams(size),
            },
        }
    }
}

/// The grade in its other reading; nothing where it brings neither P nor K.
pub(super) fn grade_back(fact: String, grade: Grade, elements: bool) -> Option<Echo> {
    let (p, k) = (grade.p2o5(), grade.k2o());
    if p <= 0.0 && k <= 0.0 {
        return None;
    }
    let basis = if elements { "elements" } else { "oxides" };
    let text = if elements {
        format!(
            "{}-{}-{} in oxides",
            short(grade.n()),
            short(p / P_IN_P2O5),
            short(k / K_IN_K2O)
        )
    } else {
        format!(
            "{}-{}-{} in elements",
            short(grade.n()),
            short(p * P_IN_P2O5),
            short(k * K_IN_K2O)
        )
    };
    Some(Echo {
        fact,
        typed: format!("{grade} in {basis}"),
        text,
        g: None,
        litres: None,
        percent: None,
    })
}

/// An amount as it was typed, with spoons in their short names.
fn written(measure: Measure) -> String {
    match measure {
        Measure::Grams(g) => format!("{} g", short(g)),
        Measure::Millilitres(ml) => format!("{} mL", short(ml)),
        spoons @ Measure::Spoons { .. } => spoons.to_string(),
    }
}

fn scale(measure: Measure, factor: f64) -> Measure {
    match measure {
        Measure::Grams(g) => Measure::Grams(g * factor),
        Measure::Millilitres(ml) => Measure::Millilitres(ml * factor),
        Measure::Spoons {
            count,
            unit,
            system,
        } => Measure::Spoons {
            count: count * factor,
            unit,
            system,
        },
    }
}

/// The middle of what a density or a spoon leaves open.
fn middle(interval: Interval) -> f64 {
    (interval.lo() * interval.hi()).sqrt()
}

fn ends(interval: Interval) -> [f64; 2] {
    [interval.lo(), interval.hi()]
}

/// "L" for one litre, "3.8 L" for more.
fn per_so_much(litres: f64) -> String {
    if (litres - 1.0).abs() < 1e-9 {
        "L".to_owned()
    } else {
        show_litres(litres)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::knowledge::{Files, load};

    fn told(density: Option<(f64, f64)>, say: impl Fn(&Teller<'_>) -> Echo) -> (String, String) {
        let k = load(&Files::shipped(), &[]).unwrap();
        let echo = say(&Teller {
            things: &k.things,
            density: density.map(|(lo, hi)| Interval::spanning(lo, hi)),
            system: SpoonSystem::Metric,
        });
        (echo.typed, echo.text)
    }

    // By hand: 15 g at about 1.06 g/mL is 14.1 mL, 2.8 metric teaspoons; 15 g in 5 L is 3 g a litre. 1 US gallon is
    // 3.785 L (UCUM); a metric tablespoon of 15 mL weighs 15.9 g, 3.2 sheets of 5 g, 4.2 g a litre.
    #[test]
    fn an_amount_comes_back_in_another_unit() {
        let powder = Some((0.9, 1.25));
        for (typed, density, back) in [
            (
                "15 g in 5 L",
                powder,
                "3 teaspoons in half a bucket (0.3 %)",
            ),
            (
                "1.5 g in 5 L",
                powder,
                "a quarter of a teaspoon in half a bucket (0.03 %)",
            ),
            ("15 g in 50 L", powder, "3 teaspoons in 5 buckets (0.03 %)"),
            (
                "1 tbsp per gallon",
                powder,
                "16 g (the weight of 3 sheets of paper) in 4 milk cartons (0.42 %)",
            ),
            (
                "1 tsp per gallon",
                powder,
                "5.3 g (the weight of a sheet of paper) in 4 milk cartons (0.14 %)",
            ),
            (
                "1 tsp per L",
                powder,
                "5.3 g (the weight of a sheet of paper) in a milk carton (0.53 %)",
            ),
            (
                "25 mL in 5 L",
                Some((1.0, 1.3)),
                "5 teaspoons in half a bucket (0.5 %)",
            ),
            (
                "40 g",
                Some((0.55, 1.0)),
                "4 tablespoons, as heavy as 8 sheets of paper",
            ),
            (
                "1 oz",
                Some((0.55, 1.0)),
                "2½ tablespoons, as heavy as half an egg",
            ),
            ("400 g", None, "the weight of 7 eggs"),
        ] {
            let planned = PlannedAmount::parse(typed).unwrap();
            let (_, text) = told(density, |t| t.amount("planned_amount".into(), planned));
            assert_eq!(text, back, "{typed}");
        }
    }

    // Class #5 holds 12.9 to 20.4 L (785 to 1242 cubic inches), never 18.9.
    #[test]
    fn pots_labels_and_grades_come_back() {
        let pot = |typed: &str| {
            let litres = crate::quantity::parse_volume(typed, None).unwrap();
            told(None, |t| t.pot(String::new(), litres).unwrap()).1
        };
        assert_eq!(pot("20 L"), "2 buckets, 5.3 US gal");
        assert_eq!(pot("20 gal"), "half a bathtub, 20 US gal");
        assert_eq!(pot("#5"), "1½ to 2 buckets, 3.4 to 5.4 US gal");
        let label = |typed: &str| {
            let rate = LabelRate::parse(typed).unwrap();
            told(Some((0.9, 1.25)), |t| t.label(String::new(), rate))
        };
        assert_eq!(label("1 g per L").0, "label 1 g per L");
        assert_eq!(label("1 g per L").1, "2 teaspoons a bucket (0.1 %)");
        assert_eq!(
            label("1 tbsp per L").1,
            "160 g (the weight of 2½ eggs) a bucket (1.6 %)"
        );
        assert_eq!(label("40 g per pot").1, "2½ tablespoons");
        // 8 x 0.43643 and 16 x 0.83015 (CIAAW 2021 weights).
        let grade = Grade::new([24.0, 8.0, 16.0], crate::quantity::GradeBasis::Oxide).unwrap();
        let back = grade_back(String::new(), grade, false).unwrap();
        assert_eq!(back.typed, "24-8-16 in oxides");
        assert_eq!(back.text, "24-3.5-13.3 in elements");
        let urea = Grade::new([46.0, 0.0, 0.0], crate::quantity::GradeBasis::Oxide).unwrap();
        assert_eq!(grade_back(String::new(), urea, false), None);
    }
}
