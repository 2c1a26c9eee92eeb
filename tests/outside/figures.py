"""What the file format says of tables and cables, in double precision: what the scripts of this folder share."""

import json
import math

# The three cases of a figure: at 20 C without any spread, every part at its most loss, every part at its least.
NOMINAL, MOST, LEAST = 0, 1, -1
CASES = (NOMINAL, MOST, LEAST)


def number(text, unit):
    """The number of a text like `6.5 dB`."""
    if not text.endswith(" " + unit):
        raise ValueError(f"{text!r} is not in {unit}")
    return float(text[: -len(unit) - 1])


def points(value, unit):
    """A table as pairs of MHz and a number; a single value is a table of one."""
    if isinstance(value, str):
        return [(0.0, number(value, unit))]
    return [(number(mhz, "MHz"), number(text, unit)) for mhz, text in value]


def linear(table, mhz):
    """Linear in frequency, the ends held."""
    if mhz <= table[0][0] or len(table) == 1:
        return table[0][1]
    for (left, low), (right, high) in zip(table, table[1:]):
        if mhz <= right:
            return low + (high - low) * (mhz - left) / (right - left)
    return table[-1][1]


def in_root(table, mhz):
    """Linear in the square root of frequency, the lines of the nearest two points continued beyond the ends."""
    pairs = list(zip(table, table[1:]))
    left, right = next((pair for pair in pairs if mhz <= pair[1][0]), pairs[-1])
    share = (math.sqrt(mhz) - math.sqrt(left[0])) / (math.sqrt(right[0]) - math.sqrt(left[0]))
    return left[1] + (right[1] - left[1]) * share


def cable_loss(spec, feet, climate, mhz, case):
    """The loss of so many feet of a cable in dB, where the climate is a pair of temperatures in C."""
    celsius = {NOMINAL: 20.0, MOST: climate[1], LEAST: climate[0]}[case]
    spread = number(spec.get("spread", "0 %"), "%") / 100
    cold = max(in_root(points(spec["loss"], "dB"), mhz), 0.0) * feet / number(spec["per"], "ft")
    return cold * (1 + 0.002 * (celsius - 20)) * (1 + spread * case)


def power_sum(levels):
    """Levels in dB, added up as powers."""
    return 10 * math.log10(sum(10 ** (level / 10) for level in levels))


def rounded(value):
    """Numbers to nine digits, which every machine comes to alike."""
    if isinstance(value, float):
        return float(f"{value:.9g}")
    if isinstance(value, dict):
        return {key: rounded(inner) for key, inner in value.items()}
    return [rounded(inner) for inner in value] if isinstance(value, list) else value


def write(path, head, rows):
    """Writes a data file: where it comes from, then a row a line."""
    with open(path, "w", encoding="utf-8", newline="\n") as file:
        file.write('{\n"head": ' + json.dumps(head, indent=1) + ',\n"rows": [\n')
        file.write(",\n".join(json.dumps(rounded(row), separators=(",", ":")) for row in rows))
        file.write("\n]\n}\n")
