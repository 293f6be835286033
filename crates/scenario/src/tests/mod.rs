//! Tests of the whole way from text to scenario.

mod as_written;
mod bad_input;
mod bad_worth;
mod bought;
mod boundary;
mod calibration;
mod canopy;
mod climate;
mod clock;
mod closed;
mod discharges;
mod examples;
mod fuzz;
pub(crate) mod helpers;
mod hostile;
mod maintenance;
mod metamorphic;
mod orders;
mod own_keys;
mod pipe;
mod reference;
mod schema;
mod search;
mod survey;
mod wheels;
mod worth;
