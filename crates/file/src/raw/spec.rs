//! `[spec.KIND.NAME]`: specs of the file's own.

use serde::Deserialize;

use super::table::tables;
use super::{Curve, List, Named, Scalar, Window};

tables! { Specs }

/// Every spec of a file.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Specs<'a> {
    /// Cables.
    #[serde(borrow)]
    pub cable: Named<'a, Cable<'a>>,
    /// Splitters.
    pub splitter: Named<'a, Splitter<'a>>,
    /// Couplers.
    pub coupler: Named<'a, Coupler<'a>>,
    /// Inserters.
    pub inserter: Named<'a, Inserter<'a>>,
    /// Filters.
    pub filter: Named<'a, Filter<'a>>,
    /// Equalizers.
    pub equalizer: Named<'a, Equalizer<'a>>,
    /// Amplifiers.
    pub amplifier: Named<'a, Amplifier<'a>>,
    /// Joints.
    pub joint: Named<'a, Joint<'a>>,
    /// Bonds.
    pub bond: Named<'a, Joint<'a>>,
}

/// Writes a spec's structure: every key optional, a spread and a band always among them.
macro_rules! spec {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident: $kind:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, Deserialize)]
        #[serde(remote = "Self", default, deny_unknown_fields)]
        pub struct $name<'a> {
            $($(#[$field_doc])* #[serde(borrow)] pub $field: Option<$kind>,)*
            /// Plus or minus.
            #[serde(borrow)]
            pub spread: Option<Scalar<'a>>,
            /// Where its maker vouches for it.
            #[serde(borrow)]
            pub band: Option<Window<'a>>,
        }

        tables! { $name }
    };
}

spec! {
    /// A cable.
    Cable {
        /// Loss per length.
        loss: Curve<'a>,
        /// That length.
        per: Scalar<'a>,
        /// DC resistance there and back per that length.
        r#loop: Scalar<'a>,
        /// Fraction of the speed of light.
        velocity: Scalar<'a>,
    }
}

spec! {
    /// A splitter.
    Splitter {
        /// How many legs.
        legs: Scalar<'a>,
        /// One loss for all legs.
        loss: Curve<'a>,
        /// One loss a leg.
        leg_loss: List<Curve<'a>>,
        /// From leg to leg.
        isolation: Curve<'a>,
        /// Legs that pass DC.
        dc_pass: List<Scalar<'a>>,
        /// DC resistance.
        dc_ohms: Scalar<'a>,
    }
}

spec! {
    /// A coupler.
    Coupler {
        /// Loss to the tap.
        tap: Curve<'a>,
        /// Loss through.
        through: Curve<'a>,
        /// From tap to through.
        isolation: Curve<'a>,
        /// Ways that pass DC.
        dc_pass: List<Scalar<'a>>,
        /// DC resistance.
        dc_ohms: Scalar<'a>,
    }
}

spec! {
    /// A DC power inserter.
    Inserter {
        /// Loss to the RF way out.
        loss: Curve<'a>,
        /// DC resistance.
        dc_ohms: Scalar<'a>,
    }
}

spec! {
    /// A filter.
    Filter {
        /// Loss.
        loss: Curve<'a>,
        /// The band it sends back.
        reflects: Window<'a>,
        /// Whether DC passes.
        dc_pass: Scalar<'a>,
        /// DC resistance.
        dc_ohms: Scalar<'a>,
    }
}

spec! {
    /// An equalizer.
    Equalizer {
        /// Loss.
        loss: Curve<'a>,
        /// Whether DC passes.
        dc_pass: Scalar<'a>,
        /// DC resistance.
        dc_ohms: Scalar<'a>,
    }
}

spec! {
    /// A joint or a bond.
    Joint {
        /// Loss.
        loss: Curve<'a>,
        /// DC resistance.
        dc_ohms: Scalar<'a>,
    }
}

spec! {
    /// An amplifier.
    Amplifier {
        /// How many outputs.
        outputs: Scalar<'a>,
        /// Gain to an output.
        gain: Curve<'a>,
        /// Gain back to the input.
        return_gain: Curve<'a>,
        /// Loss to the passive port.
        passive: Curve<'a>,
        /// Noise figure at the input.
        noise_figure: Curve<'a>,
        /// Between two ways out.
        isolation: Curve<'a>,
        /// Input to output in the home network's band.
        network_loss: Curve<'a>,
        /// The most total power at the input.
        max_input_total: Scalar<'a>,
        /// The most total power at an output.
        max_output_total: Scalar<'a>,
        /// The most total power from modems behind an output.
        max_return_total: Scalar<'a>,
        /// Its split.
        split: Scalar<'a>,
        /// What it draws.
        draw: Scalar<'a>,
        /// Lowest and highest voltage.
        runs_on: Window<'a>,
        /// Ports through which it can be powered.
        dc_ports: List<Scalar<'a>>,
    }
}
