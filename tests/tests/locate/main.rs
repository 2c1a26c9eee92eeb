//! `legwork locate`: as the contract has it, honest about what it does not know, and worth following.

mod agrees;
mod following;
mod honest;
mod program;
mod refused;
mod told;
mod visits;

use legwork::{Db, Frequency, Level, OutletId, PortId, Reading};
use legwork_file::{Home, Source};
use legwork_tests::{Random, Wiring};
use serde_json::Value;

/// How far the simulated technicians' readings err, in dB, one sigma.
const SIGMA: f64 = 0.5;

/// `SIGMA` as the core takes it.
fn sigma() -> Db {
    Db::new(SIGMA as f32).expect("a ratio")
}

/// An extra loss in one part: a, b, c.
type Fault<'a> = (&'a str, [f64; 3]);

/// A home in which technicians read.
struct Site<'b> {
    home: Home<'b>,
    wiring: Wiring,
    /// First, middle and last carrier.
    frequencies: [f64; 3],
}

impl<'b> Site<'b> {
    /// A home with carriers and outlets enough to be read at; none where it has not.
    fn new(premises: &Value, arena: &'b bumpalo::Bump, fewest: usize) -> Option<Self> {
        let text = premises.to_string();
        let source = Source::new("home.json", text.as_bytes()).expect("a text");
        let home = legwork_file::read(&source, None, arena).expect("a home");
        let wiring = Wiring::of(premises);
        let (low, high) = wiring.band();
        let good = high > low && wiring.outlets().len() >= fewest;
        good.then_some(Self { home, wiring, frequencies: [low, (low + high) / 2.0, high] })
    }

    /// What a meter says at a port that goes by a name.
    fn read(&self, name: &str, port: PortId, mhz: f64, fault: Option<&Fault<'_>>, random: &mut Random) -> Reading {
        let behind = fault.filter(|(part, _)| self.wiring.is_behind(name, part));
        let extra = behind.map_or(0.0, |(_, [a, b, c])| a + b * (mhz / 1e3).sqrt() + c * 10.0 / mhz);
        let dbmv = self.wiring.level(name, mhz) - extra + SIGMA * random.normal();
        // A random home may lose more than a meter can show.
        let level = Level::new((dbmv as f32).clamp(-300.0, 300.0)).expect("a level");
        Reading { port, frequency: Frequency::new(mhz as f32).expect("a frequency"), level }
    }

    /// Every outlet with a device at every frequency.
    fn visit(&self, fault: Option<&Fault<'_>>, random: &mut Random) -> Vec<Reading> {
        let outlets = self.wiring.outlets().into_iter();
        let pairs = outlets.flat_map(|outlet| self.frequencies.map(|mhz| (outlet, mhz)));
        pairs.map(|(outlet, mhz)| self.read(outlet, self.port(outlet), mhz, fault, random)).collect()
    }

    /// The port of an outlet.
    fn port(&self, outlet: &str) -> PortId {
        let tree = self.home.tree();
        let ids = (0..).map_while(|number| tree.outlet_id(number)).zip(tree.outlets());
        let named = |id: OutletId| self.home.outlet(id) == outlet;
        ids.into_iter().find(|(id, _)| named(*id)).map(|(_, outlet)| outlet.port()).expect("an outlet")
    }
}

/// An extra loss of one of the three shapes that is so much where it is most.
fn shaped(size: f64, frequencies: [f64; 3], random: &mut Random) -> [f64; 3] {
    let [low, _, high] = frequencies;
    random.one(&[[size, 0.0, 0.0], [0.0, size / (high / 1e3).sqrt(), 0.0], [0.0, 0.0, size * low / 10.0]])
}
