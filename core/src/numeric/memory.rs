//! A small memory of a pure function: what was asked for lately is not computed again. It never changes a value.

use std::cell::RefCell;

/// The latest values by what they were asked for, newest first.
pub struct Memory<K> {
    most: usize,
    latest: RefCell<Vec<(K, f64)>>,
}

impl<K: PartialEq> Memory<K> {
    /// Keeps the latest `most` values.
    pub const fn of_latest(most: usize) -> Self {
        Memory { most, latest: RefCell::new(Vec::new()) }
    }

    /// The value that is known for this key, else the computed one; `None` is not remembered.
    pub fn value(&self, key: K, compute: impl FnOnce() -> Option<f64>) -> Option<f64> {
        let known = self.latest.borrow().iter().find(|(other, _)| *other == key).map(|(_, value)| *value);
        if known.is_some() {
            return known;
        }
        let value = compute()?;
        let mut latest = self.latest.borrow_mut();
        latest.truncate(self.most.saturating_sub(1));
        latest.insert(0, (key, value));
        Some(value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_asked_lately_is_computed_once_and_the_oldest_is_forgotten() {
        let memory = Memory::of_latest(2);
        let asked = std::cell::Cell::new(0);
        let square = |number: u64| {
            memory.value(number, || {
                asked.set(asked.get() + 1);
                Some((number * number) as f64)
            })
        };
        assert_eq!([2, 3, 2, 3].map(square), [Some(4.0), Some(9.0), Some(4.0), Some(9.0)]);
        assert_eq!(asked.get(), 2);
        assert_eq!([4, 2].map(square), [Some(16.0), Some(4.0)]);
        assert_eq!(asked.get(), 4);
        assert_eq!(memory.value(9, || None), None);
    }
}
