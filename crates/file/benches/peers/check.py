"""The sums of `legwork check` for the reference home with numpy: a peer to measure against.

Written from the file format's definition alone, in numpy's own manner: every port is one array over cases and
frequencies. It prints the figures of the report under the report's own keys, without findings and sentences. It knows the kinds
of part that the reference home has, and stops at others.

    python3 check.py reference.toml
"""

import itertools
import json
import re
import sys
import tomllib

import numpy as np

SCALE = {"Hz": 1e-6, "kHz": 1e-3, "GHz": 1e3, "ft": 0.3048, "in": 0.0254, "km": 1e3, "mA": 1e-3, "mW": 1e-3, "mV": 1e-3, "%": 0.01}
BOLTZMANN = 1.380649e-23
NOMINAL, MOST, LEAST = 0, 1, 2
# How a spread moves a loss in each case.
SIGN = np.array([0.0, 1.0, -1.0])[:, None]


def number(value):
    """A quantity in MHz, m, dB, dBmV, V, A, W, ohm, C or as a fraction."""
    if isinstance(value, (int, float)):
        return float(value)
    digits, unit = re.fullmatch(r"\s*([-+.\deE]+)\s*(.*?)\s*", value).groups()
    return float(digits) * SCALE.get(unit, 1.0)


def points(value):
    return np.array([[number(f), number(y)] for f, y in value]).T


def table(value, f):
    """Linear in frequency, the ends held."""
    return np.interp(f, *points(value)) if isinstance(value, list) else np.full(len(f), number(value))


def root(value, f):
    """Linear in the square root of frequency; beyond the ends the line goes on."""
    known, y = points(value)
    x, known = np.sqrt(f), np.sqrt(known)
    at = np.clip(np.searchsorted(known, x) - 1, 0, len(known) - 2)
    slope = np.diff(y) / np.diff(known)
    return y[at] + slope[at] * (x - known[at])


def kind_of(part):
    return next(kind for kind in ("cable", "splitter", "equalizer", "filter", "amplifier", "bond", "joint", "pad") if kind in part)


class Home:
    def __init__(self, file):
        self.file = file
        self.climate = {place: [number(t) for t in file.get("climate", {}).get(place, [20, 20])] for place in ("indoor", "outdoor", "attic")}
        self.parts = {part["id"]: part for part in file["part"]}

    def spec(self, part):
        kind = kind_of(part)
        return self.file["spec"][kind][part[kind]]

    def heat(self, part, by):
        """What temperature does to a cable in the three cases."""
        cold, hot = self.climate[part.get("place", "indoor")]
        return 1 + by * (np.array([20.0, hot, cold])[:, None] - 20)

    def loss(self, part, way, f, band):
        """From the input of a part to a way out, over cases and frequencies; `band` is forward, return or network."""
        kind = kind_of(part)
        if kind == "pad":
            return np.full((3, len(f)), number(part["pad"]))
        spec = self.spec(part)
        spread = number(spec.get("spread", 0))
        if kind == "cable":
            lengths = number(part["length"]) / number(spec["per"])
            base = np.maximum(root(spec["loss"], f), 0) * lengths
            return base * (1 + spread * SIGN) * self.heat(part, 0.002)
        if kind == "amplifier" and way != "passive":
            if band == "network":
                return np.tile(table(spec["network_loss"], f), (3, 1)) if "network_loss" in spec else np.full((3, len(f)), np.inf)
            key = {"forward": "gain", "return": "return_gain"}[band]
            return -table(spec[key], f) + spread * SIGN if key in spec else np.full((3, len(f)), np.nan)
        loss = spec["passive"] if kind == "amplifier" else spec["leg_loss"][int(way) - 1] if "leg_loss" in spec else spec["loss"]
        return np.maximum(table(loss, f) + spread * SIGN, 0)

    def way(self, port):
        """Parts from the entry to a port, each with the way out that is taken."""
        steps = []
        while port != "entry":
            name, _, out = port.partition(".")
            steps.append((self.parts[name], out))
            port = self.parts[name]["after"]
        return steps[::-1]

    def down(self, port, f, band, memo):
        """Loss from the entry to a port."""
        if port == "entry":
            return np.zeros((3, len(f)))
        if port not in memo:
            name, _, out = port.partition(".")
            part = self.parts[name]
            memo[port] = self.down(part["after"], f, band, memo) + self.loss(part, out, f, band)
        return memo[port]


