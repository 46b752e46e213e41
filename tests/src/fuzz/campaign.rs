//! Many cases one after the other, with a watch on memory and on cases that never end. It knows no test runner.

use super::{Input, Outcome, case, hold};
use peak_alloc::PeakAlloc;
use std::fmt;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

/// Which cases are gone through.
#[derive(Clone, Copy, Debug)]
pub struct Campaign {
    pub seed: u64,
    /// Of each kind of input.
    pub cases: u64,
    /// Every how many-th case is also computed.
    pub deep_every: u64,
}

/// What came of the cases of one kind.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    pub accepted: u64,
    pub refused: u64,
    pub failures: Vec<Failure>,
    /// The most that one case held beside its input, as a share of what it may.
    pub most_memory: f64,
}

/// A case that doesn't hold.
#[derive(Clone, Debug)]
pub struct Failure {
    pub input: Input,
    pub seed: u64,
    pub number: u64,
    pub why: String,
    pub bytes: Vec<u8>,
}

impl fmt::Display for Failure {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let why: String = self.why.chars().take(3_000).collect();
        write!(out, "{:?}, seed {}, case {} ({} bytes): {why}", self.input, self.seed, self.number, self.bytes.len())
    }
}

/// More failures than these are not kept: whoever mends them begins with the first.
const KEPT_FAILURES: usize = 30;

/// A case that takes longer than this hangs; the slowest sound ones take some tenths of a second.
const HANG: Duration = Duration::from_secs(120);

/// Bytes that a case may hold at its most: twenty times its input and 64 MiB.
#[must_use]
pub fn may_hold(input_bytes: usize) -> usize {
    20 * input_bytes + (64 << 20)
}

impl Campaign {
    /// Goes through the cases of one kind of input. The allocator must be the program's global one.
    #[must_use]
    pub fn run(&self, input: Input, allocator: &PeakAlloc) -> Tally {
        let watch = Watch::begin(input, self.seed);
        let mut tally = Tally::default();
        for number in 0..self.cases {
            watch.now_at(number);
            let bytes = case(input, self.seed, number);
            let before = allocator.current_usage();
            allocator.reset_peak_usage();
            let mut result = hold(input, &bytes, number % self.deep_every == 0);
            let held = allocator.peak_usage().saturating_sub(before);
            let share = held as f64 / may_hold(bytes.len()) as f64;
            tally.most_memory = tally.most_memory.max(share);
            if share > 1.0 {
                result = Err(format!("it held {held} bytes for an input of {}", bytes.len()));
            }
            tally.take(result, || (input, self.seed, number), bytes);
        }
        tally
    }
}

impl Tally {
    fn take(&mut self, result: Result<Outcome, String>, of: impl Fn() -> (Input, u64, u64), bytes: Vec<u8>) {
        match result {
            Ok(Outcome::Accepted) => self.accepted += 1,
            Ok(Outcome::Refused) => self.refused += 1,
            Err(why) if self.failures.len() < KEPT_FAILURES => {
                let (input, seed, number) = of();
                self.failures.push(Failure { input, seed, number, why, bytes });
            }
            Err(_) => {}
        }
    }
}

/// Ends the program with the number of the case that never ends.
struct Watch(Arc<AtomicU64>);

impl Watch {
    fn begin(input: Input, seed: u64) -> Self {
        let at = Arc::new(AtomicU64::new(u64::MAX - 1));
        let seen = Arc::downgrade(&at);
        std::thread::spawn(move || {
            let mut last = u64::MAX;
            while let Some(at) = seen.upgrade() {
                let now = at.load(Ordering::Relaxed);
                drop(at);
                if now == last {
                    eprintln!("{input:?}, seed {seed}, case {now} hangs");
                    std::process::abort();
                }
                last = now;
                std::thread::sleep(HANG);
            }
        });
        Watch(at)
    }

    fn now_at(&self, number: u64) {
        self.0.store(number, Ordering::Relaxed);
    }
}
