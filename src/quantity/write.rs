//! Amounts, rates and ranges written the way they are read back.

use std::fmt;

use super::amount::{Measure, SpoonUnit};
use super::grade::Grade;
use super::interval::Interval;
use super::label::{LabelRate, Per};
use super::planned::PlannedAmount;
use super::show::show_number;
use super::units::SpoonSystem;

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Grams(g) => write!(f, "{g} g"),
            Self::Millilitres(ml) => write!(f, "{ml} mL"),
            Self::Spoons {
                count,
                unit,
                system,
            } => {
                let unit = match unit {
                    SpoonUnit::Teaspoon => "tsp",
                    SpoonUnit::Tablespoon => "tbsp",
                    SpoonUnit::Cup => "cup",
                };
                match system {
                    Some(SpoonSystem::Us) => write!(f, "{count} US {unit}"),
                    Some(SpoonSystem::Metric) => write!(f, "{count} metric {unit}"),
                    Some(SpoonSystem::Australian) => write!(f, "{count} Australian {unit}"),
                    None => write!(f, "{count} {unit}"),
                }
            }
        }
    }
}

impl fmt::Display for PlannedAmount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.water_litres {
            Some(litres) => write!(f, "{} in {litres} L", self.amount),
            None => write!(f, "{}", self.amount),
        }
    }
}

impl fmt::Display for LabelRate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.per {
            Per::LitresOfWater(litres) => write!(f, "{} per {litres} L", self.amount),
            Per::LitresOfMix(litres) => write!(f, "{} per {litres} L of mix", self.amount),
            Per::Pot => write!(f, "{} per pot", self.amount),
            Per::Tree => write!(f, "{} per tree", self.amount),
        }
    }
}

impl Grade {
    /// The grade to the last digit, as it is saved; what is shown is rounded to tenths.
    #[must_use]
    pub fn write(self) -> String {
        format!("{}-{}-{}", self.n(), self.p2o5(), self.k2o())
    }
}

impl Interval {
    /// `14`, `7..14`, `28..`: the way [`Interval::parse`] reads it.
    #[must_use]
    pub fn write(self) -> String {
        if self.is_point() {
            show_number(self.lo())
        } else if self.hi().is_infinite() {
            format!("{}..", show_number(self.lo()))
        } else {
            format!("{}..{}", show_number(self.lo()), show_number(self.hi()))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::GradeBasis;

    #[test]
    fn a_grade_is_saved_to_the_last_digit() {
        for typed in ["24-0.08-12", "6.9-2.9-3.4", "24-8-16", "0.04-0-0"] {
            let read = Grade::parse(typed, GradeBasis::Oxide).unwrap();
            assert_eq!(read.write(), typed);
            assert_eq!(Grade::parse(&read.write(), GradeBasis::Oxide), Ok(read));
        }
    }

    #[test]
    fn what_is_written_reads_back_the_same() {
        for typed in ["15 g in 5 L", "2 tbsp", "3 metric tsp", "10 mL in 2 L"] {
            let read = PlannedAmount::parse(typed).unwrap();
            assert_eq!(PlannedAmount::parse(&read.to_string()), Ok(read), "{typed}");
        }
        for typed in [
            "5 mL per L",
            "2 tbsp per pot",
            "4 g per litre of mix",
            "1 tbsp per gallon",
            "2 Australian tbsp per tree",
        ] {
            let read = LabelRate::parse(typed).unwrap();
            assert_eq!(LabelRate::parse(&read.to_string()), Ok(read), "{typed}");
        }
        for typed in ["14", "7..14", "28.."] {
            let read = Interval::parse(typed).unwrap();
            assert_eq!(Interval::parse(&read.write()), Ok(read), "{typed}");
        }
    }
}
