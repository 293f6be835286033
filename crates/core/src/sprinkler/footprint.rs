//! stub
use ndarray::Array2;
/// Footprint stub.
#[derive(Clone, Debug, PartialEq)]
pub struct Footprint {
    /// a
    pub first_row: isize,
    /// a
    pub first_column: isize,
    /// a
    pub values: Array2<f64>,
}
