//! The place of a record as of one day: half of the earth, typical months, water, rules, cans. What was said and cannot be read
//! is told with how to mend it; a rule of the place that cannot be read holds every day.

use super::climate::{Hemisphere, read_placed};
use super::due::whole_days;
use super::garden::Words;
use crate::knowledge::{Months, Rates};
use jiff::ToSpan;
use jiff::civil::Date;

/// What is said of a rule of the place that is no more.
pub const LIFTED: &str = "lifted";

/// A rule of the place: no nitrogen, phosphate or both between two days of the year.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ban {
    /// Its name.
    pub name: String,
    /// First day: month and day.
    pub from: (i8, i8),
    /// Last day, included: month and day.
    pub to: (i8, i8),
    /// Nitrogen is banned.
    pub nitrogen: bool,
    /// Phosphate is banned.
    pub phosphate: bool,
}

impl Ban {
    /// Reads `06-01..09-30 nitrogen phosphate`.
    ///
    /// # Errors
    /// Says how to write it.
    pub fn read(name: &str, text: &str) -> Result<Self, String> {
        let wrong = || {
            format!(
                "{text}: write it as MM-DD..MM-DD and what is banned, such as 06-01..09-30 nitrogen phosphate"
            )
        };
        let (span, what) = text.trim().split_once(' ').ok_or_else(wrong)?;
        let (from, to) = span.split_once("..").ok_or_else(wrong)?;
        let day = |t: &str| -> Option<(i8, i8)> {
            let (m, d) = t.split_once('-')?;
            let (m, d) = (m.parse().ok()?, d.parse().ok()?);
            // A leap year, so that the 29th of February is a day.
            Date::new(2028, m, d).ok().map(|_| (m, d))
        };
        let mut ban = Self {
            name: name.to_owned(),
            from: day(from).ok_or_else(wrong)?,
            to: day(to).ok_or_else(wrong)?,
            nitrogen: false,
            phosphate: false,
        };
        // Word by word: "no nitrogen needed" is no rule that the program understands.
        for word in what
            .split(|c: char| c.is_whitespace() || c == ',')
            .filter(|w| !w.is_empty())
        {
            match word.to_lowercase().as_str() {
                "nitrogen" => ban.nitrogen = true,
                "phosphate" => ban.phosphate = true,
                "and" => {}
                _ => return Err(wrong()),
            }
        }
        (ban.nitrogen || ban.phosphate)
            .then_some(ban)
            .ok_or_else(wrong)
    }

    /// A rule that cannot be read: it holds every day until it is entered anew.
    fn unreadable(name: &str) -> Self {
        Self {
            name: format!("{name} (cannot be read, so it holds every day)"),
            from: (1, 1),
            to: (12, 31),
            nitrogen: true,
            phosphate: true,
        }
    }

    /// Whether it is in force on a day; a span may run over the year's end.
    #[must_use]
    pub fn holds(&self, day: Date) -> bool {
        let at = (day.month(), day.day());
        if self.from <= self.to {
            self.from <= at && at <= self.to
        } else {
            at >= self.from || at <= self.to
        }
    }
}

/// The place.
#[derive(Debug, Clone, Default)]
pub struct Site {
    /// Half of the earth.
    pub hemisphere: Option<Hemisphere>,
    /// Typical means, °C.
    pub temperature: Option<Months>,
    /// Typical rain, mm.
    pub rain: Option<Months>,
    /// Facts of the water: fact and value.
    pub water: Vec<(String, String)>,
    /// Hardness of the water, mg/L as CaCO3.
    pub water_hardness: Option<f64>,
    /// Alkalinity of the water, mg/L as CaCO3.
    pub water_alkalinity: Option<f64>,
    /// Chloride of the water, mg/L.
    pub water_chloride: Option<f64>,
    /// Local bans.
    pub bans: Vec<Ban>,
    /// Sizes of the grower's cans, litres.
    pub cans: Vec<f64>,
    /// What was said of the place and cannot be read, with how to mend it.
    pub unreadable: Vec<String>,
}

