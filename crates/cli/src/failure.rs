//! How a run can fail, and the exit code that says so.

use evenfall_core::season::SeasonError;
use evenfall_figures::DrawError;
use std::fmt::{self, Display, Formatter};

/// Why the program stops short.
#[derive(Debug)]
pub(crate) enum Failure {
    /// An option has a value that makes no sense.
    Usage(String),
    /// The scenario has problems (already laid out for reading).
    Scenario(String),
    /// A file or folder cannot be read or written.
    Files(String),
    /// The scenario is sound but cannot be simulated.
    Season(String),
    /// A fault of this program.
    Fault(String),
    /// Stopped by the user.
    Interrupted(String),
}

impl Failure {
    /// The exit code; the list in the command's help is kept beside it.
    pub(crate) fn exit_code(&self) -> u8 {
        match self {
            Self::Usage(_) => 2,
            Self::Scenario(_) => 3,
            Self::Files(_) => 4,
            Self::Season(_) => 5,
            Self::Fault(_) => 70,
            Self::Interrupted(_) => 130,
        }
    }
}

impl From<SeasonError> for Failure {
    fn from(error: SeasonError) -> Self {
        match error {
            SeasonError::Stopped { done, total } => {
                Self::Interrupted(format!("after pass {done} of {total}. Nothing was written"))
            }
            SeasonError::WaterLost { .. } => Self::Fault(error.to_string()),
            other => Self::Season(other.to_string()),
        }
    }
}

impl From<DrawError> for Failure {
    fn from(error: DrawError) -> Self {
        Self::Fault(format!("drawing the report: {error}"))
    }
}

impl Display for Failure {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Scenario(text) => f.write_str(text),
            Self::Usage(text) | Self::Files(text) | Self::Season(text) => {
                write!(f, "error: {text}")
            }
            Self::Fault(text) => write!(f, "fault in this program: {text}"),
            Self::Interrupted(text) => write!(f, "stopped: {text}"),
        }
    }
}

/// Shown under the help.
pub(crate) const EXIT_CODES: &str = "\
Exit codes:
    0  done; worth and search that were stopped with Ctrl-C keep what was finished and say how much
    2  a wrong command or option
    3  problems in the scenario, log or catch-can file (all are listed)
    4  a file or folder cannot be read or written
    5  the scenario cannot be simulated as it is
   70  an internal error; please report it
  130  stopped with Ctrl-C, a request to end or a closed terminal; nothing was written, but a study
       keeps its finished blocks";
