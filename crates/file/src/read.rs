//! Reading a premises file: the fast way first, and, where that fails, the way that says why.

use bumpalo::Bump;

use crate::build::{self, Asked, Offer, Truck, build, offer};
use crate::diagnose::diagnose;
use crate::home::Home;
use crate::json;
use crate::problem::{Path, Problem};
use crate::raw;
use crate::refusal::Refusal;

/// The largest file of one home, in bytes: a thousand parts need a tenth of it.
pub const LARGEST: usize = 2 << 20;

/// How a text is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Syntax {
    /// TOML.
    Toml,
    /// JSON.
    Json,
}

/// A text and where it came from.
#[derive(Clone, Copy, Debug)]
pub struct Source<'t> {
    /// The file's name, for messages.
    pub name: &'t str,
    /// What it says.
    pub text: &'t str,
    /// How it is written.
    pub syntax: Syntax,
}

impl<'t> Source<'t> {
    /// A file: JSON if its name ends in `.json`, or, for standard input (`-`), if it begins with
    /// a brace; else TOML.
    ///
    /// # Errors
    /// A [`Refusal`] where it is too large or no text.
    pub fn new(name: &'t str, bytes: &'t [u8]) -> Result<Self, Box<Refusal>> {
        if bytes.len() > LARGEST {
            let says =
                format!("this file is too large: a premises file or a file of readings has at most {LARGEST} bytes");
            return Err(Refusal::whole(name, "", Problem::new(Path::default(), "", says)));
        }
        let text = std::str::from_utf8(bytes).map_err(|error| {
            let good = bytes.get(..error.valid_up_to()).and_then(|good| std::str::from_utf8(good).ok()).unwrap_or("");
            let bad = bytes.get(error.valid_up_to()).copied().unwrap_or(0);
            let says = "this byte is no text; save the file as UTF-8";
            Refusal::at_end(name, good, Problem::new(Path::default(), format!("byte 0x{bad:02x}"), says))
        })?;
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let json = match name {
            "-" => text.trim_ascii_start().starts_with('{'),
            _ => name.to_ascii_lowercase().ends_with(".json"),
        };
        Ok(Self { name, text, syntax: if json { Syntax::Json } else { Syntax::Toml } })
    }

    /// The plain values, if every key and shape is right.
    fn raw(&self) -> Option<raw::Premises<'t>> {
        match self.syntax {
            Syntax::Toml => toml::from_str(self.text).ok(),
            Syntax::Json => json::read(self.text).or_else(|| serde_json::from_str(self.text).ok()),
        }
    }
}

/// Reads a home. With `service`, that file's service and entry stand in place of its own.
///
/// # Errors
/// A [`Refusal`] that says what is wrong with which file, ten things at the most.
pub fn read<'b>(source: &Source<'_>, service: Option<&Source<'_>>, arena: &'b Bump) -> Result<Home<'b>, Box<Refusal>> {
    let offer = service.map(|source| read_offer(source, arena)).transpose()?;
    if let Some(raw) = source.raw()
        && let Ok(home) = build(&raw, offer, arena)
    {
        return Ok(home);
    }
    diagnose::<raw::PremisesFile, _>(source, |raw| build(raw, offer, arena))
}

fn read_offer<'b>(source: &Source<'_>, arena: &'b Bump) -> Result<Offer<'b>, Box<Refusal>> {
    if let Some(raw) = source.raw()
        && let Ok(offer) = offer(&raw, arena)
    {
        return Ok(offer);
    }
    diagnose::<raw::PremisesFile, _>(source, |raw| offer(raw, arena))
}

/// Reads a need.
///
/// # Errors
/// As [`read`].
pub fn read_need<'b>(source: &Source<'_>, arena: &'b Bump) -> Result<Asked<'b>, Box<Refusal>> {
    diagnose::<raw::NeedFile, _>(source, |raw| build::need(raw, arena))
}

/// Reads the stock of a file.
///
/// # Errors
/// As [`read`].
pub fn read_stock<'b>(source: &Source<'_>, arena: &'b Bump) -> Result<Truck<'b>, Box<Refusal>> {
    diagnose::<raw::NeedFile, _>(source, |raw| build::stock(raw, arena))
}
