//! The field from above in one strip: outlets on the mainline, numbered, and where the line stands in a
//! pass. Drawn to scale across the field, in black, so that a copy of a copy still reads.

use super::input::Sheet;
use crate::texts::page as texts;
use evenfall_core::lateral::Side;
use evenfall_core::schedule::SetPlan;
use std::collections::BTreeMap;
use std::fmt::Write as _;

const WIDTH: f64 = 1000.0;
const HEIGHT: f64 = 120.0;
const MARGIN: f64 = 22.0;
/// y of the words below the drawing.
const LABEL_Y: f64 = 117.0;
/// y of the mainline where it serves one side, and where it serves both.
const MAINLINE_Y: (f64, f64) = (80.0, 58.0);
/// How far a line is drawn from the mainline.
const LINE_LENGTH: (f64, f64) = (46.0, 26.0);
/// Numbers nearer to one another than this are left out.
const NUMBER_EVERY: f64 = 30.0;

/// Where things stand on the drawing.
struct Frame<'a> {
    sheet: &'a Sheet<'a>,
    from_m: f64,
    per_m: f64,
    has_sides: bool,
}

/// The sketch of pass `pass` of the course (from 0), as SVG.
pub(super) fn sketch(sheet: &Sheet<'_>, pass: usize) -> String {
    let Some(plan) = sheet.worked.course.plan.passes.get(pass) else { return String::new() };
    let frame = Frame::of(sheet, &plan.sets);
    let title = texts::SKETCH.of(sheet.language);
    let mut svg = format!(
        "<svg viewBox=\"0 0 {WIDTH} {HEIGHT}\" role=\"img\" aria-label=\"{title}\" \
         xmlns=\"http://www.w3.org/2000/svg\" font-family=\"inherit\">"
    );
    frame.mainline(&mut svg);
    for set in &plan.sets {
        frame.line(&mut svg, set);
    }
    frame.outlets(&mut svg);
    frame.letters(&mut svg, &plan.sets);
    svg + "</svg>"
}

impl<'a> Frame<'a> {
    fn of(sheet: &'a Sheet<'a>, sets: &[SetPlan]) -> Self {
        let outlets = &sheet.alternative.outlets;
        let half_m = outlets.spacing_m / 2.0;
        let places = (0..outlets.count).map(|outlet| outlets.place_m(outlet));
        let all: Vec<f64> = places.chain(sets.iter().map(|set| set.place_across_m)).collect();
        let from_m = all.iter().copied().fold(f64::INFINITY, f64::min) - half_m;
        let to_m = all.iter().copied().fold(f64::NEG_INFINITY, f64::max) + half_m;
        let has_sides = sheet.alternative.lateral.lines.left_first_m.is_some();
        Self { sheet, from_m, per_m: (WIDTH - 2.0 * MARGIN) / (to_m - from_m), has_sides }
    }

    fn x(&self, across_m: f64) -> f64 {
        MARGIN + (across_m - self.from_m) * self.per_m
    }

    fn mainline_y(&self) -> f64 {
        if self.has_sides { MAINLINE_Y.1 } else { MAINLINE_Y.0 }
    }

    /// y of the far end of a line: looking in the direction of travel, to the right of the drawing, the
    /// left side is up.
    fn end_y(&self, side: Side) -> f64 {
        match (self.has_sides, side) {
            (false, _) => self.mainline_y() - LINE_LENGTH.0,
            (true, Side::Left) => self.mainline_y() - LINE_LENGTH.1,
            (true, Side::Right) => self.mainline_y() + LINE_LENGTH.1,
        }
    }

    fn mainline(&self, svg: &mut String) {
        let (y, language) = (self.mainline_y(), self.sheet.language);
        let right = WIDTH - MARGIN;
        // Clear of the letters, which stand at the far ends of the first lines.
        let (x, anchor, travel_y) =
            if self.has_sides { (right, "end", 14.0) } else { (MARGIN, "start", LABEL_Y) };
        // Writing to a String cannot fail, here and below.
        let _ = write!(
            svg,
            "<path d=\"M{MARGIN} {y}H{right}\" stroke=\"#000\" stroke-width=\"4\"/>\
             <text x=\"{x}\" y=\"{LABEL_Y}\" font-size=\"15\" text-anchor=\"{anchor}\">{}</text>\
             <text x=\"{right}\" y=\"{travel_y}\" font-size=\"15\" text-anchor=\"end\">{} \u{2192}</text>",
            texts::MAINLINE.of(language),
            texts::TRAVEL.of(language)
        );
    }

    /// The line of a set, and the hose from its outlet where it stands off it.
    fn line(&self, svg: &mut String, set: &SetPlan) {
        let (x, y, end_y) = (self.x(set.place_across_m), self.mainline_y(), self.end_y(set.side));
        let near_y = y + 0.13 * (end_y - y);
        let outlet_x = self.x(self.sheet.alternative.outlets.place_m(set.outlet));
        let _ = write!(
            svg,
            "<path d=\"M{x:.1} {near_y:.1}V{end_y:.1}\" stroke=\"#000\" stroke-width=\"3\"/>\
             <path d=\"M{outlet_x:.1} {y}L{x:.1} {near_y:.1}\" stroke=\"#000\" stroke-width=\"1.5\" \
             stroke-dasharray=\"4 2\"/>"
        );
    }

    fn outlets(&self, svg: &mut String) {
        let outlets = &self.sheet.alternative.outlets;
        let y = self.mainline_y();
        let apart = outlets.spacing_m * self.per_m;
        let every = (NUMBER_EVERY / apart).ceil().max(1.0) as usize;
        // Numbers stand clear of the lines, whichever side these are on.
        let (dx, dy) = if self.has_sides { (-7.0, -6.0) } else { (0.0, 20.0) };
        let anchor = if self.has_sides { "end" } else { "middle" };
        for outlet in 0..outlets.count {
            let x = self.x(outlets.place_m(outlet));
            let _ = write!(
                svg,
                "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"9\" height=\"9\" fill=\"#fff\" stroke=\"#000\" \
                 stroke-width=\"2\"/>",
                x - 4.5,
                y - 4.5
            );
            let number = outlet + 1;
            if number == 1 || number == outlets.count || number.is_multiple_of(every) {
                let _ = write!(
                    svg,
                    "<text x=\"{:.1}\" y=\"{:.1}\" font-size=\"15\" text-anchor=\"{anchor}\">{number}</text>",
                    x + dx,
                    y + dy
                );
            }
        }
    }

    /// The letter of each stop, over the first line that stands there.
    fn letters(&self, svg: &mut String, sets: &[SetPlan]) {
        let mut first: BTreeMap<char, &SetPlan> = BTreeMap::new();
        for set in sets {
            let letter = self.sheet.alternative.rotation.letter_of(set.shift);
            first.entry(letter).or_insert(set);
        }
        for (letter, set) in first {
            let (x, end_y) = (self.x(set.place_across_m), self.end_y(set.side));
            let y = if end_y < self.mainline_y() { end_y - 15.0 } else { end_y + 15.0 };
            let _ = write!(
                svg,
                "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"13\" fill=\"#fff\" stroke=\"#000\" \
                 stroke-width=\"2\"/><text x=\"{x:.1}\" y=\"{:.1}\" font-size=\"18\" \
                 font-weight=\"bold\" text-anchor=\"middle\">{letter}</text>",
                y + 6.5
            );
        }
    }
}
