//! What can be asked by plain parameters, and which parameters each enquiry takes.

use crate::operation::{Operation, SequencePackingLifts, ShareLoad, SizeRamSet, VerifyRamSet};

/// What is asked.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Enquiry {
    /// What each point carries.
    LoadShare,
    /// Which rams do it.
    RamSet,
    /// Whether rams that are named do it.
    Verification,
    /// In how many packing lifts rams that are named do it.
    PackingLifts,
}

/// A calculation that can be asked for by plain parameters.
pub trait Enquired: Operation + 'static {
    /// What is asked.
    const ENQUIRY: Enquiry;
    /// The path at which it is asked.
    const QUICK_PATH: &'static str;
}

impl Enquired for ShareLoad {
    const ENQUIRY: Enquiry = Enquiry::LoadShare;
    const QUICK_PATH: &'static str = "/v1/quick/load-share";
}

impl Enquired for SizeRamSet {
    const ENQUIRY: Enquiry = Enquiry::RamSet;
    const QUICK_PATH: &'static str = "/v1/quick/ram-set";
}

impl Enquired for VerifyRamSet {
    const ENQUIRY: Enquiry = Enquiry::Verification;
    const QUICK_PATH: &'static str = "/v1/quick/verification";
}

impl Enquired for SequencePackingLifts {
    const ENQUIRY: Enquiry = Enquiry::PackingLifts;
    const QUICK_PATH: &'static str = "/v1/quick/packing-lifts";
}

/// What only a search has: there the rams are not named.
const OF_SEARCH: [&str; 3] = ["rams_per_point", "hose_run", "hire_days"];
/// What goes with named rams.
const OF_NAMED_RAMS: [&str; 2] = ["ram", "count"];
/// What says nothing of how a load is shared.
const NOT_OF_SHARES: [&str; 11] = [
    "clearance",
    "pad_length",
    "pad_width",
    "base",
    "limit",
    "foundation_limit",
    "packing",
    "capacity_limit",
    "stroke_limit",
    "packing_lifts",
    "catalogue",
];
/// What is checked by a verification only, and which no sequence looks at.
const NOT_OF_SEQUENCE: [&str; 3] = ["limit", "foundation_limit", "packing_lifts"];

impl Enquiry {
    /// Whether it takes a parameter.
    pub fn takes(self, name: &str) -> bool {
        let of_search = OF_SEARCH.contains(&name);
        let of_named = OF_NAMED_RAMS.contains(&name);
        match self {
            Self::RamSet => !of_named,
            Self::Verification => !of_search,
            Self::PackingLifts => !of_search && !NOT_OF_SEQUENCE.contains(&name),
            Self::LoadShare => !of_search && !of_named && !NOT_OF_SHARES.contains(&name),
        }
    }
}
