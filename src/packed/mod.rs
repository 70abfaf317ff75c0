//! The linked knowledge as bytes, so that a start neither parses nor links.
//!
//! Positional: every field in its order, nothing named, so only the program that was built with the bytes can read them.
//! `build.rs` packs the model with this very code. Texts stand in one block apart, each once, and are borrowed from it: what
//! is never shown is never touched. A [`Section`] is read when it is first looked into.

mod plain;
mod section;

pub use section::Section;

use std::collections::HashMap;

/// What can be packed and read back.
pub trait Packed: Sized {
    /// Appends it.
    fn pack(&self, out: &mut Writer);

    /// Reads it back; `None` where the bytes hold no such thing.
    fn unpack(from: &mut Reader) -> Option<Self>;
}

/// Where things are packed to.
#[derive(Debug, Default)]
pub struct Writer {
    data: Vec<u8>,
    texts: String,
    /// Where each text stands.
    known: HashMap<String, usize>,
}

impl Writer {
    /// The bytes and the texts.
    #[must_use]
    pub fn finish(self) -> (Vec<u8>, String) {
        (self.data, self.texts)
    }

    /// Appends one byte.
    pub fn byte(&mut self, byte: u8) {
        self.data.push(byte);
    }

    /// Appends a whole number, seven bits to the byte, the lowest first.
    fn number(&mut self, mut number: u64) {
        while number > 0x7f {
            self.byte(u8::try_from(number & 0x7f).unwrap_or_default() | 0x80);
            number >>= 7;
        }
        self.byte(u8::try_from(number).unwrap_or_default());
    }

    /// Appends a text: its length, and where it begins.
    fn text(&mut self, text: &str) {
        self.number(text.len() as u64);
        if !text.is_empty() {
            let at = self.known.get(text).copied().unwrap_or(self.texts.len());
            if at == self.texts.len() {
                self.texts.push_str(text);
                self.known.insert(text.to_owned(), at);
            }
            self.number(at as u64);
        }
    }

    /// Appends what `pack` packs, with its length before it.
    fn section(&mut self, pack: impl FnOnce(&mut Self)) {
        let before = std::mem::take(&mut self.data);
        pack(self);
        let section = std::mem::replace(&mut self.data, before);
        self.number(section.len() as u64);
        self.data.extend(section);
    }
}

/// Where things are read from; what is left of it.
#[derive(Debug, Clone, Copy)]
pub struct Reader {
    data: &'static [u8],
    texts: &'static str,
}

impl Reader {
    /// Reads these bytes, with the texts that they point to.
    #[must_use]
    pub fn new(data: &'static [u8], texts: &'static str) -> Self {
        Self { data, texts }
    }

    /// The next byte.
    pub fn byte(&mut self) -> Option<u8> {
        let (first, rest) = self.data.split_first()?;
        self.data = rest;
        Some(*first)
    }

    fn number(&mut self) -> Option<u64> {
        // Most numbers are small.
        match self.data.split_first()? {
            (byte, rest) if *byte < 0x80 => {
                self.data = rest;
                Some(u64::from(*byte))
            }
            _ => self.large_number(),
        }
    }

    fn large_number(&mut self) -> Option<u64> {
        let mut number = 0;
        let mut shift = 0_u32;
        loop {
            let byte = self.byte()?;
            number |= u64::from(byte & 0x7f).checked_shl(shift)?;
            if byte & 0x80 == 0 {
                return Some(number);
            }
            shift = shift.checked_add(7)?;
        }
    }

    fn length(&mut self) -> Option<usize> {
        usize::try_from(self.number()?).ok()
    }

    fn text(&mut self) -> Option<&'static str> {
        let length = self.length()?;
        if length == 0 {
            return Some("");
        }
        let at = self.length()?;
        self.texts.get(at..at.checked_add(length)?)
    }

    fn eight(&mut self) -> Option<[u8; 8]> {
        let (eight, rest) = self.data.split_first_chunk()?;
        self.data = rest;
        Some(*eight)
    }

    /// The next section, to be read later.
    fn section(&mut self) -> Option<Self> {
        let length = self.length()?;
        let (data, rest) = self.data.split_at_checked(length)?;
        self.data = rest;
        Some(Self {
            data,
            texts: self.texts,
        })
    }
}

