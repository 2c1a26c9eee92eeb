//! From C's structures to the core's checked types, kept on a home's shelf.
//!
//! What many specs share is kept out of line: inlined it would cost flash once a spec.

use legwork::{
    Amplifier, Amps, Awg, Band, Block, Bond, Cable, Conductor, Coupler, Curve, Db, DcPorts, Draw, Entry, Equalizer,
    Filter, Frequency, Inserter, Joint, Legs, Length, Limits, Ohms, Percent, Point, Points, Service, Split, Splitter,
    Supply, Volts, Watts,
};

use crate::error::Fault;
use crate::shelf::Shelf;
use crate::spec::{
    legwork_amplifier, legwork_band, legwork_block, legwork_bond, legwork_cable, legwork_conductor, legwork_coupler,
    legwork_curve, legwork_entry, legwork_equalizer, legwork_filter, legwork_inserter, legwork_joint, legwork_limits,
    legwork_point, legwork_service, legwork_split, legwork_splitter, legwork_supply,
};
use crate::stored::{read_if, usable};

/// A quantity that cannot be negative, such as a loss.
#[inline(never)]
pub(crate) fn loss(db: f32) -> Result<Db, Fault> {
    if db >= 0.0 { Ok(Db::new(db)?) } else { Err(Fault::range("loss or spread (dB)")) }
}

/// A gain, or a level in dBmV.
#[inline(never)]
fn any(db: f32) -> Result<Db, Fault> {
    Ok(Db::new(db)?)
}

/// A level that may be infinite: then nothing is held against it.
fn bound(dbmv: f32, what: &'static str) -> Result<f32, Fault> {
    if dbmv.is_nan() { Err(Fault::range(what)) } else { Ok(dbmv) }
}

#[inline(never)]
fn mhz(mhz: f32) -> Result<Frequency, Fault> {
    Ok(Frequency::new(mhz)?)
}

#[inline(never)]
fn ohms(value: f32) -> Result<Ohms, Fault> {
    Ok(Ohms::new(value)?)
}

#[inline(never)]
fn band(band: legwork_band) -> Result<Option<Band>, Fault> {
    if band.low_mhz == 0.0 && band.high_mhz == 0.0 {
        return Ok(None);
    }
    Ok(Some(Band::new(mhz(band.low_mhz)?, mhz(band.high_mhz)?)?))
}

/// A band that has to be one.
pub(crate) fn some_band(low_mhz: f32, high_mhz: f32) -> Result<Band, Fault> {
    Ok(Band::new(mhz(low_mhz)?, mhz(high_mhz)?)?)
}

#[inline(never)]
fn split(split: legwork_split) -> Result<Split, Fault> {
    let split = Split { return_top: mhz(split.return_top_mhz)?, forward_bottom: mhz(split.forward_bottom_mhz)? };
    if split.return_top > split.forward_bottom { Err(Fault::range("split: return above forward")) } else { Ok(split) }
}

/// Its resistance, where it passes DC.
#[inline(never)]
fn dc(passes: u8, ohms: f32) -> Result<Option<Ohms>, Fault> {
    if passes == 0 { Ok(None) } else { Ok(Some(self::ohms(ohms)?)) }
}

/// The bits of some of so many ways out.
fn bits(bits: u32, ways: u8, what: &'static str) -> Result<u16, Fault> {
    match u16::try_from(bits) {
        Ok(bits) if u32::from(bits) >> ways == 0 => Ok(bits),
        _ => Err(Fault::range(what)),
    }
}

/// How many, from 1 to 16.
fn some(count: u32, what: &'static str) -> Result<u8, Fault> {
    match u8::try_from(count) {
        Ok(count @ 1..=16) => Ok(count),
        _ => Err(Fault::range(what)),
    }
}

pub(crate) fn conductor(conductor: legwork_conductor) -> Result<Conductor, Fault> {
    let size = if conductor.awg.is_nan() { None } else { Some(Awg::new(conductor.awg)?) };
    let length = if conductor.metres.is_nan() { None } else { Some(Length::new(conductor.metres)?) };
    Ok(Conductor { size, length })
}

