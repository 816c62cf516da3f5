//! By which terms a job is priced.

use ramwright_units::Time;
use std::num::NonZeroU32;

/// Money that the request states, in the currency of the catalogue. What is absent is not priced.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rates {
    /// For bringing everything to the site.
    pub mobilisation: Option<f64>,
    /// For taking everything back.
    pub return_transport: Option<f64>,
    /// For an hour of one person.
    pub person_hour: Option<f64>,
    /// For a day of the handling plant (crane, lift truck).
    pub handling_plant_day: Option<f64>,
    /// For a cubic metre of timber that is written off.
    pub timber_m3: Option<f64>,
    /// For a day of standby.
    pub standby_day: Option<f64>,
}

/// How long, how many and how much. There is no `Default`: `api` fills it and lists what it assumed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PriceTerms {
    /// Days for which everything is hired and the handling plant is on site.
    pub hire_days: u32,
    /// Fewest days that are charged for what is hired.
    pub minimum_hire_days: u32,
    /// Days in a hire week.
    pub week_days: NonZeroU32,
    /// Persons on the job, all crews together.
    pub crew_persons: u32,
    /// Hours of the crew besides the lift itself: setting up and taking down.
    pub set_up_time: Time,
    /// Spares as a share of the hire of rams and pumps.
    pub spares_share: f64,
    /// Part of the timber in the stacks that is written off.
    pub timber_consumed_share: f64,
    /// Days of standby, beyond the hire period. The rate of standby is for all that stands by; no hire is added.
    pub standby_days: u32,
    /// Money.
    pub rates: Rates,
}

impl PriceTerms {
    /// Days that are charged for what is hired.
    ///
    /// # Source
    /// Definition of a minimum hire.
    ///
    /// # Validity
    /// Any terms.
    pub fn charged_days(&self) -> u32 {
        self.hire_days.max(self.minimum_hire_days)
    }
}

/// A rate that may be used: zero or more.
pub(super) fn usable(rate: Option<f64>) -> Option<f64> {
    rate.filter(|rate| rate.is_finite() && 0.0 <= *rate)
}
