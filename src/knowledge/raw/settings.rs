//! Pairs of a fact and its value, in which a number or a yes may stand bare.

use crate::facts::Text;
use serde::Deserialize;
use serde::de::{self, Deserializer, MapAccess, Visitor};
use std::fmt;

/// `fact: value` pairs in the order of the file; a fact that stands there twice is refused.
#[derive(Debug, Default)]
pub(in crate::knowledge) struct Settings(pub(in crate::knowledge) Vec<(Text, String)>);

impl<'de> Deserialize<'de> for Settings {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Pairs;
        impl<'de> Visitor<'de> for Pairs {
            type Value = Settings;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("settings, each a fact and its value")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Settings, A::Error> {
                let mut list: Vec<(Text, String)> = Vec::new();
                while let Some((key, value)) = map.next_entry::<Text, Scalar>()? {
                    if list.iter().any(|(k, _)| *k == key) {
                        return Err(de::Error::custom(format_args!("duplicate field `{key}`")));
                    }
                    list.push((key, value.0));
                }
                Ok(Settings(list))
            }
        }
        deserializer.deserialize_map(Pairs)
    }
}

/// A word or number as text; yes and no however they are written.
struct Scalar(String);

impl<'de> Deserialize<'de> for Scalar {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Word;
        impl Visitor<'_> for Word {
            type Value = Scalar;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a word or a number")
            }

            fn visit_str<E: de::Error>(self, word: &str) -> Result<Scalar, E> {
                Ok(Scalar(word.to_owned()))
            }

            fn visit_bool<E: de::Error>(self, yes: bool) -> Result<Scalar, E> {
                Ok(Scalar(if yes { "yes" } else { "no" }.to_owned()))
            }

            fn visit_i64<E: de::Error>(self, number: i64) -> Result<Scalar, E> {
                Ok(Scalar(number.to_string()))
            }

            fn visit_u64<E: de::Error>(self, number: u64) -> Result<Scalar, E> {
                Ok(Scalar(number.to_string()))
            }

            fn visit_f64<E: de::Error>(self, number: f64) -> Result<Scalar, E> {
                Ok(Scalar(number.to_string()))
            }
        }
        deserializer.deserialize_any(Word)
    }
}
