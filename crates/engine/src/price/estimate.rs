//! The estimate: one row for all that is priced, and one entry for all that is not.

use super::cents::Cents;
use super::hire::{HireItem, HireMix, HireOfItem, ItemKind, hire_of};
use super::result::{Estimate, PriceItem, PriceUnit};
use super::sheet::{Priced, Sheet};
use super::terms::{PriceTerms, usable};

/// What is priced.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PriceJob<'a> {
    /// What is hired.
    pub items: &'a [HireItem<'a>],
    /// Hours that the crew works at the lift itself, if they are known.
    pub working_hours: Option<f64>,
    /// Timber in all stacks, in cubic metres.
    pub timber_volume_m3: f64,
    /// Whether that volume is known.
    pub timber_known: bool,
    /// Currency of all rates, by its ISO 4217 code.
    pub currency: &'a str,
}

/// What a job costs by the rates that are stated, and what is not in that.
///
/// Everything is either a row or listed as not priced, in the order of [`PriceItem`]; a rate that is not stated is never taken as zero.
/// Timber that is written off is a row beside the hire of packing.
///
/// # Source
/// Plain arithmetic: quantity x rate for each row, rounded half up to 0.01, and the sum of the rows. Hire as in [`hire_of`].
///
/// # Validity
/// Rates, shares, hours and volumes of zero or more; anything else counts as not stated or not known.
pub fn estimate(terms: &PriceTerms, job: &PriceJob<'_>) -> Estimate {
    let mut sheet = Sheet::new(job.currency);
    let base = hire(terms, job.items, &mut sheet);
    let lump = |rate| (1.0, PriceUnit::LumpSum, rate);
    let rates = &terms.rates;
    let text = "bringing everything to the site";
    stated(PriceItem::Mobilisation, text, "price/mobilisation", lump(rates.mobilisation), &mut sheet);
    let text = "taking everything back";
    stated(PriceItem::ReturnTransport, text, "price/return_transport", lump(rates.return_transport), &mut sheet);
    crew(terms, job.working_hours, &mut sheet);
    let text = format!("handling plant for the hire period of {}", number_of(terms.hire_days, "day"));
    let plant = (f64::from(terms.hire_days), PriceUnit::Day, rates.handling_plant_day);
    stated(PriceItem::HandlingPlant, &text, "price/handling_plant_per_day", plant, &mut sheet);
    spares(terms, base, &mut sheet);
    timber(terms, job, &mut sheet);
    let text = format!("standby of {} beyond the hire period", number_of(terms.standby_days, "day"));
    let standby = (f64::from(terms.standby_days), PriceUnit::Day, rates.standby_day);
    stated(PriceItem::Standby, &text, "price/standby/per_day", standby, &mut sheet);
    sheet.close(terms)
}

/// A row whose rate the request states, or else the field that would state it.
fn stated(
    item: PriceItem,
    text: &str,
    field: &'static str,
    (quantity, unit, rate): (f64, PriceUnit, Option<f64>),
    sheet: &mut Sheet<'_>,
) {
    match usable(rate) {
        Some(unit_rate) => {
            sheet.price(Priced { item, id: None, text: text.to_owned(), quantity, unit, unit_rate });
        }
        None => sheet.leave_out(item, None, format!("{text}: no rate is stated"), Some(field)),
    }
}

/// What the hire of rams and pumps comes to, of which spares are a share.
#[derive(Clone, Copy)]
enum SparesBase {
    /// All of it.
    Known(Cents),
    /// There is neither a ram nor a pump.
    Nothing,
    /// A ram or a pump has no price.
    Unpriced,
}

