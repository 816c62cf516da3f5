//! What a catalogue leaves open: values that are missing, and what follows for the answers.

use ramwright_engine::catalogue::{Catalogue, Hose, Packing, Pump};
use ramwright_engine::ram::{Action, Ram};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// A column that is not filled everywhere.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct CatalogueRemark {
    /// The list: `rams`, `pumps`, `hoses` or `packing`.
    pub list: String,
    /// The column, without a unit.
    pub column: String,
    /// How many entries lack the value.
    pub missing: usize,
    /// How many entries should have it.
    pub of: usize,
    /// What it means, in words.
    pub text: String,
}

/// A column, which entries should fill it, which do not, and what follows.
struct Gap<T> {
    column: &'static str,
    concerns: fn(&T) -> bool,
    is_open: fn(&T) -> bool,
    effect: &'static str,
}

const fn gap<T>(column: &'static str, is_open: fn(&T) -> bool, effect: &'static str) -> Gap<T> {
    Gap { column, concerns: |_| true, is_open, effect }
}

const RAM_GAPS: &[Gap<Ram>] = &[
    Gap {
        column: "annulus_area",
        concerns: |ram| ram.action == Action::DoubleActing,
        is_open: |ram| ram.annulus_area.is_none(),
        effect: "capacity will be not_checked where they pull",
    },
    gap("body_diameter", |ram| ram.body_diameter.is_none(), "stability will be not_checked"),
    gap("base_diameter", |ram| ram.base_diameter.is_none(), "footprint will be not_checked"),
    gap("plunger_diameter", |ram| ram.plunger_diameter.is_none(), "stability will be not_checked"),
    gap("plunger_bore", |ram| ram.plunger_bore.is_none(), "stability will be not_checked"),
    gap("plunger_yield", |ram| ram.plunger_yield.is_none(), "the strength of their plungers is not known"),
    gap("saddle_tilt_limit", |ram| ram.saddle_tilt_limit.is_none(), "how far their saddles may tilt is not known"),
    gap("side_load_limit_ratio", |ram| ram.side_load_limit_ratio.is_none(), "side_load will be not_checked"),
    Gap {
        column: "return_force",
        concerns: |ram| ram.action == Action::SingleActingSpringReturn,
        is_open: |ram| ram.return_force.is_none(),
        effect: "how fast their springs push the oil back is not known",
    },
    Gap {
        column: "return_preload",
        concerns: |ram| ram.action == Action::SingleActingSpringReturn,
        is_open: |ram| ram.return_preload.is_none(),
        effect: "how long they take to retract is not known",
    },
    gap("mass", |ram| ram.mass.is_none(), "the mass to be handled is not known"),
    gap("stock", |ram| ram.stock.is_none(), "stock will be not_checked"),
    gap("day_rate", |ram| ram.day_rate.is_none(), "the cost of a day is not known"),
];

const PUMP_GAPS: &[Gap<Pump>] = &[
    gap("reservoir", |pump| pump.reservoir.is_none(), "oil_return will be not_checked"),
    gap("power", |pump| pump.power.is_none(), "the motor power is not known"),
    gap("outlets", |pump| pump.outlets.is_none(), "how many hoses can be connected is not known"),
    gap("stock", |pump| pump.stock.is_none(), "how many there are is not known"),
    gap("day_rate", |pump| pump.day_rate.is_none(), "the cost of a day is not known"),
];

const HOSE_GAPS: &[Gap<Hose>] = &[
    gap("swelling", |hose| hose.swelling.is_none(), "the oil that their swelling takes is not included"),
    gap("stock", |hose| hose.stock.is_none(), "how many there are is not known"),
    gap("day_rate", |hose| hose.day_rate.is_none(), "the cost of a day is not known"),
];

const PACKING_GAPS: &[Gap<Packing>] = &[
    gap("load_limit", |piece| piece.load_limit.is_none(), "what one piece may carry is not known"),
    gap("day_rate", |piece| piece.day_rate.is_none(), "the cost of a day is not known"),
];

/// Every column of a catalogue that is not filled everywhere, in the order of lists and columns.
pub fn catalogue_remarks(catalogue: &Catalogue) -> Vec<CatalogueRemark> {
    let mut remarks = of_list("rams", &catalogue.rams, RAM_GAPS);
    remarks.extend(of_list("pumps", &catalogue.pumps, PUMP_GAPS));
    remarks.extend(of_list("hoses", &catalogue.hoses, HOSE_GAPS));
    remarks.extend(of_list("packing", &catalogue.packing, PACKING_GAPS));
    remarks
}

fn of_list<T>(list: &str, entries: &BTreeMap<String, T>, gaps: &[Gap<T>]) -> Vec<CatalogueRemark> {
    gaps.iter().filter_map(|gap| of_column(list, entries, gap)).collect()
}

fn of_column<T>(list: &str, entries: &BTreeMap<String, T>, gap: &Gap<T>) -> Option<CatalogueRemark> {
    let concerned: Vec<&T> = entries.values().filter(|entry| (gap.concerns)(entry)).collect();
    let missing = concerned.iter().filter(|entry| (gap.is_open)(entry)).count();
    let (of, column) = (concerned.len(), gap.column);
    let noun = if list == "packing" { "packing pieces" } else { list };
    (0 < missing).then(|| CatalogueRemark {
        list: list.to_owned(),
        column: column.to_owned(),
        missing,
        of,
        text: format!("{missing} of {of} {noun} have no {column}: {}", gap.effect),
    })
}
