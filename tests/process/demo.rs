//! The demonstration.

use crate::support::output;

#[test]
fn verify_the_demonstration_shows_three_lifts() {
    let shown = output(&["demo"], &[]);
    let text = String::from_utf8(shown.stdout).unwrap();
    assert_eq!(shown.status.code(), Some(0), "{text}\n{}", String::from_utf8_lossy(&shown.stderr));
    for part in ["LIFT 1 OF 3", "LIFT 2 OF 3", "LIFT 3 OF 3", "ransformer", "bedplate", "link"] {
        assert!(text.contains(part), "{part}");
    }
    // Whoever reads it knows that it is invented, and what it does not replace.
    assert!(text.contains("invented") && text.contains("competent"), "{text}");
}
