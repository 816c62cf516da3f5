//! What is searched for and from what: what was sent, and the defaults for the rest.

use super::circuit::{Conditions, conditions};
use super::context::{Context, Yard};
use super::oil::parse_oil;
use super::price::Till;
use super::search_wire::{BudgetSent, Objectives, SearchSent, SupplySent};
use super::sections::Section;
use crate::problem::FaultCode;
use crate::read::Pointer;
use crate::sent::{Number, Sent};
use ramwright_engine::check::Source;
use ramwright_engine::defaults;
use ramwright_engine::feed::Supply;
use ramwright_engine::size::{Assignment, Budget, Objective, SearchTerms};

const PRACTICE: Source = Source::common_practice("common practice, no source");

/// What is searched for, with every default noted; nothing if it was sent and could not be read.
pub(crate) fn parse_search(
    section: &Section<SearchSent>,
    yard_currency: Option<&str>,
    context: &mut Context<'_>,
) -> Option<SearchTerms> {
    let sent = match section {
        Section::Faulty => return None,
        Section::Absent => None,
        Section::Sent(sent) => Some(sent),
    };
    let at = Pointer::default().field("search");
    let objectives = objectives(sent.and_then(|sent| sent.objectives.as_ref()), &at.field("objectives"), context);
    let assignment = sent.and_then(|sent| sent.assignment).unwrap_or_else(|| {
        let text = "one model and one number of rams at every point";
        context.assume_choice(&at.field("assignment"), text, PRACTICE);
        Assignment::Uniform
    });
    let options = sent.and_then(|sent| sent.options.as_ref()).map_or_else(
        || {
            let text = "options that are listed, beside those that no other beats";
            context.assume(&at.field("options"), text, f64::from(defaults::OPTIONS), PRACTICE);
            defaults::OPTIONS
        },
        Number::count,
    );
    let budget = sent.and_then(|sent| sent.budget.as_ref());
    let budget = budget.map_or(Some(Budget::default()), |sent| {
        parse_budget(sent, &mut Till { yard_currency, context: &mut *context, at: &at.field("budget") })
    });
    Some(SearchTerms {
        assignment,
        objectives: objectives?,
        options: usize::try_from(options).unwrap_or(usize::MAX),
        budget: budget?,
    })
}

fn objectives(sent: Option<&Objectives>, at: &Pointer, context: &mut Context<'_>) -> Option<Vec<Objective>> {
    let Some(sent) = sent else {
        let text = "compared by rams, then packing lifts, then cost, then mass";
        context.assume_choice(at, text, PRACTICE);
        return Some(defaults::OBJECTIVES.to_vec());
    };
    let twice = |(index, objective): (usize, &Objective)| sent.0.iter().take(index).any(|earlier| earlier == objective);
    if let Some(index) = sent.0.iter().enumerate().position(twice) {
        let fault = at.item(index).fault(FaultCode::DuplicateId, "this objective is named twice");
        context.faults.push(fault.with_hint("name each objective once, the most important first"));
        return None;
    }
    Some(sent.0.clone())
}

/// Nothing if the money is in another currency than the catalogue's rates, which is a fault by then.
fn parse_budget(sent: &BudgetSent, till: &mut Till<'_, '_>) -> Option<Budget> {
    let before = till.context.faults.count();
    let hire = till.amount("hire", sent.hire.as_ref());
    (till.context.faults.count() == before).then_some(Budget {
        rams: sent.rams.as_ref().map(Number::count),
        ram_mass: sent.ram_mass.as_ref().map(Sent::get),
        hire,
    })
}

/// From what the circuit is chosen: the pumps and hoses of the yard; nothing is chosen where it lists none of them.
///
/// # Errors
/// Nothing more to say: the faults are in the context.
pub(crate) fn parse_supply(
    section: &Section<SupplySent>,
    yard: &Yard,
    context: &mut Context<'_>,
) -> Result<Option<Supply>, ()> {
    let sent = match section {
        Section::Faulty => return Err(()),
        Section::Absent => None,
        Section::Sent(sent) => Some(sent),
    };
    let at = Pointer::default().field("supply");
    if yard.catalogue.pumps.is_empty() || yard.catalogue.hoses.is_empty() {
        let text =
            "the catalogue lists no pumps or no hoses, so that no circuit is chosen and hire is that of the rams";
        context.assume_choice(&at, text, Source::stated("what the catalogue lists"));
        return Ok(None);
    }
    let run = context.or_assumed(
        sent.and_then(|sent| sent.hose_run.as_ref()).map(Sent::get),
        &at.field("hose_run"),
        "how far the farthest ram is from the pumps, along the hoses",
        defaults::HOSE_RUN,
        PRACTICE,
    );
    let oil = parse_oil(sent.and_then(|sent| sent.oil.as_ref()), &at.field("oil"), context);
    let stated = Conditions {
        fittings_k: sent.and_then(|sent| sent.fittings_k.as_ref()),
        back_pressure: sent.and_then(|sent| sent.back_pressure.as_ref()),
        flow_division: sent.and_then(|sent| sent.flow_division.as_ref()),
        pump_efficiency: sent.and_then(|sent| sent.pump_efficiency.as_ref()),
    };
    let conditions = conditions(&stated, &at, context);
    Ok(Some(Supply {
        pumps: yard.catalogue.pumps.values().cloned().collect(),
        hoses: yard.catalogue.hoses.values().cloned().collect(),
        run,
        oil: oil.ok_or(())?,
        conditions: conditions.ok_or(())?,
    }))
}
