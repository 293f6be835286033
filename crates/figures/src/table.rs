//! A table of texts, as page and terminal show it.

/// A table of texts; the first column names the row.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Table {
    pub(crate) title: String,
    pub(crate) head: Vec<String>,
    pub(crate) groups: Vec<Group>,
    /// A remark below; empty for none.
    pub(crate) note: String,
}

/// Rows under a common heading; no heading where it is empty.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Group {
    pub(crate) heading: String,
    pub(crate) rows: Vec<Row>,
}

/// One row.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Row {
    pub(crate) name: String,
    pub(crate) cells: Vec<String>,
}

impl Table {
    pub(crate) fn new(title: &str, head: &[&str]) -> Self {
        let head = head.iter().map(|text| (*text).to_owned()).collect();
        Self { title: title.to_owned(), head, ..Self::default() }
    }

    /// With these rows under no heading.
    pub(crate) fn with_rows(self, rows: Vec<Row>) -> Self {
        Self { groups: vec![Group { heading: String::new(), rows }], ..self }
    }

    /// Short enough to be kept on one printed page.
    pub(crate) fn is_short(&self) -> bool {
        self.groups.iter().map(|g| g.rows.len() + 1).sum::<usize>() <= 36
    }

    pub(crate) fn with_note(self, note: &str) -> Self {
        Self { note: note.to_owned(), ..self }
    }
}

impl Row {
    pub(crate) fn new(name: impl Into<String>, cells: Vec<String>) -> Self {
        Self { name: name.into(), cells }
    }
}
