//! Tests of the whole way from text to scenario.

mod bad_input;
mod examples;
mod helpers;
mod schema;
