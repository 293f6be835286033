//! Rotations: the list of shifts that a lateral takes pass by pass, repeated in order.

/// Places that are closer are the same, m.
const SAME_PLACE_M: f64 = 1e-6;

/// How far from its outlet a lateral stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shift {
    /// Across the field, in the direction of travel (+) or against it (−), m.
    pub across_m: f64,
    /// Along the pipe, away from the mainline end (+), m; 0 for a wheel line.
    pub along_m: f64,
}

impl Shift {
    /// At the outlet.
    pub const NONE: Self = Self { across_m: 0.0, along_m: 0.0 };
}

/// A rotation: shift of pass 1, of pass 2 …, then from the start again.
#[derive(Clone, Debug, PartialEq)]
pub struct Rotation {
    shifts: Vec<Shift>,
}

impl Rotation {
    /// A rotation through `shifts` in order; `None` if there are none.
    pub fn new(shifts: Vec<Shift>) -> Option<Self> {
        (!shifts.is_empty()).then_some(Self { shifts })
    }

    /// The fixed pattern: always at the outlet.
    pub fn fixed() -> Self {
        Self { shifts: vec![Shift::NONE] }
    }

    /// The shifts of one cycle, in order.
    pub fn shifts(&self) -> &[Shift] {
        &self.shifts
    }

    /// How far from its outlet it takes the lateral at the most, m.
    pub fn farthest_m(&self) -> f64 {
        let distances = self.shifts.iter().map(|shift| shift.across_m.hypot(shift.along_m));
        distances.fold(0.0, f64::max)
    }

    /// Whether it takes the lateral farther from its outlet than `told_m`.
    pub fn reaches_beyond(&self, told_m: f64) -> bool {
        self.farthest_m() > told_m + SAME_PLACE_M
    }

    /// Passes in one cycle.
    pub fn cycle(&self) -> usize {
        self.shifts.len()
    }

    /// The place in the rotation of pass `pass` (from 0), and its shift.
    pub fn at(&self, pass: usize) -> (usize, Shift) {
        let place = pass % self.shifts.len();
        (place, self.shifts[place])
    }

    /// The distinct shifts in order of first use: the letters A, B, C … of the pictures.
    pub fn distinct(&self) -> Vec<Shift> {
        let mut seen: Vec<Shift> = Vec::new();
        for shift in &self.shifts {
            if !seen.contains(shift) {
                seen.push(*shift);
            }
        }
        seen
    }

    /// The letter of a shift: A for the first distinct one.
    pub fn letter_of(&self, shift: Shift) -> char {
        letter(self.distinct().iter().position(|s| *s == shift).unwrap_or(0))
    }

    /// The letter of the shift taken in pass `pass` (from 0): A for the first distinct shift.
    pub fn letter(&self, pass: usize) -> char {
        self.letter_of(self.at(pass).1)
    }
}

/// Letter of the `index`-th distinct shift; after Z the letters start again.
pub fn letter(index: usize) -> char {
    char::from(b'A' + (index % 26) as u8)
}
