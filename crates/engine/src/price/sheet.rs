//! An estimate while it is written, row by row.

use super::cents::Cents;
use super::result::{Estimate, NotPriced, PriceItem, PriceRow, PriceUnit};
use super::terms::PriceTerms;
use crate::catalogue::Money;
use crate::text::Text;

const ROUNDING: &str = "each amount is rounded half up to 0.01; the total is the sum of the rounded amounts";
const NO_AMOUNT: &str = "the amount is not a number that can be told to the cent";

/// A row that has its rate.
pub(super) struct Priced {
    pub(super) item: PriceItem,
    pub(super) id: Option<String>,
    pub(super) text: String,
    pub(super) quantity: f64,
    pub(super) unit: PriceUnit,
    pub(super) unit_rate: f64,
}

/// Rows, what is open, and the sum so far.
pub(super) struct Sheet<'a> {
    currency: &'a str,
    rows: Vec<PriceRow>,
    not_priced: Vec<NotPriced>,
    total: Option<Cents>,
}

impl<'a> Sheet<'a> {
    pub(super) fn new(currency: &'a str) -> Self {
        Self { currency, rows: Vec::new(), not_priced: Vec::new(), total: Some(Cents::ZERO) }
    }

    /// Writes a row and gives its amount; a row without one is listed as not priced.
    pub(super) fn price(&mut self, row: Priced) -> Option<Cents> {
        let Some(amount) = Cents::of(row.unit_rate * row.quantity) else {
            self.leave_out(row.item, row.id, format!("{}: {NO_AMOUNT}", row.text), None);
            return None;
        };
        self.total = self.total.and_then(|total| total.plus(amount));
        self.rows.push(PriceRow {
            item: row.item,
            id: row.id,
            text: row.text.into(),
            quantity: row.quantity,
            unit: row.unit,
            unit_rate: self.money(row.unit_rate),
            amount: self.money(amount.amount()),
        });
        Some(amount)
    }

    /// Lists what has no price.
    pub(super) fn leave_out(
        &mut self,
        item: PriceItem,
        id: Option<String>,
        text: impl Into<Text>,
        field: Option<&'static str>,
    ) {
        self.not_priced.push(NotPriced { item, id, text: text.into(), field: field.map(Text::from) });
    }

    /// The estimate.
    pub(super) fn close(self, terms: &PriceTerms) -> Estimate {
        let total = self.total.filter(|_| !self.rows.is_empty()).map(|total| self.money(total.amount()));
        Estimate {
            hire_days: terms.hire_days,
            days: terms.charged_days(),
            week_days: terms.week_days.get(),
            total,
            rows: self.rows,
            rounding: ROUNDING.into(),
            not_priced: self.not_priced,
        }
    }

    fn money(&self, amount: f64) -> Money {
        Money { amount, currency: self.currency.to_owned() }
    }
}
