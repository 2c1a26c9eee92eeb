"""Volts and amperes of direct-current feeds, by ngspice.

Each home is a netlist: the supply with its source resistance, a resistor for every part that passes direct current, and
amplifiers as loads. A constant power is a behavioural current source, P/V, that turns into a resistance below a
twentieth of the supply's voltage, as any real load does. All draws are run up together from nothing to what they are,
so that the circuit follows the higher voltage; where it ends below that twentieth, no such voltage exists: the feed
has collapsed.
"""

import random
import subprocess
import tempfile

from figures import number, write

FEEDS = 60
STEPS = 500
# Nominal; the hottest, with the lowest voltage; the coldest, with the highest.
WEATHERS = ((0, None), (-1, 1), (1, 0))
# A feed that would collapse, or hold, if its draws were this part more or less is left out: 0.2 %.
NEAR = 0.002


def amplifier(draw, ports, volts):
    spec = {"outputs": 2, "gain": "10 dB", "return_gain": "-1 dB", "noise_figure": "6 dB", "max_input_total": "60 dBmV"}
    spec["draw"] = f"{draw.uniform(1.5, 7):.2f} W" if draw.random() < 0.7 else f"{draw.uniform(100, 450):.0f} mA"
    spec["runs_on"] = [f"{0.55 * volts:.1f} V", f"{1.1 * volts:.1f} V"]
    return spec | {"dc_ports": ports}


def home(draw, name):
    """A random premises file, and its resistors: names of two nodes, ohms at 20 C, place."""
    volts = draw.choice([12, 15, 18])
    parts, resistors = [], []
    length = lambda most: draw.choice([draw.uniform(10, most), draw.uniform(10, 4 * most)])

    def cable(name, after, most, to):
        feet, place = round(length(most)), draw.choice(["indoor", "attic", "outdoor"])
        kind = draw.choice(["copper", "steel"])
        parts.append({"id": name, "after": after, "cable": kind, "length": f"{feet} ft", "place": place})
        resistors.append((after if to is None else to, name, {"copper": 1.8, "steel": 7.2}[kind] * feet / 100, place))

    which = draw.randrange(3)
    supply = {"id": "supply", "volts": f"{volts} V", "amps": "3 A"}
    if which == 0:
        # At the amplifier's power port, at the end of a cable.
        parts.append({"id": "first", "after": "entry", "amplifier": "first", "terminated": [2]})
        cable("lead", "first.power", 250, None)
        supply["after"] = "lead"
        outlets, loads, specs = ["first.1"], {"first": "first.power"}, {"first": amplifier(draw, ["power"], volts)}
    else:
        # Behind an inserter, over the run, through a leg of a splitter; then perhaps through another leg to a second.
        parts.append({"id": "first", "after": "entry", "amplifier": "first", "terminated": [2]})
        parts.append({"id": "split", "after": "first.1", "splitter": "two"})
        resistors.append(("first.1", "split.1", 0.15, None))
        resistors.append(("first.1", "split.2", 0.15, None))
        cable("run", "split.1", 120, None)
        parts.append({"id": "inserter", "after": "run", "inserter": "inserter"})
        resistors.append(("run", "inserter.dc", 0.1, None))
        supply["after"] = "inserter.dc"
        specs = {"first": amplifier(draw, ["power", "1"], volts)}
        loads = {"first": "first.1"}
        outlets = ["inserter.rf"]
        if which == 1:
            specs["first"]["dc_ports"] = ["1"]
            # The other leg's end has to keep direct current from the set.
            parts.append({"id": "pad", "after": "split.2", "pad": "3 dB"})
            outlets.append("pad")
        else:
            cable("wing", "split.2", 80, None)
            parts.append({"id": "second", "after": "wing", "amplifier": "second", "terminated": [2]})
            specs["second"] = amplifier(draw, ["in"], volts)
            loads["second"] = "wing"
            outlets.append("second.1")
    if draw.random() < 0.6:
        supply["spread"] = f"{draw.choice([2, 5, 12])} %"
    if draw.random() < 0.6:
        supply["source_ohms"] = f"{draw.uniform(0.1, 1.5):.2f} ohm"
    cable_spec = lambda loop: {"loss": [["5 MHz", "0.5 dB"], ["1000 MHz", "6.5 dB"]], "per": "100 ft", "loop": f"{loop} ohm", "velocity": 0.85}
    file = {
        "format": 1, "name": name,
        "service": {"split": "42/54 MHz", "carriers": [{"first": "57 MHz", "last": "861 MHz", "step": "6 MHz"}]},
        "entry": {"forward": [["57 MHz", "8 dBmV"], ["861 MHz", "5 dBmV"]], "bonded": True},
        "climate": {"indoor": ["15 C", "28 C"], "outdoor": ["-25 C", "45 C"], "attic": draw.choice([["-5 C", "60 C"], ["25 C", "60 C"]])},
        "part": parts, "outlet": [{"id": f"tv {at + 1}", "after": after, "device": "tv"} for at, after in enumerate(outlets)],
        "supply": [supply],
        "spec": {
            "amplifier": specs, "cable": {"copper": cable_spec(1.8), "steel": cable_spec(7.2)},
            "splitter": {"two": {"legs": 2, "loss": "4 dB", "dc_pass": [1, 2], "dc_ohms": "0.15 ohm"}},
            "inserter": {"inserter": {"loss": "0.5 dB", "dc_ohms": "0.1 ohm"}},
        },
    }
    return file, resistors, loads


