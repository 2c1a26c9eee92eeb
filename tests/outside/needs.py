"""Random needs for `plans.py`: limits around what one plan of the stock does, often changed afterwards."""

from figures import CASES, power_sum
from need import Need

# How large a need is: outlets, kinds in the stock, and most of a kind.
SMALL, MIDDLE, LARGE = "small", "6 outlets, 10 kinds", "16 outlets, 14 kinds"
SIZES = {SMALL: None, MIDDLE: (6, 10, 2), LARGE: (16, 14, 2)}

DEVICES = ("modem", "voice-modem", "set-top", "tv")


def db(value, decimals=1):
    return f"{value:.{decimals}f} dB"


def dbmv(value):
    return f"{value:.1f} dBmV"


def mhz(value):
    return f"{value:.0f} MHz"


class Stock:
    """Lines of a stock and their specs; `flat` parts lose the same at every frequency of a band."""

    def __init__(self, random, flat):
        self.random, self.flat, self.items, self.specs = random, flat, [], {}

    def table(self, value, slope):
        """A loss in dB: flat, or points."""
        if self.flat or self.random.random() < 0.3:
            return db(value)
        rows = [(5, value), (500, value + slope * self.random.uniform(0.2, 0.8)), (1000, value + slope)]
        if self.random.random() < 0.5:
            del rows[1]
        return [[mhz(at), db(loss, 2)] for at, loss in rows]

    def add(self, kind, name, most):
        cost = self.random.choice([0.0, 1.0, 2.0, 2.5, 3.0, 4.5, 4.99, 6.0, 10.0])
        self.items.append({kind: name, "count": self.random.randint(1, most), "cost": cost})

    def own(self, kind, spec, most, spread=0.5):
        table = self.specs.setdefault(kind, {})
        name = f"own {kind} {len(table) + 1}"
        if self.random.random() < spread:
            spec["spread"] = db(self.random.uniform(0.1, 0.6))
        table[name] = spec
        self.add(kind, name, most)

    def splitter(self, legs, most):
        even = {2: 3.5, 3: 5.5, 4: 7.0, 8: 11.0}[legs] + self.random.uniform(-0.2, 0.6)
        spec = {"legs": legs, "isolation": self.table(self.random.uniform(14, 26), -3.0)}
        if legs < 8 and self.random.random() < 0.3:
            spec["leg_loss"] = [self.table(even + self.random.choice([-1.5, 0.0, 0.0, 1.5]), 1.0) for _ in range(legs)]
        else:
            spec["loss"] = self.table(even, 1.0)
        self.own("splitter", spec, most)

    def coupler(self, most):
        tap = self.random.choice([6, 9, 12])
        spec = {"tap": self.table(tap + 0.2, 0.6), "through": self.table(10 / tap + 0.5, 0.8)}
        spec["isolation"] = self.table(self.random.uniform(16, 28), -4.0)
        self.own("coupler", spec, most)

    def shaper(self):
        kind = self.random.choice(["pad", "pad", "pad", "filter" if self.flat else "equalizer"])
        if kind == "pad":
            return self.add("pad", db(self.random.choice([1, 2, 3, 4, 6, 10])), 3)
        if kind == "filter":
            return self.own("filter", {"loss": self.table(self.random.uniform(0.5, 1.5), 0.4)}, 1)
        most = self.random.uniform(4, 9)
        return self.own("equalizer", {"loss": [["5 MHz", db(most, 2)], ["1000 MHz", db(0.2 * most, 2)]]}, 2)

    def amplifier(self, heard, most_in):
        random = self.random
        spec = {"outputs": 1 if heard else random.choice([1, 1, 2, 4]), "gain": self.table(random.uniform(6, 15), 1.5)}
        if heard or random.random() < 0.85:
            spec["return_gain"] = db(random.uniform(-4, 0 if heard else 3))
        if not heard and random.random() < 0.4:
            spec["passive"] = self.table(random.uniform(1.5, 4), 0.6)
        spec |= {"noise_figure": "6 dB", "max_input_total": dbmv(most_in), "draw": "3 W", "runs_on": ["10 V", "20 V"]}
        if self.flat:
            for key, low, high, share in (("max_output_total", 28, 45, 0.5), ("max_return_total", 42, 58, 0.5)):
                if random.random() < share:
                    spec[key] = dbmv(random.uniform(low, high))
        spec["dc_ports"] = ["power"]
        self.own("amplifier", spec, 2)


