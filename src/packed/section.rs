//! A part of the model that is read when somebody first looks into it.

use super::{Packed, Reader, Writer};
use std::fmt;
use std::ops::{Deref, DerefMut};
use std::sync::OnceLock;

/// A part of the model: there from the start, or packed until it is looked into.
#[derive(Clone)]
pub struct Section<T> {
    // In a box, so that a part that nobody looks into takes no more room than its address.
    value: OnceLock<Box<T>>,
    packed: Option<Reader>,
}

impl<T: Packed> Deref for Section<T> {
    type Target = T;

    fn deref(&self) -> &T {
        self.value.get_or_init(|| {
            let read = self
                .packed
                .and_then(|mut packed| T::unpack(&mut packed).map(Box::new));
            match read {
                Some(read) => read,
                // The build has read every section back. Should one be broken all the same, half a model must not decide
                // about a tree: the program stops.
                None => unreachable!("a part of the knowledge inside the program is broken"),
            }
        })
    }
}

impl<T: Packed> DerefMut for Section<T> {
    fn deref_mut(&mut self) -> &mut T {
        let _: &T = self;
        match self.value.get_mut() {
            Some(value) => value,
            None => unreachable!("it was read the line before"),
        }
    }
}

impl<T> From<T> for Section<T> {
    fn from(value: T) -> Self {
        Self {
            value: OnceLock::from(Box::new(value)),
            packed: None,
        }
    }
}

impl<T: Packed> Packed for Section<T> {
    fn pack(&self, out: &mut Writer) {
        out.section(|out| (**self).pack(out));
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        Some(Self {
            value: OnceLock::new(),
            packed: Some(from.section()?),
        })
    }
}

impl<T: Packed + fmt::Debug> fmt::Debug for Section<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        (**self).fmt(f)
    }
}

impl<'a, T> IntoIterator for &'a Section<Vec<T>>
where
    T: Packed,
{
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}
