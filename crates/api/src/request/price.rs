//! By which terms a job is priced: what was sent, and the defaults for the rest.

use super::context::Context;
use super::price_wire::{CrewPriceSent, MoneySent, PriceSent, StandbyPriceSent, TimberPriceSent};
use super::sections::Section;
use crate::catalogue::NO_CURRENCY;
use crate::problem::FaultCode;
use crate::read::Pointer;
use crate::sent::{Number, NumberBound};
use ramwright_engine::check::Source;
use ramwright_engine::defaults;
use ramwright_engine::price::{PriceTerms, Rates};
use ramwright_units::Time;
use std::num::NonZeroU32;

const PRACTICE: Source = Source::common_practice("common practice, no source");

/// The terms with every default noted; nothing if they were sent and could not be read.
///
/// `yard_currency` is the currency of the catalogue's rates; without a catalogue, which is a fault of its own, currencies are not compared.
pub(crate) fn parse_price(
    section: &Section<PriceSent>,
    yard_currency: Option<&str>,
    context: &mut Context<'_>,
) -> Option<PriceTerms> {
    let sent = match section {
        Section::Faulty => return None,
        Section::Absent => None,
        Section::Sent(sent) => Some(sent),
    };
    let at = Pointer::default().field("price");
    let faults_before = context.faults.count();
    let rates = rates(sent, &mut Till { yard_currency, context: &mut *context, at: &at });
    let known = context.faults.count() == faults_before;
    let terms = terms(sent, rates, &mut Reader { context, at });
    known.then_some(terms)
}

fn terms(sent: Option<&PriceSent>, rates: Rates, reader: &mut Reader<'_, '_>) -> PriceTerms {
    PriceTerms {
        hire_days: reader.count(
            "hire_days",
            sent.and_then(|sent| sent.hire_days.as_ref()),
            defaults::HIRE_DAYS,
            "days of the calendar for which everything is hired",
        ),
        minimum_hire_days: reader.count(
            "minimum_hire_days",
            sent.and_then(|sent| sent.minimum_hire_days.as_ref()),
            defaults::MINIMUM_HIRE_DAYS,
            "fewest days that are charged for what is hired",
        ),
        week_days: week_days(sent, reader),
        crew_persons: reader.count(
            "crew/persons",
            crew(sent).and_then(|crew| crew.persons.as_ref()),
            defaults::CREW_PERSONS,
            "persons on the job, all crews together",
        ),
        set_up_time: set_up_time(sent, reader),
        spares_share: reader.number(
            "spares_share",
            sent.and_then(|sent| sent.spares_share.as_ref()),
            defaults::SPARES_SHARE,
            "spares as a share of the hire of rams and pumps",
        ),
        timber_consumed_share: reader.number(
            "timber/consumed_share",
            timber(sent).and_then(|timber| timber.consumed_share.as_ref()),
            defaults::TIMBER_CONSUMED_SHARE,
            "part of the timber in the stacks that is written off",
        ),
        standby_days: reader.count(
            "standby/days",
            standby(sent).and_then(|standby| standby.days.as_ref()),
            defaults::STANDBY_DAYS,
            "days of standby, beyond the hire period",
        ),
        rates,
    }
}

fn crew(sent: Option<&PriceSent>) -> Option<&CrewPriceSent> {
    sent?.crew.as_ref()
}

fn timber(sent: Option<&PriceSent>) -> Option<&TimberPriceSent> {
    sent?.timber.as_ref()
}

fn standby(sent: Option<&PriceSent>) -> Option<&StandbyPriceSent> {
    sent?.standby.as_ref()
}

