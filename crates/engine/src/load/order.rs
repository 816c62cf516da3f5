//! The order of points.

use std::cmp::Ordering;

/// Numbers first, by value, then names by their characters: whatever is summed over points is summed in this order,
/// so that the order in which a request lists them changes nothing.
pub fn point_order(a: &str, b: &str) -> Ordering {
    match (a.parse::<u64>(), b.parse::<u64>()) {
        (Ok(first), Ok(second)) => first.cmp(&second).then_with(|| a.cmp(b)),
        (Ok(_), Err(_)) => Ordering::Less,
        (Err(_), Ok(_)) => Ordering::Greater,
        (Err(_), Err(_)) => a.cmp(b),
    }
}

#[cfg(test)]
mod tests {
    use super::point_order;

    #[test]
    fn verify_numbers_come_first_and_by_value() {
        let mut ids = ["b", "10", "2", "02", "a"];
        ids.sort_by(|a, b| point_order(a, b));
        assert_eq!(ids, ["02", "2", "10", "a", "b"]);
    }
}
