"""Levels, noise and losses between outlets of random homes, by scikit-rf.

Each home is a circuit of matched parts in 75 ohm: lines of the cable's propagation constant, dividers and amplifiers with
their scattering parameters. The library joins them; its matrix says what arrives at every outlet from the entry, at
the entry from every outlet, and at one outlet from another. For noise, the two-ports on the way to an outlet are
cascaded with their noise correlation matrices: a passive part's by Twiss's theorem from its admittances, an
amplifier's from its noise figure. Not in the homes: filters that reflect, and amplifiers in series.
"""

import random

import numpy
import scipy.constants
import skrf

from figures import CASES, MOST, NOMINAL, cable_loss, in_root, linear, number, points, write

OHMS = 75.0
ROOM = 290.0
# 0 dBmV in watts.
ZERO_DBMV = 1e-6 / OHMS
# Frequencies in MHz: as reported forward, as sent, and the edges of the home network's band.
FORWARD, BACK, LINK = (57.0, 300.0, 861.0), (12.0, 38.0), (1125.0, 1500.0)
HOMES = 20


def spelled(value, slope, draw):
    """A loss in dB, flat or over points."""
    if draw.random() < 0.4:
        return f"{value:.1f} dB"
    return [[f"{mhz} MHz", f"{value + slope * mhz / 1700:.2f} dB"] for mhz in (5, draw.choice([400, 700]), 1700)]


def specs(draw):
    """The specs of one home."""
    spread = lambda: f"{draw.choice([0, 0.2, 0.5]):.1f} dB"
    near = lambda value: value + draw.uniform(-0.3, 0.8)
    made = {
        "cable": {
            name: {"loss": [[f"{mhz} MHz", f"{root * mhz**0.5 + 0.05:.3f} dB"] for mhz in (5, 211, 1000, 1700)],
                   "per": "100 ft", "loop": "4 ohm", "velocity": 0.84, "spread": f"{draw.choice([0, 3])} %"}
            for name, root in (("thin", draw.uniform(0.19, 0.24)), ("thick", draw.uniform(0.12, 0.16)))
        },
        "splitter": {
            "two": {"legs": 2, "loss": spelled(near(3.7), 1.0, draw), "isolation": spelled(24, -6, draw), "spread": spread()},
            "three": {"legs": 3, "leg_loss": [spelled(near(db), 1.2, draw) for db in (3.7, 7.2, 7.2)],
                      "isolation": spelled(22, -5, draw), "spread": spread()},
            "four": {"legs": 4, "loss": spelled(near(7.2), 1.4, draw), "isolation": spelled(26, -8, draw), "spread": spread()},
        },
        "coupler": {"tap": {"tap": spelled(near(9), 0.8, draw), "through": spelled(near(1.4), 1.0, draw),
                            "isolation": spelled(25, -5, draw), "spread": spread()}},
        "equalizer": {"slope": {"loss": [["5 MHz", "7.50 dB"], ["1002 MHz", "1.10 dB"]], "spread": spread()}},
        "joint": {"joint": {"loss": spelled(0.1, 0.2, draw)}},
        "amplifier": {
            "booster": {"outputs": draw.choice([1, 2, 4]), "gain": spelled(near(11), 2, draw), "return_gain": spelled(-2, 0.5, draw),
                        "noise_figure": spelled(near(5), 1, draw), "isolation": spelled(20, -4, draw),
                        "network_loss": spelled(5, 2, draw), "max_input_total": "60 dBmV", "draw": "3 W",
                        "runs_on": ["10 V", "20 V"], "dc_ports": ["power"], "spread": spread()},
        },
    }
    if draw.random() < 0.5:
        made["amplifier"]["booster"]["passive"] = spelled(3, 0.8, draw)
    return made