/// Rows for all that is hired; whatever kind of thing the job does not have is said too.
fn hire(terms: &PriceTerms, items: &[HireItem<'_>], sheet: &mut Sheet<'_>) -> SparesBase {
    let hired = hire_of(terms, items);
    let mut base = SparesBase::Nothing;
    for kind in ItemKind::ALL {
        let mut of_kind = hired.iter().filter(|hired| hired.item.what == kind).peekable();
        if of_kind.peek().is_none() {
            let text = format!("no {} is named in this job, so none is in the price", kind.word());
            sheet.leave_out(kind.into(), None, text, None);
        }
        for hired in of_kind {
            let amount = hire_row(terms, hired, sheet);
            if matches!(kind, ItemKind::Ram | ItemKind::Pump) {
                base = base.with(amount);
            }
        }
    }
    base
}

impl SparesBase {
    fn with(self, amount: Option<Cents>) -> Self {
        let so_far = match self {
            Self::Known(so_far) => so_far,
            Self::Nothing => Cents::ZERO,
            Self::Unpriced => return Self::Unpriced,
        };
        amount.and_then(|amount| so_far.plus(amount)).map_or(Self::Unpriced, Self::Known)
    }
}

fn hire_row(terms: &PriceTerms, hired: &HireOfItem<'_>, sheet: &mut Sheet<'_>) -> Option<Cents> {
    let item = hired.item;
    let id = Some(item.id.to_owned());
    let what = format!("{} x {} {}", item.count, item.what.word(), item.id);
    let Some(mix) = hired.mix else {
        sheet.leave_out(
            item.what.into(),
            id,
            format!("{what}: the catalogue has neither a day rate nor a week rate"),
            None,
        );
        return None;
    };
    sheet.price(Priced {
        item: item.what.into(),
        id,
        text: format!("{what}, each for {}", mix_text(terms, &item, mix)),
        quantity: f64::from(item.count),
        unit: PriceUnit::Piece,
        unit_rate: mix.each,
    })
}

/// The mix in words, such as "1 week at 400 and 2 days at 120, with 9 days charged and 7 days in a week".
fn mix_text(terms: &PriceTerms, item: &HireItem<'_>, mix: HireMix) -> String {
    let part = |count: u32, what: &str, rate: Option<f64>| {
        let rate = usable(rate).filter(|_| 0 < count);
        rate.map(|rate| format!("{} at {rate}", number_of(count, what)))
    };
    let parts = [part(mix.weeks, "week", item.week_rate), part(mix.days, "day", item.day_rate)];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    let parts = if parts.is_empty() { "no time".to_owned() } else { parts.join(" and ") };
    let charged = number_of(terms.charged_days(), "day");
    let minimum = if terms.hire_days < terms.minimum_hire_days { ", the minimum hire" } else { "" };
    let week =
        if 0 < mix.weeks { format!("; {} in a week", number_of(terms.week_days.get(), "day")) } else { String::new() };
    format!("{parts} ({charged} charged{minimum}{week})")
}

fn crew(terms: &PriceTerms, working_hours: Option<f64>, sheet: &mut Sheet<'_>) {
    let persons = number_of(terms.crew_persons, "person");
    let set_up = usable(Some(terms.set_up_time.s() / 3600.0));
    let Some((hours, set_up)) = usable(working_hours).zip(set_up) else {
        let text = format!("{persons} of the crew: how long the work takes is not known");
        sheet.leave_out(PriceItem::Crew, None, text, None);
        if usable(terms.rates.person_hour).is_none() {
            let text = "the crew: no rate is stated for an hour of one person";
            sheet.leave_out(PriceItem::Crew, None, text, Some("price/crew/per_person_hour"));
        }
        return;
    };
    let text =
        format!("{persons} for {hours:.2} h of work at the lift and {set_up:.2} h of setting up and taking down");
    let quantity = f64::from(terms.crew_persons) * (hours + set_up);
    let row = (quantity, PriceUnit::PersonHour, terms.rates.person_hour);
    stated(PriceItem::Crew, &text, "price/crew/per_person_hour", row, sheet);
}

fn spares(terms: &PriceTerms, base: SparesBase, sheet: &mut Sheet<'_>) {
    let share = terms.spares_share;
    let left_out = match base {
        SparesBase::Known(base) => {
            sheet.price(Priced {
                item: PriceItem::Spares,
                id: None,
                text: format!("spares: a share of {share} of the hire of rams and pumps"),
                quantity: share,
                unit: PriceUnit::Share,
                unit_rate: base.amount(),
            });
            return;
        }
        SparesBase::Nothing => "no ram or pump is in the price",
        SparesBase::Unpriced => "not all rams and pumps have a price",
    };
    let text = format!("spares, a share of {share} of the hire of rams and pumps: {left_out}");
    sheet.leave_out(PriceItem::Spares, None, text, None);
}

fn timber(terms: &PriceTerms, job: &PriceJob<'_>, sheet: &mut Sheet<'_>) {
    const FIELD: &str = "price/timber/per_m3";
    let share = terms.timber_consumed_share;
    let Some(volume) = usable(job.timber_known.then_some(job.timber_volume_m3)) else {
        let text = "timber that is written off: how much timber stands in the stacks is not known";
        sheet.leave_out(PriceItem::TimberConsumed, None, text, None);
        if usable(terms.rates.timber_m3).is_none() {
            let text = "timber that is written off: no value is stated for a cubic metre";
            sheet.leave_out(PriceItem::TimberConsumed, None, text, Some(FIELD));
        }
        return;
    };
    let text = format!("timber that is written off: a share of {share} of {volume:.3} m3 in the stacks");
    let row = (volume * share, PriceUnit::CubicMetre, terms.rates.timber_m3);
    stated(PriceItem::TimberConsumed, &text, FIELD, row, sheet);
}

/// A number of things, such as "1 day" and "2 days".
fn number_of(count: u32, what: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {what}{plural}")
}
