//! The papers tell what is there: paths named in them exist, and the table of crates is the one
//! the crates were built with.

#[cfg(test)]
mod edges;
#[cfg(test)]
mod paths;
