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
    let stated = crew(sent).and_then(|crew| crew.set_up_time.as_ref()).map(crate::sent::Sent::get);
    let text = "time of the crew for setting up and taking down, besides the lift itself";
    reader.context.or_assumed(stated, &place(&reader.at, "crew/set_up_time"), text, defaults::SET_UP_TIME, PRACTICE)
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
        self.context.or_assumed(sent.map(Number::get), &place(&self.at, path), text, default, PRACTICE)
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
pub(super) struct Till<'c, 'a> {
    pub(super) yard_currency: Option<&'c str>,
    pub(super) context: &'c mut Context<'a>,
    pub(super) at: &'c Pointer,
}

impl Till<'_, '_> {
    /// The amount; a fault if it is in another currency than the catalogue's rates.
    pub(super) fn amount(&mut self, path: &str, sent: Option<&MoneySent>) -> Option<f64> {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Catalogues;
    use crate::json::Node;
    use crate::problem::Fault;
    use crate::read::{Faults, Read};
    use crate::request::Sections;
    use ramwright_engine::remark::Assumption;
    use serde_json::{Value, json};

    /// Terms, faults of reading and of meaning together, and assumptions.
    fn parsed(price: &Value, currency: Option<&str>) -> (Option<PriceTerms>, Vec<Fault>, Vec<Assumption>) {
        let node = Node::parse(json!({ "price": price }).to_string().as_bytes()).unwrap();
        let catalogues = Catalogues::embedded().unwrap();
        let mut context = Context::new(&catalogues);
        let terms = parse_price(&Sections::read(&node).price, currency, &mut context);
        let mut faults = Faults::default();
        let own = Node::parse(price.to_string().as_bytes()).unwrap();
        let _ = Option::<PriceSent>::read(&own, &Pointer::default().field("price"), &mut faults);
        let faults = faults.into_vec().into_iter().chain(context.faults.into_vec()).collect();
        (terms, faults, context.assumptions)
    }

    /// The one fault of a request: its place, its code, and the limit that it names.
    #[track_caller]
    fn refused(price: &Value) -> (String, FaultCode, Option<String>) {
        let (terms, faults, _) = parsed(price, Some("EUR"));
        assert_eq!(terms, None, "{price}");
        assert_eq!(faults.len(), 1, "{faults:?}");
        let fault = faults.into_iter().next().unwrap();
        (fault.pointer.unwrap(), fault.code, fault.limit)
    }

    fn money(amount: f64) -> Value {
        json!({ "amount": amount, "currency": "EUR" })
    }

    #[test]
    fn verify_every_default_is_listed() {
        let (terms, faults, assumptions) = parsed(&Value::Null, Some("EUR"));
        assert_eq!((terms, faults), (Some(defaults::PRICE_TERMS), Vec::new()));
        let listed: Vec<(&str, f64)> =
            assumptions.iter().map(|a| (a.field.as_str(), a.value.unwrap().value_si)).collect();
        let expected = [
            ("price/hire_days", 7.0),
            ("price/minimum_hire_days", 1.0),
            ("price/week_days", 7.0),
            ("price/crew/persons", 3.0),
            ("price/crew/set_up_time", 14_400.0),
            ("price/spares_share", 0.1),
            ("price/timber/consumed_share", 0.1),
            ("price/standby/days", 0.0),
        ];
        assert_eq!(listed, expected);
        assert!(assumptions.iter().all(|assumption| assumption.source == PRACTICE));
    }

    #[test]
    fn verify_each_field_is_taken_as_sent() {
        let sent = json!({
            "hire_days": 12, "minimum_hire_days": 3, "week_days": 5, "mobilisation": money(1.0),
            "return_transport": money(2.0), "handling_plant_per_day": money(4.0), "spares_share": 0.2,
            "crew": { "persons": 6, "per_person_hour": money(3.0), "set_up_time": "90 min" },
            "timber": { "consumed_share": 0.3, "per_m3": money(5.0) },
            "standby": { "days": 2, "per_day": money(6.0) }
        });
        let expected = PriceTerms {
            hire_days: 12,
            minimum_hire_days: 3,
            week_days: NonZeroU32::new(5).unwrap(),
            crew_persons: 6,
            set_up_time: Time::from_s(5400.0),
            spares_share: 0.2,
            timber_consumed_share: 0.3,
            standby_days: 2,
            rates: Rates {
                mobilisation: Some(1.0),
                return_transport: Some(2.0),
                person_hour: Some(3.0),
                handling_plant_day: Some(4.0),
                timber_m3: Some(5.0),
                standby_day: Some(6.0),
            },
        };
        assert_eq!(parsed(&sent, Some("EUR")), (Some(expected), Vec::new(), Vec::new()));
    }

    #[test]
    fn verify_money_below_zero_is_a_fault() {
        let negative = |at: &str| (format!("#/price/{at}/amount"), FaultCode::OutOfRange, Some("0".to_owned()));
        for field in ["mobilisation", "return_transport", "handling_plant_per_day"] {
            assert_eq!(refused(&json!({ field: money(-0.01) })), negative(field));
        }
        for (part, field) in [("crew", "per_person_hour"), ("timber", "per_m3"), ("standby", "per_day")] {
            let sent = json!({ part: { field: money(-1.0) } });
            assert_eq!(refused(&sent), negative(&format!("{part}/{field}")));
        }
    }

    #[test]
    fn verify_another_currency_is_a_fault_at_each_place() {
        let dollars = json!({ "amount": 10, "currency": "USD" });
        let sent = json!({
            "mobilisation": dollars, "return_transport": dollars, "handling_plant_per_day": dollars,
            "crew": { "per_person_hour": dollars }, "timber": { "per_m3": dollars }, "standby": { "per_day": dollars }
        });
        let (terms, faults, _) = parsed(&sent, Some("EUR"));
        assert_eq!(terms, None);
        let mut places: Vec<&str> = faults.iter().map(|fault| fault.pointer.as_deref().unwrap()).collect();
        places.sort_unstable();
        let expected = [
            "#/price/crew/per_person_hour/currency",
            "#/price/handling_plant_per_day/currency",
            "#/price/mobilisation/currency",
            "#/price/return_transport/currency",
            "#/price/standby/per_day/currency",
            "#/price/timber/per_m3/currency",
        ];
        assert_eq!(places, expected);
        let told = |fault: &Fault| fault.limit.as_deref() == Some("EUR") && fault.given.as_deref() == Some("USD");
        assert!(faults.iter().all(|fault| fault.code == FaultCode::Inconsistent && told(fault)));
        // The same money is sound where the catalogue is in dollars.
        assert_eq!(parsed(&sent, Some("USD")).1, Vec::new());
    }

    #[test]
    fn verify_entries_without_a_currency_take_no_money() {
        let (terms, faults, _) = parsed(&json!({ "mobilisation": money(1.0) }), Some(NO_CURRENCY));
        assert_eq!((terms, faults.len()), (None, 1));
        assert_eq!(faults[0].hint.as_deref(), Some("state `inline/currency`"));
    }

    #[test]
    fn verify_numbers_out_of_bounds_are_faults() {
        let bad = [
            (json!({ "hire_days": 0 }), "hire_days", "1"),
            (json!({ "hire_days": 1001 }), "hire_days", "1000"),
            (json!({ "minimum_hire_days": 0 }), "minimum_hire_days", "1"),
            (json!({ "week_days": 0 }), "week_days", "1"),
            (json!({ "week_days": 8 }), "week_days", "7"),
            (json!({ "spares_share": 1.01 }), "spares_share", "1"),
            (json!({ "crew": { "persons": 0 } }), "crew/persons", "1"),
            (json!({ "crew": { "persons": 201 } }), "crew/persons", "200"),
            (json!({ "crew": { "set_up_time": "-1 h" } }), "crew/set_up_time", "0 h"),
            (json!({ "crew": { "set_up_time": "1001 h" } }), "crew/set_up_time", "1000 h"),
            (json!({ "timber": { "consumed_share": -0.1 } }), "timber/consumed_share", "0"),
            (json!({ "standby": { "days": -1 } }), "standby/days", "0"),
            (json!({ "standby": { "days": 1001 } }), "standby/days", "1000"),
            (json!({ "mobilisation": money(1e9 + 1.0) }), "mobilisation/amount", "1000000000"),
        ];
        for (sent, at, limit) in bad {
            assert_eq!(refused(&sent), (format!("#/price/{at}"), FaultCode::OutOfRange, Some(limit.to_owned())));
        }
    }

    #[test]
    fn verify_what_is_no_such_field_or_type_is_a_fault() {
        let code = |sent: Value| {
            let (at, code, _) = refused(&sent);
            (at.trim_start_matches("#/price/").to_owned(), code)
        };
        let at = |at: &str, code| (at.to_owned(), code);
        assert_eq!(code(json!({ "hire_day": 5 })), at("hire_day", FaultCode::UnknownField));
        let sent = json!({ "crew": { "rate": money(1.0) } });
        assert_eq!(code(sent), at("crew/rate", FaultCode::UnknownField));
        assert_eq!(code(json!({ "hire_days": 2.5 })), at("hire_days", FaultCode::WrongType));
        assert_eq!(code(json!({ "mobilisation": 100 })), at("mobilisation", FaultCode::WrongType));
        let sent = json!({ "mobilisation": { "amount": 100 } });
        assert_eq!(code(sent), at("mobilisation/currency", FaultCode::MissingField));
        let sent = json!({ "mobilisation": { "amount": 100, "currency": "euro" } });
        assert_eq!(code(sent), at("mobilisation/currency", FaultCode::UnknownValue));
        assert_eq!(code(json!({ "crew": { "set_up_time": 4 } })), at("crew/set_up_time", FaultCode::BareNumber));
    }
}
