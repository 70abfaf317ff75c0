//! A leaf analysis against the published tables, side by side: they do not agree, and neither is preferred.

use super::standards::{LeafRow, LeafTable, Standards};

/// Where a figure lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Band {
    /// Short.
    Deficient,
    /// Low.
    Low,
    /// As it should be.
    Optimum,
    /// High.
    High,
    /// Too much.
    Excess,
}

impl Band {
    /// As scripts read it.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Self::Deficient => "short",
            Self::Low => "low",
            Self::Optimum => "optimum",
            Self::High => "high",
            Self::Excess => "too_much",
        }
    }

    /// In words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Deficient => "short",
            Self::Low => "low",
            Self::Optimum => "as it should be",
            Self::High => "high",
            Self::Excess => "too much",
        }
    }
}

/// What several tables say of one figure together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Together {
    /// The same band, or only one table speaks.
    Same,
    /// All of them call it too little, some of them more so.
    TooLittle,
    /// All of them call it too much, some of them more so.
    TooMuch,
    /// One calls it right, or the one too little and the other too much.
    Apart,
}

/// What the tables say together.
#[must_use]
pub fn together(lines: &[LeafLine<'_>]) -> Together {
    let bands = || lines.iter().map(|l| l.band);
    match (bands().min(), bands().max()) {
        (Some(low), Some(high)) if low == high => Together::Same,
        (Some(_), Some(high)) if high < Band::Optimum => Together::TooLittle,
        (Some(low), Some(_)) if low > Band::Optimum => Together::TooMuch,
        (Some(_), Some(_)) => Together::Apart,
        _ => Together::Same,
    }
}

/// One nutrient in one table.
#[derive(Debug, Clone)]
pub struct LeafLine<'s> {
    /// The table.
    pub table: &'s LeafTable,
    /// Its row.
    pub row: &'s LeafRow,
    /// Where the figure lies.
    pub band: Band,
}

impl LeafRow {
    /// Where a figure lies. Printed bands leave gaps; a figure in a gap is read as the band below it (own choice).
    #[must_use]
    pub fn band(&self, value: f64) -> Band {
        let from = |range: Option<[f64; 2]>| range.map(|[low, _]| low);
        if self.excess_above.is_some_and(|most| value > most) {
            return Band::Excess;
        }
        [
            (from(self.high), Band::High),
            (from(self.optimum), Band::Optimum),
            (from(self.low), Band::Low),
        ]
        .into_iter()
        .find_map(|(start, band)| start.filter(|s| value >= *s).map(|_| band))
        .unwrap_or(match (self.low, self.optimum) {
            // A row that begins with "high" says nothing of a shortage.
            (None, None) => Band::Optimum,
            _ => Band::Deficient,
        })
    }
}

/// A figure in every table that has the nutrient, by its sign in any case.
#[must_use]
pub fn leaf<'s>(standards: &'s Standards, nutrient: &str, value: f64) -> Vec<LeafLine<'s>> {
    standards
        .leaf_tables
        .iter()
        .filter_map(|table| {
            let row = table
                .rows
                .iter()
                .find(|row| row.nutrient.eq_ignore_ascii_case(nutrient))?;
            Some(LeafLine {
                table,
                row,
                band: row.band(value),
            })
        })
        .collect()
}

/// A spray of zinc or manganese, and whether the figure shows a need for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spray {
    /// The element.
    pub element: &'static str,
    /// mg of the element in a litre that cleared the signs on citrus (published: Texas citrus, J. Plant Nutrition 14, 1991).
    pub mg_per_litre: f64,
    /// The salt.
    pub salt: &'static str,
    /// Share of the element in the salt, from its formula.
    pub share: f64,
    /// Whether every table calls the figure low or short.
    pub needed: bool,
}

impl Spray {
    /// Grams of the salt in a litre.
    #[must_use]
    pub fn salt_grams(&self) -> f64 {
        self.mg_per_litre / 1000.0 / self.share
    }
}

/// The spray that goes with a nutrient: zinc and manganese alone go onto leaves, and only where every table calls them low, so
/// the highest band decides. `None` for the others, and where no table has it.
#[must_use]
pub fn spray(nutrient: &str, lines: &[LeafLine<'_>]) -> Option<Spray> {
    let (element, mg_per_litre, salt, share) = match nutrient.to_lowercase().as_str() {
        "zn" => ("zinc", 216.0, "zinc sulfate (seven-water salt)", 0.2274),
        "mn" => (
            "manganese",
            168.0,
            "manganese sulfate (one-water salt)",
            0.3251,
        ),
        _ => return None,
    };
    let highest = lines.iter().map(|l| l.band).max()?;
    Some(Spray {
        element,
        mg_per_litre,
        salt,
        share,
        needed: highest <= Band::Low,
    })
}
