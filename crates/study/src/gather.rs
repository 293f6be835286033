//! All parts as one table: Parquet and CSV.

use crate::part::properties;
use crate::study::Study;
use arrow_array::cast::AsArray as _;
use arrow_array::types::{Float64Type, UInt64Type};
use arrow_array::{Array as _, ArrayRef, RecordBatch};
use arrow_schema::{DataType, SchemaRef};
use evenfall_view::cell_text;
use parquet::arrow::ArrowWriter;
use parquet::arrow::arrow_reader::ParquetRecordBatchReaderBuilder;
use parquet::errors::ParquetError;
use parquet::file::metadata::KeyValue;
use parquet::file::reader::ChunkReader;
use std::io::{self, Write};
use std::sync::Arc;

/// Rows of a group of the whole table.
const GROUP_ROWS: usize = 1 << 16;

/// Why parts cannot be gathered.
#[derive(Debug, thiserror::Error)]
pub enum GatherError {
    /// A part cannot be read, or the table not be written.
    #[error(transparent)]
    Parquet(#[from] ParquetError),
    /// The lines cannot be written.
    #[error(transparent)]
    Csv(#[from] csv::Error),
    /// Neither can be put away.
    #[error(transparent)]
    Io(#[from] io::Error),
}

/// A table in the making.
pub struct Gathered<P: Write + Send, C: Write> {
    table: ArrowWriter<P>,
    lines: csv::Writer<C>,
    rows: usize,
    /// With the words and units that parts are without.
    schema: SchemaRef,
}

impl<P: Write + Send, C: Write> std::fmt::Debug for Gathered<P, C> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Gathered").field("rows", &self.rows).finish_non_exhaustive()
    }
}

impl<P: Write + Send, C: Write> Gathered<P, C> {
    /// Begins the tables of `study`, as Parquet into `table`, as CSV into `lines`.
    ///
    /// # Errors
    /// What these refuse.
    pub fn begin(study: &Study, table: P, lines: C) -> Result<Self, GatherError> {
        let says = |key: &str, value: &str| KeyValue::new(key.to_owned(), value.to_owned());
        let footer = vec![
            says("evenfall_study_sha256", study.digest()),
            says("title", &study.plan.title),
            says("version", &study.version),
        ];
        let properties = properties()
            .set_max_row_group_row_count(Some(GROUP_ROWS))
            .set_key_value_metadata(Some(footer))
            .build();
        let schema = Arc::clone(&study.layout.schema);
        let mut lines = csv::Writer::from_writer(lines);
        lines.write_record(schema.fields().iter().map(|field| field.name()))?;
        let table = ArrowWriter::try_new(table, Arc::clone(&schema), Some(properties))?;
        Ok(Self { table, lines, rows: 0, schema })
    }

    /// Adds a part; the order of the parts is that of the rows.
    ///
    /// # Errors
    /// A part that is not whole; what the tables refuse.
    pub fn add<R: ChunkReader + 'static>(&mut self, part: R) -> Result<(), GatherError> {
        for batch in ParquetRecordBatchReaderBuilder::try_new(part)?.build()? {
            let batch = batch.map_err(ParquetError::from)?;
            let batch = RecordBatch::try_new(Arc::clone(&self.schema), batch.columns().to_vec())
                .map_err(ParquetError::from)?;
            self.table.write(&batch)?;
            let columns: Vec<Column<'_>> = batch.columns().iter().map(Column::of).collect();
            for row in 0..batch.num_rows() {
                self.lines.write_record(columns.iter().map(|column| column.text(row)))?;
            }
            self.rows += batch.num_rows();
        }
        Ok(())
    }

    /// Ends both tables; how many rows they have, and what they were written into.
    ///
    /// # Errors
    /// What these refuse.
    pub fn finish(self) -> Result<(usize, P, C), GatherError> {
        let lines = self.lines.into_inner().map_err(|error| {
            let error = error.error();
            io::Error::new(error.kind(), error.to_string())
        })?;
        Ok((self.rows, self.table.into_inner()?, lines))
    }
}

/// A column to be read as text.
enum Column<'a> {
    Counts(&'a arrow_array::UInt64Array),
    Numbers(&'a arrow_array::Float64Array),
    Texts(&'a arrow_array::StringArray),
}

impl<'a> Column<'a> {
    fn of(column: &'a ArrayRef) -> Self {
        match column.data_type() {
            DataType::UInt64 => Self::Counts(column.as_primitive::<UInt64Type>()),
            DataType::Float64 => Self::Numbers(column.as_primitive::<Float64Type>()),
            _ => Self::Texts(column.as_string::<i32>()),
        }
    }

    /// The value in a row, a text so that no spreadsheet computes it; empty where there is none.
    fn text(&self, row: usize) -> String {
        let told = |is_null: bool, text: &dyn Fn() -> String| {
            if is_null { String::new() } else { text() }
        };
        match self {
            Self::Counts(column) => told(column.is_null(row), &|| column.value(row).to_string()),
            Self::Numbers(column) => told(column.is_null(row), &|| column.value(row).to_string()),
            Self::Texts(column) => told(column.is_null(row), &|| cell_text(column.value(row))),
        }
    }
}