def home(draw, name):
    """A random premises file."""
    made = specs(draw)
    parts, open_ports = [], [("entry", False)]
    booster = made["amplifier"]["booster"]
    ways = {
        "splitter": {"two": ["1", "2"], "three": ["1", "2", "3"], "four": ["1", "2", "3", "4"]},
        "coupler": {"tap": ["through", "tap"]}, "equalizer": {"slope": None}, "joint": {"joint": None},
        "amplifier": {"booster": [str(way + 1) for way in range(booster["outputs"])] + ["passive"] * ("passive" in booster)},
    }

    def place(kind, what, after, names, more):
        part = {"id": f"part {len(parts) + 1}", "after": after[0], kind: what} | more
        parts.append(part)
        amplified = after[1] or kind == "amplifier"
        if names is None:
            return [(part["id"], amplified)]
        return [(f"{part['id']}.{way}", after[1] or kind == "amplifier" and way != "passive") for way in names]

    def cable(after, most):
        kind, length = draw.choice(["thin", "thin", "thick"]), f"{draw.uniform(5, most):.1f} ft"
        return place("cable", kind, after, None, {"length": length, "place": draw.choice(["indoor", "attic", "outdoor"])})[0]

    open_ports = [cable(open_ports[0], 90)]
    for _ in range(draw.randint(3, 6)):
        after = open_ports.pop(draw.randrange(len(open_ports)))
        kind = draw.choice(["splitter", "splitter", "coupler", "pad", "equalizer", "joint", "amplifier", "amplifier"])
        if kind == "amplifier" and after[1]:
            kind = "pad"
        if kind == "pad":
            open_ports += place("pad", f"{draw.choice([1, 3, 6])} dB", after, None, {})
        else:
            what = draw.choice(sorted(ways[kind]))
            open_ports += place(kind, what, after, ways[kind][what], {})
        if draw.random() < 0.5:
            open_ports[-1] = cable(open_ports[-1], 40)
    draw.shuffle(open_ports)
    outlets = []
    for number_of, port in enumerate(open_ports):
        if number_of < 4:
            end = cable(port, 120)
            outlets.append({"id": f"outlet {number_of + 1}", "after": end[0], "device": draw.choice(["modem", "tv"])})
        else:
            owner, _, way = port[0].partition(".")
            part = next(part for part in parts if part["id"] == owner)
            part.setdefault("terminated", []).append(int(way or 1) if (way or "1").isdigit() else way)
    level = draw.uniform(0, 14)
    file = {
        "format": 1, "name": name,
        "service": {"split": "42/54 MHz", "carriers": [{"first": "57 MHz", "last": "861 MHz", "step": "6 MHz"}]},
        "entry": {"forward": [[f"{mhz:.0f} MHz", f"{level - mhz / 200:.2f} dBmV"] for mhz in FORWARD],
                  "cnr": spelled(draw.uniform(40, 48), -2, draw), "spread": "1 dB", "bonded": True,
                  "transmit": [[f"{mhz:.0f} MHz", "36 dBmV"] for mhz in BACK]},
        "climate": {"indoor": ["15 C", "28 C"], "outdoor": ["-25 C", "45 C"], "attic": ["-5 C", "60 C"]},
        "part": parts, "outlet": outlets, "spec": made,
    }
    if len(outlets) > 1:
        file["home_network"] = {"band": [f"{mhz:.0f} MHz" for mhz in LINK], "members": [row["id"] for row in outlets],
                                "max_loss": "60 dB"}
    return file