def stock(random, outlets, flat, heard, most_in, size):
    """A stock with ways out for so many outlets and some to choose from; three to eight kinds where no size says more."""
    made = Stock(random, flat)
    kinds = size[1] if size else random.randint(3, 6 if heard else 8)
    if random.random() < 0.7:
        made.amplifier(heard, most_in)
        made.items.append({"supply": {"volts": "15 V", "amps": "2 A"}, "count": random.randint(1, 2), "cost": random.choice([0.0, 4.0])})
    dividers = kinds // 2 if size else random.randint(2, max(2, kinds - len(made.items) - 1))
    for _ in range(dividers):
        most = size[2] if size else 2 if heard else 4
        if random.random() < 0.3:
            made.coupler(most)
        else:
            made.splitter(random.choice([2, 2, 3, 4, 4] if heard or outlets < 6 else [2, 2, 3, 4, 4, 8]), most)
    while len(made.items) < kinds:
        made.shaper()
    return made


def run(random):
    made = {"cable": random.choice(["thin", "thin", "thick"]), "length": f"{random.randint(10, 160)} ft"}
    if random.random() < 0.4:
        made["place"] = random.choice(["indoor", "attic", "outdoor"])
    return made


def outlets(random, count, heard):
    rows = []
    for number in range(1, count + 1):
        if rows and random.random() < 0.4:
            row = dict(rows[-1])
        else:
            row = {"device": random.choice(["modem", "modem", "voice-modem", "set-top", "tv", "tv"]), "run": run(random)}
            if row["device"] == "voice-modem" and random.random() < 0.4:
                row["lifeline"] = True
        rows.append(row | {"id": f"outlet {number}"})
    if heard and not any("modem" in row["device"] for row in rows):
        rows[0]["device"] = "modem"
    return rows


def bare(random, flat, heard, size):
    """A need whose limits are still to come."""
    count = size[0] if size else random.randint(3, 4) if heard else random.randint(3, 8)
    level, slope = random.uniform(2, 18), random.uniform(-6, 2)
    first, last, step = random.choice([(57, 861, 6), (114, 858, 8)])
    forward = [[mhz(first), dbmv(level)], [mhz(last), dbmv(level + slope)]]
    if random.random() < 0.3:
        forward.insert(1, ["300 MHz", dbmv(level + slope * random.uniform(0.2, 0.8))])
    carriers = [
        {"first": mhz(first), "last": mhz(first + step * random.randint(0, 4)), "step": mhz(step)},
        {"first": mhz(last - step * random.randint(0, 30)), "last": mhz(last), "step": mhz(step)},
    ]
    if random.random() < 0.4:
        carriers[1]["offset"] = db(random.uniform(-4, 0))
    sent = random.uniform(30, 42)
    rows = [["12 MHz", dbmv(sent)], ["38 MHz", dbmv(sent + random.uniform(-1, 2))]][: random.randint(1, 2)]
    entry = {"forward": forward, "transmit": rows, "bonded": True}
    if random.random() < 0.6:
        entry["spread"] = db(random.uniform(0.2, 1.5))
    split = "42/54 MHz" if first == 57 else "65/87 MHz"
    most_in = random.uniform(level + 8, level + 20) if flat else 80.0
    made = stock(random, count, flat, heard, most_in, size)
    cable = lambda root, loop: {
        "loss": [["5 MHz", db(root * 5**0.5 + 0.1, 2)], ["1000 MHz", db(root * 1000**0.5 + 0.1, 2)]],
        "per": "100 ft", "loop": f"{loop} ohm", "velocity": 0.85, "spread": f"{random.choice([0, 2, 4])} %",
    }
    need = {
        "format": 1, "name": "", "service": {"split": split, "carriers": carriers, "return_channels": random.choice([1, 1, 4])},
        "entry": entry, "panel": {"mains": True}, "outlet": outlets(random, count, heard),
        "spec": made.specs | {"cable": {"thin": cable(0.2, 3), "thick": cable(0.13, 1.2)}},
        "stock": {"margin": db(random.choice([0, 0, 0.5, 1, 1, 2, 3])), "item": made.items},
    }
    if random.random() < 0.5:
        need["panel"]["lead_in"] = run(random)
    if random.random() < 0.5:
        ends = lambda low, high: [f"{low} C", f"{high} C"]
        need["climate"] = {"indoor": ends(15, 30), "outdoor": ends(-25, 45), "attic": ends(random.choice([-5, 24]), 60)}
    return need