/// Money that was stated. What was not is no assumption: it is not priced, and the estimate lists it.
fn rates(sent: Option<&PriceSent>, till: &mut Till<'_, '_>) -> Rates {
    Rates {
        mobilisation: till.amount("mobilisation", sent.and_then(|sent| sent.mobilisation.as_ref())),
        return_transport: till.amount("return_transport", sent.and_then(|sent| sent.return_transport.as_ref())),
        person_hour: till.amount("crew/per_person_hour", crew(sent).and_then(|crew| crew.per_person_hour.as_ref())),
        handling_plant_day: till
            .amount("handling_plant_per_day", sent.and_then(|sent| sent.handling_plant_per_day.as_ref())),
        timber_m3: till.amount("timber/per_m3", timber(sent).and_then(|timber| timber.per_m3.as_ref())),
        standby_day: till.amount("standby/per_day", standby(sent).and_then(|standby| standby.per_day.as_ref())),
    }
}

fn week_days(sent: Option<&PriceSent>, reader: &mut Reader<'_, '_>) -> NonZeroU32 {
    let stated = sent.and_then(|sent| sent.week_days.as_ref());
    let text = "days of the calendar in a hire week";
    let days = reader.count("week_days", stated, defaults::WEEK_DAYS.get(), text);
    // The bound of the field is at least one day.
    NonZeroU32::new(days).unwrap_or(NonZeroU32::MIN)
}

fn set_up_time(sent: Option<&PriceSent>, reader: &mut Reader<'_, '_>) -> Time {
    let stated = crew(sent).and_then(|crew| crew.set_up_time.as_ref());
    stated.map_or_else(
        || {
            let text = "time of the crew for setting up and taking down, besides the lift itself";
            let field = reader.place("crew/set_up_time");
            reader.context.assume(&field, text, defaults::SET_UP_TIME, PRACTICE);
            defaults::SET_UP_TIME
        },
        crate::sent::Sent::get,
    )
}

/// The place of a field that is named by the parts of its pointer.
fn place(at: &Pointer, path: &str) -> Pointer {
    path.split('/').fold(at.clone(), |at, name| at.field(name))
}

struct Reader<'c, 'a> {
    context: &'c mut Context<'a>,
    at: Pointer,
}

impl Reader<'_, '_> {
    fn place(&self, path: &str) -> Pointer {
        place(&self.at, path)
    }

    fn number<B: NumberBound>(
        &mut self,
        path: &str,
        sent: Option<&Number<B>>,
        default: f64,
        text: &'static str,
    ) -> f64 {
        sent.map_or_else(
            || {
                self.context.assume(&self.place(path), text, default, PRACTICE);
                default
            },
            Number::get,
        )
    }

    fn count<B: NumberBound>(&mut self, path: &str, sent: Option<&Number<B>>, default: u32, text: &'static str) -> u32 {
        sent.map_or_else(
            || {
                self.context.assume(&self.place(path), text, f64::from(default), PRACTICE);
                default
            },
            Number::count,
        )
    }
}

/// Takes money in one currency only.
struct Till<'c, 'a> {
    yard_currency: Option<&'c str>,
    context: &'c mut Context<'a>,
    at: &'c Pointer,
}

impl Till<'_, '_> {
    /// The amount; a fault if it is in another currency than the catalogue's rates.
    fn amount(&mut self, path: &str, sent: Option<&MoneySent>) -> Option<f64> {
        let sent = sent?;
        let own = &sent.currency.0;
        if let Some(yard) = self.yard_currency.filter(|yard| yard != own) {
            let (detail, hint) = other_currency(yard);
            let fault = place(self.at, path).field("currency").fault(FaultCode::Inconsistent, detail);
            self.context.faults.push(fault.with_given(own.clone()).with_limit(yard).with_hint(hint));
        }
        Some(sent.amount.get())
    }
}

fn other_currency(yard: &str) -> (String, String) {
    if yard == NO_CURRENCY {
        let detail = "the entries of the request are in no currency that is stated, and nothing is converted";
        return (detail.to_owned(), "state `inline/currency`".to_owned());
    }
    let detail = format!("the rates of the catalogue are in {yard}, and nothing is converted");
    (detail, format!("state the amount in {yard}"))
}
