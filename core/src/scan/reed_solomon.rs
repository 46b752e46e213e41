//! Mends the bytes of one block of a square code: Reed and Solomon over the field of 256 elements with the polynomial
//! 0x11D, roots from the 0th power of 2 on (ISO/IEC 18004, annex A). It knows nothing of what bytes mean.

/// The field as powers of 2 and back.
struct Field {
    power: [u8; 255],
    exponent: [u8; 256],
}

impl Field {
    fn new() -> Self {
        let mut field = Field { power: [0; 255], exponent: [0; 256] };
        let mut value = 1_u16;
        for exponent in 0..255_u8 {
            field.power[usize::from(exponent)] = value as u8;
            field.exponent[value as usize] = exponent;
            value = if value & 0x80 == 0 { value << 1 } else { value << 1 ^ 0x11d };
        }
        field
    }

    /// 2 to any power.
    fn power(&self, exponent: usize) -> u8 {
        self.power[exponent % 255]
    }

    fn times(&self, one: u8, other: u8) -> u8 {
        if one == 0 || other == 0 { 0 } else { self.power(self.log(one) + self.log(other)) }
    }

    /// `other` must not be 0.
    fn divided(&self, one: u8, other: u8) -> u8 {
        if one == 0 { 0 } else { self.power(self.log(one) + 255 - self.log(other)) }
    }

    fn log(&self, value: u8) -> usize {
        usize::from(self.exponent[usize::from(value)])
    }

    /// A polynomial, lowest term first, at 2 to a power.
    fn at(&self, terms: &[u8], exponent: usize) -> u8 {
        terms.iter().enumerate().fold(0, |sum, (place, term)| sum ^ self.times(*term, self.power(place * exponent)))
    }

    /// What the bytes, highest power first, leave at each root: all 0 where nothing is wrong.
    fn remainders(&self, bytes: &[u8], count: usize) -> Vec<u8> {
        let at_root = |root: usize| bytes.iter().fold(0, |sum, byte| self.times(sum, self.power(root)) ^ byte);
        (0..count).map(at_root).collect()
    }

    /// The shortest recurrence that the remainders obey (Berlekamp and Massey); its roots say where bytes are wrong.
    fn locator(&self, remainders: &[u8]) -> Vec<u8> {
        let (mut found, mut before) = (vec![1_u8], vec![1_u8]);
        let (mut length, mut gap, mut last) = (0, 1, 1_u8);
        for step in 0..remainders.len() {
            let terms = found.iter().take(step + 1).enumerate();
            let off = terms.fold(0, |sum, (place, term)| sum ^ self.times(*term, remainders[step - place]));
            if off == 0 {
                gap += 1;
                continue;
            }
            let kept = found.clone();
            let share = self.divided(off, last);
            found.resize(found.len().max(before.len() + gap), 0);
            before.iter().enumerate().for_each(|(place, term)| found[place + gap] ^= self.times(share, *term));
            if 2 * length <= step {
                (length, before, last, gap) = (step + 1 - length, kept, off, 1);
            } else {
                gap += 1;
            }
        }
        found.truncate(length + 1);
        found
    }
}

/// The block with its wrong bytes mended; nothing where more are wrong than its `guard` bytes can tell.
pub fn mend(mut bytes: Vec<u8>, guard: usize) -> Option<Vec<u8>> {
    let field = Field::new();
    let remainders = field.remainders(&bytes, guard);
    if remainders.iter().all(|rest| *rest == 0) {
        return Some(bytes);
    }
    let locator = field.locator(&remainders);
    let evaluator: Vec<u8> = (0..guard)
        .map(|power| {
            let terms = locator.iter().take(power + 1).enumerate();
            terms.fold(0, |sum, (place, term)| sum ^ field.times(*term, remainders[power - place]))
        })
        .collect();
    let slope: Vec<u8> = (1..locator.len()).map(|power| if power % 2 == 1 { locator[power] } else { 0 }).collect();
    for power in 0..bytes.len() {
        let inverse = 255 - power % 255;
        if field.at(&locator, inverse) == 0 {
            let (over, under) = (field.at(&evaluator, inverse), field.at(&slope, inverse));
            let place = bytes.len() - 1 - power;
            // Forney's formula with roots from the 0th power on has one factor of the place itself.
            let wrong = if under == 0 { return None } else { field.divided(over, under) };
            bytes[place] ^= field.times(wrong, field.power(power));
        }
    }
    field.remainders(&bytes, guard).iter().all(|rest| *rest == 0).then_some(bytes)
}
