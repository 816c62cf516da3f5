//! A proposed ram set against a load case.

mod checks;
mod demand;
mod line;
mod linked;
mod margins;
mod points_alike;
mod raise;
mod rules;
mod scenarios;
mod set;
mod settings_check;
mod sink;
mod site;
mod station;
mod verdict;
mod verification;
mod worked;

pub(crate) use checks::holding_check;
pub(crate) use demand::stack_demand;
pub use margins::{CentreMargin, Margin, Toward};
pub(crate) use points_alike::enter_shares;
pub use points_alike::{points_alike, points_of_ends};
pub(crate) use raise::{Raise, base_room, plan_raise};
pub(crate) use rules::rules_of;
pub(crate) use scenarios::capacity_otherwise;
pub use set::{PlacedRams, RamSet, RamsAtPoint};
pub(crate) use sink::Sink;
pub use site::{SiteGauge, SiteOutcome, SiteReading, SiteReadings, Stands, StepRead};
pub(crate) use station::{Context, Reserve, Rule, Station};
pub(crate) use verdict::Judged;
pub use verdict::{Counts, Governing, Verdict};
pub use verification::{Verification, VerifyInput, verify_ram_set};
pub(crate) use verification::{circuit_not_checked, every_check, manifold_not_checked};
pub(crate) use worked::{Worked, status_of_case};
