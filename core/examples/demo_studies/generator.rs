//! The invented demo studies: what is true of each sample, how the panel scatters, and the seed. No person tasted
//! anything. It knows nothing of the engine: it writes text that the engine reads like any other file.

/// What is true of one sample: marks in mm on a 100 mm line, one an attribute, in the order of the ballot.
pub struct TrueSample {
    pub name: &'static str,
    pub marks_mm: &'static [f64],
}

/// One invented study. Scatter is given as standard deviations in mm.
pub struct Demo {
    pub file_name: &'static str,
    pub seed: u64,
    pub attributes: &'static [&'static str],
    pub samples: &'static [TrueSample],
    pub assessors: &'static [&'static str],
    pub replicates: usize,
    /// How far assessors differ in level, for one attribute.
    pub scatter_of_level_mm: f64,
    /// How far one assessor sees one sample differently from the panel.
    pub scatter_of_view_mm: f64,
    /// How far one assessor's marks for the same cup lie from each other.
    pub scatter_of_mark_mm: f64,
    pub slipped: Option<SlippedPage>,
}

/// A page on which somebody marked each line one too low, from the second line on.
pub struct SlippedPage {
    pub assessor: usize,
    pub sample: usize,
    pub replicate: usize,
}

/// Every demo study.
pub fn all() -> Vec<Demo> {
    vec![mango_nectar(), large_panel(), small_panel()]
}

/// Twelve assessors, five nectars, two sessions. Candidate A is the target again in all but name; B is the cooked,
/// sweet one; C is the green, unripe one; D is near, with a resinous note as wide as the margin of 10 mm.
fn mango_nectar() -> Demo {
    Demo {
        file_name: "invented-mango-nectar.csv",
        seed: 572,
        attributes: &[
            "ripe mango",
            "green mango",
            "cooked",
            "peel",
            "resinous",
            "floral",
            "peach",
            "citrus",
            "fermented",
            "sweet",
            "sour",
            "bitter",
            "astringent",
            "thick",
            "true to fruit",
        ],
        samples: &[
            TrueSample {
                name: "Fresh mango",
                marks_mm: &[62., 24., 14., 22., 30., 34., 28., 20., 12., 56., 32., 14., 18., 46., 70.],
            },
            TrueSample {
                name: "Candidate A",
                marks_mm: &[61., 25., 15., 22., 29., 33., 29., 20., 12., 57., 32., 14., 17., 46., 68.],
            },
            TrueSample {
                name: "Candidate B",
                marks_mm: &[52., 16., 34., 18., 24., 25., 34., 18., 17., 70., 25., 13., 17., 49., 50.],
            },
            TrueSample {
                name: "Candidate C",
                marks_mm: &[46., 42., 13., 31., 33., 30., 22., 27., 12., 46., 45., 18., 25., 42., 48.],
            },
            TrueSample {
                name: "Candidate D",
                marks_mm: &[58., 26., 16., 26., 41., 31., 26., 22., 13., 54., 34., 17., 21., 45., 62.],
            },
        ],
        assessors: &[
            "Amara", "Bruno", "Chiyo", "Dalia", "Emil", "Farida", "Goran", "Hana", "Ines", "Jonas", "Kofi", "Lena",
        ],
        replicates: 2,
        scatter_of_level_mm: 7.0,
        scatter_of_view_mm: 3.5,
        scatter_of_mark_mm: 6.0,
        slipped: None,
    }
}

/// Twenty-four assessors, enough to show a true match: the target twice under two names, the same nectar filled on
/// another line (no difference at all), and one with less peel and more sweetness.
fn large_panel() -> Demo {
    Demo {
        file_name: "invented-mango-large-panel.csv",
        seed: 4120,
        attributes: &TWELVE_ATTRIBUTES,
        samples: &[
            TrueSample { name: "Fresh mango", marks_mm: &[62., 24., 14., 22., 30., 34., 28., 20., 56., 32., 18., 46.] },
            TrueSample {
                name: "Fresh mango again",
                marks_mm: &[62., 24., 14., 22., 30., 34., 28., 20., 56., 32., 18., 46.],
            },
            TrueSample { name: "Candidate E", marks_mm: &[62., 24., 14., 22., 30., 34., 28., 20., 56., 32., 18., 46.] },
            TrueSample { name: "Candidate F", marks_mm: &[61., 22., 15., 9., 29., 35., 29., 20., 70., 31., 17., 47.] },
        ],
        assessors: &[
            "Ama", "Bela", "Cyra", "Dario", "Elif", "Femi", "Gita", "Hugo", "Ilse", "Juno", "Kemal", "Lucia", "Mira",
            "Nils", "Oona", "Pavel", "Quinn", "Rosa", "Sami", "Tove", "Uma", "Vito", "Wanda", "Yusuf",
        ],
        replicates: 2,
        scatter_of_level_mm: 8.0,
        scatter_of_view_mm: 4.0,
        scatter_of_mark_mm: 7.0,
        slipped: None,
    }
}