def netlist(file, resistors, loads, weather, factor):
    """The circuit in one weather, its draws so many times what they are."""
    sign, end = weather
    supply = file["supply"][0]
    volts = number(supply["volts"], "V")
    source = volts * (1 + sign * number(supply.get("spread", "0 %"), "%") / 100)
    nodes = {}
    node = lambda name: nodes.setdefault(name, f"n{len(nodes)}")
    lines = [file["name"], f"Vsource emf 0 {source!r}", "Vscale scale 0 0"]
    ohms = number(supply.get("source_ohms", "0 ohm"), "ohm")
    # ngspice knows no resistor of nothing; a source of no volts is one.
    lines.append(f"Rsource emf {node(supply['after'])} {ohms!r}" if ohms else f"Vnone emf {node(supply['after'])} 0")
    for at, (one, other, ohms, place) in enumerate(resistors):
        celsius = 20 if place is None or end is None else number(file["climate"][place][end], "C")
        lines.append(f"R{at} {node(one)} {node(other)} {ohms * (1 + 0.00393 * (celsius - 20))!r}")
    low = volts / 20
    for at, (name, port) in enumerate(loads.items()):
        draw, here = file["spec"]["amplifier"][name]["draw"], node(port)
        if is_current(file, name):
            lines.append(f"B{at} {here} 0 I = V(scale)*{factor * number(draw, 'mA') / 1000!r}")
        else:
            watts = factor * number(draw, "W")
            lines.append(f"B{at} {here} 0 I = V(scale)*(V({here}) > {low!r} ? {watts!r}/V({here}) : {watts / low**2!r}*V({here}))")
    seen = " ".join(f"v({nodes[port]})" for port in loads.values())
    lines += [".options reltol=1e-9 abstol=1e-13 vntol=1e-11 itl1=500 itl2=500", f".dc Vscale 0 1 {1 / STEPS!r}", ".control", "run",
              "set numdgt=12", "set width=400", f"print {seen} i(Vsource)", ".endc", ".end"]
    return "\n".join(lines) + "\n", low


def solve(file, resistors, loads, weather, factor=1.0):
    """Volts at every load and what the supply gives; none where the feed has collapsed."""
    text, low = netlist(file, resistors, loads, weather, factor)
    with tempfile.NamedTemporaryFile("w", suffix=".cir") as written:
        written.write(text)
        written.flush()
        said = subprocess.run(["ngspice", "-b", written.name], capture_output=True, text=True, check=False)
    rows = [line.split() for line in said.stdout.splitlines()]
    rows = [[float(word) for word in row[2:]] for row in rows if len(row) == len(loads) + 3 and row[0].isdigit()]
    if len(rows) < STEPS + 1:
        # Past the fold it may find no operating point at all.
        return None
    *volts, current = rows[STEPS]
    volts = dict(zip(loads, volts))
    # A constant current is drawn down to no volts at all.
    least = {name: 0 if is_current(file, name) else low for name in loads}
    return None if any(volts[name] <= least[name] for name in loads) else (volts, -current)


def is_current(file, name):
    """Whether an amplifier draws a constant current."""
    return file["spec"]["amplifier"][name]["draw"].endswith("mA")


def worked_out(file, resistors, loads):
    """What the report should say of each feed; none where a hair decides whether it collapses."""
    cases = [solve(file, resistors, loads, weather) for weather in WEATHERS]
    for weather, case in zip(WEATHERS, cases):
        for factor in (1 - NEAR, 1 + NEAR):
            if (solve(file, resistors, loads, weather, factor) is None) != (case is None):
                return None
    rows = []
    for name in loads:
        amps = lambda case: draw_amps(file, name, case[0][name])
        row = {"amplifier": name, "volts": None, "amps": None, "supply_amps": None, "volts_low": None, "volts_high": None,
               "amps_high": None, "supply_amps_high": None}
        if cases[0] is not None:
            row |= {"volts": cases[0][0][name], "amps": amps(cases[0]), "supply_amps": cases[0][1]}
            if None not in cases:
                each = [case[0][name] for case in cases]
                row |= {"volts_low": min(each), "volts_high": max(each), "amps_high": max(map(amps, cases)),
                        "supply_amps_high": max(case[1] for case in cases)}
        rows.append(row)
    return rows


def draw_amps(file, name, volts):
    """What an amplifier draws at a voltage."""
    draw = file["spec"]["amplifier"][name]["draw"]
    return number(draw, "mA") / 1000 if is_current(file, name) else number(draw, "W") / volts


def main():
    draw = random.Random(1847)
    rows, left_out = [], 0
    while len(rows) < FEEDS:
        file, resistors, loads = home(draw, f"feed {len(rows)}")
        expected = worked_out(file, resistors, loads)
        if expected is None:
            left_out += 1
            continue
        rows.append({"home": file, "expected": expected})
    version = subprocess.run(["ngspice", "--version"], capture_output=True, text=True, check=True).stdout
    version = next(word for word in version.split() if word.startswith("ngspice-"))
    head = {
        "made by": "feeds.py", "library": version,
        "figures": "volts and amps by amplifier; null where the feed has collapsed; the extremes are null where one collapses",
        "left out": f"{left_out} feeds that collapse, or hold, with 0.2 % more or less drawn",
    }
    write("feeds.json", head, rows)


if __name__ == "__main__":
    main()
