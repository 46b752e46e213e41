//! What a run was asked for, and counts as shares.

use std::error::Error;

/// What was asked for.
#[derive(Clone, Debug)]
pub struct Request {
    /// Studies a cell.
    pub studies: u64,
    pub seed: u64,
    only: Option<String>,
}

/// How often something held, of how many.
#[derive(Clone, Copy, Debug, Default)]
pub struct Held {
    pub held: u64,
    pub of: u64,
}

impl Request {
    pub fn of(studies: u64, seed: u64) -> Self {
        Request { studies, seed, only: None }
    }

    pub fn parse(arguments: &[String]) -> Result<Self, Box<dyn Error>> {
        let mut request = Request::of(1000, 20_261_128);
        for pair in arguments.chunks(2) {
            match pair {
                [name, value] if name == "--studies" => request.studies = value.parse::<u64>()?.max(1),
                [name, value] if name == "--seed" => request.seed = value.parse()?,
                [name, value] if name == "--only" => request.only = Some(value.clone()),
                _ => return Err("usage: panel_rates [--studies N] [--seed N] [--only TOPIC]".into()),
            }
        }
        Ok(request)
    }

    pub fn wants(&self, topic: &str) -> bool {
        self.only.as_deref().is_none_or(|only| only == topic)
    }
}

impl Held {
    pub fn count(&mut self, held: bool) {
        self.held += u64::from(held);
        self.of += 1;
    }

    /// 0 where there was nothing to count.
    pub fn share(self) -> f64 {
        if self.of == 0 { 0.0 } else { self.held as f64 / self.of as f64 }
    }

    /// The share to three decimals.
    pub fn shown(self) -> String {
        if self.of == 0 { "–".to_owned() } else { format!("{:.3}", self.share()).replacen("0.", ".", 1) }
    }
}
