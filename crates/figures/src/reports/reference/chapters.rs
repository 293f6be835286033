//! The chapters, with the tables filled in whose rows the program holds.

use evenfall_view::Chapter;
use evenfall_view::known::{CU_IN_WIND, DISAGREEMENTS, PARTS, SPEEDS_M_S};

/// The chapters in the order in which they are read.
const CHAPTERS: [&str; 4] = [
    include_str!("../../../../../shared/reference/using.md"),
    include_str!("../../../../../shared/reference/figures.md"),
    include_str!("../../../../../shared/reference/limits.md"),
    include_str!("../../../../../shared/reference/known.md"),
];

/// All chapters.
pub fn chapters() -> Vec<Chapter> {
    let filled = |text: &&str| {
        let fill = |text: String, (mark, table): (&str, String)| text.replace(mark, &table);
        Chapter::of(&marks().into_iter().fold((*text).to_owned(), fill))
    };
    CHAPTERS.iter().map(filled).collect()
}

/// What stands for the marks of the texts.
fn marks() -> [(&'static str, String); 8] {
    let off = DISAGREEMENTS;
    let size = |points: f64| format!("{:.1}", points.abs());
    [
        ("{{laws}}", laws()),
        ("{{cu in wind}}", cu_in_wind()),
        ("{{riser in light wind}}", size(off.riser_light_wind)),
        ("{{riser at close spacing}}", size(off.riser_close)),
        ("{{two nozzles in calm}}", size(off.two_nozzles_in_calm)),
        ("{{pressure in light wind}}", size(off.pressure_light_wind)),
        ("{{fall to 6 m/s}}", size(off.fall_to_6_m_s)),
        ("{{fall to 8 m/s}}", size(off.fall_to_8_m_s)),
    ]
}

fn laws() -> String {
    let rows = PARTS.iter().map(|p| format!("| {} | {} | {} |", p.part, p.law, p.status));
    let head = ["| part | law | status |", "| --- | --- | --- |"].map(str::to_owned);
    head.into_iter().chain(rows).collect::<Vec<_>>().join("\n")
}

fn cu_in_wind() -> String {
    let line = |first: &str, cells: Vec<String>| format!("| {first} | {} |", cells.join(" | "));
    let speeds = SPEEDS_M_S.iter().map(|speed| format!("{speed} m/s")).collect();
    let rules = SPEEDS_M_S.iter().map(|_| "---".to_owned()).collect();
    let rows = CU_IN_WIND
        .iter()
        .map(|row| line(row.layout, row.cu_percent.iter().map(|cu| format!("{cu:.1}")).collect()));
    let head = [line("layout and pattern", speeds), line("---", rules)];
    head.into_iter().chain(rows).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_chapters_have_titles_parts_and_no_mark_left() {
        let all = chapters();
        let titles: Vec<&str> = all.iter().map(|chapter| chapter.title.as_str()).collect();
        assert_eq!(
            titles,
            [
                "How it is done, step by step",
                "How to read the figures",
                "Limits",
                "How well this is known"
            ]
        );
        let texts = || all.iter().flat_map(|chapter| &chapter.parts);
        assert!(texts().all(|(_, text)| !text.contains("{{") && !text.is_empty()));
        assert!(texts().any(|(_, text)| text.contains("| 18 × 18 m, the same | 83.8 | 81.3 |")));
        assert!(texts().any(|(_, text)| text.contains("there 0.9 worse at 1 m/s, and 8.3 worse")));
    }
}
