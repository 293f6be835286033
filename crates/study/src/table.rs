//! Columns of values, and their way into Parquet and out of it.
//!
//! This goes by the library's own columns and not by Arrow's arrays: these would be a tenth of all that is
//! built before the program first runs. What such a schema would say of a column, its unit and what it
//! is, stands as JSON in the footer of the gathered table.

use evenfall_view::cell_text;
use parquet::basic::{LogicalType, Repetition, Type as Physical};
use parquet::column::reader::ColumnReader;
use parquet::data_type::{ByteArray, ByteArrayType, DataType, DoubleType, Int64Type};
use parquet::errors::{ParquetError, Result};
use parquet::file::properties::WriterProperties;
use parquet::file::reader::RowGroupReader;
use parquet::file::writer::{SerializedFileWriter, SerializedRowGroupWriter};
use parquet::schema::types::{Type, TypePtr};
use std::io::Write;
use std::sync::Arc;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Whole numbers from 0.
    Count,
    /// Numbers.
    Number,
    /// Text.
    Text,
}

/// A column.
#[derive(Clone, Debug)]
pub(crate) struct Column {
    pub(crate) name: String,
    pub(crate) kind: Kind,
    pub(crate) unit: &'static str,
    /// What it is, for whoever finds the table.
    pub(crate) description: String,
}

/// Values of a column, one a row; none where a row has none.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Values {
    Counts(Vec<Option<u64>>),
    Numbers(Vec<Option<f64>>),
    Texts(Vec<Option<String>>),
}

impl Values {
    /// None yet.
    pub(crate) fn empty(kind: Kind) -> Self {
        match kind {
            Kind::Count => Self::Counts(Vec::new()),
            Kind::Number => Self::Numbers(Vec::new()),
            Kind::Text => Self::Texts(Vec::new()),
        }
    }

    fn len(&self) -> usize {
        match self {
            Self::Counts(values) => values.len(),
            Self::Numbers(values) => values.len(),
            Self::Texts(values) => values.len(),
        }
    }

    /// The value in a row as a cell of a CSV; empty where there is none.
    pub(crate) fn cell(&self, row: usize) -> String {
        match self {
            Self::Counts(values) => values[row].map_or_else(String::new, |value| value.to_string()),
            Self::Numbers(values) => {
                values[row].map_or_else(String::new, |value| value.to_string())
            }
            // A text so that no spreadsheet computes it.
            Self::Texts(values) => values[row].as_deref().map_or_else(String::new, cell_text),
        }
    }

    fn write<W: Write + Send>(&self, group: &mut SerializedRowGroupWriter<'_, W>) -> Result<()> {
        match self {
            // The column says that it is without a sign; the bits are the same.
            Self::Counts(values) => put::<Int64Type, _, _>(group, values, |value| *value as i64),
            Self::Numbers(values) => put::<DoubleType, _, _>(group, values, |value| *value),
            Self::Texts(values) => {
                put::<ByteArrayType, _, _>(group, values, |value| ByteArray::from(value.as_str()))
            }
        }
    }

    /// Adds the next `rows` values of a column.
    fn read(&mut self, column: ColumnReader, rows: usize) -> Result<()> {
        match (self, column) {
            (Self::Counts(values), ColumnReader::Int64ColumnReader(mut reader)) => {
                let (mut found, mut defined) = (Vec::new(), Vec::new());
                reader.read_records(rows, Some(&mut defined), None, &mut found)?;
                spread(values, &defined, found.into_iter().map(|value| Ok(value as u64)))
            }
            (Self::Numbers(values), ColumnReader::DoubleColumnReader(mut reader)) => {
                let (mut found, mut defined) = (Vec::new(), Vec::new());
                reader.read_records(rows, Some(&mut defined), None, &mut found)?;
                spread(values, &defined, found.into_iter().map(Ok))
            }
            (Self::Texts(values), ColumnReader::ByteArrayColumnReader(mut reader)) => {
                let (mut found, mut defined) = (Vec::new(), Vec::new());
                reader.read_records(rows, Some(&mut defined), None, &mut found)?;
                let text = |value: ByteArray| Ok(value.as_utf8()?.to_owned());
                spread(values, &defined, found.into_iter().map(text))
            }
            _ => Err(ParquetError::General("a column holds values of another kind".to_owned())),
        }
    }
}

fn put<T: DataType, V, W: Write + Send>(
    group: &mut SerializedRowGroupWriter<'_, W>,
    values: &[Option<V>],
    of: impl Fn(&V) -> T::T,
) -> Result<()> {
    let there: Vec<T::T> = values.iter().flatten().map(of).collect();
    let defined: Vec<i16> = values.iter().map(|value| i16::from(value.is_some())).collect();
    let Some(mut column) = group.next_column()? else {
        return Err(ParquetError::General("more columns than the table has".to_owned()));
    };
    column.typed::<T>().write_batch(&there, Some(&defined), None)?;
    column.close()
}

/// Puts the values that are there to the rows that have one.
fn spread<V>(
    values: &mut Vec<Option<V>>,
    defined: &[i16],
    mut there: impl Iterator<Item = Result<V>>,
) -> Result<()> {
    for is_defined in defined {
        values.push(if *is_defined > 0 { there.next().transpose()? } else { None });
    }
    Ok(())
}

/// Begins a table of these columns.
pub(crate) fn begin<W: Write + Send>(
    to: W,
    columns: &[Column],
    properties: WriterProperties,
) -> Result<SerializedFileWriter<W>> {
    SerializedFileWriter::new(to, schema(columns)?, Arc::new(properties))
}

fn schema(columns: &[Column]) -> Result<TypePtr> {
    let field = |column: &Column| {
        let (physical, logical) = match column.kind {
            Kind::Count => (Physical::INT64, Some(LogicalType::integer(64, false))),
            Kind::Number => (Physical::DOUBLE, None),
            Kind::Text => (Physical::BYTE_ARRAY, Some(LogicalType::String)),
        };
        Type::primitive_type_builder(&column.name, physical)
            .with_repetition(Repetition::OPTIONAL)
            .with_logical_type(logical)
            .build()
            .map(Arc::new)
    };
    let fields = columns.iter().map(field).collect::<Result<_>>()?;
    Ok(Arc::new(Type::group_type_builder("rows").with_fields(fields).build()?))
}

/// Writes columns of equally many rows as the next group of rows.
pub(crate) fn write_group<W: Write + Send>(
    table: &mut SerializedFileWriter<W>,
    columns: &[Values],
) -> Result<()> {
    let mut group = table.next_row_group()?;
    for column in columns {
        column.write(&mut group)?;
    }
    group.close().map(|_| ())
}

/// Adds the rows of a group to `columns`, which must be all of the table's; how many there were.
pub(crate) fn read_group(group: &dyn RowGroupReader, columns: &mut [Values]) -> Result<usize> {
    let rows = usize::try_from(group.metadata().num_rows())?;
    if group.num_columns() != columns.len() {
        return Err(ParquetError::General(format!(
            "a part has {} columns, the study {}",
            group.num_columns(),
            columns.len()
        )));
    }
    for (number, values) in columns.iter_mut().enumerate() {
        let whole = values.len() + rows;
        values.read(group.get_column_reader(number)?, rows)?;
        if values.len() != whole {
            return Err(ParquetError::General("a column of a part has too few rows".to_owned()));
        }
    }
    Ok(rows)
}
