//! Other words that local rules give to entries: any key of an entry may stand there.

use crate::facts::Text;
use serde::Deserialize;
use serde::de::{self, Deserializer, MapAccess, Visitor};
use std::fmt;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::knowledge) struct TextsFile {
    pub(in crate::knowledge) texts: Vec<RawText>,
}

/// Other words for one entry of an overlay: `of` names it, every other key is one of its texts.
#[derive(Debug)]
pub(in crate::knowledge) struct RawText {
    pub(in crate::knowledge) of: Text,
    pub(in crate::knowledge) words: Vec<(Text, Words)>,
}

/// One text, or a list of lines.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
pub(in crate::knowledge) enum Words {
    Line(Text),
    Lines(Vec<Text>),
}

impl Words {
    /// The lines; one where it is one text.
    pub(in crate::knowledge) fn lines(&self) -> Vec<Text> {
        match self {
            Self::Line(line) => vec![line.clone()],
            Self::Lines(lines) => lines.clone(),
        }
    }
}

impl<'de> Deserialize<'de> for RawText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Entry;
        impl<'de> Visitor<'de> for Entry {
            type Value = RawText;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an entry with of and the texts that it gives")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<RawText, A::Error> {
                let mut of = None;
                let mut words: Vec<(Text, Words)> = Vec::new();
                while let Some(key) = map.next_key::<Text>()? {
                    if words.iter().any(|(k, _)| *k == key) || (key == "of" && of.is_some()) {
                        return Err(de::Error::custom(format_args!("duplicate field `{key}`")));
                    }
                    if key == "of" {
                        of = Some(map.next_value()?);
                    } else {
                        words.push((key, map.next_value()?));
                    }
                }
                let of = of.ok_or_else(|| de::Error::missing_field("of"))?;
                Ok(RawText { of, words })
            }
        }
        deserializer.deserialize_map(Entry)
    }
}
