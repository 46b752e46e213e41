//! Values of a PDF from its bytes: numbers, names, lists, dictionaries, references, texts. It knows nothing of what they
//! mean.

use std::ops::Range;

/// A list in a list in a list: deeper than this is no PDF.
const DEEPEST: usize = 24;
/// More values than this in one object are no page.
pub const MOST_VALUES: usize = 200_000;

/// One value.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    Number(f64),
    Name(String),
    List(Vec<Value>),
    Dictionary(Vec<(String, Value)>),
    /// Number of another object.
    Reference(u32),
    /// Text, as bytes.
    Text(Vec<u8>),
    /// Where the stream of a dictionary lies in the file.
    Place(Range<usize>),
    /// true, false, null and words of a page's content.
    Word(String),
}

impl Value {
    /// An entry of a dictionary.
    pub fn get(&self, key: &str) -> Option<&Value> {
        let Value::Dictionary(entries) = self else { return None };
        entries.iter().rev().find(|(name, _)| name == key).map(|(_, value)| value)
    }

    pub fn number(&self) -> Option<f64> {
        if let Value::Number(number) = self { Some(*number) } else { None }
    }

    /// A whole number from 0 on.
    pub fn count(&self) -> Option<usize> {
        self.number().filter(|number| (0.0..1e12).contains(number)).map(|number| number as usize)
    }

    pub fn name(&self) -> Option<&str> {
        if let Value::Name(name) = self { Some(name) } else { None }
    }

    pub fn is_name(&self, wanted: &str) -> bool {
        self.name() == Some(wanted)
    }

    pub fn is_true(&self) -> bool {
        matches!(self, Value::Word(word) if word == "true")
    }
}

/// Reads values one after the other.
pub struct Reader<'a> {
    pub bytes: &'a [u8],
    pub at: usize,
    /// How many values were read.
    pub values: usize,
}

pub fn is_space(byte: u8) -> bool {
    matches!(byte, 0 | 9 | 10 | 12 | 13 | 32)
}

fn is_delimiter(byte: u8) -> bool {
    matches!(byte, b'(' | b')' | b'<' | b'>' | b'[' | b']' | b'{' | b'}' | b'/' | b'%')
}

impl<'a> Reader<'a> {
    pub fn new(bytes: &'a [u8], at: usize) -> Self {
        Reader { bytes, at, values: 0 }
    }

    fn peek(&self, ahead: usize) -> u8 {
        self.bytes.get(self.at + ahead).copied().unwrap_or(0)
    }

    pub fn skip_space(&mut self) {
        while self.at < self.bytes.len() {
            if self.bytes[self.at] == b'%' {
                let rest = &self.bytes[self.at..];
                self.at += rest.iter().position(|byte| matches!(byte, 10 | 13)).unwrap_or(rest.len());
            } else if is_space(self.bytes[self.at]) {
                self.at += 1;
            } else {
                return;
            }
        }
    }

    /// The next value; nothing at the end and where there is none.
    pub fn value(&mut self) -> Option<Value> {
        self.value_within(DEEPEST)
    }

    fn value_within(&mut self, depth: usize) -> Option<Value> {
        self.skip_space();
        self.values += 1;
        if depth == 0 || self.at >= self.bytes.len() || self.values > MOST_VALUES {
            return None;
        }
        match (self.peek(0), self.peek(1)) {
            (b'/', _) => Some(Value::Name(self.name())),
            (b'(', _) => self.text(),
            (b'<', b'<') => self.dictionary(depth),
            (b'<', _) => self.hexadecimal(),
            (b'[', _) => {
                self.at += 1;
                Some(Value::List(self.values_until(b"]", depth)?))
            }
            (byte, _) if is_delimiter(byte) => None,
            _ => Some(self.plain()),
        }
    }

    fn values_until(&mut self, end: &[u8], depth: usize) -> Option<Vec<Value>> {
        let mut values = Vec::new();
        loop {
            self.skip_space();
            if self.bytes[self.at..].starts_with(end) {
                self.at += end.len();
                return Some(values);
            }
            values.push(self.value_within(depth - 1)?);
        }
    }

