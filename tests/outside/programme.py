"""The best plan of a need as a constraint programme, for the CP-SAT solver of OR-Tools.

Every part that the stock has is there or not; what is there, and every outlet, hangs on one way out of another part
that is there, or on the panel. Losses from the panel add up along a way, in every case and at every frequency, so
limits on levels are linear. The programme asks first for the fewest amplifiers and the lowest cost, then, with both
held, for the largest smallest margin. Of what it has no time to prove it keeps what was found and the bound.

Expressed: levels forward and sent, tilt and window, with spreads and climate, over tables of points; splitters, couplers,
pads, equalizers, filters; amplifiers with and without return path and passive port, one behind another, lifelines;
a modem that a neighbour hears. Totals at outlets and amplifiers, and modems at an amplifier's output, where all
parts at the panel lose the same at every frequency: then a total is that at the panel less one loss. Not expressed:
carrier to noise, the home network, direct current; amplifiers are powered at the panel by supplies of which
any serves.
"""

from ortools.sat.python import cp_model

from figures import CASES, NOMINAL, linear
from need import Need

# Whole numbers stand for ten-thousandths of a decibel.
UNIT = 10_000
# A loss or level beyond this many dB does not occur.
FAR = 200 * UNIT
# As much is rounded away here and in the program, in dB; a need whose answer hangs on it is left out.
DOUBT = 0.003
# Why a need is left out.
NOTHING_FOUND, ROUNDING_DECIDES = "neither a plan nor that there is none", "rounding decides"


def units(db):
    """Decibels in whole units."""
    return round(db * UNIT)


