//! The value of one fact, and reading one from text.

use super::vocabulary::{Fact, Kind, NumberRange, nearest};
use crate::packed::{Packed, Reader, Writer};
use crate::quantity::{Grade, GradeBasis, Interval, LabelRate, PlannedAmount};

/// An answer. "Not sure" is an answer to every question and never counts as the safe one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value {
    /// Asked, but not known.
    NotSure,
    /// Index of the choice.
    Choice(u8),
    /// Bit masks of the ticked rows and of those that could not be told.
    Several {
        /// Ticked rows.
        yes: u64,
        /// Rows that could not be told.
        unknown: u64,
    },
    /// A number, or the stretch in which it lies, in the fact's unit.
    Number(Interval),
    /// A grade.
    Grade(Grade),
    /// A label rate.
    Rate(LabelRate),
    /// A planned amount.
    Amount(PlannedAmount),
}

/// Why a text is no answer to a fact.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{fact}: {problem}")]
pub struct ValueError {
    /// Id of the fact.
    pub fact: String,
    /// What is wrong and how to type it right.
    pub problem: String,
}

/// Words that mean "not sure" wherever an answer is typed.
const NOT_SURE: [&str; 12] = [
    "not_sure",
    "not sure",
    "unsure",
    "don't know",
    "dont know",
    "do not know",
    "no idea",
    "cannot tell",
    "cannot_tell",
    "can't tell",
    "cant tell",
    "can not tell",
];

impl Value {
    /// Whether a text says, in whatever words, that the answer is not known.
    #[must_use]
    pub fn says_not_sure(text: &str) -> bool {
        Self::before_not_sure(text).is_some_and(str::is_empty)
    }

    /// What stands before words at the end of a text that say that the rest is not known.
    #[must_use]
    pub fn before_not_sure(text: &str) -> Option<&str> {
        let text = text.trim();
        let lower = text.to_lowercase().replace('\u{2019}', "'");
        NOT_SURE.iter().find_map(|words| {
            let before = lower.strip_suffix(words)?;
            let apart = |c: char| c.is_whitespace() || matches!(c, ',' | ';');
            let before = text.get(..before.len())?;
            (before.is_empty() || before.ends_with(apart)).then_some(())?;
            let before = before.trim_end_matches(apart);
            let myself = ["i", "i am", "i'm", "im"];
            Some(
                match myself.iter().any(|who| before.eq_ignore_ascii_case(who)) {
                    true => "",
                    false => before,
                },
            )
        })
    }

    /// Whether it is a definite answer.
    #[must_use]
    pub fn is_known(self) -> bool {
        match self {
            Self::NotSure => false,
            Self::Several { yes, unknown } => yes != 0 || unknown == 0,
            _ => true,
        }
    }

    /// Reads an answer to `fact` from text, as typed or as written in an answers file.
    ///
    /// # Errors
    /// Says what was read, what is wrong with it and how to write it.
    pub fn read(fact: &Fact, text: &str) -> Result<Self, ValueError> {
        let text = text.trim();
        let wrong = |problem: String| ValueError {
            fact: fact.id.clone().into(),
            problem,
        };
        if text.chars().nth(400).is_some() {
            return Err(wrong("the answer is longer than 400 characters".into()));
        }
        if crate::facts::holds_steering(text) {
            return Err(wrong("the answer holds control characters".into()));
        }
        let lower = text.to_lowercase();
        if Self::says_not_sure(&lower) {
            return Ok(Self::NotSure);
        }
        match &fact.kind {
            Kind::Choice(_) => read_choice(fact, &lower).map(Self::Choice).map_err(wrong),
            Kind::Several { .. } => {
                let items: Vec<&str> = text
                    .split([',', ';'])
                    .map(str::trim)
                    .filter(|s| !s.is_empty())
                    .collect();
                Self::read_several(fact, &items)
            }
            Kind::Number(range) => read_number(range, text).map(Self::Number).map_err(wrong),
            Kind::Grade => Grade::parse(text, GradeBasis::Oxide)
                .map(Self::Grade)
                .map_err(|e| wrong(e.to_string())),
            Kind::Rate => LabelRate::parse(text)
                .map(Self::Rate)
                .map_err(|e| wrong(e.to_string())),
            Kind::Amount => PlannedAmount::parse(text)
                .map(Self::Amount)
                .map_err(|e| wrong(e.to_string())),
        }
    }

