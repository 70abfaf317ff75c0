//! Too much in words: what was given and when, what mends it, and the command that enters it.

use super::aftermath::TooMuch;
use super::event::{Event, Kind};
use super::garden::{Product, Story, product};
use super::name::quoted;
use super::too_much::measure;
use crate::knowledge::Rates;
use crate::quantity::{show_grams, show_litres};

impl TooMuch {
    fn event<'s>(&self, story: &'s Story) -> Option<&'s Event> {
        let entry = self.entry?;
        story.events.iter().find(|e| e.seq == entry)
    }

    /// What was given and when: "300 g of Powder on 2025-10-01", or the plan that tells of it.
    #[must_use]
    pub fn given(&self, story: &Story, products: &[Product]) -> String {
        let Some(e) = self.event(story) else {
            return format!("the rescue plan of {}", self.day);
        };
        let what = match e.kind {
            Kind::Epsom => "Epsom salt",
            _ => product(e, products).map_or("feed", |p| p.subject.name.as_str()),
        };
        let grams = e.grams.map_or_else(String::new, |g| show_grams(g) + " of ");
        format!("{grams}{what} on {}", self.day)
    }

    /// How many times what the pot takes that was, in words, with the feeds of the two weeks before where they count in it.
    #[must_use]
    pub fn times(&self, rates: &Rates, story: &Story, products: &[Product]) -> Option<String> {
        let at = story
            .events
            .iter()
            .position(|e| Some(e.seq) == self.entry)?;
        let strong = measure(
            rates,
            story,
            products,
            story.events.get(..at)?,
            story.events.get(at)?,
        )?;
        Some(strong.in_words())
    }

    /// What is to be done, without the full stop.
    #[must_use]
    pub fn to_do(&self) -> String {
        if self.soaked {
            "slide the tree out, let the ball drain and pot it fresh; do not flush a soaked pot"
                .to_owned()
        } else if self.fresh_mix {
            "take off what lies on the mix and give fresh mix; water does not wash it out"
                .to_owned()
        } else {
            format!(
                "pour {} of plain water through slowly, unless the pot is soaked or smells sour",
                show_litres(self.water_wanting)
            )
        }
    }

    /// The command that enters it.
    #[must_use]
    pub fn entered_by(&self, story: &Story) -> String {
        let name = quoted(&story.tree.name);
        if self.fresh_mix {
            format!("tubgrove log repot --tree {name}")
        } else {
            format!(
                "tubgrove log flush --tree {name} \"{}\"",
                show_litres(self.water_wanting)
            )
        }
    }

    /// How a plan that was only looked at is taken back; nothing where an entry tells of it.
    #[must_use]
    pub fn taken_back_by(&self, story: &Story) -> Option<String> {
        self.entry.is_none().then(|| {
            format!(
                "tubgrove log undo rescue --tree {}",
                quoted(&story.tree.name)
            )
        })
    }
}
