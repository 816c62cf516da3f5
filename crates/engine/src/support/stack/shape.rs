//! Height, overhang and lean of a stack.

use super::joints::OffCentre;
use super::model::{Stack, sides};
use crate::catalogue::Packing;
use crate::check::{Finding, Ledger, Source};
use crate::defaults::{BASE_STACK_SLENDERNESS, HOLDING_STACK_SLENDERNESS};
use crate::line;
use ramwright_units::Length;

const HEIGHT: Source = Source::common_practice(
    "three times the least width for a stack at rest (urban search-and-rescue guidance, second hand), half of that under a working ram (no source); less on fewer contacts, from memory",
);
const THIRD: Source = Source::published("middle third of a rectangle, any textbook of strength of materials");

/// Height of a stack over its least width at most, for so many loaded crossings of a crib.
fn slenderness(under_a_ram: bool, contacts_loaded: Option<u32>) -> f64 {
    let whole = if under_a_ram { BASE_STACK_SLENDERNESS } else { HOLDING_STACK_SLENDERNESS };
    match contacts_loaded {
        Some(0 | 1) => whole.min(1.0),
        Some(2 | 3) => whole.min(1.5),
        _ => whole,
    }
}

/// Greatest height of a stack with such a piece in it.
///
/// # Source
/// As for [`height_check`].
///
/// # Validity
/// As for [`height_check`]; where layers of a crib are among the pieces and not all their contacts carry, the lower height holds
/// for the whole stack.
pub fn greatest_height(piece: &Packing, under_a_ram: bool, contacts_loaded: Option<u32>) -> Length {
    sides(piece).1 * slenderness(under_a_ram, contacts_loaded)
}

/// Greatest height of a stack with such a piece in it that stays plumb enough; nothing if the force does not leave the middle.
///
/// # Source
/// As for [`plumb_check`].
///
/// # Validity
/// As for [`plumb_check`].
pub fn plumb_height(piece: &Packing, off: OffCentre) -> Option<Length> {
    let left = sides(piece).1 / 6.0 - off.at_head;
    if left < Length::ZERO {
        return Some(Length::ZERO);
    }
    (0.0 < off.per_height).then(|| left / off.per_height)
}

/// Height of a stack against its least width.
///
/// # Source
/// Three times the width at rest (second hand), half of that under a working ram (common practice, no source); 1.5 times on two
/// or three contacts and once on one (from memory).
///
/// # Validity
/// A plumb stack in full bearing.
pub fn height_check(
    book: &mut impl Ledger,
    stack: &Stack<'_>,
    under_a_ram: bool,
    contacts_loaded: Option<u32>,
) -> Finding {
    let Some(width) = stack.least_width() else { return Finding::missing(["a stack with pieces in it"]) };
    let times = slenderness(under_a_ram, stack.has_crib().then_some(contacts_loaded).flatten());
    let limit = line!(book, h_lim: Length = n * b; n = times, b = width; HEIGHT);
    let height =
        line!(book, h: Length = h_s; h_s = stack.height(); Source::definition("sum of the thicknesses, not loaded"));
    Finding::compare(height, limit).with_remedy(|| {
        format!(
            "pieces at least {:.0} mm wide, or a stack no higher than {:.0} mm",
            (height / times).mm().ceil(),
            limit.mm().floor()
        )
    })
}

/// How far a piece stands out beyond the one below it, against its own thickness.
///
/// # Source
/// Force spreads at 45 degrees; common practice, no source.
///
/// # Validity
/// Concentric pieces, the widest at the bottom.
pub fn overhang_check<L: Ledger>(book: &mut L, stack: &Stack<'_>) -> Finding {
    let mut worst: Option<(Length, Length, [&str; 2])> = None;
    for pair in stack.layers.windows(2) {
        let [below, above] = pair else { continue };
        let (under, over) = (sides(below), sides(above));
        let out = ((over.0 - under.0) / 2.0).max((over.1 - under.1) / 2.0).max(Length::ZERO);
        let worse = worst
            .as_ref()
            .is_none_or(|(so_far, thickness, _)| so_far.m() * above.thickness.m() < out.m() * thickness.m());
        if worse {
            worst = Some((out, above.thickness, [&above.id, &below.id]));
        }
    }
    let Some((out, thickness, [above, below])) = worst else {
        return Finding::judged(crate::check::Status::Pass, "no piece lies on another");
    };
    let out = line!(book, o: Length = o_s; o_s = out; Source::definition("half of the difference of the sides, the worse way"));
    let limit = line!(book, o_lim: Length = t; t = thickness; Source::common_practice("force spreads at 45 degrees (common practice, no source)"));
    let finding = Finding::compare(out, limit);
    if !L::KEEPS {
        return finding;
    }
    finding
        .with_note(format!("worst: {above} on {below}; the widest pieces are taken to lie at the bottom"))
        .with_remedy(|| format!("a piece below at least {:.0} mm wider", (2.0 * (out - limit)).mm().ceil()))
}