    /// Reads the rows of a `several` fact: ids or words; `none` for "I looked: none of these", `cannot_tell` for
    /// "what is not named could not be told".
    ///
    /// # Errors
    /// Names the row that is not known, and refuses an empty list: one careless Enter certifies nothing.
    pub fn read_several(fact: &Fact, items: &[&str]) -> Result<Self, ValueError> {
        let wrong = |problem: String| ValueError {
            fact: fact.id.clone().into(),
            problem,
        };
        let Kind::Several { rows, none } = &fact.kind else {
            return Err(wrong("takes one answer, not a list".into()));
        };
        if items.is_empty() {
            return Err(wrong(
                "names nothing; write none if you looked and found none of these".into(),
            ));
        }
        let (mut yes, mut cannot_tell, mut looked_none) = (0_u64, false, false);
        for item in items {
            let lower = item.to_lowercase();
            if Self::says_not_sure(&lower) {
                cannot_tell = true;
            } else if lower == "none" {
                looked_none = true;
            } else {
                yes |= 1 << read_choice(fact, &lower).map_err(wrong)?;
            }
        }
        if let Some(none) = none {
            looked_none |= yes >> none & 1 == 1;
            yes &= !(1_u64 << none);
        }
        if looked_none && (yes != 0 || cannot_tell) {
            return Err(wrong(
                "names rows and none at once; take one or the other".into(),
            ));
        }
        if looked_none && let Some(none) = none {
            yes = 1 << none;
        }
        let all = if rows.len() >= 64 {
            u64::MAX
        } else {
            (1_u64 << rows.len()).wrapping_sub(1)
        };
        let mut unknown = if cannot_tell { all & !yes } else { 0 };
        if let Some(none) = none {
            unknown &= !(1_u64 << none);
        }
        Ok(Self::Several { yes, unknown })
    }

    /// Writes the answer the way [`Value::read`] reads it.
    #[must_use]
    pub fn write(self, fact: &Fact) -> String {
        match self {
            Self::NotSure => "not_sure".into(),
            Self::Choice(c) => fact
                .choices()
                .get(usize::from(c))
                .map_or_else(|| "not_sure".into(), |c| c.id.clone())
                .into(),
            Self::Several { yes, unknown } => {
                let mut ids: Vec<&str> = fact
                    .choices()
                    .iter()
                    .enumerate()
                    .filter(|(i, _)| yes >> i & 1 == 1)
                    .map(|(_, c)| c.id.as_str())
                    .collect();
                if unknown != 0 {
                    ids.push("cannot_tell");
                }
                if ids.is_empty() {
                    ids.push("none");
                }
                ids.join(", ")
            }
            Self::Number(n) => n.write(),
            Self::Grade(g) => g.write(),
            Self::Rate(r) => r.to_string(),
            Self::Amount(a) => a.to_string(),
        }
    }

    /// Writes the answer in the words a grower reads.
    #[must_use]
    pub fn say(self, fact: &Fact) -> String {
        match (self, &fact.kind) {
            (Self::NotSure, _) => "not sure".into(),
            (Self::Choice(c), _) => fact
                .choices()
                .get(usize::from(c))
                .map_or_else(String::new, |c| c.say.clone().into()),
            (Self::Several { yes, unknown }, _) => {
                let mut said: Vec<&str> = fact
                    .choices()
                    .iter()
                    .enumerate()
                    .filter(|(i, _)| yes >> i & 1 == 1)
                    .map(|(_, c)| c.say.as_str())
                    .collect();
                if unknown != 0 {
                    said.push("the rest cannot be told");
                }
                if said.is_empty() {
                    said.push("looked: none of these");
                }
                said.join("; ")
            }
            (Self::Number(n), Kind::Number(range)) => {
                if let Some(band) = range.bands.iter().find(|b| {
                    !n.is_point()
                        && b.from.total_cmp(&n.lo()).is_eq()
                        && b.below.total_cmp(&n.hi()).is_eq()
                }) {
                    return band.say.clone().into();
                }
                say_number(n, range)
            }
            (other, _) => other.write(fact),
        }
    }
}