/// Reads sizes of cans such as `9 L, 5 L`, in litres.
///
/// # Errors
/// Says how to write them.
pub fn read_cans(text: &str) -> Result<Vec<f64>, String> {
    let sizes: Vec<f64> = text
        .split(',')
        .map(str::trim)
        .filter(|t| !t.is_empty())
        .map(|t| {
            crate::quantity::parse_volume(t, None)
                .map_err(|e| format!("{t}: {e}"))?
                .mid()
                .filter(|l| (0.2..=1000.0).contains(l))
                .ok_or_else(|| format!("{t}: a can holds 0.2 to 1000 L"))
        })
        .collect::<Result<_, String>>()?;
    if sizes.is_empty() {
        return Err("write the sizes as 9 L, 5 L".into());
    }
    Ok(sizes)
}

/// What the last word on each thing of the place says.
pub(super) fn site(words: &Words) -> Site {
    let word = |what: &str| words.get(what).map(|(value, _)| value.as_str());
    let figure = |what: &str| word(what).and_then(|t| t.parse::<f64>().ok());
    let mut unreadable = Vec::new();
    let mut told = |what: &str, wrong: String| {
        unreadable.push(format!(
            "{}: it cannot be read ({wrong}); say it anew with tubgrove site --{}",
            what.replace('_', " "),
            match what {
                "can_sizes" => "cans".to_owned(),
                ban if ban.starts_with("ban ") => "ban".to_owned(),
                other => other.replace('_', "-"),
            }
        ));
    };
    let hemisphere = word("hemisphere").and_then(|text| {
        let half = Hemisphere::of(text);
        if half.is_none() {
            told("hemisphere", format!("{text}: say north or south"));
        }
        half
    });
    let mut months = |what: &str, least: f64, most: f64| {
        let read = read_placed(word(what)?, hemisphere, least, most);
        read.map_err(|wrong| told(what, wrong)).ok()
    };
    let temperature = months("temperature", -60.0, 60.0);
    let rain = months("rain", 0.0, 2000.0);
    for what in ["water_hardness", "water_alkalinity", "water_chloride"] {
        if let Some(text) = word(what).filter(|_| figure(what).is_none()) {
            told(what, format!("{text}: not a number"));
        }
    }
    let cans = word("can_sizes").map_or_else(Vec::new, |t| {
        read_cans(t).unwrap_or_else(|wrong| {
            told("can_sizes", wrong);
            Vec::new()
        })
    });
    let bans = words
        .iter()
        .filter_map(|(what, (value, _))| {
            let name = what.strip_prefix("ban ").filter(|_| value != LIFTED)?;
            Some(Ban::read(name, value).unwrap_or_else(|wrong| {
                told(what, wrong);
                Ban::unreadable(name)
            }))
        })
        .collect();
    Site {
        hemisphere,
        temperature,
        rain,
        water: ["water_source", "water_ec", "spoon_system"]
            .into_iter()
            .filter_map(|f| word(f).map(|v| (f.to_owned(), v.to_owned())))
            .collect(),
        water_hardness: figure("water_hardness"),
        water_alkalinity: figure("water_alkalinity"),
        water_chloride: figure("water_chloride"),
        cans,
        bans,
        unreadable,
    }
}

impl Site {
    /// The coming span in which it is too late for a slow feed: the six weeks before the cold season and that season, first
    /// day and the day after the last; `None` where no cold comes or neither temperatures nor hemisphere are known. Where only
    /// the hemisphere is known, the cold season is taken as the three months of winter.
    #[must_use]
    pub fn too_late_for_slow(&self, rates: &Rates, today: Date) -> Option<(Date, Date)> {
        let cold = |day: Date| match (&self.temperature, self.hemisphere) {
            (Some(months), _) => super::climate::is_cold(rates, months, day),
            (None, Some(half)) => super::climate::season(rates, half, None, day) == "winter",
            (None, None) => false,
        };
        let first = today.series(1.day()).take(400).find(|day| cold(*day))?;
        let warm = first.series(1.day()).take(366).find(|day| !cold(*day))?;
        Some((
            first
                .checked_sub(whole_days(rates.nitrogen_ends).days())
                .ok()?,
            warm,
        ))
    }

    /// The bans in force on a day.
    pub fn bans_on(&self, day: Date) -> impl Iterator<Item = &Ban> {
        self.bans.iter().filter(move |b| b.holds(day))
    }

    /// The first day from this one on without a ban; `None` where they leave none within a year.
    #[must_use]
    pub fn free_of_bans(&self, from: Date) -> Option<Date> {
        from.series(1.day())
            .take(366)
            .find(|day| self.bans_on(*day).next().is_none())
    }
}
