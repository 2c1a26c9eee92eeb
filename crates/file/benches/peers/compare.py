"""The program beside the numpy script: first whether both say the same of the reference home, then the processor time
of each as a whole process, by turns, so that whatever else the machine does meets both.

    cargo build --release -p legwork-cli
    python3 tests/benches/peers/compare.py target/release/legwork
"""

import json
import os
import statistics
import subprocess
import sys
from pathlib import Path

# Half of the last of two decimals, which is finer than any meter reads: what the tests hold the independent model to.
TOLERANCE = 0.005
ROUNDS = 30

here = Path(__file__).parent
home = here.parent / "reference.toml"
ours = [sys.argv[1], "check", "--json", home]
theirs = [sys.executable, here / "check.py", home]
start = [sys.executable, "-c", "import itertools, json, re, tomllib, numpy"]


def differences(ours, theirs, where=""):
    """One item for everything that the script says: the place, and how far the program is from it."""
    if isinstance(theirs, dict):
        for key, value in theirs.items():
            yield from differences(ours.get(key), value, f"{where}/{key}")
    elif isinstance(theirs, list):
        for index, value in enumerate(theirs):
            yield from differences(ours[index] if index < len(ours) else None, value, f"{where}/{index}")
    elif isinstance(theirs, float):
        yield where, abs(ours - theirs) if isinstance(ours, (int, float)) else float("inf")
    else:
        yield where, 0.0 if ours == theirs else float("inf")


def processor_milliseconds(command):
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
    _, _, usage = os.wait4(process.pid, 0)
    return (usage.ru_utime + usage.ru_stime) * 1000


reports = [json.loads(subprocess.run(command, stdout=subprocess.PIPE).stdout) for command in (ours, theirs)]
apart = dict(differences(*reports))
wrong = [f"{where}: {by} apart" for where, by in apart.items() if not by <= TOLERANCE]
if wrong or len(reports[0]["outlets"]) != len(reports[1]["outlets"]):
    sys.exit("\n".join(wrong) or "not as many outlets")
totals = " and ".join(f"{report['outlets'][0]['total_dbmv']:.4f}" for report in reports)
print(f"first outlet's total: {totals} dBmV; {len(apart)} figures and names, at most {max(apart.values()):.6f} apart")

rounds = [[processor_milliseconds(command) for command in (ours, theirs, start)] for _ in range(ROUNDS)]
program, script, nothing = (statistics.median(column) for column in zip(*rounds))
ratio = statistics.median(theirs / ours for ours, theirs, _ in rounds)
print(f"processor milliseconds, medians of {ROUNDS}: legwork {program:.2f}, numpy {script:.0f} (of it to start: {nothing:.0f})")
print(f"numpy / legwork, round by round: {ratio:.0f}")
