//! A feed and what its label says, typed in one argument: `24-8-16, nitrate=1.5, ammonium=3, urea=19.5, MgO=2`.
//!
//! The first piece names a plain material or gives the three numbers; the others are lines of the label. Phosphorus and
//! potassium are taken as the label prints them, `as=oxide` or `as=element`.

use crate::chemistry::{Mineral, Minerals, NitrogenForms};
use crate::cli::here::fail::Failure;
use crate::knowledge::{Knowledge, Material, Rates, Release};
use crate::quantity::{Grade, GradeBasis, Interval, K_IN_K2O, P_IN_P2O5, parse_number};

/// How far the lines of a label may miss each other, in percentage points: labels round.
const ROUNDING: f64 = 0.5;

/// Lines that may be typed.
const LINES: [&str; 29] = [
    "nitrate", "ammonium", "urea", "density", "as", "kind", "weeks", "p2o5", "k2o", "p", "k", "ca",
    "mg", "s", "cl", "na", "fe", "mn", "zn", "cu", "b", "mo", "cao", "mgo", "so3", "na2o", "fe2o3",
    "zno", "mno",
];

/// A feed as typed.
#[derive(Debug, Clone)]
pub(in crate::cli) struct FeedLine<'k> {
    /// Its name.
    pub(in crate::cli) name: String,
    /// N, P2O5, K2O in per cent.
    pub(in crate::cli) grade: [f64; 3],
    /// The material, where it is a plain one.
    pub(in crate::cli) material: Option<&'k Material>,
    /// Forms of nitrogen.
    pub(in crate::cli) forms: NitrogenForms,
    /// Secondary and trace elements, per cent, as elements.
    pub(in crate::cli) minerals: Minerals,
    /// Bulk density, g/mL.
    pub(in crate::cli) density: Interval,
    /// How it gives off its nitrogen.
    pub(in crate::cli) release: Release,
    /// Weeks of life of a coated feed.
    pub(in crate::cli) life_weeks: Option<f64>,
    /// What P and K of the three numbers were taken as, and whether the grower said so; `None` for a plain material, and
    /// where both are 0.
    pub(in crate::cli) basis: Option<(GradeBasis, bool)>,
}

/// A plain material by its id, name or trade word.
pub(in crate::cli) fn material_named<'k>(
    knowledge: &'k Knowledge,
    word: &str,
) -> Option<&'k Material> {
    let word = word.trim().to_lowercase();
    let mut materials = knowledge.materials.iter().map(|m| &**m);
    materials.find(|m| {
        m.id == word.replace(' ', "_")
            || m.name.to_lowercase() == word
            || m.words.iter().any(|w| w.to_lowercase() == word)
    })
}

/// What the three numbers stand for: `as=` in the feed, the flag, or the oxides, with whether the grower said so.
pub(in crate::cli) fn basis_of<'t>(
    lines: impl Iterator<Item = &'t str>,
    flag: Option<GradeBasis>,
) -> Result<(GradeBasis, bool), String> {
    let mut said = flag;
    for line in lines {
        let Some((key, value)) = line.split_once('=') else {
            continue;
        };
        if key.trim().eq_ignore_ascii_case("as") {
            said = Some(match value.trim().to_lowercase().as_str() {
                "oxide" | "oxides" => GradeBasis::Oxide,
                "element" | "elements" => GradeBasis::Element,
                other => {
                    return Err(format!(
                        "as={other}: P and K are printed as oxide or as element"
                    ));
                }
            });
        }
    }
    Ok((said.unwrap_or(GradeBasis::Oxide), said.is_some()))
}

/// Three numbers, or what they could not be read as.
pub(in crate::cli) fn grade_of(
    knowledge: &Knowledge,
    what: &str,
    basis: GradeBasis,
) -> Result<Grade, String> {
    Grade::parse(what, basis).map_err(|e| {
        let names: Vec<&str> = knowledge
            .materials
            .iter()
            .flat_map(|m| std::iter::once(m.id.as_str()).chain(m.words.iter().map(AsRef::as_ref)))
            .collect();
        let near = crate::facts::nearest_of(&what.to_lowercase().replace(' ', "_"), &names);
        if what.starts_with(|c: char| c.is_ascii_digit() || c == '-') {
            e.to_string()
        } else {
            format!(
                "no plain material of this name{near}, and no grade: type the three numbers from the bag, such as 24-8-16; names of the record's shelf are not known here"
            )
        }
    })
}

/// Reads one.
///
/// # Errors
/// Says what cannot be read and how to type it.
pub(in crate::cli) fn read<'k>(
    knowledge: &'k Knowledge,
    text: &str,
    flag: Option<GradeBasis>,
) -> Result<FeedLine<'k>, Failure> {
    parse(knowledge, text, flag)
        .map_err(|problem| Failure::Usage(format!("\"{}\": {problem}", text.trim())))
}

fn parse<'k>(
    knowledge: &'k Knowledge,
    text: &str,
    flag: Option<GradeBasis>,
) -> Result<FeedLine<'k>, String> {
    let mut pieces = text.split(',').map(str::trim);
    let what = pieces.next().unwrap_or("");
    let (basis, said) = basis_of(pieces.clone(), flag)?;
    let material = material_named(knowledge, what);
    let mut feed = match material {
        Some(m) => of_material(m),
        None => {
            let grade = grade_of(knowledge, what, basis)?;
            let mut feed = of_grade(&grade, (basis, said), &knowledge.rates);
            if basis == GradeBasis::Element && feed.basis.is_some() {
                // As it stands on the bag: its oxides would be three numbers that nobody has in hand.
                feed.name = format!("{what} (elements)");
            }
            feed
        }
    };
    for piece in pieces.filter(|p| !p.is_empty()) {
        let Some((key, value)) = piece.split_once('=') else {
            return Err(format!(
                "\"{piece}\" is not understood; write a line of the label as NAME=PER CENT, such as nitrate=6 or Mg=2"
            ));
        };
        read_line(&mut feed, key.trim(), value.trim(), &knowledge.rates)?;
    }
    check(&feed)?;
    Ok(feed)
}

