//! Inputs by chance: texts of the corpus with changes that keep their structure or break it.

use serde_json::{Value, json};

/// Chance by seed: `SplitMix64` (Steele, Lea and Flood 2014; constants from memory).
pub(super) struct Chance(pub(super) u64);

impl Chance {
    pub(super) fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((bits ^ (bits >> 31)) % end.max(1) as u64) as usize
    }
    pub(super) fn one_of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }
}

/// What people, programs and other people's programs write where something else is meant.
pub(super) const WORDS: [&str; 48] = [
    "",
    " ",
    "0",
    "-0",
    "1",
    "-1",
    "1e308",
    "-1e308",
    "1e-320",
    "NaN",
    "inf",
    "18446744073709551615",
    "-9223372036854775808",
    "0.1",
    "1,5",
    "1.234.567",
    "12 ft",
    "12'",
    "5 psi",
    "3 m/s",
    "1/2 in",
    "7-foot",
    "100 %",
    "2027-05-10T06:00",
    "2027-02-30T25:61",
    "9999-12-31T23:00",
    "0000-01-01T00:00",
    "24:00",
    "6 am",
    "null",
    "true",
    "{}",
    "[]",
    "\"",
    "\\u0000",
    "\u{202e}",
    "\u{1b}[2J",
    "é",
    "𝄞",
    "\u{feff}",
    "Fixed",
    "../../etc/passwd",
    "/dev/zero",
    "a\nb",
    ",,,,",
    ";",
    "\t",
    "=1+1",
];

/// A file of the corpus with a few changes.
pub(super) fn changed(chance: &mut Chance, corpus: &[Vec<u8>]) -> Vec<u8> {
    let mut bytes = chance.one_of(corpus).clone();
    for _ in 0..=chance.below(4) {
        change(chance, &mut bytes, corpus);
    }
    bytes
}

/// A table of the corpus with a few changes: as a rule its head and a few of its lines, so that many are
/// tried in the same time.
pub(super) fn changed_table(chance: &mut Chance, corpus: &[Vec<u8>]) -> Vec<u8> {
    if chance.below(16) == 0 {
        return changed(chance, corpus);
    }
    let lines: Vec<&[u8]> = chance.one_of(corpus).split_inclusive(|byte| *byte == b'\n').collect();
    let head = lines.len().min(1 + chance.below(8));
    let from = head + chance.below(lines.len() - head + 1);
    let to = lines.len().min(from + chance.below(8));
    let mut bytes = [lines[..head].concat(), lines[from..to].concat()].concat();
    for _ in 0..=chance.below(4) {
        change(chance, &mut bytes, corpus);
    }
    bytes
}