class Programme:
    """A need as a constraint programme; `margin` is a number of units, or none where it is to be found."""

    def __init__(self, need, margin=None):
        self.need, self.model = need, cp_model.CpModel()
        model = self.model
        self.margin = model.new_int_var(0, FAR, "margin") if margin is None else margin
        self.parts = [kind for kind in need.kinds for _ in range(kind.count)]
        self.columns()
        self.used = [model.new_bool_var(f"used {at}") for at in range(len(self.parts))]
        # Ways out: none is the panel.
        self.ports = [None] + [(at, way) for at, part in enumerate(self.parts) for way in range(len(part.ways))]
        self.hang()
        self.losses()
        self.amplification()
        for at, outlet in enumerate(need.outlets):
            self.hold_outlet(at, outlet)
        amplifiers = [at for at, part in enumerate(self.parts) if part.kind == "amplifier"]
        self.ancestors(self.ports[1:] if need.heard else
                       [(at, 0) for at in amplifiers if self.parts[at].limit("max_return_total") is not None])
        for at in amplifiers:
            self.hold_amplifier(at, self.parts[at])
        if need.heard:
            self.hold_neighbours()
        self.price(amplifiers)

    def columns(self):
        """Loss by frequency and case; those in which all ways out lose the same are one."""
        need, known = self.need, {}
        self.column = {}
        for back, all_mhz in ((False, need.forward), (True, need.back)):
            for mhz in all_mhz:
                for case in CASES:
                    lost = [(way.returned if back else way.forward)(mhz, case) for part in self.parts for way in part.ways]
                    key = tuple(map(units, lost))
                    self.column[back, mhz, case] = known.setdefault(key, len(known))
        self.vectors = list(known)
        places = [(at, way) for at, part in enumerate(self.parts) for way in range(len(part.ways))]
        self.place = {port: place for place, port in enumerate(places)}

    def lost(self, port, column):
        """What a way out loses, in units."""
        return self.vectors[column][self.place[port]]

    def hang(self):
        """Everything that is there hangs on one way out, and no part hangs behind itself."""
        model, parts, used = self.model, self.parts, self.used
        things = [("part", at) for at in range(len(parts))] + [("outlet", at) for at in range(len(self.need.outlets))]
        self.hangs = {
            (port, thing): model.new_bool_var(f"{thing} at {port}")
            for port in self.ports for thing in things if port is None or thing != ("part", port[0])
        }
        on = lambda port: [var for (at, _), var in self.hangs.items() if at == port]
        of = lambda thing: [var for (_, which), var in self.hangs.items() if which == thing]
        for thing in things:
            model.add(sum(of(thing)) == (1 if thing[0] == "outlet" else used[thing[1]]))
        model.add(sum(on(None)) == 1)
        for port in self.ports[1:]:
            model.add(sum(on(port)) <= parts[port[0]].ways[port[1]].count * used[port[0]])
        self.depth = [model.new_int_var(0, len(parts), "depth") for _ in parts]
        for at in range(len(parts)):
            for port in self.ports:
                if (port, ("part", at)) in self.hangs:
                    above = 0 if port is None else self.depth[port[0]] + 1
                    model.add(self.depth[at] == above).only_enforce_if(self.hangs[port, ("part", at)])
        # Parts of one kind can be told apart by nothing: the first are used first, the nearest to the panel first.
        for at in range(1, len(parts)):
            if parts[at] is parts[at - 1]:
                model.add_implication(used[at], used[at - 1])
                model.add(self.depth[at - 1] <= self.depth[at]).only_enforce_if(used[at])
        # So can outlets that are alike: the first hangs on the first way out.
        rank = lambda at: sum(place * self.hangs[port, ("outlet", at)] for place, port in enumerate(self.ports))
        rows = [{key: value for key, value in outlet.row.items() if key != "id"} for outlet in self.need.outlets]
        for at in range(1, len(rows)):
            alike = [before for before in range(at) if rows[before] == rows[at]]
            if alike:
                model.add(rank(alike[-1]) <= rank(at))

    def follow(self, thing, start, step):
        """Whatever adds up along a way: `start` at the panel, `step` of the way out and what stands before it."""
        for port in self.ports:
            var = self.hangs.get((port, thing))
            if var is not None:
                yield var, start if port is None else step(port)

    def losses(self):
        """What is lost from the panel to each part and outlet."""
        model, parts = self.model, self.parts
        var = lambda: [model.new_int_var(-FAR, FAR, "loss") for _ in self.vectors]
        self.before = [var() for _ in parts]
        self.at_outlet = [var() for _ in self.need.outlets]
        things = [(("part", at), row) for at, row in enumerate(self.before)]
        things += [(("outlet", at), row) for at, row in enumerate(self.at_outlet)]
        for thing, row in things:
            for column, loss in enumerate(row):
                for hangs, above in self.follow(thing, 0, lambda port: self.behind(port, column)):
                    model.add(loss == above).only_enforce_if(hangs)

    def behind(self, port, column):
        """What is lost from the panel to a way out."""
        return self.before[port[0]][column] + self.lost(port, column)

    def amplification(self):
        """No outlet behind two amplified outputs, no lifeline behind one, none that sends where nothing goes back."""
        model, parts = self.model, self.parts
        if not any(part.kind == "amplifier" for part in parts):
            return
        way = lambda port: parts[port[0]].ways[port[1]]
        counts = [model.new_int_var(0, len(parts), "amplified") for _ in parts]
        blocked = [model.new_int_var(0, len(parts), "blocked") for _ in parts]
        amplified = lambda port: counts[port[0]] + int(way(port).amplified)
        stopped = lambda port: blocked[port[0]] + int(way(port).back is None)
        for at in range(len(parts)):
            for hangs, above in self.follow(("part", at), 0, amplified):
                model.add(counts[at] == above).only_enforce_if(hangs)
            for hangs, above in self.follow(("part", at), 0, stopped):
                model.add(blocked[at] == above).only_enforce_if(hangs)
        for at, outlet in enumerate(self.need.outlets):
            for hangs, above in self.follow(("outlet", at), 0, amplified):
                model.add(above <= (0 if outlet.lifeline else 1)).only_enforce_if(hangs)
            for hangs, above in self.follow(("outlet", at), 0, stopped):
                if outlet.limit("transmit") is not None:
                    model.add(above <= 0).only_enforce_if(hangs)

    def hold_outlet(self, at, outlet):
        """Levels, total, tilt and window inside their limits by the margin."""
        need, model, margin = self.need, self.model, self.margin
        loss = lambda back, mhz, case: self.at_outlet[at][self.column[back, mhz, case]]
        for back, all_mhz in ((False, need.forward), (True, need.back)):
            ends = outlet.limit("transmit" if back else "forward")
            if ends is None:
                continue
            for mhz in all_mhz:
                for case in CASES:
                    if back:
                        level = units(need.asked(mhz, case) + outlet.run(mhz, case)) + loss(back, mhz, case)
                    else:
                        level = units(need.arrives(mhz, case) - outlet.run(mhz, case)) - loss(back, mhz, case)
                    model.add(level >= units(ends[0]) + margin)
                    model.add(level <= units(ends[1]) - margin)
        if outlet.limit("total") is not None:
            if not need.is_flat():
                raise ValueError("totals are not linear here")
            for case in CASES:
                total = units(need.total(case, outlet.run)) - loss(False, need.forward[0], case)
                model.add(total <= units(outlet.limit("total")) - margin)
        if outlet.limit("tilt") is not None:
            ends = [need.carriers[0][0], need.carriers[-1][0]]
            for case in CASES:
                first, last = (units(need.arrives(mhz, case) - outlet.run(mhz, case)) - loss(False, mhz, case) for mhz in ends)
                self.between(last - first, units(outlet.limit("tilt")))
        if outlet.limit("window") is not None:
            if any(way.back is None for part in self.parts for way in part.ways):
                raise ValueError("a window is not held behind an amplifier without a return path")
            sent = [units(need.asked(mhz, NOMINAL) + outlet.run(mhz, NOMINAL)) + loss(True, mhz, NOMINAL) for mhz in need.back]
            for one in range(len(sent)):
                for other in range(one):
                    self.between(sent[one] - sent[other], units(outlet.limit("window")))

    def between(self, difference, limit):
        """A difference either way within a limit."""
        self.model.add(difference <= limit - self.margin)
        self.model.add(difference >= self.margin - limit)

    def ancestors(self, ports):
        """Which parts and outlets stand behind some ways out."""
        model, ports = self.model, list(ports)
        things = [("part", at) for at in range(len(self.parts))] + [("outlet", at) for at in range(len(self.need.outlets))]
        self.stands = {(port, thing): model.new_bool_var("behind") for port in ports for thing in things}
        for port in ports:
            for thing in things:
                here = self.stands[port, thing]
                step = lambda other: 1 if other == port else self.stands[port, ("part", other[0])]
                for hangs, above in self.follow(thing, 0, step):
                    model.add(here == above).only_enforce_if(hangs)
                if thing[0] == "part":
                    model.add_implication(here, self.used[thing[1]])

    def hold_amplifier(self, at, part):
        """Totals at input and outputs, and modems as they arrive at an output."""
        need, model, used = self.need, self.model, self.used[at]
        most_in, most_out, most_back = (part.limit(f"max_{which}_total") for which in ("input", "output", "return"))
        for case in CASES:
            if not need.is_flat():
                # Then the limit is to be so high that it is never the nearest.
                if most_out is not None or need.total(case) + 40 > most_in:
                    raise ValueError("totals are not linear here")
                continue
            column = self.column[False, need.forward[0], case]
            total = units(need.total(case))
            model.add(total - self.before[at][column] <= units(most_in) - self.margin).only_enforce_if(used)
            if most_out is not None:
                model.add(total - self.behind((at, 0), column) <= units(most_out) - self.margin).only_enforce_if(used)
        if most_back is None or part.ways[0].back is None:
            return
        for port in [(at, way) for way, out in enumerate(part.ways) if out.amplified]:
            for place, outlet in enumerate(need.outlets):
                for mhz in need.back if outlet.is_modem else []:
                    for case in CASES:
                        level = units(need.asked(mhz, case) + need.channels) + self.behind(port, self.column[True, mhz, case])
                        behind = self.stands[port, ("outlet", place)]
                        model.add(level <= units(most_back) - self.margin).only_enforce_if(behind)

    def hold_neighbours(self):
        """What each outlet hears of another's modem, across the part where their ways part."""
        need, model = self.need, self.model
        for part in need.kinds:
            if part.kind == "amplifier" and (len(part.ways) > 1 or min(part.ways[0].back)[1] < 0):
                raise ValueError("ways that part at an amplifier, or a return path with gain, are not expressed here")
        for victim, hearer in enumerate(need.outlets):
            limit = hearer.limit("neighbour")
            modems = [at for at, outlet in enumerate(need.outlets) if outlet.is_modem and at != victim]
            for modem in modems if limit is not None else []:
                for at, part in enumerate(self.parts):
                    for up in range(len(part.ways)):
                        for down in range(len(part.ways)):
                            if up == down:
                                continue
                            both = [self.stands[(at, up), ("outlet", modem)], self.stands[(at, down), ("outlet", victim)]]
                            for mhz in need.back:
                                column = self.column[True, mhz, NOMINAL]
                                sent = units(need.asked(mhz, NOMINAL) + need.channels) + self.behind((at, up), column)
                                down_loss = self.at_outlet[victim][column] - self.behind((at, down), column)
                                across = units(linear(part.isolation, mhz) + hearer.run(mhz, NOMINAL))
                                model.add(sent - across - down_loss <= units(limit) - self.margin).only_enforce_if(both)

    def price(self, amplifiers):
        """How many amplifiers, each with the cheapest supply that is left, and what all costs."""
        model, supplies = self.model, self.need.supplies
        given = [model.new_bool_var("supply") for _ in supplies]
        self.amplifiers = sum(self.used[at] for at in amplifiers) if amplifiers else 0
        if amplifiers:
            model.add(sum(given) == self.amplifiers)
        self.cost = sum(part.cost * used for part, used in zip(self.parts, self.used))
        self.cost += sum(price * var for price, var in zip(supplies, given))
        self.most = sum(part.cost for part in self.parts) + sum(supplies)

    def hint(self, other):
        """Starts at what another programme of this need has found."""
        for key, var in self.hangs.items():
            self.model.add_hint(var, other.solver.value(other.hangs[key]))

    def solve(self, patience):
        """Runs the solver with so much work, in its own measure of some seconds each; whether there is anything, or none
        where that is still open."""
        self.solver = cp_model.CpSolver()
        # With one worker and a bound on its work, not its seconds, it comes to the same on every machine.
        self.solver.parameters.num_workers = 1
        self.solver.parameters.random_seed = 1
        self.solver.parameters.max_deterministic_time = patience
        status = self.solver.solve(self.model)
        if status == cp_model.MODEL_INVALID:
            raise ValueError(self.model.validate())
        return {cp_model.UNKNOWN: None, cp_model.INFEASIBLE: False}.get(status, True)

    def found(self):
        """The objective of what was found."""
        return round(self.solver.objective_value)

    def bound(self):
        """What no objective is better than; what was found, where that is proved to be the best."""
        return round(self.solver.best_objective_bound)


