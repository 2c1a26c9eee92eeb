//! Tables for the terminal, aligned and no wider than it is.

use std::ops::Range;

use comfy_table::{CellAlignment, ContentArrangement, presets};

/// A table without lines: first column to the left, numbers to the right.
pub(crate) struct Table(comfy_table::Table);

impl Table {
    /// A table with these headings, for a terminal of so many columns.
    pub(crate) fn new(headings: &[&str], width: u16) -> Self {
        let mut table = comfy_table::Table::new();
        table.load_style(presets::NOTHING).set_content_arrangement(ContentArrangement::Dynamic).set_width(width);
        table.set_header(headings);
        for column in table.column_iter_mut() {
            column.set_padding((0, 2));
        }
        Self(table)
    }

    /// Columns of numbers stand to the right.
    pub(crate) fn numbers(mut self, columns: Range<usize>) -> Self {
        for column in self.0.column_iter_mut().skip(columns.start).take(columns.len()) {
            column.set_cell_alignment(CellAlignment::Right);
        }
        self
    }

    /// One more row.
    pub(crate) fn row(&mut self, cells: Vec<String>) {
        self.0.add_row(cells);
    }

    /// The table as text, without blanks at the ends of lines.
    pub(crate) fn finish(self) -> String {
        let mut out = String::new();
        for line in self.0.lines() {
            out.push_str(line.trim_end());
            out.push('\n');
        }
        out
    }
}
