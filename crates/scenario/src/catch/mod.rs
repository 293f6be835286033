//! Catch-can files: text in, a checked test out, or all of its problems at once.
//!
//! A file is a plain table with notes above it, in lines `# key: value` (keys: [`keys`]). Columns
//! name their units. Three layouts:
//! - one can a row: `x_ft,y_ft,depth_in` (or `_m`; `depth_mm`, `volume_ml` …; x or y alone for a row);
//! - a leg: `distance_ft,depth_in`, with `azimuth_deg` where several radii were set;
//! - a matrix: first cell `y_ft/x_ft`, x along the top, y down the side, and a note `readings`.
//!
//! A blank reading needs the note `blanks`: `missing` or `dry`. Nothing is guessed that changes a
//! depth; what is taken for granted beside that is told.

mod columns;
mod notes;
mod rows;
pub(crate) mod text;

use crate::file::UnitSystem;
use crate::issue::{Issue, Issues, Problems};
use crate::notes::{Assumption, sha256};
use columns::{Layout, reading_named, reading_names};
use evenfall_core::catch::{Air, CanSize, CatchTest, Kind, Lines, NozzleNotes, confidence::FEWEST};
use notes::{KEYS, Notes, issue};
use rows::{Cans, Scale};
use text::{Cell, Row, Sheet};

/// A test as read.
#[derive(Clone, Debug, PartialEq)]
pub struct CatchFile {
    /// The test.
    pub test: CatchTest,
    /// Still-air radius that the file tells, m.
    pub wetted_radius_m: Option<f64>,
    /// When water began to run, as noted.
    pub start: Option<String>,
    /// SHA-256 of the file, hexadecimal.
    pub sha256: String,
    /// What the file left to us.
    pub assumptions: Vec<Assumption>,
    /// What the reader should know, in plain words.
    pub warnings: Vec<String>,
    /// Units of the places, in which results are shown.
    pub units: UnitSystem,
}

/// The keys of the notes, each with what it takes.
pub fn keys() -> Vec<(&'static str, String)> {
    KEYS.iter().map(|(key, value)| (*key, value.words())).collect()
}

/// Reads a catch-can file; `name` is its title where it tells none.
///
/// # Errors
/// All problems of the file, each with its line.
pub fn read(bytes: &[u8], name: &str) -> Result<CatchFile, Problems> {
    let mut issues = Issues::default();
    let whole = bytes;
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = String::from_utf8_lossy(bytes);
    if let std::borrow::Cow::Owned(_) = text {
        let at = text.find('\u{fffd}').unwrap_or(0);
        let cell = Cell { text: "", span: at..(at + '\u{fffd}'.len_utf8()).min(text.len()) };
        let hint = "save the table as CSV in UTF-8";
        issues.push(issue(&cell, "this is not UTF-8 text").hint(hint));
        return Err(issues.into_problems(&text));
    }
    let sheet = Sheet::of(&text);
    let found = Reader { sheet: &sheet, issues: &mut issues }.read(name);
    match found {
        Some(file) if issues.is_empty() => Ok(CatchFile { sha256: sha256(whole), ..file }),
        _ => Err(issues.into_problems(&text)),
    }
}

struct Reader<'s, 'a> {
    sheet: &'s Sheet<'a>,
    issues: &'s mut Issues,
}

impl Reader<'_, '_> {
    fn read(mut self, name: &str) -> Option<CatchFile> {
        let Some(header) = &self.sheet.header else {
            self.problem(0..0, "the file holds no table", "name columns and put a can in each row");
            return None;
        };
        let notes = Notes::of(&self.sheet.notes, self.issues);
        let (layout, others) = Layout::of(header, self.issues);
        let mut assumptions = Vec::new();
        let mut test = self.notes_of(&notes, name, &mut assumptions);
        test.kind = self.kind(&notes, layout.as_ref(), header);
        let layout = layout?;
        let blanks_are_dry = self.blanks(&notes);
        let scale = Scale {
            can_diameter_m: test.can_size.diameter_m,
            blanks_are_dry,
            evaporation_mm: test.evaporation_added_mm,
        };
        let matrix_reading = self.reading(&notes, &layout, header, scale.can_diameter_m);
        let cans = Cans::new(scale).with_rows(
            &layout,
            header,
            &self.sheet.rows,
            matrix_reading,
            self.issues,
        );
        if blanks_are_dry == Some(true) {
            test.blanks_as_dry = cans.blanks;
        }
        test.cans = cans.read;
        self.enough(&test, header);
        let units = if layout.is_us() { UnitSystem::Us } else { UnitSystem::Si };
        let words = notes.all("note").iter().map(|note| format!("the file notes: {}", note.text));
        let unread = others.iter().map(|name| format!("the column `{name}` is not read"));
        let mut warnings: Vec<String> = words.chain(unread).collect();
        let noted_h: f64 = test.wind.iter().map(|wind| wind.hours).sum();
        if noted_h > 0.0 && (noted_h / test.duration_h - 1.0).abs() > 0.05 {
            warnings.push(format!(
                "the wind is noted for {:.0} min of the {:.0} min that water ran; it is taken to stand \
                 for all of them",
                60.0 * noted_h,
                60.0 * test.duration_h
            ));
        }
        let wetted_radius_m = notes.quantity("wetted radius", self.issues);
        let start = notes.text("start").map(|cell| cell.text.to_owned());
        let sha256 = String::new();
        Some(CatchFile { test, wetted_radius_m, start, sha256, assumptions, warnings, units })
    }

