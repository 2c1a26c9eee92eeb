//! What the powering needs: volts, amperes, ohms, watts, percent and wire sizes.

super::quantity!(
    /// A voltage in volts, not negative.
    Volts, "voltage (V)", 0.0, 1e4, volts
);
super::quantity!(
    /// A current in amperes, not negative.
    Amps, "current (A)", 0.0, 1e4, amps
);
super::quantity!(
    /// A resistance in ohms, not negative.
    Ohms, "resistance (ohm)", 0.0, 1e9, ohms
);
super::quantity!(
    /// A power in watts, not negative.
    Watts, "power (W)", 0.0, 1e6, watts
);
super::quantity!(
    /// A spread in percent, plus or minus: 5 stands for ±5 %.
    Percent, "spread (%)", 0.0, 100.0, percent
);
super::quantity!(
    /// A wire size by the American wire gauge, 0 to 50; thinner wires have larger numbers.
    Awg, "wire size (AWG)", 0.0, 50.0, number
);
