"""A need file in plain numbers: parts of the stock with what their ways out lose, outlets with their runs and limits."""

from figures import cable_loss, in_root, linear, number, points, power_sum


class Way:
    """Ways out of a part that are alike: how many, and what they lose."""

    def __init__(self, count, loss, back, spread, amplified=False):
        self.count, self.amplified, self.spread = count, amplified, spread
        # Without a table `back` there is no return path.
        self.loss, self.back = loss, back

    def forward(self, mhz, case):
        lost = linear(self.loss, mhz) + self.spread * case
        return lost if self.amplified else max(lost, 0.0)

    def returned(self, mhz, case):
        if self.back is None:
            return 0.0
        lost = linear(self.back, mhz) + self.spread * case
        return lost if self.amplified else max(lost, 0.0)


class Kind:
    """One line of the stock."""

    def __init__(self, item, specs, apart):
        (self.kind, name), = ((key, value) for key, value in item.items() if key not in ("count", "cost"))
        self.count, self.cost = item["count"], round(100 * item["cost"])
        spec = {"loss": name} if self.kind == "pad" else specs[self.kind][name]
        self.spec = spec
        self.spread = number(spec.get("spread", "0 dB"), "dB")
        self.isolation = points(spec.get("isolation", "20 dB"), "dB")
        self.ways = self.all_ways()
        if apart:
            self.ways = [Way(1, way.loss, way.back, way.spread, way.amplified) for way in self.ways for _ in range(way.count)]

    def all_ways(self):
        table = lambda value: points(value, "dB")
        passive = lambda count, value: Way(count, table(value), table(value), self.spread)
        spec = self.spec
        if self.kind == "splitter":
            if "loss" in spec:
                return [passive(spec["legs"], spec["loss"])]
            return [passive(1, value) for value in spec["leg_loss"]]
        if self.kind == "coupler":
            return [passive(1, spec["through"]), passive(1, spec["tap"])]
        if self.kind != "amplifier":
            return [passive(1, spec["loss"])]
        minus = lambda value: [(mhz, -db) for mhz, db in table(value)]
        back = minus(spec["return_gain"]) if "return_gain" in spec else None
        ways = [Way(spec["outputs"], minus(spec["gain"]), back, self.spread, amplified=True)]
        return ways + ([passive(1, spec["passive"])] if "passive" in spec else [])

    def limit(self, key):
        return number(self.spec[key], "dBmV") if key in self.spec else None


class Outlet:
    """An outlet: what its run loses, and its device's limits."""

    def __init__(self, row, need):
        self.row, self.device = row, row["device"]
        self.limits = need.file["limits"][self.device]
        self.lifeline = row.get("lifeline", False)
        self.is_modem = self.device in ("modem", "voice-modem")
        self.run = lambda mhz, case: need.cable(row["run"], mhz, case)

    def limit(self, key):
        """A limit of one end, or of two; none where it says so."""
        value = self.limits[key]
        if value == "none":
            return None
        unit = "dB" if key in ("tilt", "window") else "dBmV"
        return number(value, unit) if isinstance(value, str) else [number(end, unit) for end in value]


class Need:
    """A need file."""

    def __init__(self, file):
        self.file = file
        service, entry = file["service"], file["entry"]
        self.carriers = []
        for block in service["carriers"]:
            first, last, step = (number(block[key], "MHz") for key in ("first", "last", "step"))
            offset = number(block.get("offset", "0 dB"), "dB")
            count = round((last - first) / step) + 1
            self.carriers += [(first + step * place, offset) for place in range(count)]
        self.read = points(entry["forward"], "dBmV")
        self.sent = points(entry["transmit"], "dBmV")
        self.spread = number(entry.get("spread", "0 dB"), "dB")
        ends = {self.carriers[0][0], self.carriers[-1][0]}
        self.forward = sorted(ends | {mhz for mhz, _ in self.read})
        self.back = [mhz for mhz, _ in self.sent]
        self.channels = power_sum([0.0] * service.get("return_channels", 1))
        self.outlets = [Outlet(row, self) for row in file["outlet"]]
        self.heard = any(outlet.limit("neighbour") is not None for outlet in self.outlets)
        items = file["stock"]["item"]
        self.kinds = [Kind(item, file["spec"], self.heard) for item in items if "supply" not in item]
        supplies = [item for item in items if "supply" in item]
        self.supplies = sorted(round(100 * item["cost"]) for item in supplies for _ in range(item["count"]))
        self.margin = number(file["stock"]["margin"], "dB")

    def cable(self, run, mhz, case):
        climate = self.file.get("climate", {}).get(run.get("place", "indoor"), ["20 C", "20 C"])
        spec = self.file["spec"]["cable"][run["cable"]]
        return cable_loss(spec, number(run["length"], "ft"), [number(end, "C") for end in climate], mhz, case)

    def lead_in(self, mhz, case):
        run = self.file["panel"].get("lead_in")
        return self.cable(run, mhz, case) if run else 0.0

    def arrives(self, mhz, case):
        """The forward level at the panel in dBmV."""
        return in_root(self.read, mhz) - self.spread * case - self.lead_in(mhz, case)

    def asked(self, mhz, case):
        """What a modem at the panel sends in dBmV."""
        return linear(self.sent, mhz) + self.spread * case + self.lead_in(mhz, case)

    def total(self, case, run=lambda mhz, case: 0.0):
        """The total at the panel, or behind a run that hangs there, in dBmV."""
        return power_sum(self.arrives(mhz, case) + offset - run(mhz, case) for mhz, offset in self.carriers)

    def is_flat(self):
        """Whether all parts lose the same at every forward frequency."""
        all_ways = [way for kind in self.kinds for way in kind.ways]
        return all(len({db for _, db in way.loss}) == 1 for way in all_ways)