def spans(figures, name):
    """The nominal figure and both extremes of three cases."""
    return {name: float(figures[NOMINAL]), "low": float(np.min(figures)), "high": float(np.max(figures))}


def named(figures, key, unit):
    return {f"{key}_{unit}": float(figures[0]), f"{key}_low": float(np.min(figures)), f"{key}_high": float(np.max(figures))}


def carriers(service):
    """Centres and offsets of all carriers."""
    blocks = []
    for block in service["carriers"]:
        first, last, step = (number(block[key]) for key in ("first", "last", "step"))
        centres = first + step * np.arange(round((last - first) / step) + 1)
        blocks.append((centres, np.full(len(centres), number(block.get("offset", 0)))))
    return (np.concatenate(column) for column in zip(*blocks))


def noise_bandwidth(service):
    step = number(service["carriers"][0]["step"])
    return number(service["noise_bandwidth"]) if "noise_bandwidth" in service else {6.0: 5.360537, 8.0: 6.952}.get(step, step)


def cnr_at(home, port, f, level, thermal):
    """Carrier to noise, a part at a time. Powers are those of decibels."""
    entry = home.file["entry"]
    carrier = 10 ** (level / 10)
    noise = np.maximum(carrier / 10 ** (table(entry["cnr"], f) / 10), thermal)
    for part, way in home.way(port):
        through = 10 ** (home.loss(part, way, f, "forward") / 10)
        carrier = carrier / through
        if kind_of(part) == "amplifier" and way != "passive":
            noise = (noise + thermal * (10 ** (number(home.spec(part)["noise_figure"]) / 10) - 1)) / through
        else:
            noise = noise / through + thermal * (1 - 1 / through)
    return 10 * np.log10(carrier / noise)


def feed(home, supply):
    """One supply, one amplifier that draws a constant power, and what lies between."""
    source, volts = number(supply.get("source_ohms", 0)), number(supply["volts"])
    steps = home.way(supply["after"])
    name = [part for part, _ in steps if kind_of(part) == "amplifier"][-1]["id"]
    ohms = np.full(3, source)
    for part, _ in steps[[part["id"] for part, _ in steps].index(name) + 1 :]:
        spec = home.spec(part)
        if kind_of(part) == "cable":
            ohms = ohms + number(spec["loop"]) * number(part["length"]) / number(spec["per"]) * home.heat(part, 0.00393)[:, 0]
        else:
            ohms = ohms + number(spec.get("dc_ohms", 0))
    open_volts = volts * (1 + number(supply.get("spread", 0)) * np.array([0, -1, 1]))
    draw = number(home.spec(home.parts[name])["draw"])
    at = (open_volts + np.sqrt(open_volts**2 - 4 * draw * ohms)) / 2
    amps = draw / at
    return {
        "supply": supply["id"], "amplifier": name, "volts": at[0], "volts_low": at.min(), "volts_high": at.max(),
        "amps": amps[0], "amps_high": amps.max(), "supply_amps": amps[0], "supply_amps_high": amps.max(),
        "loop_ohms": ohms[0], "drop_volts": volts - at[0],
    }  # fmt: skip


