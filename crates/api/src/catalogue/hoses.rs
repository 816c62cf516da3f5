//! Hoses as they are sent.

use super::bounds::HoseBore;
use super::entry::{Column, Entry, catalogue_entry};
use crate::read::{Faults, Pointer};
use crate::sent::{LengthOfHose, MassOfPiece, Name, Number, Pressure, Rate, Sent, StockCount, SwellingOfHose};
use ramwright_engine::catalogue::Hose;

catalogue_entry! {
    /// A hose as it is sent.
    InlineHose {
        /// Name by which it is chosen.
        id: Name,
        /// Inside diameter.
        bore: HoseBore,
        /// Length.
        length: LengthOfHose,
        /// Greatest pressure.
        rated_pressure: Pressure,
        /// By how much it swells at its greatest pressure.
        swelling: Option<SwellingOfHose>,
        /// Mass of one hose.
        mass: Option<MassOfPiece>,
        /// How many there are.
        stock: Option<StockCount>,
        /// Rate for a day, in the catalogue's currency.
        day_rate: Option<Rate>,
        /// Rate for a week, in the catalogue's currency.
        week_rate: Option<Rate>,
    }
}

impl Entry for InlineHose {
    type Item = Hose;
    const LIST: &'static str = "hoses";
    const COLUMNS: &'static [Column] = Self::COLUMNS;

    fn id(&self) -> &str {
        &self.id.0
    }

    fn item(&self, _at: &Pointer, _faults: &mut Faults) -> Option<Hose> {
        Some(Hose {
            id: self.id.0.clone(),
            bore: self.bore.get(),
            length: self.length.get(),
            rated_pressure: self.rated_pressure.get(),
            swelling: self.swelling.as_ref().map(Sent::get),
            mass: self.mass.as_ref().map(Sent::get),
            stock: self.stock.as_ref().map(Number::count),
            day_rate: self.day_rate.as_ref().map(Number::get),
            week_rate: self.week_rate.as_ref().map(Number::get),
        })
    }
}
