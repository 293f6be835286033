//! Options that commands share: the scenario, and the folder that the page goes to.

use clap::Args;
use std::path::PathBuf;

/// Which scenario is read, and where the page about it goes.
#[derive(Debug, Args, Default)]
pub(crate) struct PageArguments {
    /// Scenario file (JSON) [default: the built-in demo]
    pub(crate) scenario: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) folder: FolderArguments,
}

/// Where files go, and what may be replaced there.
#[derive(Debug, Args, Default)]
pub(crate) struct FolderArguments {
    /// Folder to write to [default: a new one, such as evenfall-report]
    #[arg(long, value_name = "FOLDER")]
    pub(crate) into: Option<PathBuf>,
    /// Replace an earlier report in that folder, unless you added or edited files there
    #[arg(long, requires = "into")]
    pub(crate) replace: bool,
    /// With --replace: throw away what you edited of the files that were written there, logs included;
    /// files that you added stay
    #[arg(long, requires = "replace")]
    pub(crate) discard_edits: bool,
}
