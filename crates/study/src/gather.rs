//! All parts as one table: Parquet and CSV.

use crate::part::properties;
use crate::study::Study;
use crate::table::{Column, Values, begin, read_group, write_group};
use parquet::errors::ParquetError;
use parquet::file::metadata::KeyValue;
use parquet::file::reader::{ChunkReader, FileReader as _, SerializedFileReader};
use parquet::file::writer::SerializedFileWriter;
use std::io::{self, Write};

/// Rows of a group of the whole table, at least: parts are not cut.
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
    table: SerializedFileWriter<P>,
    lines: csv::Writer<C>,
    /// Rows until here.
    rows: usize,
    columns: Vec<Column>,
    /// Those that do not fill a group yet.
    waiting: Vec<Values>,
    waiting_rows: usize,
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
            says("columns", &study.layout.about().to_string()),
        ];
        let properties = properties().set_key_value_metadata(Some(footer)).build();
        let columns = study.layout.columns.clone();
        let mut lines = csv::Writer::from_writer(lines);
        lines.write_record(columns.iter().map(|column| &column.name))?;
        let table = begin(table, &columns, properties)?;
        let waiting = empty(&columns);
        Ok(Self { table, lines, rows: 0, columns, waiting, waiting_rows: 0 })
    }

    /// Adds a part; the order of the parts is that of the rows.
    ///
    /// # Errors
    /// A part that is not whole; what the tables refuse.
    pub fn add<R: ChunkReader + 'static>(&mut self, part: R) -> Result<(), GatherError> {
        let part = SerializedFileReader::new(part)?;
        for number in 0..part.num_row_groups() {
            let first = self.waiting_rows;
            let group = part.get_row_group(number)?;
            self.waiting_rows += read_group(group.as_ref(), &mut self.waiting)?;
            for row in first..self.waiting_rows {
                self.lines.write_record(self.waiting.iter().map(|column| column.cell(row)))?;
            }
            self.rows += self.waiting_rows - first;
            if self.waiting_rows >= GROUP_ROWS {
                self.write_waiting()?;
            }
        }
        Ok(())
    }

    fn write_waiting(&mut self) -> Result<(), ParquetError> {
        write_group(&mut self.table, &self.waiting)?;
        self.waiting = empty(&self.columns);
        self.waiting_rows = 0;
        Ok(())
    }

    /// Ends both tables; how many rows they have, and what they were written into.
    ///
    /// # Errors
    /// What these refuse.
    pub fn finish(mut self) -> Result<(usize, P, C), GatherError> {
        if self.waiting_rows > 0 {
            self.write_waiting()?;
        }
        let lines = self.lines.into_inner().map_err(|error| {
            let error = error.error();
            io::Error::new(error.kind(), error.to_string())
        })?;
        Ok((self.rows, self.table.into_inner()?, lines))
    }
}

fn empty(columns: &[Column]) -> Vec<Values> {
    columns.iter().map(|column| Values::empty(column.kind)).collect()
}
