"""Physical constants and conversions of units as published (CODATA, by scipy.constants), and what follows from them."""

import math

import scipy
from scipy import constants

OHMS = 75.0
ROOM = 290.0


def dbmv(watts):
    """A power in 75 ohm against that of one millivolt, in dB."""
    return 10 * math.log10(watts * OHMS / constants.milli**2)


def rows():
    yield "speed of light in m/s", constants.c
    yield "distance of an echo after 1 us in m", constants.c * constants.micro / 2
    yield "foot in m", constants.foot
    yield "mil in mm", constants.mil / constants.milli
    for fahrenheit in (-40.0, 14.0, 68.0, 140.0):
        yield f"{fahrenheit:g} F in C", float(constants.convert_temperature(fahrenheit, "Fahrenheit", "Celsius"))
    yield "0 dBmV in W", constants.milli**2 / OHMS
    yield "0 dBmV in dBm", 10 * math.log10(constants.milli**2 / OHMS / constants.milli)
    yield "thermal noise of 1 Hz in dBm", 10 * math.log10(constants.k * ROOM / constants.milli)
    yield "thermal noise of 1 MHz in W", constants.k * ROOM * constants.mega
    for mhz in (1.0, 4.0, 5.360537, 6.952):
        yield f"thermal noise of {mhz} MHz in dBmV", dbmv(constants.k * ROOM * mhz * constants.mega)


def main():
    with open("constants.csv", "w", encoding="utf-8", newline="\n") as file:
        file.write(f"# Made by constants.py. Source: scipy.constants of scipy {scipy.__version__}, which holds CODATA 2022.\n")
        file.write("# In double precision, nothing rounded.\nwhat,value\n")
        for what, value in rows():
            file.write(f"{what},{value!r}\n")


if __name__ == "__main__":
    main()
