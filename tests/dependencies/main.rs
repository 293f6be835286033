//! What the program is built of.

#[cfg(test)]
mod licenses;
