//! Quick calculations: one command each, without a premises file.
//!
//! Every command reads its arguments, calls `legwork::quick` and prints; no formula stands here.

mod along;
mod answer;
mod ask;
mod cable;
mod channel;
mod echo;
mod feed;
mod figure;
mod level;
mod noise;
mod step;
mod sum;
mod wire;

use clap::Subcommand;

use crate::{Failure, Outcome};

/// The quick calculations, each a command of the program.
#[derive(Debug, Subcommand)]
pub(crate) enum Quick {
    /// A level in every unit of the trade
    #[command(after_help = "Example:
  legwork level -2.5dBmV")]
    Level(level::Level),
    /// Levels together, by power
    #[command(after_help = "Example:
  legwork sum \"10 dBmV\" \"10 dBmV\" \"7 dBmV\"")]
    Sum(sum::Sum),
    /// Loss, loop resistance and delay of a run of cable
    #[command(after_help = "Example:
  legwork cable series-6 \"100 ft\" --at \"57 MHz,750 MHz\" --temp \"40 C\"")]
    Cable(cable::Cable),
    /// The level along a way, part by part
    #[command(after_help = "Steps:
  cable=SPEC:LENGTH    a run of cable, as in cable=series-6:60ft
  splitter=SPEC        to the first leg, as in splitter=4-way
  splitter=SPEC.LEG    to a further one, as in splitter=3-way-unequal.2
  coupler=SPEC.WAY     WAY is tap or through, as in coupler=9-dB.tap
  pad=DB, loss=DB      a fixed loss, as in pad=3dB
  gain=DB              a gain, as in gain=12dB
  joint=joint, bond=bond, inserter=inserter, filter=entry-filter
                       any other built-in part

Example:
  legwork along 12dBmV --at 57MHz,861MHz cable=series-6:60ft splitter=4-way pad=3dB gain=12dB")]
    Along(along::Along),
    /// Volts and current at a draw behind a resistance, and what would make it collapse
    #[command(after_help = "Example:
  legwork feed --supply \"18 V\" --loop \"3.6 ohm\" --draw \"3 W\"")]
    Feed(feed::Feed),
    /// Noise floor, and carrier to noise behind amplifiers
    #[command(after_help = "Example:
  legwork noise --noise-figure \"5 dB\" --input \"0 dBmV\" --bandwidth \"4 MHz\" --cascade 2")]
    Noise(noise::Noise),
    /// A channel's frequencies, or the channel of a frequency
    #[command(after_help = "Example:
  legwork channel \"61.25 MHz\" --plan std")]
    Channel(channel::Channel),
    /// Distance to a reflection, from its ripple or its delay
    #[command(after_help = "Example:
  legwork echo --ripple \"4 MHz\" --velocity 0.85 --ripple-depth \"1 dB\"")]
    Echo(echo::Echo),
    /// Resistance of one conductor
    #[command(after_help = "Example:
  legwork wire \"18 AWG\" \"100 ft\" --metal copper --temp \"20 C\"")]
    Wire(wire::Wire),
}

/// Works one out and prints it.
pub(crate) fn run(command: &Quick) -> Result<Outcome, Failure> {
    match command {
        Quick::Level(options) => options.run(),
        Quick::Sum(options) => options.run(),
        Quick::Cable(options) => options.run(),
        Quick::Along(options) => options.run(),
        Quick::Feed(options) => options.run(),
        Quick::Noise(options) => options.run(),
        Quick::Channel(options) => options.run(),
        Quick::Echo(options) => options.run(),
        Quick::Wire(options) => options.run(),
    }
}