def planted(random, need):
    """The ways to the outlets of one plan put together at random, as lists of parts and ways; none where none was found."""
    amplified = random.random() < 0.8
    left = [kind for kind in need.kinds for _ in range(kind.count) if amplified or kind.kind != "amplifier"]
    random.shuffle(left)
    if amplified:
        # Among the first to be placed.
        left.sort(key=lambda kind: kind.kind == "amplifier" and random.random() < 0.7)
    more = random.randint(0, 2)
    open_ways = [[]]
    while left and (len(open_ways) < len(need.outlets) or more):
        more -= len(open_ways) >= len(need.outlets)
        kind = left.pop()
        before = open_ways.pop(random.randrange(len(open_ways)))
        amplifiers = sum(way.amplified for _, way in before)
        if amplifiers and kind.kind == "amplifier":
            open_ways.append(before)
            continue
        open_ways += [before + [(kind, way)] for way in kind.ways for _ in range(way.count)]
    random.shuffle(open_ways)
    return open_ways[: len(need.outlets)] if len(open_ways) >= len(need.outlets) else None


def around(random, need, ways, room):
    """Limits around what the outlets see at the ends of some ways."""
    limits = {}
    for device in DEVICES:
        outlets = [(outlet, way) for outlet, way in zip(need.outlets, ways) if outlet.device == device]
        table = {key: "none" for key in ("forward", "transmit", "total", "tilt", "window", "neighbour", "cnr")}
        limits[device] = table
        if not outlets:
            continue
        loss = lambda way, at, case: sum(part.forward(at, case) for _, part in way)
        back = lambda way, at, case: sum(part.returned(at, case) for _, part in way)
        level = lambda outlet, way, at, case: need.arrives(at, case) - outlet.run(at, case) - loss(way, at, case)
        sent = lambda outlet, way, at, case: need.asked(at, case) + outlet.run(at, case) + back(way, at, case)
        seen = [level(*pair, at, case) for pair in outlets for at in need.forward for case in CASES]
        slack = lambda: room + random.choice([random.uniform(0.1, 0.6), random.uniform(0.1, 3.5)])
        table["forward"] = [dbmv(min(seen) - slack()), dbmv(max(seen) + slack())]
        with_return = all(part.back is not None for _, way in outlets for _, part in way)
        if with_return and random.random() < 0.8:
            seen = [sent(*pair, at, case) for pair in outlets for at in need.back for case in CASES]
            table["transmit"] = [dbmv(min(seen) - slack()), dbmv(max(seen) + slack())]
        if need.is_flat() and random.random() < 0.5:
            most = max(need.total(case, outlet.run) - loss(way, need.forward[0], case) for outlet, way in outlets for case in CASES)
            table["total"] = dbmv(most + slack())
        if random.random() < 0.5:
            tilts = [abs(level(*pair, need.forward[-1], case) - level(*pair, need.forward[0], case)) for pair in outlets for case in CASES]
            table["tilt"] = db(max(tilts) + slack())
        if all(way.back is not None for kind in need.kinds for way in kind.ways) and len(need.back) == 2 and random.random() < 0.5:
            apart = [abs(sent(*pair, need.back[0], 0) - sent(*pair, need.back[1], 0)) for pair in outlets]
            table["window"] = db(max(apart) + slack())
    return limits


def change(random, file):
    """Changes one thing, so that often nothing serves."""
    which = random.randrange(4)
    if which == 0:
        file["stock"]["margin"] = db(float(file["stock"]["margin"][:-3]) + random.uniform(0.3, 2.5))
    elif which == 1 and len(file["stock"]["item"]) > 3:
        file["stock"]["item"].pop(random.randrange(len(file["stock"]["item"])))
    elif which == 2:
        random.choice(file["outlet"])["run"] = run(random)
    else:
        limits = file["limits"][random.choice(file["outlet"])["device"]]
        low, high = (float(end[:-5]) for end in limits["forward"])
        limits["forward"] = [dbmv(low + random.uniform(0, 3)), dbmv(max(high - random.uniform(0, 3), low + 4))]


def need(random, name, size):
    """A random need of a size; none where no plan was found to set limits around."""
    what = random.random()
    size = SIZES[size]
    flat, heard = what < 0.5, what > 0.8 and not size
    file = bare(random, flat or random.random() < 0.3, heard, size)
    file["name"] = name
    none = {key: "none" for key in ("forward", "transmit", "total", "tilt", "window", "neighbour", "cnr")}
    probe = Need(file | {"limits": {device: none for device in DEVICES}})
    for _ in range(100):
        ways = planted(random, probe)
        if ways:
            break
    else:
        return None
    file["limits"] = around(random, probe, ways, probe.margin)
    if heard:
        channels = probe.channels
        for device in random.sample(DEVICES, 3):
            # Between what a modem at the panel sends and what lies between two outlets far apart.
            file["limits"][device]["neighbour"] = dbmv(power_sum([float(probe.sent[0][1]) + channels]) - random.uniform(8, 30))
    if random.random() < 0.4:
        change(random, file)
    return file
