//! Advice: a condition and a text.

use super::Linker;
use crate::facts::Condition;
use crate::knowledge::model::Advice;
use crate::knowledge::problem::Problems;
use crate::knowledge::raw::AdviceFile;

impl Linker<'_> {
    pub(super) fn advice(&self, file: AdviceFile, problems: &mut Problems) -> Vec<Advice> {
        file.advice
            .into_iter()
            .filter_map(|raw| {
                let when = match &raw.when {
                    Some(text) => self.condition("advice.yaml", &raw.id, text, problems)?,
                    None => Condition::Always,
                };
                Some(Advice {
                    id: raw.id,
                    part: raw.part,
                    walks: raw.walks,
                    when,
                    text: raw.text,
                    why: raw.why,
                    wait: raw.wait,
                    with: raw.with,
                    mark: raw.mark,
                    source: raw.source,
                })
            })
            .collect()
    }
}
