//! Directions by the letters and words of the compass, degrees clockwise from north.

/// The sixteen points, clockwise from north: letters and word.
const POINTS: [(&str, &str); 16] = [
    ("N", "north"),
    ("NNE", "north-northeast"),
    ("NE", "northeast"),
    ("ENE", "east-northeast"),
    ("E", "east"),
    ("ESE", "east-southeast"),
    ("SE", "southeast"),
    ("SSE", "south-southeast"),
    ("S", "south"),
    ("SSW", "south-southwest"),
    ("SW", "southwest"),
    ("WSW", "west-southwest"),
    ("W", "west"),
    ("WNW", "west-northwest"),
    ("NW", "northwest"),
    ("NNW", "north-northwest"),
];

/// What messages show of them.
pub(crate) const SHOWN: [&str; 3] = ["N", "SSW", "southwest"];

/// The direction that `text` names, however its letters are cased and its parts are joined.
pub(super) fn bearing_deg(text: &str) -> Option<f64> {
    let name = text.replace(['-', ' '], "").to_ascii_lowercase();
    // Asked of every quantity: the words are compared as they stand, none is made for it.
    let is_word = |word: &str| word.bytes().filter(|byte| *byte != b'-').eq(name.bytes());
    let at = POINTS
        .iter()
        .position(|(letters, word)| letters.eq_ignore_ascii_case(&name) || is_word(word))?;
    Some(at as f64 * 360.0 / POINTS.len() as f64)
}

/// The word of the compass nearest to `text`, if one is near.
pub(crate) fn nearest(text: &str) -> Option<&'static str> {
    crate::suggest::nearest(text, POINTS.iter().map(|(_, word)| *word))
}
