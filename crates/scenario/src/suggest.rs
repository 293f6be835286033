//! The nearest known name to a misspelt one.

/// The known name most like `name`, if one is like it at all.
///
/// Likeness is Jaro–Winkler (Winkler 1990), which forgives swapped letters and favors a common
/// beginning; 0.75 is the least that still reads as a misspelling (chosen by trial).
pub(crate) fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    const LEAST_LIKENESS: f64 = 0.75;
    let lower = name.to_lowercase();
    let mut best: Option<(&str, f64)> = None;
    for candidate in known {
        let likeness = strsim::jaro_winkler(&lower, &candidate.to_lowercase());
        if likeness >= LEAST_LIKENESS && best.is_none_or(|(_, most)| likeness > most) {
            best = Some((candidate, likeness));
        }
    }
    best.map(|(candidate, _)| candidate)
}