class Circuit:
    """A home as the library sees it, at some frequencies of one band and in one case."""

    def __init__(self, file, band, case):
        self.file, self.case = file, case
        self.band = band
        self.grid = skrf.Frequency.from_f(band, unit="MHz")
        self.kinds = {}

    def dividing(self, spec, losses, isolation, amplified=()):
        """Scattering parameters of a matched part: port 0 is its input."""
        size = len(losses) + 1
        s = numpy.zeros((len(self.band), size, size), complex)
        volts = lambda db: 10 ** (-db / 20)
        spread = number(spec.get("spread", "0 dB"), "dB") * self.case
        for at, mhz in enumerate(self.band):
            for way, loss in enumerate(losses, 1):
                if way in amplified:
                    up, down = self.through_amplifier(spec, mhz, spread)
                else:
                    up = down = volts(max(linear(loss, mhz) + spread, 0.0))
                s[at, way, 0], s[at, 0, way] = down, up
                for other in range(1, size):
                    if other != way:
                        across = linear(isolation, mhz)
                        if amplified and not {way, other} <= set(amplified):
                            across += linear(points(spec["network_loss"], "dB"), mhz)
                        s[at, way, other] = volts(across)
        return skrf.Network(frequency=self.grid, s=s, z0=OHMS)

    def through_amplifier(self, spec, mhz, spread):
        """Voltage gains up and down; forward nothing comes back, and in the return band nothing goes on."""
        table = lambda key: linear(points(spec[key], "dB"), mhz)
        volts = lambda db: 10 ** (db / 20)
        if self.band == FORWARD:
            return 0.0, volts(table("gain") - spread)
        if self.band == BACK:
            return volts(table("return_gain") - spread), 0.0
        return volts(-table("network_loss")), volts(-table("network_loss"))

    def network(self, part):
        """A part's network and the names of its ways out."""
        specs = self.file["spec"]
        table = lambda value: points(value, "dB")
        name = part["id"]
        if "cable" in part:
            place = self.file["climate"][part["place"]]
            ends = [number(end, "C") for end in place]
            feet = number(part["length"], "ft")
            lost = [cable_loss(specs["cable"][part["cable"]], feet, ends, mhz, self.case) for mhz in self.band]
            nepers = numpy.array(lost) / (20 * numpy.log10(numpy.e)) / feet
            beta = 2 * numpy.pi * self.grid.f / (specs["cable"][part["cable"]]["velocity"] * scipy.constants.c)
            media = skrf.media.DefinedGammaZ0(frequency=self.grid, gamma=nepers + 1j * beta * scipy.constants.foot, z0=OHMS)
            return media.line(feet, "m"), [name]
        if "pad" in part:
            return self.dividing({}, [table(part["pad"])], table("200 dB")), [name]
        kind = next(kind for kind in ("splitter", "coupler", "equalizer", "joint", "amplifier") if kind in part)
        spec = specs[kind][part[kind]]
        isolation = table(spec.get("isolation", "20 dB"))
        if kind == "splitter":
            losses = [table(spec["loss"])] * spec["legs"] if "loss" in spec else [table(loss) for loss in spec["leg_loss"]]
            return self.dividing(spec, losses, isolation), [f"{name}.{way + 1}" for way in range(spec["legs"])]
        if kind == "coupler":
            return self.dividing(spec, [table(spec["through"]), table(spec["tap"])], isolation), [f"{name}.through", f"{name}.tap"]
        if kind == "amplifier":
            names = [f"{name}.{way + 1}" for way in range(spec["outputs"])]
            losses = [None] * len(names)
            if "passive" in spec:
                losses.append(table(spec["passive"]))
                names.append(f"{name}.passive")
            return self.dividing(spec, losses, isolation, tuple(range(1, spec["outputs"] + 1))), names
        return self.dividing(spec, [table(spec["loss"])], isolation), [name]

    def solve(self):
        """The scattering matrix between the entry (port 0) and the outlets."""
        nets, ends = {}, {"entry": []}
        for part in self.file["part"]:
            net, names = self.network(part)
            net.name = part["id"]
            nets[part["id"]] = (net, names)
        ports = [skrf.circuit.Circuit.Port(self.grid, name, z0=OHMS) for name in ["entry"] + [row["id"] for row in self.file["outlet"]]]
        ends = {"entry": (ports[0], 0)}
        for net, names in nets.values():
            ends |= {name: (net, way) for way, name in enumerate(names, 1)}
        joined = [[ends.pop(part["after"]), (nets[part["id"]][0], 0)] for part in self.file["part"]]
        joined += [[ends.pop(row["after"]), (port, 0)] for row, port in zip(self.file["outlet"], ports[1:])]
        # A terminator takes what comes to it.
        for number_of, end in enumerate(ends.values()):
            match = skrf.Network(frequency=self.grid, s=numpy.zeros((len(self.band), 1, 1)), z0=OHMS, name=f"end {number_of}")
            joined.append([end, (match, 0)])
        return skrf.circuit.Circuit(joined).s_external

    def noise_factor(self, outlet):
        """The noise factor of all that stands on the way to an outlet, at the forward frequencies."""
        way, after = [], outlet["after"]
        while after != "entry":
            part = next(part for part in self.file["part"] if part["id"] == after.partition(".")[0])
            net, names = self.network(part)
            out = names.index(after) + 1
            two = skrf.Network(frequency=self.grid, s=net.s[:, [[0], [out]], [0, out]], z0=OHMS)
            if "amplifier" in part and not after.endswith("passive"):
                figure = [linear(points(self.file["spec"]["amplifier"][part["amplifier"]]["noise_figure"], "dB"), mhz) for mhz in self.band]
                factor = 10 ** (numpy.array(figure) / 10)
                two.set_noise_a(self.grid, nfmin_db=figure, gamma_opt=0, rn=OHMS * (factor - 1) / 4)
            else:
                self.add_thermal_noise(two)
            way.insert(0, two)
            after = part["after"]
        whole = way[0]
        for two in way[1:]:
            whole = whole ** two
        return whole.nf(numpy.full(len(self.band), OHMS))

    def add_thermal_noise(self, two):
        """The noise of a passive two-port at 290 K: currents 4 k T Re(Y), brought to its input."""
        currents = 4 * scipy.constants.k * ROOM * numpy.real(two.y)
        b, d = two.a[:, 0, 1], two.a[:, 1, 1]
        brought = numpy.zeros_like(two.a)
        brought[:, 0, 1], brought[:, 1, 0], brought[:, 1, 1] = b, 1, d
        two.noise = brought @ currents @ numpy.conj(numpy.swapaxes(brought, 1, 2))
        two.noise_freq = self.grid


