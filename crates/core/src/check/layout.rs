//! Where a report's figures lie in one row of cells.
//!
//! Each outlet has its columns side by side; after the last outlet come the links.

use heapless::VecView;

use super::Store;
use crate::{Figure, Tree, forward, reverse};

/// What is worked out for an outlet, in this order; but for the first two at each of its frequencies.
#[derive(Clone, Copy)]
pub(crate) enum Column {
    Tilt,
    Total,
    Forward,
    Cnr,
    Transmit,
}

/// The shape of a report.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Layout {
    /// Where each column begins, and where the next outlet does.
    starts: [usize; 6],
    /// Where the links begin.
    links: usize,
    /// How many of their figures are noted.
    linked: usize,
}

impl Layout {
    /// Nothing to report.
    pub(crate) const NEW: Self = Self { starts: [0; 6], links: 0, linked: 0 };

    /// Takes the shape of a home's report, and makes its cells ready.
    ///
    /// # Errors
    /// [`Store::Figures`] where they find no room.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn make(&mut self, tree: &Tree<'_, '_>, cells: &mut VecView<Figure>) -> Result<(), Store> {
        let forward = forward::frequencies(tree).count();
        let cnr = if tree.entry.cnr.is_some() { forward } else { 0 };
        let transmit = reverse::frequencies(tree).count();
        let stride = 2 + forward + cnr + transmit;
        let links = tree.outlets.len() * stride;
        let members = tree.home_network.map_or(0, |_| tree.members.len());
        cells.clear();
        // Two for each pair of members.
        let count = links + members * members.saturating_sub(1);
        cells.resize(count, Figure::alone(0.0)).map_err(|_| Store::Figures)?;
        *self = Self { starts: [0, 1, 2, 2 + forward, 2 + forward + cnr, stride], links, linked: 0 };
        Ok(())
    }

    /// Where a column begins and ends.
    fn column(&self, outlet: usize, column: Column) -> Option<(usize, usize)> {
        let column = column as usize;
        let [.., stride] = self.starts;
        let outlet = outlet * stride;
        Some((outlet + self.starts.get(column)?, outlet + self.starts.get(column + 1)?))
    }

    /// Notes a figure.
    pub(crate) fn put(&self, cells: &mut [Figure], outlet: usize, column: Column, row: usize, figure: &Figure) {
        if let Some((start, _)) = self.column(outlet, column)
            && let Some(cell) = cells.get_mut(start + row)
        {
            *cell = *figure;
        }
    }

    /// The figures of a column.
    pub(crate) fn get<'a>(&self, cells: &'a [Figure], outlet: usize, column: Column) -> &'a [Figure] {
        self.column(outlet, column).and_then(|(start, end)| cells.get(start..end)).unwrap_or(&[])
    }

    /// The figure of a column that has one.
    pub(crate) fn head(&self, cells: &[Figure], outlet: usize, column: Column) -> Figure {
        self.get(cells, outlet, column).first().copied().unwrap_or_default()
    }

    /// The links, pair by pair, at both edges of the band; a blocked one has infinite loss.
    pub(crate) fn links<'a>(&self, cells: &'a [Figure]) -> &'a [Figure] {
        cells.get(self.links..).unwrap_or(&[])
    }

    /// Notes the loss of the link that comes next.
    pub(crate) fn put_link(&mut self, cells: &mut [Figure], loss: f32) {
        if let Some(cell) = cells.get_mut(self.links + self.linked) {
            *cell = Figure::alone(loss);
            self.linked += 1;
        }
    }
}
