//! Streams of random numbers, one for each season and purpose, so that one more draw for one
//! purpose never moves another, and seasons never share a number.

use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;

/// What is drawn.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Purpose {
    /// The wind along the prevailing direction.
    WindAlong = 1,
    /// The wind across it.
    WindAcross = 2,
    /// Blocks of days out of a record.
    Blocks = 3,
    /// Days of a record that resemble a drawn day.
    LikeDays = 4,
    /// Evapotranspiration by day.
    Evapotranspiration = 5,
}

/// The stream of one season and purpose.
pub(crate) fn stream((seed, season): (u64, u32), purpose: Purpose) -> ChaCha8Rng {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    rng.set_stream(u64::from(season) << 8 | purpose as u64);
    rng
}

/// The same, from its place for day (or block) number `number` on, whatever was drawn before.
pub(crate) fn stream_at(of: (u64, u32), purpose: Purpose, number: i64) -> ChaCha8Rng {
    let mut rng = stream(of, purpose);
    rng.set_block_pos(u64::from((number as i32).cast_unsigned()));
    rng
}
