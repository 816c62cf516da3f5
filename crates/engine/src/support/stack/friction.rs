//! What keeps a column of pieces from sliding.

use crate::check::{Finding, Ledger, Source, Status};
use crate::line;
use crate::support::{Surface, friction};
use ramwright_units::{Force, Length};

const RESERVE: Source = Source::from_memory("friction counts with a reserve of 1.5, from memory");

/// What holds a load sideways.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RestraintKind {
    /// Nothing but friction.
    None,
    /// Guides.
    Guides,
    /// Bracing.
    Bracing,
    /// Chocks.
    Chocks,
    /// Lashings.
    Lashings,
}

impl RestraintKind {
    fn holds(self) -> &'static str {
        match self {
            Self::None => "nothing holds the load sideways",
            Self::Guides => "guides hold the load sideways; see the check of the restraint",
            Self::Bracing => "bracing holds the load sideways; see the check of the restraint",
            Self::Chocks => "chocks hold the load sideways; see the check of the restraint",
            Self::Lashings => "lashings hold the load sideways; see the check of the restraint",
        }
    }
}

/// What holds the load sideways, and how well.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Restraint {
    /// Its kind.
    pub kind: RestraintKind,
    /// The horizontal force that it takes, in any direction.
    pub capacity: Option<Force>,
    /// How far the load can move before it takes hold.
    pub play: Option<Length>,
}

/// What could slide.
#[derive(Clone, Debug, PartialEq)]
pub struct Sliding<'a> {
    /// Surfaces from the load down: each pair of neighbours is a face.
    pub surfaces: &'a [Surface],
    /// Horizontal force at this point.
    pub horizontal: Force,
    /// The least force that presses the faces together.
    pub least: Force,
}

/// The horizontal force at a point against friction at the worst face of its column; steel on steel does not count.
///
/// # Source
/// Coulomb's friction with values and a reserve of 1.5 from memory.
///
/// # Validity
/// Dry surfaces. Where a restraint takes the force, friction is not needed; where none is stated and friction does not do,
/// the check waits for the restraint.
pub fn friction_check(
    book: &mut impl Ledger,
    sliding: &Sliding<'_>,
    restraint: Option<&Restraint>,
    missing: &str,
) -> Finding {
    if let Some(restraint) = restraint.filter(|restraint| restraint.kind != RestraintKind::None) {
        return Finding::judged(Status::Pass, restraint.kind.holds());
    }
    let by_friction = alone(book, sliding);
    if by_friction.status() == Status::Fail && restraint.is_none() {
        return Finding::missing([format!("{missing}: friction alone does not hold this point sideways")]);
    }
    by_friction
}

fn alone(book: &mut impl Ledger, sliding: &Sliding<'_>) -> Finding {
    let pairs = sliding.surfaces.windows(2).filter_map(|pair| match pair {
        [a, b] => Some((*a, *b)),
        _ => None,
    });
    let mut worst: Option<f64> = None;
    for (a, b) in pairs {
        if (a, b) == (Surface::Steel, Surface::Steel) {
            return Finding::judged(
                Status::Fail,
                "steel lies on steel: put timber or plywood between, or hold the load sideways",
            );
        }
        let mu = friction(a, b).value;
        worst = Some(worst.map_or(mu, |so_far| so_far.min(mu)));
    }
    let Some(mu) = worst else { return Finding::missing(["the surfaces between load and ground"]) };
    let limit = line!(book, H_lim: Force = mu * R_min / 1.5; mu = mu, R_min = sliding.least; RESERVE);
    Finding::compare(sliding.horizontal, limit).with_remedy(|| {
        format!("a restraint for {:.1} kN at this point", (sliding.horizontal.kn() * 10.0).ceil() / 10.0)
    })
}

/// The horizontal force on the whole load against what its restraint takes.
///
/// # Source
/// The capacity is stated.
///
/// # Validity
/// Every direction. Play beyond the follow-up gap fails: the load gathers way before it is held.
pub fn restraint_check(horizontal: Force, restraint: Option<&Restraint>, most_play: Length, missing: &str) -> Finding {
    let Some(restraint) = restraint else { return Finding::missing([missing.to_owned()]) };
    if restraint.kind == RestraintKind::None {
        return Finding::judged(Status::Pass, "nothing is relied on but friction; see the check of sliding");
    }
    let Some(capacity) = restraint.capacity else { return Finding::missing([format!("{missing}/capacity")]) };
    let Some(play) = restraint.play else { return Finding::missing([format!("{missing}/play")]) };
    let finding = Finding::compare(horizontal, capacity)
        .with_remedy(|| format!("a capacity of {:.1} kN", (horizontal.kn() * 10.0).ceil() / 10.0));
    if most_play < play {
        return Finding::judged(
            Status::Fail,
            format!("the load gathers way over {:.0} mm before it is held: take the play out", play.mm().ceil()),
        );
    }
    finding
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::NoLines;

    fn kn(value: f64) -> Force {
        Force::from_kn(value)
    }

    fn restraint(kind: RestraintKind, capacity: Option<f64>, play: Option<f64>) -> Restraint {
        Restraint { kind, capacity: capacity.map(kn), play: play.map(Length::from_mm) }
    }

    /// Arithmetic: steel on timber 0.20 x 300 kN / 1.5 = 40 kN.
    #[test]
    fn verify_friction() {
        let column = [Surface::Steel, Surface::Timber, Surface::Concrete];
        let free = restraint(RestraintKind::None, None, None);
        let found = |h: f64, surfaces: &[Surface], restraint: Option<&Restraint>| {
            let sliding = Sliding { surfaces, horizontal: kn(h), least: kn(300.0) };
            friction_check(&mut NoLines, &sliding, restraint, "restraint").status()
        };
        assert_eq!(found(40.0, &column, Some(&free)), Status::Pass);
        assert_eq!(found(40.1, &column, Some(&free)), Status::Fail);
        assert_eq!(found(40.1, &column, None), Status::NotChecked);
        assert_eq!(found(40.0, &column, None), Status::Pass);
        let bare = [Surface::Steel, Surface::Steel, Surface::Concrete];
        assert_eq!(found(0.1, &bare, Some(&free)), Status::Fail);
        let guides = restraint(RestraintKind::Guides, Some(100.0), Some(2.0));
        assert_eq!(found(40.1, &bare, Some(&guides)), Status::Pass);
        assert_eq!(found(1.0, &[Surface::Steel], Some(&free)), Status::NotChecked);
    }

    #[test]
    fn verify_restraint() {
        let found = |h: f64, given: Option<&Restraint>| {
            restraint_check(kn(h), given, Length::from_mm(25.0), "restraint").status()
        };
        let guides = restraint(RestraintKind::Guides, Some(100.0), Some(2.0));
        assert_eq!(found(100.0, Some(&guides)), Status::Pass);
        assert_eq!(found(100.1, Some(&guides)), Status::Fail);
        assert_eq!(found(1.0, Some(&restraint(RestraintKind::Lashings, Some(100.0), Some(30.0)))), Status::Fail);
        assert_eq!(found(1.0, Some(&restraint(RestraintKind::Chocks, None, Some(1.0)))), Status::NotChecked);
        assert_eq!(found(1.0, Some(&restraint(RestraintKind::Chocks, Some(5.0), None))), Status::NotChecked);
        assert_eq!(found(1.0, None), Status::NotChecked);
    }
}