pub(crate) fn supply(supply: legwork_supply) -> Result<Supply, Fault> {
    let (spread, source) = (Percent::new(supply.spread_percent)?, Ohms::new(supply.source_ohms)?);
    Ok(Supply::new(Volts::new(supply.volts)?, Amps::new(supply.amps)?).with(spread, source))
}

pub(crate) fn limits(limits: legwork_limits) -> Result<Limits, Fault> {
    let limits = Limits {
        forward: (bound(limits.forward_low, "forward")?, bound(limits.forward_high, "forward")?),
        total: bound(limits.total, "total")?,
        tilt: bound(limits.tilt, "tilt")?,
        cnr: bound(limits.cnr, "cnr")?,
        transmit: (bound(limits.transmit_low, "transmit")?, bound(limits.transmit_high, "transmit")?),
        window: bound(limits.window, "window")?,
        neighbour: (!limits.neighbour.is_nan()).then_some(limits.neighbour),
    };
    let upside_down = limits.forward.0 > limits.forward.1 || limits.transmit.0 > limits.transmit.1;
    if upside_down { Err(Fault::range("limits: lowest above highest")) } else { Ok(limits) }
}

/// # Safety
/// Every function here that is `unsafe` follows the pointers of the structure it is given: each is null or leads to
/// what the header says.
impl Shelf {
    #[inline(never)]
    unsafe fn points(
        &self,
        rows: *const legwork_point,
        count: usize,
        value: fn(f32) -> Result<Db, Fault>,
    ) -> Result<Points<'static>, Fault> {
        let rows = usable(rows)?;
        let point = |index| {
            // SAFETY: `index` is below `count`, and the caller has that many rows.
            let legwork_point { mhz, db } = unsafe { rows.add(index).read() };
            Ok(Point::new(Frequency::new(mhz)?, value(db)?))
        };
        Ok(Points::new(self.points.keep_row(count, "points", point)?)?)
    }

    #[inline(never)]
    unsafe fn curve(&self, curve: legwork_curve, value: fn(f32) -> Result<Db, Fault>) -> Result<Curve<'static>, Fault> {
        if curve.points.is_null() && curve.count == 0 {
            return Ok(Curve::Flat(value(curve.flat_db)?));
        }
        // SAFETY: as the caller says.
        Ok(Curve::Points(unsafe { self.points(curve.points, curve.count, value) }?))
    }

    #[inline(never)]
    unsafe fn curve_if(
        &self,
        curve: *const legwork_curve,
        value: fn(f32) -> Result<Db, Fault>,
    ) -> Result<Option<Curve<'static>>, Fault> {
        // SAFETY: as the caller says.
        match unsafe { read_if(curve) }? {
            None => Ok(None),
            // SAFETY: as the caller says.
            Some(curve) => unsafe { self.curve(curve, value) }.map(Some),
        }
    }

    pub(crate) unsafe fn service(&self, service: legwork_service) -> Result<Service<'static>, Fault> {
        let rows = usable(service.blocks)?;
        let block = |index| {
            // SAFETY: `index` is below `count`, and the caller has that many blocks.
            let block: legwork_block = unsafe { rows.add(index).read() };
            let step = mhz(block.step_mhz)?;
            Ok(Block::new(mhz(block.first_mhz)?, mhz(block.last_mhz)?, step, any(block.offset_db)?)?)
        };
        let blocks = self.blocks.keep_row(service.block_count, "blocks", block)?;
        let channels = u16::try_from(service.return_channels).unwrap_or(u16::MAX);
        if channels > 1024 {
            return Err(Fault::range("return channels"));
        }
        let mut kept = Service::new(split(service.split)?, blocks)?.return_channels(channels.max(1))?;
        if service.noise_bandwidth_mhz != 0.0 {
            kept = kept.noise_bandwidth(mhz(service.noise_bandwidth_mhz)?);
        }
        Ok(kept)
    }

    pub(crate) unsafe fn entry(&self, entry: legwork_entry) -> Result<Entry<'static>, Fault> {
        // SAFETY: as the caller says.
        let (forward, cnr, transmit) = unsafe {
            (
                self.points(entry.forward.points, entry.forward.count, any)?,
                self.curve_if(entry.cnr, any)?,
                match read_if(entry.transmit)? {
                    None => None,
                    Some(rows) => Some(self.points(rows.points, rows.count, any)?),
                },
            )
        };
        let spread = loss(entry.spread_db)?.db();
        Ok(Entry { cnr, transmit, spread, bonded: entry.bonded != 0, ..Entry::new(forward)? })
    }

    pub(crate) unsafe fn cable(&self, spec: legwork_cable) -> Result<&'static Cable<'static>, Fault> {
        let per = Length::new(spec.per_metres)?;
        if per <= Length::MIN {
            return Err(Fault::range("per (m)"));
        }
        let velocity = spec.velocity;
        if velocity.is_nan() || velocity <= 0.0 || velocity > 1.0 {
            return Err(Fault::range("velocity"));
        }
        let cable = Cable {
            // SAFETY: as the caller says.
            loss: unsafe { self.curve(spec.loss, loss) }?,
            per,
            loop_resistance: ohms(spec.loop_ohms)?,
            velocity,
            spread: Percent::new(spec.spread_percent)?,
            band: band(spec.band)?,
        };
        self.cables.keep(cable, "cables")
    }

    unsafe fn legs(&self, spec: &legwork_splitter) -> Result<Legs<'static>, Fault> {
        let count = some(spec.legs, "legs")?;
        if spec.leg_losses.is_null() {
            // SAFETY: as the caller says.
            return Ok(Legs::Alike(count, unsafe { self.curve(spec.loss, loss) }?));
        }
        let rows = usable(spec.leg_losses)?;
        let leg = |index| {
            // SAFETY: `index` is below `count`, and the caller has that many legs.
            unsafe { self.curve(rows.add(index).read(), loss) }
        };
        Ok(Legs::Each(self.curves.keep_row(usize::from(count), "legs", leg)?))
    }

    pub(crate) unsafe fn splitter(&self, spec: legwork_splitter) -> Result<&'static Splitter<'static>, Fault> {
        // SAFETY: as the caller says.
        let (legs, isolation) = unsafe { (self.legs(&spec)?, self.curve(spec.isolation, loss)?) };
        let splitter = Splitter {
            legs,
            spread: loss(spec.spread_db)?,
            isolation,
            dc_pass: bits(spec.dc_legs, some(spec.legs, "legs")?, "legs that pass DC")?,
            dc_ohms: ohms(spec.dc_ohms)?,
            band: band(spec.band)?,
        };
        self.splitters.keep(splitter, "splitters")
    }

    pub(crate) unsafe fn coupler(&self, spec: legwork_coupler) -> Result<&'static Coupler<'static>, Fault> {
        // SAFETY: as the caller says.
        let (tap, through, isolation) = unsafe {
            (self.curve(spec.tap, loss)?, self.curve(spec.through, loss)?, self.curve(spec.isolation, loss)?)
        };
        let coupler = Coupler {
            tap,
            through,
            spread: loss(spec.spread_db)?,
            isolation,
            dc_through: spec.dc_through != 0,
            dc_tap: spec.dc_tap != 0,
            dc_ohms: ohms(spec.dc_ohms)?,
            band: band(spec.band)?,
        };
        self.couplers.keep(coupler, "couplers")
    }

    pub(crate) unsafe fn equalizer(&self, spec: legwork_equalizer) -> Result<&'static Equalizer<'static>, Fault> {
        let equalizer = Equalizer {
            // SAFETY: as the caller says.
            loss: unsafe { self.curve(spec.loss, loss) }?,
            spread: loss(spec.spread_db)?,
            dc: dc(spec.dc, spec.dc_ohms)?,
            band: band(spec.band)?,
        };
        self.equalizers.keep(equalizer, "equalizers")
    }

    pub(crate) unsafe fn filter(&self, spec: legwork_filter) -> Result<&'static Filter<'static>, Fault> {
        let filter = Filter {
            // SAFETY: as the caller says.
            loss: unsafe { self.curve(spec.loss, loss) }?,
            spread: loss(spec.spread_db)?,
            reflects: band(spec.reflects)?,
            dc: dc(spec.dc, spec.dc_ohms)?,
            band: band(spec.band)?,
        };
        self.filters.keep(filter, "filters")
    }

    pub(crate) unsafe fn amplifier(&self, spec: legwork_amplifier) -> Result<&'static Amplifier<'static>, Fault> {
        let outputs = some(spec.outputs, "outputs")?;
        let runs_on = (Volts::new(spec.volts_low)?, Volts::new(spec.volts_high)?);
        if runs_on.0 > runs_on.1 {
            return Err(Fault::range("volts: lowest above highest"));
        }
        let unstated = spec.split.return_top_mhz == 0.0 && spec.split.forward_bottom_mhz == 0.0;
        // SAFETY: as the caller says.
        let amplifier = unsafe {
            Amplifier {
                outputs,
                gain: self.curve(spec.gain, any)?,
                return_gain: self.curve_if(spec.return_gain, any)?,
                passive: self.curve_if(spec.passive, loss)?,
                spread: loss(spec.spread_db)?,
                noise_figure: self.curve(spec.noise_figure, loss)?,
                isolation: self.curve(spec.isolation, loss)?,
                network_loss: self.curve_if(spec.network_loss, loss)?,
                max_input_total: bound(spec.max_input_total, "most at the input")?,
                max_output_total: bound(spec.max_output_total, "most at an output")?,
                max_return_total: bound(spec.max_return_total, "most from modems")?,
                split: if unstated { None } else { Some(split(spec.split)?) },
                draw: if spec.draw_watts == 0.0 {
                    Draw::Current(Amps::new(spec.draw_amps)?)
                } else {
                    Draw::Power(Watts::new(spec.draw_watts)?)
                },
                runs_on,
                dc_ports: DcPorts {
                    power: spec.dc_power != 0,
                    input: spec.dc_input != 0,
                    outputs: bits(spec.dc_outputs, outputs, "outputs that pass DC")?,
                },
                band: band(spec.band)?,
            }
        };
        self.amplifiers.keep(amplifier, "amplifiers")
    }

    pub(crate) unsafe fn inserter(&self, spec: legwork_inserter) -> Result<&'static Inserter<'static>, Fault> {
        let inserter = Inserter {
            // SAFETY: as the caller says.
            loss: unsafe { self.curve(spec.loss, loss) }?,
            spread: loss(spec.spread_db)?,
            dc_ohms: ohms(spec.dc_ohms)?,
            band: band(spec.band)?,
        };
        self.inserters.keep(inserter, "inserters")
    }

    pub(crate) unsafe fn bond(&self, spec: legwork_bond) -> Result<&'static Bond<'static>, Fault> {
        let bond = Bond {
            // SAFETY: as the caller says.
            loss: unsafe { self.curve(spec.loss, loss) }?,
            spread: loss(spec.spread_db)?,
            dc_ohms: ohms(spec.dc_ohms)?,
            band: band(spec.band)?,
        };
        self.bonds.keep(bond, "bonds")
    }

    pub(crate) unsafe fn joint(&self, spec: legwork_joint) -> Result<&'static Joint<'static>, Fault> {
        let joint = Joint {
            // SAFETY: as the caller says.
            loss: unsafe { self.curve(spec.loss, loss) }?,
            spread: loss(spec.spread_db)?,
            dc_ohms: ohms(spec.dc_ohms)?,
            band: band(spec.band)?,
        };
        self.joints.keep(joint, "joints")
    }
}
