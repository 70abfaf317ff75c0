//! What models are made of: numbers, texts, lists.

use super::{Packed, Reader, Writer};
use crate::facts::Text;
use std::collections::BTreeMap;

macro_rules! whole {
    ($($number:ty),+) => {$(
        impl Packed for $number {
            fn pack(&self, out: &mut Writer) {
                out.number(*self as u64);
            }

            fn unpack(from: &mut Reader) -> Option<Self> {
                Self::try_from(from.number()?).ok()
            }
        }
    )+};
}
whole!(u8, u16, u32, u64, usize);

impl Packed for bool {
    fn pack(&self, out: &mut Writer) {
        out.byte(u8::from(*self));
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        Some(from.byte()? == 1)
    }
}

impl Packed for f64 {
    fn pack(&self, out: &mut Writer) {
        for byte in self.to_le_bytes() {
            out.byte(byte);
        }
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        from.eight().map(Self::from_le_bytes)
    }
}

impl Packed for Text {
    fn pack(&self, out: &mut Writer) {
        out.text(self);
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        from.text().map(Self::from)
    }
}

impl Packed for String {
    fn pack(&self, out: &mut Writer) {
        out.text(self);
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        from.text().map(str::to_owned)
    }
}

impl<T: Packed> Packed for Option<T> {
    fn pack(&self, out: &mut Writer) {
        out.byte(u8::from(self.is_some()));
        if let Some(inner) = self {
            inner.pack(out);
        }
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        match from.byte()? {
            0 => Some(None),
            _ => T::unpack(from).map(Some),
        }
    }
}

impl<T: Packed> Packed for Box<T> {
    fn pack(&self, out: &mut Writer) {
        (**self).pack(out);
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        T::unpack(from).map(Self::new)
    }
}

impl<T: Packed> Packed for Vec<T> {
    fn pack(&self, out: &mut Writer) {
        self.len().pack(out);
        for item in self {
            item.pack(out);
        }
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        let length = from.length()?;
        // Nothing takes less than a byte, so no length can ask for more room than there are bytes.
        let mut list = Self::with_capacity(length.min(from.data.len()));
        for _ in 0..length {
            list.push(T::unpack(from)?);
        }
        Some(list)
    }
}

impl<T: Packed, const N: usize> Packed for [T; N] {
    fn pack(&self, out: &mut Writer) {
        for item in self {
            item.pack(out);
        }
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        let list: Option<Vec<T>> = (0..N).map(|_| T::unpack(from)).collect();
        list?.try_into().ok()
    }
}

impl<A: Packed, B: Packed> Packed for (A, B) {
    fn pack(&self, out: &mut Writer) {
        self.0.pack(out);
        self.1.pack(out);
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        Some((A::unpack(from)?, B::unpack(from)?))
    }
}

impl<K: Packed + Ord, V: Packed> Packed for BTreeMap<K, V> {
    fn pack(&self, out: &mut Writer) {
        self.len().pack(out);
        for (key, value) in self {
            key.pack(out);
            value.pack(out);
        }
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        Vec::<(K, V)>::unpack(from).map(Self::from_iter)
    }
}
