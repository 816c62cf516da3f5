//! By which terms a job is priced, as they are sent.

use crate::catalogue::Currency;
use crate::sent::{CrewPersons, HireDays, MoneyAmount, PriceShare, SetUpTime, StandbyDays, WeekDays};
use crate::wire_struct;

wire_struct! {
    /// An amount of money in the currency of the catalogue; nothing is converted.
    MoneySent {
        /// How much.
        amount: MoneyAmount,
        /// The currency, which is that of the catalogue.
        currency: Currency,
    }
}

wire_struct! {
    /// The crew of a job.
    CrewPriceSent {
        /// Persons on the job, all crews together; 3 by default.
        persons: Option<CrewPersons>,
        /// For an hour of one person; without it the crew is not priced.
        per_person_hour: Option<MoneySent>,
        /// Hours for setting up and taking down, besides the lift itself; 4 h by default.
        set_up_time: Option<SetUpTime>,
    }
}

wire_struct! {
    /// Timber that is used up.
    TimberPriceSent {
        /// Part of the timber in the stacks that is written off; 0.1 by default.
        consumed_share: Option<PriceShare>,
        /// Value of a cubic metre; without it the timber is not priced.
        per_m3: Option<MoneySent>,
    }
}

wire_struct! {
    /// Days on which everything stands by.
    StandbyPriceSent {
        /// Days of standby, beyond the hire period; none by default.
        days: Option<StandbyDays>,
        /// For a day of all that stands by, its hire too; without it standby is not priced.
        per_day: Option<MoneySent>,
    }
}

wire_struct! {
    /// By which terms a job is priced; hire is at the rates of the catalogue. Money that is not stated is not priced, and the estimate says so.
    PriceSent {
        /// Days of the calendar for which everything is hired; 7 by default.
        hire_days: Option<HireDays>,
        /// Fewest days that are charged for what is hired; 1 by default.
        minimum_hire_days: Option<HireDays>,
        /// Days in a hire week; 7 by default.
        week_days: Option<WeekDays>,
        /// For bringing everything to the site.
        mobilisation: Option<MoneySent>,
        /// For taking everything back.
        return_transport: Option<MoneySent>,
        /// The crew.
        crew: Option<CrewPriceSent>,
        /// For a day of the handling plant (crane, lift truck).
        handling_plant_per_day: Option<MoneySent>,
        /// Spares as a share of the hire of rams and pumps; 0.1 by default.
        spares_share: Option<PriceShare>,
        /// Timber that is used up.
        timber: Option<TimberPriceSent>,
        /// Standby.
        standby: Option<StandbyPriceSent>,
    }
}
