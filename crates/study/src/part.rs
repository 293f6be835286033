//! A part: the rows of a block as a Parquet file, whose footer says which study and block it is.
//!
//! A part holds rows and nothing of what its columns mean: words and units of the columns would be larger
//! than the rows of a usual block. The gathered table and `study.json` have them.
//!
//! The same rows give the same bytes: columns are written in order, metadata is sorted, and what the
//! writer says of itself is fixed.

use crate::blocks::Block;
use crate::columns::Rows;
use crate::study::Study;
use crate::table::{begin, write_group};
use parquet::basic::Compression;
use parquet::errors::ParquetError;
use parquet::file::metadata::{KeyValue, ParquetMetaDataReader};
use parquet::file::properties::{EnabledStatistics, WriterProperties, WriterPropertiesBuilder};
use parquet::file::reader::ChunkReader;
use std::io::Write;

/// Keys in the footer.
const DIGEST: &str = "evenfall_study_sha256";
const BLOCK: &str = "evenfall_block";
const UNREACHED: &str = "evenfall_unreached";

/// How tables are written.
pub(crate) fn properties() -> WriterPropertiesBuilder {
    WriterProperties::builder()
        .set_created_by("evenfall study".to_owned())
        .set_compression(Compression::SNAPPY)
        // Ranges of columns and pages would be larger than the rows.
        .set_statistics_enabled(EnabledStatistics::None)
        .set_offset_index_disabled(true)
}

/// Writes the rows of `block` into `to` as a part.
///
/// # Errors
/// What `to` refuses.
pub fn write_part<W: Write + Send>(
    study: &Study,
    block: &Block,
    rows: &Rows,
    to: W,
) -> Result<W, ParquetError> {
    let says = |key: &str, value: String| KeyValue::new(key.to_owned(), value);
    let footer = vec![
        says(DIGEST, study.digest().to_owned()),
        says(BLOCK, block.number.to_string()),
        says(UNREACHED, rows.unreached().to_string()),
    ];
    let properties = properties().set_key_value_metadata(Some(footer)).build();
    let mut table = begin(to, &study.layout.columns, properties)?;
    write_group(&mut table, &study.layout.table(rows, &study.points, &study.version))?;
    table.into_inner()
}

/// What the footer of a part says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartSeen {
    /// Digest of the study that it belongs to.
    pub digest: String,
    /// Number of its block.
    pub block: usize,
    /// Its rows.
    pub rows: usize,
    /// How many of them tell why there is nothing.
    pub unreached: usize,
}

/// Looks at a part; `None` where it is none, or not whole.
pub fn seen<R: ChunkReader>(part: &R) -> Option<PartSeen> {
    let metadata = ParquetMetaDataReader::new().parse_and_finish(part).ok()?;
    let file = metadata.file_metadata();
    let says = |key: &str| {
        let all = file.key_value_metadata()?;
        all.iter().find(|entry| entry.key == key)?.value.clone()
    };
    Some(PartSeen {
        digest: says(DIGEST)?,
        block: says(BLOCK)?.parse().ok()?,
        rows: usize::try_from(file.num_rows()).ok()?,
        unreached: says(UNREACHED)?.parse().ok()?,
    })
}

#[cfg(test)]
#[path = "part_tests.rs"]
mod tests;