fn of_material(m: &Material) -> FeedLine<'_> {
    let mut minerals = Minerals::default();
    for mineral in Mineral::ALL {
        minerals.set(mineral, m.element(&mineral.symbol().to_lowercase()));
    }
    FeedLine {
        name: m.name.clone().into(),
        grade: [m.n.value, m.p2o5.value, m.k2o.value],
        material: Some(m),
        forms: m
            .forms
            .as_ref()
            .map_or_else(NitrogenForms::default, |f| NitrogenForms {
                nitrate: Some(f.nitrate),
                ammoniacal: Some(f.ammonium),
                urea: Some(f.urea),
            }),
        minerals,
        density: Interval::spanning(m.density.low, m.density.high),
        release: m.release,
        life_weeks: None,
        basis: None,
    }
}

fn of_grade<'k>(grade: &Grade, basis: (GradeBasis, bool), rates: &Rates) -> FeedLine<'k> {
    FeedLine {
        name: grade.to_string(),
        grade: [grade.n(), grade.p2o5(), grade.k2o()],
        material: None,
        forms: NitrogenForms::default(),
        minerals: Minerals::default(),
        density: Interval::spanning(rates.density_soluble_low, rates.density_soluble_high),
        release: Release::Ready,
        life_weeks: None,
        basis: (grade.p2o5() > 0.0 || grade.k2o() > 0.0).then_some(basis),
    }
}

fn read_line(feed: &mut FeedLine<'_>, key: &str, value: &str, rates: &Rates) -> Result<(), String> {
    let number = || parse_number(value).map_err(|e| format!("{key}: {e}"));
    let percent = || {
        let x = number()?;
        if x > 100.0 {
            return Err(format!(
                "{key}={value}: a share of the bag is at most 100 %"
            ));
        }
        Ok(x)
    };
    let [_, phosphate, potash] = &mut feed.grade;
    match key.to_lowercase().as_str() {
        "as" => {}
        "nitrate" => feed.forms.nitrate = Some(percent()?),
        "ammonium" | "ammoniacal" => feed.forms.ammoniacal = Some(percent()?),
        "urea" => feed.forms.urea = Some(percent()?),
        "p2o5" => *phosphate = percent()?,
        "p" => *phosphate = percent()? / P_IN_P2O5,
        "k2o" => *potash = percent()?,
        "k" => *potash = percent()? / K_IN_K2O,
        "density" => {
            let x = number()?;
            if !(0.05..=5.0).contains(&x) {
                return Err(format!(
                    "density={value}: a feed weighs between 0.05 and 5 g per mL; weigh one level cup and divide grams by mL"
                ));
            }
            feed.density = Interval::point(x);
        }
        "weeks" => feed.life_weeks = Some(number()?).filter(|w| *w > 0.0),
        "kind" => {
            feed.release = match value.to_lowercase().as_str() {
                "soluble" | "liquid" => Release::Ready,
                "organic" => Release::Organic,
                "coated" => Release::Coated,
                other => {
                    return Err(format!("kind={other}: write soluble, organic or coated"));
                }
            };
            if feed.release != Release::Ready && feed.material.is_none() {
                feed.density =
                    Interval::spanning(rates.density_mineral_low, rates.density_mineral_high);
            }
        }
        _ => match Mineral::read(key) {
            Some((mineral, share)) => feed.minerals.set(mineral, percent()? * share),
            None => {
                let near = crate::facts::nearest_of(&key.to_lowercase(), &LINES);
                return Err(format!(
                    "there is no line {key}{near}; known are nitrate, ammonium, urea, P2O5 or P, K2O or K, Ca, Mg, S, Cl, Na, Fe, Mn, Zn, Cu, B, Mo (or their oxides), as, kind, weeks and density"
                ));
            }
        },
    }
    Ok(())
}

/// Lines that cannot stand on one label.
fn check(feed: &FeedLine<'_>) -> Result<(), String> {
    let [n, p2o5, k2o] = feed.grade;
    let forms: f64 = [feed.forms.nitrate, feed.forms.ammoniacal, feed.forms.urea]
        .into_iter()
        .flatten()
        .sum();
    let shown = crate::quantity::show_number;
    if forms > n + ROUNDING {
        return Err(format!(
            "the forms of nitrogen add up to {} %, more than its nitrogen, {} %; copy both from one label",
            shown(forms),
            shown(n)
        ));
    }
    // As oxides, N is the lightest way to count it: a bag may hold no more than this. A chloride holds no oxygen: beside
    // declared chlorine phosphorus and potassium count as elements.
    let all = if feed.minerals.get(Mineral::Chlorine) > 0.0 {
        n + p2o5 * P_IN_P2O5 + k2o * K_IN_K2O + feed.minerals.total()
    } else {
        n + p2o5 + k2o + feed.minerals.total()
    };
    if all > 100.0 + ROUNDING {
        return Err(format!(
            "the shares add up to {} %, more than the whole bag; look whether the label prints oxides or elements",
            shown((all * 10.0).round() / 10.0)
        ));
    }
    Ok(())
}
