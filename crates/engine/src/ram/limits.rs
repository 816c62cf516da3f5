//! What stands over and under the ram may have limits of its own.

use crate::check::{Finding, Ledger, Source};
use crate::line;
use ramwright_units::Force;

/// A share, as raised by a stop pressure, against a stated limit.
///
/// A ram that meets resistance goes on pushing until its stop pressure, so that is what the part must bear.
///
/// # Source
/// The limit is stated; the stop factor is common practice, no source.
///
/// # Validity
/// A limit that was not stated is not checked.
pub fn stated_limit(
    book: &mut impl Ledger,
    share: Force,
    stop_factor: f64,
    limit: Option<Force>,
    missing: &str,
) -> Finding {
    let Some(limit) = limit else {
        return Finding::missing([missing.to_owned()]);
    };
    let demand = line!(book, F_stop: Force = k_stop * R; k_stop = stop_factor, R = share; Source::common_practice("stop pressure over the greatest expected pressure"));
    Finding::compare(demand, limit).with_remedy(|| format!("a limit of {:.1} kN", (demand.kn() * 10.0).ceil() / 10.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{NoLines, Status};

    #[test]
    fn verify_a_limit_stated_is_held_against_the_stop_pressure() {
        let kn = Force::from_kn;
        let found = |limit: Option<f64>| stated_limit(&mut NoLines, kn(500.0), 1.1, limit.map(kn), "limit").status();
        assert_eq!(found(Some(550.0)), Status::Pass);
        assert_eq!(found(Some(549.9)), Status::Fail);
        assert_eq!(found(None), Status::NotChecked);
    }
}
