//! What the page draws of a scenario: field, laterals, stops, schedule.

use crate::limits::fail::Problem;
use evenfall_view::UnitSystem;
use serde::Serialize;
use utoipa::ToSchema;

/// The layout of a scenario, or why there is none.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct LayoutView {
    pub(super) ok: bool,
    /// Everything that is wrong; empty if `ok`.
    pub(super) problems: Vec<Problem>,
    /// The field; `null` if no alternative could be laid out.
    pub(super) field: Option<FieldView>,
    /// Units in which to show results.
    pub(super) units: UnitSystem,
    /// Alternative by alternative; with problems, `null` for one that could not be laid out, and no
    /// passes for one whose rotation is out of reach.
    pub(super) alternatives: Vec<Option<AlternativeView>>,
}

/// The field.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct FieldView {
    /// Length along the pipe, m.
    pub(super) along_m: f64,
    /// Width across, in the direction of travel, m.
    pub(super) across_m: f64,
    /// Compass bearing of the direction of travel, degrees.
    pub(super) travel_bearing_deg: f64,
    /// Side of a cell, m.
    pub(super) cell_m: f64,
    /// Area of the cells that are the field's, m².
    pub(super) area_m2: f64,
    /// Rings of the field's edge (x along, y across, m), holes among them; empty where the field
    /// is the whole rectangle.
    pub(super) boundary: Vec<Vec<[f64; 2]>>,
}

/// One alternative.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct AlternativeView {
    pub(super) name: String,
    pub(super) machine: MachineName,
    /// Right of the mainline where that serves both sides.
    pub(super) sprinklers_x_m: Vec<f64>,
    /// Left of it; empty where it serves one side.
    pub(super) left_sprinklers_x_m: Vec<f64>,
    /// Where a mainline runs that serves both sides, m; `null` along the field's edge.
    pub(super) mainline_x_m: Option<f64>,
    /// Lines that share the field.
    pub(super) lines: usize,
    pub(super) outlets_y_m: Vec<f64>,
    pub(super) reach_m: f64,
    /// `null` for a hand-move.
    pub(super) travel_per_turn_m: Option<f64>,
    /// What a wheel does from outlet to outlet, as `evenfall stops` prints it; empty for a hand-move.
    pub(super) wheel: Vec<WheelFact>,
    /// Places beside an outlet, from behind to ahead.
    pub(super) stops: Vec<StopView>,
    /// One cycle of the rotation.
    pub(super) rotation: Vec<ShiftView>,
    pub(super) passes: Vec<PassView>,
}

/// One fact about a wheel.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct WheelFact {
    pub(super) what: &'static str,
    pub(super) value: String,
}

/// A place beside an outlet, and whether the lateral can stand there.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct StopView {
    pub(super) across_m: f64,
    pub(super) along_m: f64,
    /// Turns of the wheel from the outlet; `null` for a hand-move.
    pub(super) turns: Option<f64>,
    pub(super) reachable: bool,
    /// Why, or why not, in plain words.
    pub(super) reason: &'static str,
}

/// A shift of the rotation.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct ShiftView {
    pub(super) letter: char,
    pub(super) across_m: f64,
    pub(super) along_m: f64,
}

/// One pass.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct PassView {
    pub(super) letter: char,
    pub(super) across_m: f64,
    pub(super) along_m: f64,
    pub(super) sets: Vec<SetView>,
}

/// Why a set stands where it does.
#[derive(Debug, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub(crate) enum SetRole {
    /// Shifted with its pass.
    Shifted,
    /// Held at its outlet, at an edge.
    Held,
    /// One more on the side that the shift opens.
    Extra,
}

/// How the lateral is moved, as in the scenario.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) enum MachineName {
    #[serde(rename = "wheel line")]
    WheelLine,
    #[serde(rename = "hand move")]
    HandMove,
}

/// A side of the mainline, looking in the direction of travel.
#[derive(Debug, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub(crate) enum SideName {
    /// Where x grows; also where the mainline serves one side.
    Right,
    /// Where x falls.
    Left,
}

/// One set.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct SetView {
    /// Line, from 0.
    pub(super) line: usize,
    /// Side of the mainline.
    pub(super) side: SideName,
    /// Outlet, from 0.
    pub(super) outlet: usize,
    /// Where the lateral stands across the field, m.
    pub(super) y_m: f64,
    /// Why it stands there.
    pub(super) role: SetRole,
    /// Hours from midnight of the season's first day.
    pub(super) start_h: f64,
    pub(super) end_h: f64,
    /// Local date and time.
    pub(super) start: String,
    pub(super) end: String,
}
