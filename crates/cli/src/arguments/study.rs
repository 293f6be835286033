//! Options of `evenfall study`.

use clap::{Args, Subcommand};
use evenfall_scenario::options as keys;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct StudyArguments {
    #[command(subcommand)]
    pub(crate) step: StudyStep,
}

#[derive(Debug, Subcommand)]
#[allow(rustdoc::invalid_rust_codeblocks, reason = "the examples are commands")]
pub(crate) enum StudyStep {
    /// Tell rows, core-hours and bytes, after timing a few blocks; writes nothing
    Plan(StudyPlanArguments),
    /// Run the blocks that are not done yet, all or a share of them
    ///
    /// Finished blocks stay, whatever ends the run: give the same command again to go on. Ctrl-C ends it
    /// after the block at hand, a second one at once. Shards share one folder and nothing else, in any
    /// number and order; the result is the same to the byte. For a job array, name the variables that its
    /// jobs are told by:
    ///
    ///     evenfall study run plan.json --into wheels --shard 3/40
    ///     evenfall study run plan.json --into wheels --shard SLURM_ARRAY_TASK_ID/SLURM_ARRAY_TASK_COUNT
    #[command(verbatim_doc_comment)]
    Run(StudyRunArguments),
    /// Tell which blocks are done, broken and to do
    State(StudyFolderArguments),
    /// Put all blocks together: study.parquet and study.csv in the folder
    Gather(StudyGatherArguments),
}

#[derive(Debug, Args)]
pub(crate) struct StudyPlanArguments {
    /// Plan of the study (JSON)
    pub(crate) plan: PathBuf,
    /// How many blocks to time
    #[arg(long, value_name = "N", default_value_t = 3, value_parser = keys::timed_blocks)]
    pub(crate) blocks: u16,
    /// Print it as JSON
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct StudyRunArguments {
    #[command(flatten)]
    pub(crate) folder: StudyWhere,
    /// Do share K of N; either may be the name of an environment variable that holds the number
    #[arg(long, value_name = "K/N", default_value = "1/1")]
    pub(crate) shard: String,
    /// What the first share is numbered: 0 or 1, or the name of an environment variable that holds it
    #[arg(long, value_name = "NUMBER", default_value = "1")]
    pub(crate) lowest: String,
}

#[derive(Debug, Args)]
pub(crate) struct StudyFolderArguments {
    #[command(flatten)]
    pub(crate) folder: StudyWhere,
    /// Print it as JSON
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct StudyGatherArguments {
    #[command(flatten)]
    pub(crate) folder: StudyWhere,
    /// Put together what is done, though blocks are missing
    #[arg(long)]
    pub(crate) partial: bool,
    /// Replace tables that were edited since, or that this did not write
    #[arg(long)]
    pub(crate) replace: bool,
}

/// Which study, and where its parts lie.
#[derive(Debug, Args)]
pub(crate) struct StudyWhere {
    /// Plan of the study (JSON)
    pub(crate) plan: PathBuf,
    /// Folder of the study's parts and table; made if it is not there
    #[arg(long, value_name = "FOLDER", default_value = "evenfall-study")]
    pub(crate) into: PathBuf,
}
