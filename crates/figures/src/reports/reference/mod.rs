//! The reference: chapters of `shared/reference`, keys of a scenario and commands, for a terminal and as
//! one page that is searched as one types. What is wanted comes as plain values; the chapters are texts
//! kept in the project, with the tables that the program itself holds filled in.

mod chapters;
mod page;
mod text;

pub use chapters::chapters;
pub use page::{REFERENCE_SCRIPT, reference_page};
pub use text::reference_text;