    /// Everything that the notes say but for the kind and the cans.
    fn notes_of(
        &mut self,
        notes: &Notes<'_>,
        name: &str,
        assumptions: &mut Vec<Assumption>,
    ) -> CatchTest {
        let issues = &mut *self.issues;
        let mut assume = |what: &str, value: &str, why: &str| {
            let (what, value, why) = (what.to_owned(), value.to_owned(), why.to_owned());
            assumptions.push(Assumption { what, value, why });
        };
        let wind = notes.wind(issues);
        let mut get = |key| notes.quantity(key, issues);
        let wind_height = get("wind height");
        let bearing = get("bearing of y");
        let trajectory = get("trajectory angle");
        let is = |kind: &str| notes.text("test").is_some_and(|c| c.text.eq_ignore_ascii_case(kind));
        if wind.iter().any(|wind| wind.speed_m_s > 0.0) {
            if wind_height.is_none() {
                assume("wind height", "2 m", "not noted");
            }
            if bearing.is_none() && !is("leg") {
                assume("bearing of y", "0 deg", "not noted: y is taken to point north");
            }
            if trajectory.is_none() && is("single") {
                assume("trajectory angle", "25 deg", "not noted: common for impact sprinklers");
            }
        }
        let duration = get("duration");
        let test = CatchTest {
            title: notes.text("title").map_or_else(|| name.to_owned(), |cell| cell.text.to_owned()),
            kind: Kind::Leg,
            cans: Vec::new(),
            blanks_as_dry: 0,
            duration_h: duration.unwrap_or(1.0),
            wind,
            wind_measured_at_m: wind_height.unwrap_or(2.0),
            bearing_deg: bearing.unwrap_or(0.0),
            can_size: CanSize { diameter_m: get("can diameter"), height_m: get("can height") },
            nozzle: NozzleNotes {
                pressure_kpa: get("pressure"),
                discharge_l_s: get("discharge"),
                trajectory_angle_deg: Some(trajectory.unwrap_or(25.0)),
                height_m: get("nozzle height"),
            },
            evaporation_added_mm: 1000.0 * get("evaporation").unwrap_or(0.0),
            air: Air {
                temperature_c: get("air temperature"),
                relative_humidity: get("humidity"),
                by_day: None,
            },
        };
        let by_day = self.by_day(notes);
        if notes.text("duration").is_none() {
            self.problem(0..0, "the file does not say how long water ran", "`# duration: 90 min`");
        }
        CatchTest { air: Air { by_day, ..test.air }, ..test }
    }

    fn by_day(&mut self, notes: &Notes<'_>) -> Option<bool> {
        let cell = notes.text("start")?;
        let text = cell.text.replacen(' ', "T", 1);
        match text.parse::<jiff::civil::DateTime>() {
            Ok(start) if text.contains(':') => Some((6..18).contains(&start.hour())),
            _ => {
                let problem = format!("`{}` is not a date with a time", cell.text);
                self.issues.push(issue(cell, problem).allowed("such as 2026-06-03 09:30"));
                None
            }
        }
    }

