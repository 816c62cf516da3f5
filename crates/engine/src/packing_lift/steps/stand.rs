//! A load that stands on collars or on a second support while its holding stacks are rebuilt.

use super::StepKind;
use super::words::{CARRIED, OPERATOR, PACKERS, REBUILT, SUPPORTED};
use super::writer::{Held, Said, Writer};
use crate::packing_lift::kernel::Range as Tenths;

/// Groups, each raised so far, go on to the collars, or on to the second support.
pub(super) fn stand(writer: &mut Writer<'_>, raised: &[(usize, i64)]) {
    let collars = writer.input.ram.lock_collar;
    for &(group, raise) in raised {
        let collar = writer.posed.get(group).and_then(|posed| posed.collar);
        let sink = collar.map_or(0, |end| end.collar_settlement);
        writer.standing(group, |standing| {
            standing.rise = Tenths { least: raise - sink, greatest: raise };
            standing.held = if collars { Held::Collars } else { Held::SecondSupport };
        });
    }
    let groups: Vec<usize> = raised.iter().map(|(group, _)| *group).collect();
    let (kind, how, check) = if collars {
        let how = "screw every collar down and let the load settle on to the collars".to_owned();
        (StepKind::LockCollars, how, SUPPORTED)
    } else {
        let second = writer.input.second_support.unwrap_or("the second support");
        (StepKind::SecondSupport, format!("let the load settle on to {second}"), CARRIED)
    };
    let text = format!("At {}: {how}.", writer.points(&groups));
    writer.push(Said { kind, who: OPERATOR, text: text.into(), groups, drop: None, check, hold_point: true });
}

/// The holding stacks of a group are rebuilt.
pub(super) fn rebuild(writer: &mut Writer<'_>, group: usize, counts: &[u32]) {
    let text = format!("At {}: {}.", writer.points(&[group]), writer.rebuilt(counts));
    writer.standing(group, |standing| standing.holding = counts.to_vec());
    writer.push(Said {
        kind: StepKind::RebuildStacks,
        who: PACKERS,
        text: text.into(),
        groups: vec![group],
        drop: None,
        check: REBUILT,
        hold_point: true,
    });
}