fn say_number(n: Interval, range: &NumberRange) -> String {
    let unit = match range.unit.as_str() {
        "pH" => String::new(),
        unit => format!(" {unit}"),
    };
    if n.is_point() {
        let one = (n.lo() - 1.0).abs() < f64::EPSILON;
        let unit = match unit.strip_suffix('s') {
            Some(single) if one => single,
            _ => &unit,
        };
        format!("{}{unit}", crate::quantity::show_number(n.lo()))
    } else if n.hi() >= range.max {
        format!("{}{unit} or more", crate::quantity::show_number(n.lo()))
    } else if n.lo() <= range.min {
        format!("less than {}{unit}", crate::quantity::show_number(n.hi()))
    } else {
        format!(
            "{} to {}{unit}",
            crate::quantity::show_number(n.lo()),
            crate::quantity::show_number(n.hi())
        )
    }
}

fn read_choice(fact: &Fact, lower: &str) -> Result<u8, String> {
    if let Some(at) = fact.choice_index(lower) {
        return Ok(at);
    }
    let spaced = lower.replace('_', " ");
    let found = fact.choices().iter().position(|c| {
        c.id == lower
            || c.id.replace('_', " ") == spaced
            || c.say.to_lowercase() == lower
            || c.words.iter().any(|w| *w == spaced)
    });
    if let Some(at) = found.and_then(|at| u8::try_from(at).ok()) {
        return Ok(at);
    }
    let ids: Vec<&str> = fact.choices().iter().map(|c| c.id.as_str()).collect();
    let hint = nearest(lower, ids.iter().copied())
        .map_or_else(String::new, |n| format!("; did you mean {n}?"));
    Err(format!(
        "\"{lower}\" is none of its answers ({}, not_sure){hint}",
        ids.join(", ")
    ))
}

fn read_number(range: &NumberRange, text: &str) -> Result<Interval, String> {
    if let Some(band) = range.bands.iter().find(|b| b.id == text) {
        return Ok(Interval::spanning(band.from, band.below));
    }
    let read = crate::quantity::parse_in_unit(text, &range.unit).map_err(|e| e.to_string())?;
    let (low, high) = (
        crate::quantity::show_number(range.min),
        crate::quantity::show_number(range.max),
    );
    if read.lo() < range.min || read.lo() > range.max || (read.is_point() && read.hi() > range.max)
    {
        return Err(format!(
            "{} is out of range; it must lie between {low} and {high} {}",
            crate::quantity::show_number(read.lo()),
            range.unit
        ));
    }
    Ok(Interval::spanning(
        read.lo(),
        read.hi().min(range.max.max(read.lo())),
    ))
}

/// What a tick may settle: the kinds of answer that knowledge files hold.
impl Packed for Value {
    fn pack(&self, out: &mut Writer) {
        match self {
            Self::NotSure => out.byte(0),
            Self::Choice(at) => {
                out.byte(1);
                at.pack(out);
            }
            Self::Several { yes, unknown } => {
                out.byte(2);
                (*yes, *unknown).pack(out);
            }
            Self::Number(number) => {
                out.byte(3);
                (number.lo(), number.hi()).pack(out);
            }
            // No file holds one; the build reads back what it packs, and would stop here.
            Self::Grade(_) | Self::Rate(_) | Self::Amount(_) => out.byte(u8::MAX),
        }
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        match from.byte()? {
            0 => Some(Self::NotSure),
            1 => u8::unpack(from).map(Self::Choice),
            2 => {
                let (yes, unknown) = Packed::unpack(from)?;
                Some(Self::Several { yes, unknown })
            }
            3 => {
                let (lo, hi) = Packed::unpack(from)?;
                Interval::new(lo, hi).ok().map(Self::Number)
            }
            _ => None,
        }
    }
}
