//! `legwork channel`: a channel's frequencies, or the channel of a frequency.

use clap::ValueEnum;
use legwork::Frequency;
use legwork::quick::{Channel as Found, ChannelPlan};
use legwork_file::quantity::{self, Why};
use serde::Serialize;

use super::answer::{self, Page};
use super::ask;
use super::figure::{decimals, mhz};
use crate::{Failure, Outcome};

/// What the argument may be.
const TAKES: &str = "it takes a channel number from 1 to 158, or a frequency: Hz, kHz, MHz, GHz";

/// Arguments of `channel`.
#[derive(Debug, clap::Args)]
pub(crate) struct Channel {
    /// A channel number, or a frequency: Hz, kHz, MHz, GHz
    #[arg(value_name = "CHANNEL", allow_hyphen_values = true)]
    channel: String,
    /// The plan of channels
    #[arg(long, value_enum, value_name = "PLAN", default_value_t = Plan::Std, ignore_case = true)]
    plan: Plan,
    /// As JSON
    #[arg(long)]
    json: bool,
}

/// Plans by their usual short names.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Plan {
    /// Standard; it has no channel 1
    Std,
    /// Harmonically related carriers
    Hrc,
    /// Incrementally related carriers
    Irc,
}

impl Plan {
    const fn of(self) -> (ChannelPlan, &'static str) {
        match self {
            Self::Std => (ChannelPlan::Standard, "std"),
            Self::Hrc => (ChannelPlan::Harmonic, "hrc"),
            Self::Irc => (ChannelPlan::Incremental, "irc"),
        }
    }
}

#[derive(Serialize)]
struct Figures {
    channel: u8,
    low_mhz: f32,
    centre_mhz: f32,
    high_mhz: f32,
}

impl Channel {
    pub(super) fn run(&self) -> Result<Outcome, Failure> {
        let found = self.find()?;
        let figures = Figures {
            channel: found.number,
            low_mhz: found.low.mhz(),
            centre_mhz: found.centre.mhz(),
            high_mhz: found.high.mhz(),
        };
        answer::done(self.json, &figures, || page(self.plan, &found))
    }

    /// By number, with or without "ch" before it; else by frequency.
    fn find(&self) -> Result<Found, Failure> {
        let (plan, name) = self.plan.of();
        let refused = |says: String| ask::refused("CHANNEL", &self.channel, says);
        let text = self.channel.trim();
        let named = text.get(..2).filter(|start| start.eq_ignore_ascii_case("ch"));
        let number = named.and_then(|_| text.get(2..)).unwrap_or(text).trim_start();
        if !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit()) {
            let found = number.parse().ok().and_then(|number| plan.channel(number));
            return found.ok_or_else(|| refused(format!("the {name} plan has no such channel; {}", numbers(plan))));
        }
        if named.is_some() {
            return Err(refused(TAKES.to_owned()));
        }
        let frequency = quantity::frequency(text).map_err(|bad| match bad.why {
            Why::NoUnit => refused(format!("that is no channel number, and the unit is missing; {TAKES}")),
            _ => refused(format!("that is no channel number and no frequency; {TAKES}")),
        })?;
        plan.channel_at(frequency).ok_or_else(|| refused(format!("{}; {TAKES}", between(plan, name, frequency))))
    }
}

/// Which numbers a plan has.
fn numbers(plan: ChannelPlan) -> &'static str {
    match plan {
        ChannelPlan::Standard => "it takes a number from 2 to 158 (channel 1 is on hrc and irc alone)",
        _ => "it takes a number from 1 to 158",
    }
}

/// Says that a frequency lies in no channel, and which are the nearest on either side.
fn between(plan: ChannelPlan, name: &str, frequency: Frequency) -> String {
    let every = || (1..=u8::MAX).filter_map(|number| plan.channel(number));
    let order = |a: &Found, b: &Found| a.low.mhz().total_cmp(&b.low.mhz());
    let below = every().filter(|channel| channel.high.mhz() <= frequency.mhz()).max_by(order);
    let above = every().filter(|channel| channel.low.mhz() > frequency.mhz()).min_by(order);
    let mut says = format!("it lies in no channel of the {name} plan");
    for (word, near) in [("below it", below), ("above it", above)] {
        if let Some(near) = near {
            says.push_str(&format!("; {word} channel {}, {} to {}", near.number, mhz(near.low), mhz(near.high)));
        }
    }
    says
}

fn page(plan: Plan, found: &Found) -> Page {
    let number = found.number;
    let mut page = Page::new(format!(
        "channel {number}: {} to {}, centre {}",
        decimals(found.low.mhz(), 4),
        mhz(found.high),
        mhz(found.centre)
    ));
    page.formula(format!("centre = low edge + 3 MHz = {} + 3 = {}", decimals(found.low.mhz(), 4), mhz(found.centre)));
    page.formula(format!("visual carrier = low edge + 1.25 MHz = {}", mhz(found.visual())));
    page.source(match plan {
        Plan::Std if number > 125 => "the 6 MHz rule of channels 100 to 125 continued (derived)",
        Plan::Std => "visual carriers of a public frequency table (seen); CTA-542-D names the plan",
        Plan::Hrc => "nominal carriers at multiples of 6 MHz, a public frequency table (seen to channel 125)",
        Plan::Irc => "12.5 kHz above the standard carriers (from memory of the standard, not re-read)",
    });
    page
}
