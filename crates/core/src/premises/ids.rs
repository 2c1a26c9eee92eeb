//! Names for the members of one home: small numbers, handed out as they are added.

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[cfg_attr(feature = "defmt", derive(defmt::Format))]
        #[cfg_attr(feature = "serde", derive(serde::Serialize))]
        pub struct $name(pub(crate) u16);

        impl $name {
            /// Its number: 0 for the first that was added.
            #[must_use]
            pub const fn index(self) -> usize {
                self.0 as usize
            }
        }
    };
}

id!(
    /// A part.
    PartId
);
id!(
    /// A port: the entry, or one way out of a part.
    PortId
);
id!(
    /// An outlet.
    OutletId
);
id!(
    /// A plug-in DC supply.
    SupplyId
);

impl PortId {
    /// The point of entry, on the house side.
    pub const ENTRY: Self = Self(0);
}
