//! Where a report's figures lie in one row of cells.
//!
//! Each outlet has tilt, total, then forward levels, carrier-to-noise ratios and transmit levels
//! at their frequencies; after the last outlet come the links.

use heapless::VecView;

use crate::{Error, Figure, Tree, forward, reverse};

/// The shape of a report.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Layout {
    outlets: usize,
    forward: usize,
    cnr: usize,
    transmit: usize,
}

/// Tilt and total stand before the figures over frequency.
const HEAD: usize = 2;

impl Layout {
    /// The shape of a home's report, with its cells made ready.
    ///
    /// # Errors
    /// [`Error::Full`] where the cells find no room.
    pub(crate) fn new(tree: &Tree<'_, '_>, cells: &mut VecView<Figure>) -> Result<Self, Error> {
        let forward = forward::frequencies(tree).count();
        let layout = Self {
            outlets: tree.outlets.len(),
            forward,
            cnr: if tree.entry.cnr.is_some() { forward } else { 0 },
            transmit: reverse::frequencies(tree).count(),
        };
        cells.clear();
        let capacity = cells.capacity();
        cells
            .resize_default(layout.outlets * layout.stride())
            .map_err(|_| Error::Full { what: "figures", capacity })?;
        Ok(layout)
    }

    const fn stride(&self) -> usize {
        HEAD + self.forward + self.cnr + self.transmit
    }

    fn put(&self, cells: &mut VecView<Figure>, outlet: usize, offset: usize, figure: Figure) {
        if let Some(cell) = cells.get_mut(outlet * self.stride() + offset) {
            *cell = figure;
        }
    }

    fn get<'a>(&self, cells: &'a [Figure], outlet: usize, offset: usize, count: usize) -> &'a [Figure] {
        let start = outlet * self.stride() + offset;
        cells.get(start..start + count).unwrap_or(&[])
    }

    fn head(&self, cells: &[Figure], outlet: usize, offset: usize) -> Figure {
        self.get(cells, outlet, offset, 1).first().copied().unwrap_or_default()
    }

    pub(crate) fn put_tilt(&self, cells: &mut VecView<Figure>, outlet: usize, figure: Figure) {
        self.put(cells, outlet, 0, figure);
    }

    pub(crate) fn tilt(&self, cells: &[Figure], outlet: usize) -> Figure {
        self.head(cells, outlet, 0)
    }

    pub(crate) fn put_total(&self, cells: &mut VecView<Figure>, outlet: usize, figure: Figure) {
        self.put(cells, outlet, 1, figure);
    }

    pub(crate) fn total(&self, cells: &[Figure], outlet: usize) -> Figure {
        self.head(cells, outlet, 1)
    }

    pub(crate) fn put_forward(&self, cells: &mut VecView<Figure>, outlet: usize, row: usize, figure: Figure) {
        self.put(cells, outlet, HEAD + row, figure);
    }

    pub(crate) fn forward<'a>(&self, cells: &'a [Figure], outlet: usize) -> &'a [Figure] {
        self.get(cells, outlet, HEAD, self.forward)
    }

    pub(crate) fn put_cnr(&self, cells: &mut VecView<Figure>, outlet: usize, row: usize, figure: Figure) {
        self.put(cells, outlet, HEAD + self.forward + row, figure);
    }

    pub(crate) fn cnr<'a>(&self, cells: &'a [Figure], outlet: usize) -> &'a [Figure] {
        self.get(cells, outlet, HEAD + self.forward, self.cnr)
    }

    pub(crate) fn put_transmit(&self, cells: &mut VecView<Figure>, outlet: usize, row: usize, figure: Figure) {
        self.put(cells, outlet, HEAD + self.forward + self.cnr + row, figure);
    }

    pub(crate) fn transmit<'a>(&self, cells: &'a [Figure], outlet: usize) -> &'a [Figure] {
        self.get(cells, outlet, HEAD + self.forward + self.cnr, self.transmit)
    }

    /// Adds the next link; a blocked one has infinite loss.
    ///
    /// # Errors
    /// [`Error::Full`] where the cells find no room.
    pub(crate) fn put_link(&self, cells: &mut VecView<Figure>, loss: f32) -> Result<(), Error> {
        let capacity = cells.capacity();
        cells.push(Figure::alone(loss)).map_err(|_| Error::Full { what: "figures", capacity })
    }

    /// The links, pair by pair, at both edges of the band.
    pub(crate) fn links<'a>(&self, cells: &'a [Figure]) -> &'a [Figure] {
        cells.get(self.outlets * self.stride()..).unwrap_or(&[])
    }
}
