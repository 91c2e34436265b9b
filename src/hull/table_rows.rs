//! A CSV text as rows of cells, each with its line in the file.

/// A row that holds something.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TableRow {
    /// Line in the file, from 1.
    pub(super) at: u64,
    /// Its cells, trimmed; the first in lower case, and none empty at the end.
    pub(super) cells: Vec<String>,
}

impl TableRow {
    /// The first cell, or nothing.
    pub(super) fn first(&self) -> &str {
        self.cells.first().map_or("", String::as_str)
    }
}

/// A table's rows, and how its numbers are written.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TableRows {
    /// Rows that hold something, from the top.
    pub(super) rows: Vec<TableRow>,
    /// Cells are set apart by semicolons, and a comma is a decimal point.
    pub(super) decimal_commas: bool,
}

impl TableRows {
    /// The rows of a text. Comments run from a hash to the end of the line, wherever it
    /// stands; quoted cells, CRLF and a byte-order mark are read.
    ///
    /// # Errors
    /// Line (0 if unknown) and what is no CSV.
    pub(super) fn of(text: &str) -> Result<TableRows, (u64, String)> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        // Lines keep their number.
        let bare: String =
            text.lines().map(|l| format!("{}\n", l.split('#').next().unwrap_or(""))).collect();
        let semicolon = bare.contains(';');
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .trim(csv::Trim::All)
            .delimiter(if semicolon { b';' } else { b',' })
            .from_reader(bare.as_bytes());
        let mut rows = Vec::new();
        for record in reader.records() {
            let record = record.map_err(|e| {
                (e.position().map_or(0, csv::Position::line), format!("not a CSV row: {e}"))
            })?;
            let at = record.position().map_or(0, csv::Position::line);
            let mut cells: Vec<String> = record.iter().map(|c| c.trim().to_string()).collect();
            while cells.last().is_some_and(String::is_empty) {
                cells.pop();
            }
            // `unit,mm` in a file whose other rows are set apart by semicolons.
            if let [only] = cells.as_slice()
                && let Some((name, word)) = only.split_once(',')
            {
                cells = vec![name.trim().to_string(), word.trim().to_string()];
            }
            if let Some(first) = cells.first_mut() {
                *first = first.to_lowercase();
                rows.push(TableRow { at, cells });
            }
        }
        Ok(TableRows { rows, decimal_commas: semicolon })
    }

    /// A cell's number as the rest of the program writes it.
    pub(super) fn number(&self, cell: &str) -> String {
        if self.decimal_commas { cell.replace(',', ".") } else { cell.into() }
    }
}
