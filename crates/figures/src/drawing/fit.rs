//! Fitting words into a width.

use evenfall_canvas::text_width;

/// A text cut to fit `width` pixels, with an ellipsis where something was lost.
pub(crate) fn shortened(text: &str, width: f64, size: f64, bold: bool) -> String {
    if text_width(text, size, bold) <= width {
        return text.to_owned();
    }
    let mut kept: Vec<char> = text.chars().collect();
    while !kept.is_empty() {
        kept.pop();
        let trial: String = kept.iter().collect::<String>().trim_end().to_owned() + "…";
        if text_width(&trial, size, bold) <= width {
            return trial;
        }
    }
    "…".to_owned()
}

/// A text broken at spaces into at most `lines` lines of `width` pixels; the last is shortened.
pub(crate) fn wrapped(text: &str, width: f64, size: f64, bold: bool, lines: usize) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let joined = out.last().map(|line| format!("{line} {word}"));
        match joined.filter(|joined| text_width(joined, size, bold) <= width) {
            Some(joined) => {
                out.pop();
                out.push(joined);
            }
            None => out.push(word.to_owned()),
        }
    }
    if out.len() > lines {
        let rest = out.split_off(lines - 1).join(" ");
        out.push(rest);
    }
    out.into_iter().map(|line| shortened(&line, width, size, bold)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_long_names_are_cut_and_wrapped_within_the_width() {
        let name = "A rotation with a name far longer than anyone would wish to print";
        let short = shortened(name, 120.0, 14.0, false);
        assert!(short.ends_with('…') && text_width(&short, 14.0, false) <= 120.0);
        let lines = wrapped(name, 120.0, 14.0, true, 2);
        assert_eq!(lines.len(), 2);
        assert!(lines.iter().all(|line| text_width(line, 14.0, true) <= 120.0));
        assert_eq!(wrapped("Fixed", 120.0, 14.0, true, 2), ["Fixed"]);
        assert_eq!(shortened("W", 1.0, 14.0, false), "…");
    }
}
