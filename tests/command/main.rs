//! Black-box tests of the command `evenfall`: words in; exit code, text and files out.
//!
//! They know nothing of the crates behind it. The demo is run once and shared; every other run has
//! an empty folder of its own.

#[cfg(test)]
mod as_it_was;
#[cfg(test)]
mod bad_scenarios;
#[cfg(test)]
mod bought;
#[cfg(test)]
mod boundary;
#[cfg(test)]
mod catch;
#[cfg(test)]
mod disk;
#[cfg(test)]
mod edges;
#[cfg(test)]
mod explore;
#[cfg(test)]
mod farms;
#[cfg(test)]
mod faults;
#[cfg(test)]
mod filled_in;
#[cfg(test)]
mod fit;
#[cfg(test)]
mod give;
#[cfg(test)]
mod hand_move;
#[cfg(test)]
mod interruption;
#[cfg(test)]
mod kept;
#[cfg(test)]
mod kills;
#[cfg(test)]
mod late_sets;
#[cfg(test)]
mod lines;
#[cfg(test)]
mod manners;
#[cfg(test)]
mod narrow_field;
#[cfg(test)]
mod odd_files;
#[cfg(test)]
mod odd_paths;
#[cfg(test)]
mod options;
#[cfg(test)]
mod orders;
#[cfg(test)]
mod overlap;
#[cfg(test)]
mod pressure;
#[cfg(test)]
mod reading;
#[cfg(test)]
mod reference;
#[cfg(test)]
mod report;
#[cfg(test)]
mod reproducible;
#[cfg(test)]
mod runs;
#[cfg(test)]
mod scenarios;
#[cfg(test)]
mod search;
#[cfg(test)]
mod server;
#[cfg(test)]
mod sheet;
#[cfg(test)]
mod sheet_words;
#[cfg(test)]
mod small_plots;
#[cfg(test)]
mod soak;
#[cfg(test)]
mod split;
#[cfg(test)]
mod study;
#[cfg(test)]
mod study_kept;
#[cfg(test)]
mod study_plans;
#[cfg(test)]
mod study_shared;
#[cfg(test)]
mod survey;
#[cfg(test)]
mod tables;
#[cfg(test)]
mod tilt;
#[cfg(test)]
mod wheels;
#[cfg(test)]
mod worth;
