"""Random needs with their best plans, by the programme of `programme.py`."""

import multiprocessing
import random
from collections import Counter

import ortools

import needs
from figures import write
from programme import best

# How many needs of each size, and how much work the solver may put into one question, in its own measure.
ASKED = {needs.SMALL: (100, 2.0), needs.MIDDLE: (20, 3.0), needs.LARGE: (10, 4.0)}


def row(asked):
    """A random need with its best plan, or why there is none."""
    size, seed = asked
    file = needs.need(random.Random(seed), f"need {seed}, {size}", size)
    if file is None:
        return "no plan to set limits around"
    answer = best(file, ASKED[size][1])
    return answer if isinstance(answer, str) else {"size": size, "need": file, "best": answer}


def is_open(row):
    """Whether a better plan than the one that was found may exist."""
    return row["best"]["feasible"] and "margin" not in row["best"]


def main():
    asked = [(size, seed) for size, (count, _) in ASKED.items() for seed in range(count)]
    with multiprocessing.Pool() as pool:
        rows = pool.map(row, asked, chunksize=1)
    left_out = {size: Counter() for size in ASKED}
    for (size, _), why in zip(asked, rows):
        left_out[size].update([why] if isinstance(why, str) else [])
    rows = [row for row in rows if not isinstance(row, str)]
    head = {
        "made by": "plans.py", "library": f"ortools {ortools.__version__}, CP-SAT",
        "best": "found and least: amplifiers, and cost in hundredths; margin: the ends between which it is, in dB",
        "not proved": {size: sum(is_open(row) for row in rows if row["size"] == size) for size in ASKED},
        "left out": left_out,
    }
    write("plans.json", head, rows)


if __name__ == "__main__":
    main()
