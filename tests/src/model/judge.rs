//! Findings: each figure against its limit, and the worst of each code and place.

use serde_json::{Value, json};

use super::forward::Figure;

/// `pass`, `marginal` or `fail`, the gravest last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Verdict {
    Pass,
    Marginal,
    Fail,
}

impl Verdict {
    /// The word of the report.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::Marginal => "marginal",
            Self::Fail => "fail",
        }
    }
}

/// One row of `findings`.
#[derive(Clone, Debug)]
pub(crate) struct Finding {
    pub(crate) code: &'static str,
    pub(crate) verdict: Verdict,
    pub(crate) at: String,
    pub(crate) mhz: Option<f64>,
    pub(crate) value: Option<f64>,
    pub(crate) limit: Option<f64>,
    pub(crate) unit: &'static str,
    pub(crate) other: Option<String>,
    /// Frequencies and second places where it is as bad to within rounding.
    pub(crate) alike: Vec<(Option<f64>, Option<String>)>,
}

impl Finding {
    /// A finding without figures.
    pub(crate) fn plain(code: &'static str, verdict: Verdict, at: &str) -> Self {
        Self {
            code,
            verdict,
            at: at.to_owned(),
            mhz: None,
            value: None,
            limit: None,
            unit: "",
            other: None,
            alike: Vec::new(),
        }
    }

    /// The same with a figure and its limit.
    pub(crate) fn held(mut self, value: f64, limit: f64, unit: &'static str) -> Self {
        (self.value, self.limit, self.unit) = (Some(value), Some(limit), unit);
        self
    }

    /// The same at a frequency.
    pub(crate) fn at_mhz(mut self, mhz: f64) -> Self {
        self.mhz = Some(mhz);
        self
    }

    /// The same with a second place.
    pub(crate) fn with(mut self, other: &str) -> Self {
        self.other = Some(other.to_owned());
        self
    }

    /// How far beyond its limit; without figures, farther than anything.
    fn beyond(&self) -> f64 {
        let both = self.value.zip(self.limit);
        both.map_or(f64::INFINITY, |(value, limit)| (value - limit).abs())
    }

    /// Takes in another finding of the same code and place; gives how near the choice between them was, or
    /// infinity where it makes no difference.
    fn meet(&mut self, mut found: Self) -> f64 {
        let (old, new) = (self.beyond(), found.beyond());
        let apart = if old == new { 0.0 } else { (old - new).abs() };
        let rivals = self.verdict == found.verdict && apart < super::EDGE;
        if (found.verdict, new) > (self.verdict, old) {
            std::mem::swap(self, &mut found);
            if !rivals {
                self.alike.clear();
            }
        }
        let elsewhere = (self.mhz, &self.other) != (found.mhz, &found.other);
        let same_limit = self.limit == found.limit;
        if rivals && same_limit && elsewhere {
            self.alike.push((found.mhz, found.other));
            self.alike.append(&mut found.alike);
        }
        if rivals && !same_limit { apart } else { f64::INFINITY }
    }

    /// The row as the report has it, and `alike` for who compares.
    pub(crate) fn row(&self) -> Value {
        json!({
            "code": self.code, "verdict": self.verdict.word(), "at": self.at, "mhz": self.mhz,
            "value": self.value, "limit": self.limit, "unit": self.unit, "other": self.other,
            "says": "", "brief": "", "alike": self.alike,
        })
    }
}

/// Which side of a limit is bad.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Side {
    /// A figure below it.
    Under,
    /// A figure above it.
    Over,
}

/// How much is left between a figure and a limit in dB or dBmV: below zero, by how much it is beyond.
#[derive(Clone, Debug)]
pub(crate) struct Margin {
    pub(crate) db: f64,
    /// What would be found beyond the limit, and where.
    pub(crate) code: &'static str,
    pub(crate) at: String,
}

/// Collects findings and margins, and how near any figure came to its limit.
#[derive(Debug)]
pub(crate) struct Judge {
    pub(crate) findings: Vec<Finding>,
    /// Of every figure held against a limit in dB or dBmV; targets are no limits.
    pub(crate) margins: Vec<Margin>,
    /// The least distance of a figure from a limit, or of two limits' claims to be the worst left.
    pub(crate) nearest: f64,
}

impl Judge {
    /// Nothing found yet.
    pub(crate) fn new() -> Self {
        Self { findings: Vec::new(), margins: Vec::new(), nearest: f64::INFINITY }
    }

    /// Whether a figure is beyond a limit.
    pub(crate) fn beyond(&mut self, side: Side, value: f64, limit: f64) -> bool {
        self.nearest = self.nearest.min((value - limit).abs());
        match side {
            Side::Under => value < limit,
            Side::Over => value > limit,
        }
    }

    /// Notes how much is left between a figure and its limit.
    pub(crate) fn leave(&mut self, finding: &Finding, side: Side, value: f64, limit: f64) {
        let db = match side {
            Side::Under => value - limit,
            Side::Over => limit - value,
        };
        self.margins.push(Margin { db, code: finding.code, at: finding.at.clone() });
    }

    /// Adds a finding.
    pub(crate) fn add(&mut self, found: Finding) {
        self.findings.push(found);
    }

    /// Keeps the worst finding of each code and place, and beside it those that are as bad but elsewhere.
    pub(crate) fn settle(&mut self) {
        let mut settled: Vec<Finding> = Vec::new();
        for found in std::mem::take(&mut self.findings) {
            let same = |old: &&mut Finding| old.code == found.code && old.at == found.at;
            match settled.iter_mut().find(same) {
                Some(old) => self.nearest = self.nearest.min(old.meet(found)),
                None => settled.push(found),
            }
        }
        self.findings = settled;
    }

    /// Holds a figure against a limit: a nominal figure beyond it has the verdict that the finding comes with, an
    /// extreme is marginal.
    pub(crate) fn hold(&mut self, finding: Finding, side: Side, figure: Figure, limit: f64, unit: &'static str) {
        let extreme = match side {
            Side::Under => figure.low,
            Side::Over => figure.high,
        };
        if unit.starts_with("dB") {
            self.leave(&finding, side, extreme, limit);
        }
        if self.beyond(side, figure.nominal, limit) {
            self.add(finding.held(figure.nominal, limit, unit));
        } else if self.beyond(side, extreme, limit) {
            self.add(Finding { verdict: Verdict::Marginal, ..finding.held(extreme, limit, unit) });
        }
    }

    /// Holds a nominal value alone, against a target or against a limit whose margin the caller notes.
    pub(crate) fn hold_nominal(&mut self, finding: Finding, side: Side, value: f64, limit: f64, unit: &'static str) {
        if self.beyond(side, value, limit) {
            self.add(finding.held(value, limit, unit));
        }
    }

    /// The worst verdict of the findings that a rule picks.
    pub(crate) fn worst(&self, picks: impl Fn(&Finding) -> bool) -> Verdict {
        let picked = self.findings.iter().filter(|finding| picks(finding));
        picked.map(|finding| finding.verdict).max().unwrap_or(Verdict::Pass)
    }
}