def best(file, patience):
    """What the solver makes of a need; `NOTHING_FOUND` or `ROUNDING_DECIDES` where that says nothing.

    Plans are compared by amplifiers, then by cost in hundredths: none is better than `least`, and `found` is one that
    there is. Where both are the same it is proved to be the best, and its largest smallest margin in dB is between the
    ends of `margin`.
    """
    need = Need(file)
    first = Programme(need, units(need.margin - DOUBT))
    first.model.minimize(first.amplifiers * (first.most + 1) + first.cost)
    feasible = first.solve(patience)
    if feasible is None:
        return NOTHING_FOUND
    if not feasible:
        return {"feasible": False}
    proved = first.found() == first.bound()
    amplifiers, cost = divmod(first.found(), first.most + 1)
    second = Programme(need, None if proved else units(need.margin + DOUBT))
    second.hint(first)
    second.model.add(second.amplifiers == amplifiers)
    second.model.add(second.cost == cost)
    if proved:
        second.model.maximize(second.margin)
    if not second.solve(patience) or (proved and second.found() < units(need.margin + DOUBT)):
        return ROUNDING_DECIDES
    answer = {"feasible": True, "found": [amplifiers, cost], "least": list(divmod(first.bound(), first.most + 1))}
    return answer | ({"margin": [second.found() / UNIT, second.bound() / UNIT]} if proved else {})
