//! Evenfall's results as plain serializable values, made once per kind of run; files, tables, the
//! explorer's API and the report follow from them. This crate knows the core's results and nothing
//! of how they were computed, of drawing, of files or of the scenario's text.
//!
//! Conventions:
//! - A result is an [`Amount`]: number, unit and text together. The number is in the stated unit
//!   (percent, not a fraction; inches where the view is made in US units) and `None` where there is
//!   none or it is not finite. The text is whole, as people read it, unit and all.
//! - A view is made in one [`UnitSystem`]. What goes into files for other programs (JSON, CSV) is
//!   made in SI; its keys carry the unit last, `mean_depth_mm`, and its numbers are not rounded.
//! - Views are structs named for what they hold ([`Amount`], a pass, a season), never for how they
//!   are shown, and derive `Serialize` and `ToSchema`. Words beside numbers are plain `String`s.
//! - What comes in kinds (figures, prices) is a table with one row a kind; a view holds a list in
//!   the table's order, and each item is told by its key, never by its label.

mod as_it_was;
mod cell;
mod checked;
mod clock;
mod figures;
pub mod known;
mod methods;
mod notes;
mod plan_check;
mod reference;
mod search;
mod season;
mod season_rows;
mod stands;
pub mod units;
mod value;
pub mod worth;

pub use as_it_was::{AsItWas, AsItWasParts, Beside, CropAsItWas, duration};
pub use cell::cell_text;
pub use checked::Checked;
pub use clock::{AlternativeClock, Clock, ClockPass, ClockSet};
pub use figures::{FIGURES, Figure, FigureHead, Figures, Measure, Shown};
pub use methods::{MethodValue, Standing, UsedMethod, methods};
pub use notes::{
    AlternativeFigures, AlternativeRules, AlternativeWheel, AreaTable, Assumption, Input,
    ReportNotes,
};
pub use plan_check::{AlternativePlan, PLAN_HEADING, PlanCheck, PlanRow, PlanStatus};
pub use reference::{Chapter, Reference, ReferenceRow, ReferenceSection};
pub use search::{SearchSummary, TextTable};
pub use season::{
    AlternativeSeason, DayNight, Pass, Pressure, Regions, Rule, Season, SeasonGrid, Split, Stop,
    Time, Water, Wind, pass_columns,
};
pub use season_rows::{COMMIT, RowOrigin, SEASON_COLUMNS, SeasonColumn};
pub use stands::{AlternativeStands, RotationStop, Stands, WheelStands, WheelStop};
pub use units::{Quantity, UnitSystem};
pub use value::{Amount, Interval};
