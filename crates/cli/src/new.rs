//! `legwork new`: a commented file to start from.

use std::fmt::Write as _;

use crate::args::New;
use crate::{Failure, Outcome, output};

/// Writes a premises file, or a need file, that passes as it stands.
pub(crate) fn run(options: &New) -> Result<Outcome, Failure> {
    let text = if options.need { need(options.outlets) } else { premises(options.outlets, options.amplifier) };
    output::write(&options.file, text.as_bytes(), options.force)?;
    Ok(Outcome::Done)
}

/// What stands at the head of both kinds of file, with readings that suit a home whose splits lose
/// so many dB after so much gain.
fn head(lost: f32, gained: f32) -> String {
    let forward = 4.0 + lost - gained;
    let last = forward + 1.0;
    let transmit = 43.0 - lost;
    format!(
        "\
# Fill in what you measured and what you see, then run: legwork check FILE
# A quantity is a number and a unit: \"60 ft\", \"18.3 m\", \"57 MHz\", \"-2.5 dBmV\", \"15 V\".
format = 1
name = \"My home\"

[service]
split = \"42/54 MHz\"              # top of the return band / bottom of the forward band
carriers = [                     # the loaded channels, by their centres
  {{ first = \"57 MHz\", last = \"861 MHz\", step = \"6 MHz\" }},
]
return_channels = 4              # channels a modem sends at once

[entry]                          # read at the point of entry, on the house side
forward = [[\"57 MHz\", \"{forward:.1} dBmV\"], [\"861 MHz\", \"{last:.1} dBmV\"]]
cnr = \"45 dB\"
transmit = [[\"12 MHz\", \"{transmit:.1} dBmV\"], [\"36 MHz\", \"{transmit:.1} dBmV\"]]   # what a modem plugged in right here sends
spread = \"1 dB\"                  # how far all of these move with season and meter
bonded = false                   # true if the shield is bonded ahead of the entry

[climate]                        # coldest and hottest
indoor = [\"15 C\", \"30 C\"]
outdoor = [\"-20 C\", \"40 C\"]
"
    )
}

/// The ground and the way in, up to where the wiring spreads.
const WAY_IN: &str = "
[[part]]
id = \"ground\"
after = \"entry\"
bond = \"bond\"                    # bonding: follow local code and licensed practice
conductor = \"14 AWG\"
conductor_length = \"10 ft\"

[[part]]
id = \"lead-in\"
after = \"ground\"
cable = \"series-6\"               # series-59, series-6, series-6-copper, series-7, series-11, or a spec of your own
length = \"25 ft\"
place = \"outdoor\"                # indoor unless said; outdoor, attic
";

/// The gain of the amplifier, in dB.
const GAIN: f32 = 8.0;

/// An amplifier with outputs alike, an invention of ours: replace its figures by those of yours.
const AMPLIFIER: &str = "
[[part]]
id = \"amplifier\"
after = \"lead-in\"
amplifier = \"mine\"

[[supply]]                       # plugged in beside the amplifier; a mains supply: leave its inside to licensed hands
id = \"supply\"
after = \"amplifier.power\"
volts = \"15 V\"
spread = \"5 %\"
amps = \"500 mA\"
";

fn amplifier_spec(outputs: usize) -> String {
    format!(
        "
[spec.amplifier.mine]            # figures of an invented amplifier: put in those of yours
outputs = {outputs}
gain = \"{GAIN} dB\"                    # input to any output
return_gain = \"-1 dB\"            # output back to input
noise_figure = \"6 dB\"
max_input_total = \"35 dBmV\"
draw = \"3 W\"
runs_on = [\"11 V\", \"18 V\"]
dc_ports = [\"power\"]
"
    )
}

/// A home of some outlets behind splitters: eight a splitter at most, in two storeys if need be.
fn premises(outlets: u8, amplifier: bool) -> String {
    let outlets = usize::from(outlets);
    let mut from = vec!["lead-in".to_owned()];
    let mut parts = String::new();
    let mut wanted = outlets;
    let outputs = outlets.min(8);
    if amplifier {
        from = (1..=outputs).map(|number| format!("amplifier.{number}")).collect();
    }
    // Every port that has to serve more than one outlet gets a splitter.
    let mut ports = Vec::new();
    let shares = from.len();
    for (index, port) in from.into_iter().enumerate() {
        let share = wanted.div_ceil(shares - index);
        wanted -= share;
        split(&mut parts, &mut ports, Port { name: port, lost: 0.0 }, share, &mut 0, index);
    }
    let most_lost = ports.iter().map(|port| port.lost).fold(0.0, f32::max);
    let mut out = head(most_lost, if amplifier { GAIN } else { 0.0 });
    out.push_str(WAY_IN);
    if amplifier {
        out.push_str(AMPLIFIER);
    }
    out.push_str(&parts);
    for (index, port) in ports.iter().map(|port| &port.name).enumerate() {
        let device = match index {
            0 => "modem",
            1 => "set-top",
            _ => "tv",
        };
        let number = index + 1;
        let note = if index == 0 { "               # modem, voice-modem, set-top, tv, unused" } else { "" };
        let _ = write!(
            out,
            "
[[part]]
id = \"run {number}\"
after = \"{port}\"
cable = \"series-6\"
length = \"{} ft\"

[[outlet]]
id = \"room {number}\"
after = \"run {number}\"
device = \"{device}\"{note}
",
            20 + 5 * (index % 4)
        );
    }
    if amplifier {
        out.push_str(&amplifier_spec(outputs));
    }
    out
}

/// A port, and what the splitters before it lose at the lowest carrier, in dB.
struct Port {
    name: String,
    lost: f32,
}

/// Splits a port until there is one for each outlet, and terminates what is left over.
fn split(parts: &mut String, ports: &mut Vec<Port>, port: Port, wanted: usize, count: &mut usize, branch: usize) {
    if wanted <= 1 {
        ports.push(port);
        return;
    }
    let legs = [2, 3, 4, 6, 8].into_iter().find(|legs| *legs >= wanted).unwrap_or(8);
    *count += 1;
    let id = match (branch, *count) {
        (0, 1) => "splitter".to_owned(),
        (0, count) => format!("splitter {count}"),
        (branch, 1) => format!("splitter on {}", branch + 1),
        (branch, count) => format!("splitter {count} on {}", branch + 1),
    };
    let spare: Vec<String> = (wanted.min(legs) + 1..=legs).map(|leg| leg.to_string()).collect();
    let name = format!("{legs}-way");
    let own = legwork::tables::splitter(&name).and_then(|spec| spec.loss(0));
    let lost = port.lost + own.map_or(0.0, |loss| loss.at(legwork::Frequency::constant(57.0)));
    let _ = write!(parts, "\n[[part]]\nid = \"{id}\"\nafter = \"{}\"\nsplitter = \"{name}\"\n", port.name);
    if !spare.is_empty() {
        let _ = writeln!(
            parts,
            "terminated = [{}]                # ways out that carry a 75 ohm terminator",
            spare.join(", ")
        );
    }
    let used = wanted.min(legs);
    let mut left = wanted;
    for leg in 1..=used {
        let share = left.div_ceil(used - leg + 1);
        left -= share;
        split(parts, ports, Port { name: format!("{id}.{leg}"), lost }, share, count, branch);
    }
}

/// A need file: the home runs, and what is on the truck.
fn need(outlets: u8) -> String {
    let mut out = head(7.0, 0.0).replace("then run: legwork check FILE", "then plan what to take from the truck");
    out.push_str(
        "
[panel]                          # where the home runs meet
mains = true                     # a wall socket there
lead_in = { cable = \"series-6\", length = \"25 ft\", place = \"outdoor\" }
",
    );
    for index in 0..usize::from(outlets) {
        let device = match index {
            0 => "modem",
            1 => "set-top",
            _ => "tv",
        };
        let _ = write!(
            out,
            "
[[outlet]]
id = \"room {}\"
device = \"{device}\"
run = {{ cable = \"series-6\", length = \"{} ft\" }}
mains = true                     # a wall socket there: a supply and an inserter could stand there
",
            index + 1,
            20 + 5 * (index % 4)
        );
    }
    out.push_str(
        "
[stock]                          # what is on the truck
margin = \"1 dB\"                  # wanted between every extreme and its limit
item = [
  { splitter = \"2-way\", count = 3, cost = 3.0 },
  { splitter = \"3-way\", count = 2, cost = 4.0 },
  { splitter = \"4-way\", count = 2, cost = 5.0 },
  { splitter = \"8-way\", count = 1, cost = 9.0 },
  { pad = \"6 dB\", count = 4, cost = 2.0 },
]
",
    );
    out
}
