//! A small memory of a pure function: what was asked for lately is not computed again. It never changes a value.

use std::cell::RefCell;

/// The latest values by what they were asked for, newest first.
pub struct Memory<K, V = f64> {
    most: usize,
    latest: RefCell<Vec<(K, V)>>,
}

impl<K: PartialEq, V: Clone> Memory<K, V> {
    /// Keeps the latest `most` values.
    pub const fn of_latest(most: usize) -> Self {
        Memory { most, latest: RefCell::new(Vec::new()) }
    }

    /// The value that is known for this key, else the computed one; `None` is not remembered.
    pub fn value(&self, key: K, compute: impl FnOnce() -> Option<V>) -> Option<V> {
        if let Some(known) = self.known(&key) {
            return Some(known);
        }
        let value = compute()?;
        self.keep(key, value.clone());
        Some(value)
    }

    /// The value that is known for this key.
    pub fn known(&self, key: &K) -> Option<V> {
        self.latest.borrow().iter().find(|(other, _)| other == key).map(|(_, value)| value.clone())
    }

    /// Keeps a value that was computed elsewhere.
    pub fn keep(&self, key: K, value: V) {
        let mut latest = self.latest.borrow_mut();
        latest.truncate(self.most.saturating_sub(1));
        latest.insert(0, (key, value));
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