    fn kind(&mut self, notes: &Notes<'_>, layout: Option<&Layout>, header: &Row<'_>) -> Kind {
        const KINDS: &str = "lateral (cans under laterals), single (a grid around one sprinkler), leg \
                             (cans on a radius)";
        let place = notes.lengths("sprinkler at", self.issues).unwrap_or_default();
        let at = |axis: usize| place.get(axis).copied().unwrap_or(0.0);
        let is_leg = layout.map(|layout| matches!(layout, Layout::Leg { .. }));
        let whole = Cell { text: "", span: header.span.clone() };
        let Some(cell) = notes.text("test") else {
            self.problem(0..0, "the file does not say what was tested", "`# test: lateral`");
            return Kind::Leg;
        };
        let kind = cell.text.to_lowercase();
        match (kind.as_str(), is_leg) {
            ("leg", Some(false)) => {
                let problem = "a leg has distances from the sprinkler, not x and y";
                let hint = "name the column `distance_ft` or `distance_m`, or say `# test: single`";
                self.issues.push(issue(&whole, problem).hint(hint));
            }
            ("lateral" | "single", Some(true)) => {
                let problem = "distances alone do not tell where a can of a grid stands";
                let hint = "name the columns `x_ft` and `y_ft`, or say `# test: leg`";
                self.issues.push(issue(&whole, problem).hint(hint));
            }
            _ => {}
        }
        match kind.as_str() {
            "leg" => Kind::Leg,
            "single" => Kind::Single { x_m: at(0), y_m: at(1) },
            "lateral" => Kind::Lines(Lines {
                at_m: notes.lengths("laterals at", self.issues).unwrap_or_default(),
                sprinkler_x_m: at(0),
                sprinkler_spacing_m: notes.quantity("sprinkler spacing", self.issues),
                outlet_spacing_m: notes.quantity("outlet spacing", self.issues),
            }),
            _ => {
                let problem = format!("`{}` is not a kind of test", cell.text);
                self.issues.push(issue(cell, problem).allowed(KINDS));
                Kind::Leg
            }
        }
    }

    fn blanks(&mut self, notes: &Notes<'_>) -> Option<bool> {
        let cell = notes.text("blanks")?;
        match cell.text.to_lowercase().as_str() {
            "missing" => Some(false),
            "dry" => Some(true),
            _ => {
                let problem = format!("`blanks`: `{}` is not known", cell.text);
                self.issues.push(issue(cell, problem).allowed("missing or dry"));
                // Told already; that blanks mean nothing need not be told too.
                Some(false)
            }
        }
    }

    /// The readings of a matrix, and whether volumes can become depths.
    fn reading(
        &mut self,
        notes: &Notes<'_>,
        layout: &Layout,
        header: &Row<'_>,
        diameter_m: Option<f64>,
    ) -> Option<columns::Reading> {
        let reading = match layout {
            Layout::Long { reading, .. } | Layout::Leg { reading, .. } => Some(reading.1),
            Layout::Matrix { .. } => self.matrix_reading(notes, header),
        };
        if matches!(reading, Some(columns::Reading::Volume(_))) && diameter_m.is_none() {
            // A diameter that is wrong was told already.
            if notes.text("can diameter").is_none() {
                let hint = "`# can diameter: 4 in`, the opening across";
                self.problem(header.span.clone(), "volumes need the opening of the cans", hint);
            }
        }
        reading
    }

    fn matrix_reading(&mut self, notes: &Notes<'_>, header: &Row<'_>) -> Option<columns::Reading> {
        let Some(cell) = notes.text("readings") else {
            let hint = "`# readings: depth_in`";
            self.problem(header.span.clone(), "a matrix needs its readings named", hint);
            return None;
        };
        let found = reading_named(cell.text);
        if found.is_none() {
            let problem = format!("`readings`: `{}` is not known", cell.text);
            self.issues.push(issue(cell, problem).allowed(reading_names()));
        }
        found
    }

    fn enough(&mut self, test: &CatchTest, header: &Row<'_>) {
        // Where cans were refused, their number says nothing.
        if !self.issues.is_empty() {
            return;
        }
        let readings = test.depths_mm();
        if readings.len() < FEWEST {
            let problem = format!("only {} cans have a reading", readings.len());
            let hint = format!("at least {FEWEST} are needed for any figure, 24 for a field test");
            self.problem(header.span.clone(), &problem, &hint);
        } else if !readings.iter().any(|depth| *depth > 0.0) {
            self.problem(header.span.clone(), "every can is dry", "at least one must hold water");
        }
    }

    fn problem(&mut self, span: std::ops::Range<usize>, problem: &str, hint: &str) {
        let hint = Some(hint.to_owned());
        let problem = problem.to_owned();
        self.issues.push(Issue { pointer: String::new(), span, problem, allowed: None, hint });
    }
}

#[cfg(test)]
#[path = "tests.rs"]
mod tests;