def links(home, f, place):
    """The loss between members of the home network: where their ways part, or by a filter above that reflects."""
    memo = {}
    for one, other in itertools.combinations(home.file["home_network"]["members"], 2):
        ways = [home.way(place[one]), home.way(place[other])]
        downs = [home.down(place[member], f, "network", memo)[NOMINAL] for member in (one, other)]
        shared = 0
        while ways[0][shared] == ways[1][shared]:
            shared += 1
        meet, outs = ways[0][shared][0], [way[shared][1] for way in ways]
        above = home.down(meet["after"], f, "network", memo)[NOMINAL]
        spec = home.spec(meet)
        between = table(spec.get("isolation", 20), f)
        if kind_of(meet) == "amplifier" and "passive" in outs:
            between = between + table(spec["network_loss"], f)
        own = [home.loss(meet, out, f, "network")[NOMINAL] for out in outs]
        loss = downs[0] + downs[1] - 2 * above - own[0] - own[1] + between
        for part, way in ways[0][:shared]:
            spec = home.spec(part) if kind_of(part) == "filter" else {}
            if "reflects" in spec:
                low, high = (number(edge) for edge in spec["reflects"])
                above = home.down(part["id"], f, "network", memo)[NOMINAL]
                loss = np.where((f >= low) & (f <= high), np.minimum(loss, downs[0] + downs[1] - 2 * above), loss)
        yield from ({"from": one, "to": other, "mhz": float(mhz), "loss_db": float(db)} for mhz, db in zip(f, loss))


def report(file):
    home = Home(file)
    service, entry = file["service"], file["entry"]
    centres, offsets = carriers(service)
    spread = number(entry.get("spread", 0)) * SIGN
    told = np.unique(np.concatenate([points(entry["forward"])[0], centres[[0, -1]]]))
    f = np.concatenate([centres, told])
    level = root(entry["forward"], f) - spread
    back, sent = points(entry["transmit"])
    thermal = BOLTZMANN * 290 * noise_bandwidth(service) * 1e6 * 75 / 1e-6
    place = {outlet["id"]: outlet["after"] for outlet in file["outlet"]}
    forward, upward = {}, {}
    count = len(centres)

    def total(port):
        at = level[:, :count] - home.down(port, f, "forward", forward)[:, :count] + offsets
        return 10 * np.log10(np.sum(10 ** (at / 10), axis=1))

    outlets, lost = [], {}
    for outlet in file["outlet"]:
        port = outlet["after"]
        at = level - home.down(port, f, "forward", forward)
        cnr = cnr_at(home, port, told, level[:, count:], thermal)
        loss = home.down(port, back, "return", upward)
        powered = [part["id"] for part, way in home.way(port) if kind_of(part) == "amplifier" and way != "passive"]
        for amplifier in powered:
            lost.setdefault(amplifier, []).append(outlet["id"])
        outlets.append({
            "id": outlet["id"], "device": outlet["device"],
            "forward": [{"mhz": float(mhz)} | spans(at[:, count + i], "dbmv") for i, mhz in enumerate(told)],
            **named(at[:, count - 1] - at[:, 0], "tilt", "db"), **named(total(port), "total", "dbmv"),
            "cnr": [{"mhz": float(mhz)} | spans(cnr[:, i], "db") for i, mhz in enumerate(told)],
            "return": [
                {"mhz": float(mhz), "loss_db": float(loss[NOMINAL, i])} | spans(sent[i] + spread[:, 0] + loss[:, i], "transmit_dbmv")
                for i, mhz in enumerate(back)
            ],
            "needs_power_at": powered,
        })  # fmt: skip
    amplifiers = []
    for part in (part for part in file["part"] if kind_of(part) == "amplifier"):
        figures = total(part["after"])
        headroom = number(home.spec(part)["max_input_total"]) - float(figures[NOMINAL])
        row = {"id": part["id"], **named(figures, "input_total", "dbmv"), "headroom_db": headroom}
        amplifiers.append(row | {"outlets_lost": lost.get(part["id"], [])})
    edges = np.array([number(edge) for edge in file["home_network"]["band"]])
    return {
        "format": 1, "name": file["name"], "outlets": outlets, "amplifiers": amplifiers,
        "feeds": [{key: value if isinstance(value, str) else float(value) for key, value in feed(home, supply).items()} for supply in file["supply"]],
        "links": list(links(home, edges, place)),
    }  # fmt: skip


if __name__ == "__main__":
    with open(sys.argv[1], "rb") as premises:
        print(json.dumps(report(tomllib.load(premises))))
