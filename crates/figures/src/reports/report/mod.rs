//! The report: one self-contained page with the answer in plain words first.

mod answer;
mod cautions;
mod page;

pub use answer::ONLY_WATER;
pub(crate) use answer::answer as season_answer;
pub use cautions::ONE_SEASON;
pub(crate) use page::{PageParts, report_html};