/// Six assessors who scatter widely, so that hardly anything can be shown, and one page that slipped by a line.
fn small_panel() -> Demo {
    Demo {
        file_name: "invented-mango-small-panel.csv",
        seed: 13299,
        attributes: &TWELVE_ATTRIBUTES,
        samples: &[
            TrueSample { name: "Fresh mango", marks_mm: &[72., 14., 8., 44., 16., 52., 12., 34., 66., 22., 8., 60.] },
            TrueSample { name: "Candidate G", marks_mm: &[68., 17., 12., 40., 20., 48., 15., 31., 70., 20., 9., 57.] },
            TrueSample { name: "Candidate H", marks_mm: &[60., 26., 10., 48., 24., 44., 10., 40., 58., 30., 14., 54.] },
        ],
        assessors: &["Arno", "Bice", "Cem", "Dina", "Ewa", "Finn"],
        replicates: 2,
        scatter_of_level_mm: 8.0,
        scatter_of_view_mm: 7.0,
        scatter_of_mark_mm: 9.0,
        slipped: Some(SlippedPage { assessor: 3, sample: 1, replicate: 1 }),
    }
}

const TWELVE_ATTRIBUTES: [&str; 12] = [
    "ripe mango",
    "green mango",
    "cooked",
    "peel",
    "resinous",
    "floral",
    "peach",
    "citrus",
    "sweet",
    "sour",
    "astringent",
    "thick",
];

impl Demo {
    /// The study as a table: one line a serving, marks in whole mm. The same seed gives the same bytes anywhere: the
    /// scatter is made of sums and products only.
    pub fn csv(&self) -> String {
        let mut scatter = Scatter { state: self.seed };
        let levels = self.grid(self.assessors.len(), self.scatter_of_level_mm, &mut scatter);
        let views = self.grid(self.assessors.len() * self.samples.len(), self.scatter_of_view_mm, &mut scatter);
        let codes = codes(self.samples.len() * self.replicates, &mut scatter);
        let orders = serving_orders(self.samples.len());
        let mut text = format!("session,replicate,assessor,position,code,sample,{}\n", self.attributes.join(","));
        for replicate in 0..self.replicates {
            for (assessor, name) in self.assessors.iter().enumerate() {
                let order = &orders[(assessor * self.replicates + replicate) % orders.len()];
                for (position, sample) in order.iter().enumerate() {
                    let code = codes[replicate * self.samples.len() + sample];
                    let truth = &self.samples[*sample];
                    let start = format!("Day {0},{0},{name},{1},{code},{2}", replicate + 1, position + 1, truth.name);
                    text.push_str(&start);
                    let mut page: Vec<f64> = Vec::new();
                    for (attribute, mark_mm) in truth.marks_mm.iter().enumerate() {
                        let view = views[assessor * self.samples.len() + sample][attribute];
                        let once = self.scatter_of_mark_mm * scatter.next_normal();
                        page.push((mark_mm + levels[assessor][attribute] + view + once).clamp(0.0, 100.0));
                    }
                    if self.is_slipped(assessor, *sample, replicate) {
                        page.insert(1, page[0]);
                        page.pop();
                    }
                    page.iter().for_each(|mark_mm| text.push_str(&format!(",{}", mark_mm.round())));
                    text.push('\n');
                }
            }
        }
        text
    }

    fn is_slipped(&self, assessor: usize, sample: usize, replicate: usize) -> bool {
        let here = |page: &SlippedPage| (page.assessor, page.sample, page.replicate) == (assessor, sample, replicate);
        self.slipped.as_ref().is_some_and(here)
    }

    fn grid(&self, lines: usize, deviation_mm: f64, scatter: &mut Scatter) -> Vec<Vec<f64>> {
        (0..lines).map(|_| self.attributes.iter().map(|_| deviation_mm * scatter.next_normal()).collect()).collect()
    }
}

/// Williams' design (1949): each sample stands in each position, and follows each other sample, equally often.
fn serving_orders(samples: usize) -> Vec<Vec<usize>> {
    let first: Vec<usize> = (0..samples)
        .map(|place| if place % 2 == 1 { place.div_ceil(2) } else { (samples - place / 2) % samples })
        .collect();
    let shifted = |shift: usize| first.iter().map(|sample| (sample + shift) % samples).collect::<Vec<_>>();
    let mut orders: Vec<Vec<usize>> = (0..samples).map(shifted).collect();
    if samples % 2 == 1 {
        orders.extend(orders.clone().into_iter().map(|order| order.into_iter().rev().collect()));
    }
    orders
}

/// Three-digit codes without a repeated digit, each used once.
fn codes(count: usize, scatter: &mut Scatter) -> Vec<u64> {
    let mut codes = Vec::new();
    while codes.len() < count {
        let code = 100 + scatter.next_bits() % 900;
        let (first, second, third) = (code / 100, code / 10 % 10, code % 10);
        if first != second && second != third && first != third && !codes.contains(&code) {
            codes.push(code);
        }
    }
    codes
}

/// SplitMix64 (Steele, Lea & Flood 2014), and a nearly normal deviate from the sum of twelve uniform ones.
struct Scatter {
    state: u64,
}

impl Scatter {
    fn next_bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut bits = self.state;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        bits ^ (bits >> 31)
    }

    fn next_uniform(&mut self) -> f64 {
        (self.next_bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    fn next_normal(&mut self) -> f64 {
        (0..12).map(|_| self.next_uniform()).sum::<f64>() - 6.0
    }
}