def decibels(s):
    return -20 * numpy.log10(numpy.abs(s))


def worked_out(file):
    """What the report should say of every outlet and link."""
    entry = file["entry"]
    spread = number(entry["spread"], "dB")
    floor = scipy.constants.k * ROOM * 5.360537e6 / ZERO_DBMV
    cnr_read = numpy.array([linear(points(entry["cnr"], "dB"), mhz) for mhz in FORWARD])
    read = numpy.array([in_root(points(entry["forward"], "dBmV"), mhz) for mhz in FORWARD])
    levels, ratios = {}, {}
    for case in CASES:
        circuit = Circuit(file, FORWARD, case)
        lost = decibels(circuit.solve()[:, 1:, 0])
        for at, outlet in enumerate(file["outlet"]):
            here = read - spread * case
            noise = numpy.maximum(10 ** ((here - cnr_read) / 10), floor) + floor * (circuit.noise_factor(outlet) - 1)
            levels[case, at] = here - lost[:, at]
            ratios[case, at] = here - 10 * numpy.log10(noise)
    back = decibels(Circuit(file, BACK, NOMINAL).solve()[:, 0, 1:])
    links = Circuit(file, LINK, NOMINAL).solve()[:, 1:, 1:]
    figure = lambda values, at: {
        "nominal": values[NOMINAL, at].tolist(),
        "low": numpy.min([values[case, at] for case in CASES], axis=0).tolist(),
        "high": numpy.max([values[case, at] for case in CASES], axis=0).tolist(),
    }
    outlets = [
        {"id": outlet["id"], "forward": figure(levels, at), "cnr": figure(ratios, at), "loss": back[:, at].tolist()}
        for at, outlet in enumerate(file["outlet"])
    ]
    count = len(outlets)
    between = [
        {"from": outlets[one]["id"], "to": outlets[other]["id"], "loss": decibels(links[:, other, one]).tolist()}
        for one in range(count) for other in range(one + 1, count)
    ]
    return {"outlets": outlets, "links": between}


def main():
    draw = random.Random(20260)
    rows = []
    for number_of in range(HOMES):
        file = home(draw, f"home {number_of}")
        rows.append({"home": file, "expected": worked_out(file)})
    head = {
        "made by": "network.py", "library": f"scikit-rf {skrf.__version__}",
        "constants": "CODATA, by scipy.constants",
        "figures": "outlets: forward in dBmV and cnr in dB at 57, 300 and 861 MHz, loss in dB at 12 and 38 MHz; links: loss in dB at 1125 and 1500 MHz",
    }
    write("network.json", head, rows)


if __name__ == "__main__":
    main()
