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
}

/// Every demo study.
pub fn all() -> Vec<Demo> {
    vec![mango_nectar()]
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
            "authentic",
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
    }
}

impl Demo {
    /// The study as a table: one line a serving, marks in whole mm. The same seed gives the same bytes anywhere: the
    /// scatter is made of sums and products only.
    pub fn csv(&self) -> String {
        let mut scatter = Scatter { state: self.seed };
        let levels = self.grid(self.assessors.len(), self.scatter_of_level_mm, &mut scatter);
        let views = self.grid(self.assessors.len() * self.samples.len(), self.scatter_of_view_mm, &mut scatter);
        let codes = codes(self.samples.len() * self.replicates, &mut scatter);
        let mut text = format!("session,replicate,assessor,position,code,sample,{}\n", self.attributes.join(","));
        for replicate in 0..self.replicates {
            for (assessor, name) in self.assessors.iter().enumerate() {
                let order = SERVING_ORDERS[(assessor * self.replicates + replicate) % SERVING_ORDERS.len()];
                for (position, sample) in order.iter().enumerate() {
                    let code = codes[replicate * self.samples.len() + sample];
                    let truth = &self.samples[*sample];
                    let start = format!("Day {0},{0},{name},{1},{code},{2}", replicate + 1, position + 1, truth.name);
                    text.push_str(&start);
                    for (attribute, mark_mm) in truth.marks_mm.iter().enumerate() {
                        let view = views[assessor * self.samples.len() + sample][attribute];
                        let once = self.scatter_of_mark_mm * scatter.next_normal();
                        let marked = (mark_mm + levels[assessor][attribute] + view + once).clamp(0.0, 100.0);
                        text.push_str(&format!(",{}", marked.round()));
                    }
                    text.push('\n');
                }
            }
        }
        text
    }

    fn grid(&self, lines: usize, deviation_mm: f64, scatter: &mut Scatter) -> Vec<Vec<f64>> {
        (0..lines).map(|_| self.attributes.iter().map(|_| deviation_mm * scatter.next_normal()).collect()).collect()
    }
}

/// A Williams design for five samples (Williams 1949): each sample stands in each position, and follows each other
/// sample, equally often.
const SERVING_ORDERS: [[usize; 5]; 10] = [
    [0, 1, 4, 2, 3],
    [1, 2, 0, 3, 4],
    [2, 3, 1, 4, 0],
    [3, 4, 2, 0, 1],
    [4, 0, 3, 1, 2],
    [3, 2, 4, 1, 0],
    [4, 3, 0, 2, 1],
    [0, 4, 1, 3, 2],
    [1, 0, 2, 4, 3],
    [2, 1, 3, 0, 4],
];

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
