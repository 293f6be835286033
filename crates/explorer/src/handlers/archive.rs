//! Files in one ZIP archive, without dates, so that the same files give the same bytes.

use crate::limits::fail::Fail;
use axum::http::StatusCode;
use evenfall_figures::Put;
use std::io::{Cursor, Write as _};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// Packs every file that `give` puts into the archive.
pub(crate) fn zipped(
    give: &mut dyn FnMut(Put<'_, Fail>) -> Result<(), Fail>,
) -> Result<Vec<u8>, Fail> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    give(&mut |name, bytes| {
        // Pictures of points are packed already.
        let is_packed = name.as_bytes().ends_with(b".png");
        let method =
            if is_packed { CompressionMethod::Stored } else { CompressionMethod::Deflated };
        let options = SimpleFileOptions::default().compression_method(method);
        archive.start_file(name, options).map_err(|error| cannot_zip(&error))?;
        archive.write_all(bytes).map_err(|error| cannot_zip(&error))
    })?;
    Ok(archive.finish().map_err(|error| cannot_zip(&error))?.into_inner())
}

fn cannot_zip(error: &dyn std::fmt::Display) -> Fail {
    Fail::new(StatusCode::INTERNAL_SERVER_ERROR, format!("Packing the files failed: {error}"))
}
