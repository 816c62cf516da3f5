//! The parts of a request, each read by itself, so that a fault in one hides no fault in another.

use super::case_wire::LoadCaseSent;
use super::line_wire::LineOfForceSent;
use super::price_wire::PriceSent;
use super::search_wire::{OnHire, SearchSent, SupplySent};
use super::sequence_wire::SequenceSent;
use super::site_wire::{SiteGaugeSent, SiteReadingList};
use super::wire::{CircuitSent, RamSetSent, SettingsSent};
use crate::catalogue::InlineCatalogue;
use crate::json::Node;
use crate::read::{Faults, Pointer, Read};
use crate::sent::Name;
use ramwright_units::Profile;

/// A part of a request.
#[derive(Clone, Debug, PartialEq)]
pub enum Section<T> {
    /// Not sent.
    Absent,
    /// Sent, and not readable; its faults are collected elsewhere.
    Faulty,
    /// Sent and read.
    Sent(T),
}

impl<T> Section<T> {
    /// The part, if it was read.
    pub fn sent(&self) -> Option<&T> {
        match self {
            Self::Sent(value) => Some(value),
            Self::Absent | Self::Faulty => None,
        }
    }
}

/// All parts that any request may have.
#[derive(Clone, Debug)]
pub struct Sections {
    /// Units of the answer.
    pub units: Section<Profile>,
    /// Name of a catalogue.
    pub catalogue: Section<Name>,
    /// Entries sent with the request.
    pub inline: Section<InlineCatalogue>,
    /// Rams that are out on hire.
    pub on_hire: Section<OnHire>,
    /// The load case.
    pub load_case: Section<LoadCaseSent>,
    /// The rams.
    pub ram_set: Section<RamSetSent>,
    /// What stands over and under the rams.
    pub line_of_force: Section<LineOfForceSent>,
    /// Which way the load goes.
    pub sequence: Section<SequenceSent>,
    /// The circuit.
    pub circuit: Section<CircuitSent>,
    /// Which sets are searched for.
    pub search: Section<SearchSent>,
    /// From what the circuit is chosen.
    pub supply: Section<SupplySent>,
    /// Limits and gaps.
    pub settings: Section<SettingsSent>,
    /// By which terms the job is priced.
    pub price: Section<PriceSent>,
    /// What was read on site.
    pub site_readings: Section<SiteReadingList>,
    /// With what.
    pub site_gauge: Section<SiteGaugeSent>,
}

impl Sections {
    /// Reads the parts of a request. Whether a part belongs to the operation is for the whole request type to say.
    pub fn read(node: &Node) -> Self {
        Self {
            units: section(node, "units"),
            catalogue: section(node, "catalogue"),
            inline: section(node, "inline"),
            on_hire: section(node, "on_hire"),
            load_case: section(node, "load_case"),
            ram_set: section(node, "ram_set"),
            line_of_force: section(node, "line_of_force"),
            sequence: section(node, "sequence"),
            circuit: section(node, "circuit"),
            search: section(node, "search"),
            supply: section(node, "supply"),
            settings: section(node, "settings"),
            price: section(node, "price"),
            site_readings: section(node, "site_readings"),
            site_gauge: section(node, "site_gauge"),
        }
    }
}

fn section<T: Read>(node: &Node, name: &str) -> Section<T> {
    let Node::Object(fields) = node else { return Section::Absent };
    match fields.iter().find(|(field, _)| field == name) {
        None | Some((_, Node::Null)) => Section::Absent,
        Some((_, value)) => {
            // The whole request is read beside this and keeps the faults.
            let mut elsewhere = Faults::default();
            let read = T::read(value, &Pointer::default().field(name), &mut elsewhere);
            read.filter(|_| elsewhere.is_empty()).map_or(Section::Faulty, Section::Sent)
        }
    }
}