/// A value as people write it, more or less: sign, number, unit, and now and then a change of a byte.
pub(super) fn value(chance: &mut Chance, units: &[&str]) -> String {
    const NUMBERS: [&str; 12] = [
        "60", "0.25", "1/2", "1 1/2", "3,5", "1,234.5", "1'250", "\u{bd}", "1e300", "0", "7e-9",
        "٣",
    ];
    let mut text = String::new();
    for _ in 0..=chance.below(8) / 6 {
        text += *chance.one_of(&["", "", "", "-", "+", "$", "\u{20ac}", "\u{2212}", " "]);
        match chance.below(4) {
            0 => text += *chance.one_of(&NUMBERS),
            1 => text += *chance.one_of(&WORDS),
            2 => text += &chance.below(10_000).to_string(),
            _ => {
                let (whole, rest) = (chance.below(400).to_string(), chance.below(1000).to_string());
                text += &[whole, rest].join(".");
            }
        }
        text += *chance.one_of(&["", " ", " ", " ", "  ", "-", "\u{a0}", "/", "'"]);
        text += *chance.one_of(units);
    }
    if chance.below(3) > 0 {
        return text;
    }
    let mut bytes = text.into_bytes();
    for _ in 0..=chance.below(2) {
        let at = chance.below(bytes.len() + 1);
        match chance.below(3) {
            0 => bytes.insert(at, chance.below(256) as u8),
            1 => bytes.truncate(at),
            _ => drop(bytes.splice(at..at, chance.one_of(&WORDS).bytes())),
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn change(chance: &mut Chance, bytes: &mut Vec<u8>, corpus: &[Vec<u8>]) {
    let (from, to) = span(chance, bytes);
    match chance.below(9) {
        // A cell, a value or a key for another.
        0..=3 => {
            let word = chance.one_of(&WORDS).as_bytes().to_vec();
            drop(bytes.splice(from..to, word));
        }
        4 => {
            let twice = bytes[from..to].repeat(1 + chance.below(40));
            drop(bytes.splice(to..to, twice));
        }
        5 => drop(bytes.drain(from..to)),
        6 => {
            let other = chance.one_of(corpus);
            let (start, end) = span(chance, other);
            let part = other[start..end].to_vec();
            drop(bytes.splice(from..from, part));
        }
        7 => {
            if let Some(byte) = bytes.get_mut(from) {
                *byte = chance.below(256) as u8;
            }
        }
        _ => bytes.truncate(from),
    }
}

/// A part of a text between two of its signs, or a line.
fn span(chance: &mut Chance, bytes: &[u8]) -> (usize, usize) {
    let is_sign = |byte: &u8| b",;:\"[]{}\n\t".contains(byte);
    let is_end = |byte: &u8| *byte == b'\n';
    let by_line = chance.below(3) == 0;
    let start = chance.below(bytes.len());
    let next = |from: usize| {
        let rest = bytes.get(from..).unwrap_or_default();
        let found = rest.iter().position(|byte| if by_line { is_end(byte) } else { is_sign(byte) });
        found.map_or(bytes.len(), |at| from + at)
    };
    let from = (next(start) + 1).min(bytes.len());
    (from, next(from))
}

/// A scenario with values of it replaced, the rest being sound: deeper than bytes get.
pub(super) fn scenario(chance: &mut Chance, corpus: &[Vec<u8>]) -> String {
    let bytes = chance.one_of(corpus);
    let mut value: Value = serde_json::from_slice(bytes).unwrap();
    for _ in 0..=chance.below(3) {
        let mut pointers = Vec::new();
        all(&value, "", &mut pointers);
        let at = chance.one_of(&pointers).clone();
        let other = chance.one_of(&pointers).clone();
        let other = value.pointer(&other).cloned().unwrap_or_default();
        let word = *chance.one_of(&WORDS);
        let Some(place) = value.pointer_mut(&at) else { continue };
        *place = match chance.below(6) {
            0 => json!(word),
            1 => serde_json::from_str(word).unwrap_or(json!(-1)),
            2 => other,
            3 => json!([place.clone(), place.clone()]),
            4 => scaled(place, chance),
            _ => json!({ word: place.clone() }),
        };
    }
    value.to_string()
}

/// A quantity times some factor.
fn scaled(place: &Value, chance: &mut Chance) -> Value {
    let factor = *chance.one_of(&[0.0, 0.5, 0.99, 1.01, 2.0, 10.0, 100.0, -1.0, 1e-3]);
    match place {
        Value::Number(number) => json!(number.as_f64().unwrap_or(1.0) * factor),
        Value::String(text) => {
            let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
            number.parse::<f64>().map_or(place.clone(), |n| json!(format!("{} {unit}", n * factor)))
        }
        other => other.clone(),
    }
}

fn all(value: &Value, at: &str, found: &mut Vec<String>) {
    found.push(at.to_owned());
    let below: Vec<(String, &Value)> = match value {
        Value::Object(entries) => entries.iter().map(|(key, one)| (key.clone(), one)).collect(),
        Value::Array(items) => {
            items.iter().enumerate().map(|(n, one)| (n.to_string(), one)).collect()
        }
        _ => Vec::new(),
    };
    for (key, one) in below {
        all(one, &format!("{at}/{key}"), found);
    }
}
