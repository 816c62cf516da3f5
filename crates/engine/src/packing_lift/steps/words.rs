//! What is said again and again.

pub(super) const OPERATOR: &str = "pump operator, on the word of the lift supervisor; a watcher at every point";
pub(super) const PACKERS: &str = "packers at the points named; pump operator stands by";
pub(super) const SETTERS: &str = "packers and ram setters at the points named";

pub(super) const STACKS_AND_RAMS: &str = "widest pieces at the bottom, stacks plumb, full bearing, rams upright under their points, hoses free, collars and valves as planned";
pub(super) const READINGS: &str =
    "pressures within the expected ranges, levels, leaks, ground; go on only inside the ranges";
pub(super) const LEVELS: &str = "levels within tolerance, pressures within range";
pub(super) const TOP: &str = "levels within tolerance, pressures within range, stroke indicator";
pub(super) const FLUSH: &str = "piece flush with the stack, hands clear";
pub(super) const OUT: &str = "piece clear of the stack, hands clear";
pub(super) const REST: &str = "load at rest on every stack, settlement even, rams free";
pub(super) const SUPPORTED: &str = "every collar tight, pressure gone from every ram";
pub(super) const CARRIED: &str = "the second support carries everywhere, pressure gone from every ram";
pub(super) const REBUILT: &str = "stacks plumb, full bearing, what holds the load still tight";