    fn dictionary(&mut self, depth: usize) -> Option<Value> {
        self.at += 2;
        let values = self.values_until(b">>", depth)?;
        let mut entries = Vec::with_capacity(values.len() / 2);
        let mut values = values.into_iter();
        while let (Some(key), Some(value)) = (values.next(), values.next()) {
            let Value::Name(key) = key else { return None };
            entries.push((key, value));
        }
        Some(Value::Dictionary(entries))
    }

    /// Text in hexadecimal digits.
    fn hexadecimal(&mut self) -> Option<Value> {
        let rest = &self.bytes[self.at + 1..];
        let length = rest.iter().position(|byte| *byte == b'>');
        self.at = (self.at + 2 + length.unwrap_or(rest.len())).min(self.bytes.len());
        let digits = rest[..length?].iter().filter_map(|sign| char::from(*sign).to_digit(16)).map(|digit| digit as u8);
        let digits: Vec<u8> = digits.collect();
        let byte = |two: &[u8]| two[0] << 4 | two.get(1).copied().unwrap_or(0);
        Some(Value::Text(digits.chunks(2).map(byte).collect()))
    }

    /// Text in round brackets, which may hold such pairs themselves.
    fn text(&mut self) -> Option<Value> {
        let mut text = Vec::new();
        let mut open = 0_usize;
        while self.at < self.bytes.len() {
            let sign = self.bytes[self.at];
            self.at += 1;
            match sign {
                b'\\' => text.extend(self.escaped()),
                b')' if open == 1 => return Some(Value::Text(text)),
                _ => {
                    open = if sign == b'(' { open + 1 } else { open - usize::from(sign == b')') };
                    if open > 1 || sign != b'(' {
                        text.push(sign);
                    }
                }
            }
        }
        None
    }

    /// The byte that stands behind a backslash.
    fn escaped(&mut self) -> Option<u8> {
        let sign = *self.bytes.get(self.at)?;
        self.at += 1;
        if !(b'0'..=b'7').contains(&sign) {
            let known = [(b'n', 10), (b'r', 13), (b't', 9), (b'b', 8), (b'f', 12)];
            return Some(known.iter().find(|(letter, _)| *letter == sign).map_or(sign, |(_, byte)| *byte));
        }
        let mut value = u16::from(sign - b'0');
        for _ in 0..2 {
            let digit = self.peek(0);
            if (b'0'..=b'7').contains(&digit) {
                value = value * 8 + u16::from(digit - b'0');
                self.at += 1;
            }
        }
        Some(value as u8)
    }

    fn run(&mut self) -> &'a [u8] {
        let start = self.at;
        while self.at < self.bytes.len() && !is_space(self.bytes[self.at]) && !is_delimiter(self.bytes[self.at]) {
            self.at += 1;
        }
        &self.bytes[start..self.at]
    }

    /// A name, its signs in hexadecimal told apart.
    fn name(&mut self) -> String {
        self.at += 1;
        let run = String::from_utf8_lossy(self.run()).into_owned();
        let mut parts = run.split('#');
        let mut name = parts.next().unwrap_or_default().to_owned();
        for part in parts {
            let sign = part.get(..2).and_then(|two| u8::from_str_radix(two, 16).ok());
            match sign {
                Some(sign) => name = name + &char::from(sign).to_string() + &part[2..],
                None => name = name + "#" + part,
            }
        }
        name
    }

    /// A number, a reference or a word.
    fn plain(&mut self) -> Value {
        let run = self.run();
        let word = String::from_utf8_lossy(run);
        let Ok(number) = word.parse::<f64>() else { return Value::Word(word.into_owned()) };
        let after = self.at;
        if let (true, Some(Value::Reference(to))) = (run.iter().all(u8::is_ascii_digit), self.reference_to(&word)) {
            return Value::Reference(to);
        }
        self.at = after;
        Value::Number(number)
    }

    /// What follows a number where it is a reference: a generation and the letter R.
    fn reference_to(&mut self, number: &str) -> Option<Value> {
        self.skip_space();
        let generation = self.run();
        if generation.is_empty() || !generation.iter().all(u8::is_ascii_digit) {
            return None;
        }
        self.skip_space();
        (self.run() == b"R").then(|| number.parse().ok().map(Value::Reference))?
    }
}
