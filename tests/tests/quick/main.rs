//! The quick calculations, by the program itself: published figures, refusals, properties, help.

mod binary;
mod channels;
mod examples;
mod generated;
mod human;
mod properties;
mod published;
mod refused;
