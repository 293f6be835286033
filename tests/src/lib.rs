//! Black-box tests live in `tests/`.