/// The force off the middle of the foot of a leaning column, against the middle third of the least width of its stack.
///
/// Slopes up to 30 degrees are quoted for rescue cribs; they are no limit here, since a stack under a ram or a load that is
/// raised must keep its whole foot pressed.
///
/// # Source
/// Middle third of a rectangle, any textbook of strength of materials.
///
/// # Validity
/// Rectangular pieces; `off` counts from the head of the stack.
pub fn plumb_check(book: &mut impl Ledger, stack: &Stack<'_>, off: OffCentre) -> Finding {
    let Some(width) = stack.least_width() else { return Finding::missing(["a stack with pieces in it"]) };
    let height = stack.height();
    let at_foot = line!(book, e: Length = e_0 + h * t; e_0 = off.at_head, h = height, t = off.per_height; Source::definition("off the axis at the head of the stack, and more of it below by lean and sideways force"));
    let limit = line!(book, e_lim: Length = b / 6.0; b = width; THIRD);
    Finding::compare(at_foot, limit).with_remedy(|| {
        format!("pieces at least {:.0} mm wide, or a stack nearer to plumb", (6.0 * at_foot).mm().ceil())
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::{PackingForm, PackingMaterial};
    use crate::check::{NoLines, Status};
    use crate::support::stack::bearing::tests::{block, stack};

    fn steel(id: &str, thickness: f64, length: f64, width: f64) -> Packing {
        block(id, thickness, length, width, PackingMaterial::Steel)
    }

    /// Height of three times the least width for a stack at rest (urban search-and-rescue guidance, second hand).
    #[test]
    fn validate_height_to_width() {
        let status = |thickness: f64, under_a_ram: bool, contacts: Option<u32>| {
            let crib = Packing { form: PackingForm::CribLayer, ..steel("a", thickness, 400.0, 300.0) };
            height_check(&mut NoLines, &stack(&[("a", 4)], &[crib]), under_a_ram, contacts).status()
        };
        assert_eq!(status(225.0, false, None), Status::Pass);
        assert_eq!(status(225.1, false, None), Status::Fail);
        assert_eq!(status(112.5, true, None), Status::Pass);
        assert_eq!(status(112.6, true, None), Status::Fail);
        assert_eq!(status(112.6, false, Some(2)), Status::Fail);
        assert_eq!(status(75.1, false, Some(1)), Status::Fail);
        assert_eq!(status(75.0, false, Some(1)), Status::Pass);
    }

    #[test]
    fn verify_overhang() {
        // By area the sleeper lies below; the block on it is wider by 65 mm at each side.
        let pieces = [steel("sleeper", 64.0, 740.0, 260.0), steel("block", 65.0, 430.0, 390.0)];
        let found = |thickness: f64| {
            let pieces = [pieces[0].clone(), Packing { thickness: Length::from_mm(thickness), ..pieces[1].clone() }];
            overhang_check(&mut NoLines, &stack(&[("sleeper", 1), ("block", 1)], &pieces)).status()
        };
        assert_eq!(found(65.0), Status::Pass);
        assert_eq!(found(64.9), Status::Fail);
        assert_eq!(overhang_check(&mut NoLines, &stack(&[("block", 1)], &pieces)).status(), Status::Pass);
    }

    /// Middle third: at e = b / 6 the least pressure of a rectangle is zero (any textbook of strength of materials).
    #[test]
    fn validate_the_middle_third() {
        let pieces = [steel("a", 300.0, 400.0, 300.0)];
        let found = |lean: f64, off: f64| {
            let off = OffCentre { at_head: Length::from_mm(off), per_height: libm::tan(lean.to_radians()) };
            plumb_check(&mut NoLines, &stack(&[("a", 2)], &pieces), off).status()
        };
        // 600 mm x tan 1 deg = 10.473 mm; the third of 300 mm leaves 50 mm.
        assert_eq!(found(1.0, 39.5), Status::Pass);
        assert_eq!(found(1.0, 39.6), Status::Fail);
    }
}
