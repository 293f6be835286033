//! How far one input moves the net return.

use crate::value::Amount;
use serde::Serialize;
use utoipa::ToSchema;

/// How far one input, a price or something doubtful, moves the net return.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Swing {
    /// The input by name.
    pub input: String,
    /// In plain words.
    pub label: String,
    /// Nobody's number.
    pub is_placeholder: bool,
    /// It moves the net return by more than round-off.
    pub matters: bool,
    /// The input at the low end of its range, as used, at the high end, in the unit of its name.
    #[schema(min_items = 3, max_items = 3)]
    pub low_base_high: [f64; 3],
    /// The same as people read it.
    #[schema(min_items = 3, max_items = 3)]
    pub input_texts: [String; 3],
    /// Net return there.
    #[schema(min_items = 3, max_items = 3)]
    pub net: [Amount; 3],
    /// The input at which the answer turns, inside its range.
    pub break_even: Option<f64>,
    /// The same as people read it.
    pub break_even_text: Option<String>,
}
