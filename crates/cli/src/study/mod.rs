//! `evenfall study`: the disk, the signals and the progress of a study; what it computes is
//! `evenfall_study`.

mod aside;
mod folder;
mod forecast;
mod gather;
mod gathered;
mod load;
mod out;
mod run;
mod shard;
mod state;

use crate::arguments::{StudyArguments, StudyStep};
use crate::failure::Failure;
use crate::terminal::Voice;

pub(crate) fn run(options: &StudyArguments, voice: Voice) -> Result<(), Failure> {
    match &options.step {
        StudyStep::Plan(options) => forecast::run(options, voice),
        StudyStep::Run(options) => run::run(options, voice),
        StudyStep::State(options) => state::run(options),
        StudyStep::Gather(options) => gather::run(options, voice),
    }
}