/// Packs structures field by field. A field that the list lacks does not compile.
macro_rules! packed {
    ($($name:ident { $($field:ident),+ $(,)? })+) => {$(
        impl $crate::packed::Packed for $name {
            fn pack(&self, out: &mut $crate::packed::Writer) {
                let Self { $($field),+ } = self;
                $($crate::packed::Packed::pack($field, out);)+
            }

            fn unpack(from: &mut $crate::packed::Reader) -> Option<Self> {
                Some(Self { $($field: $crate::packed::Packed::unpack(from)?),+ })
            }
        }
    )+};
}
pub(crate) use packed;

/// Packs an enumeration: a tag, then what the member holds. A member that the list lacks does not compile.
macro_rules! packed_enum {
    ($name:ident {
        $($tag:literal => $member:ident $(($($part:ident),+))? $({$($field:ident),+})?),+ $(,)?
    }) => {
        impl $crate::packed::Packed for $name {
            fn pack(&self, out: &mut $crate::packed::Writer) {
                match self {
                    $(Self::$member $(($($part),+))? $({$($field),+})? => {
                        out.byte($tag);
                        $($($crate::packed::Packed::pack($part, out);)+)?
                        $($($crate::packed::Packed::pack($field, out);)+)?
                    })+
                }
            }

            fn unpack(from: &mut $crate::packed::Reader) -> Option<Self> {
                match from.byte()? {
                    $($tag => {
                        $($(let $part = $crate::packed::Packed::unpack(from)?;)+)?
                        $($(let $field = $crate::packed::Packed::unpack(from)?;)+)?
                        Some(Self::$member $(($($part),+))? $({$($field),+})?)
                    })+
                    _ => None,
                }
            }
        }
    };
}
pub(crate) use packed_enum;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::Text;

    fn there_and_back<T: Packed>(value: &T) -> Option<T> {
        let mut out = Writer::default();
        value.pack(&mut out);
        let (data, texts) = out.finish();
        let mut from = Reader::new(data.leak(), texts.leak());
        let read = T::unpack(&mut from);
        assert!(from.data.is_empty());
        read
    }

    #[test]
    fn what_is_packed_is_read_back() {
        for number in [0, 1, 127, 128, 300, u64::from(u32::MAX), u64::MAX] {
            assert_eq!(there_and_back(&number), Some(number));
        }
        for number in [0.0, -1.5, f64::INFINITY, f64::MIN_POSITIVE] {
            assert_eq!(
                there_and_back(&number).map(f64::to_bits),
                Some(number.to_bits())
            );
        }
        let texts: Vec<Option<Text>> = vec![
            Some("½ L".into()),
            None,
            Some("".into()),
            Some("½ L".into()),
        ];
        assert_eq!(there_and_back(&texts), Some(texts));
        let pairs = vec![(true, 7_u8), (false, 255)];
        assert_eq!(there_and_back(&pairs), Some(pairs));
    }

    #[test]
    fn a_section_is_read_when_it_is_looked_into_and_what_follows_before() {
        let both = (Section::from(vec![1_u16, 600]), 5_u8);
        let read = there_and_back(&both);
        let (section, after) = read.unwrap();
        assert_eq!(after, 5);
        assert_eq!(*section, vec![1, 600]);
    }

    #[test]
    fn bytes_that_break_off_hold_nothing() {
        let mut out = Writer::default();
        vec![300_u64, 5].pack(&mut out);
        (1.5_f64, Text::from("leaf")).pack(&mut out);
        let (data, texts) = out.finish();
        let (data, texts): (&[u8], &str) = (data.leak(), texts.leak());
        for end in 0..data.len() {
            let mut from = Reader::new(&data[..end], texts);
            let read = Vec::<u64>::unpack(&mut from).zip(<(f64, Text)>::unpack(&mut from));
            assert_eq!(read, None, "{end}");
        }
        assert_eq!(Text::unpack(&mut Reader::new(&[3, 200, 1], "leaf")), None);
        assert_eq!(u64::unpack(&mut Reader::new(&[0xff; 12], "")), None);
    }
}
