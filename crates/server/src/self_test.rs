//! Whether this machine calculates as the engine was tested: known values, computed anew.

use ramwright_engine::verification::{VerificationValue, verification_values};

/// The names of the known values that do not come out here; the log says by how much.
pub(crate) fn failures() -> Vec<String> {
    verification_values().into_iter().filter(|value| !value.holds).map(told).collect()
}

fn told(value: VerificationValue) -> String {
    let VerificationValue { id, reference, computed, tolerance, .. } = value;
    tracing::error!(%id, reference, computed, tolerance, "a known value does not come out on this machine");
    id.to_string()
}

#[cfg(test)]
mod tests {
    #[test]
    fn verify_this_machine_calculates_as_tested() {
        assert_eq!(super::failures(), [""; 0]);
    }
}
