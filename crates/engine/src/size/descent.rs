//! Sets whose models or numbers differ from point to point: every combination that could still be listed.

use super::hunt::Hunt;
use super::trial::{Choice, Job};
use crate::check::CheckId;
use crate::packing_lift::Stopped;

/// Sets held against every check at most.
const MOST_TRIED: u32 = 2_000;
/// Choices looked at at most.
const MOST_LOOKED_AT: u32 = 2_000_000;
/// By how much the hire of rams hired together may lie below the sum of its parts, each rounded to the cent.
const CENT: f64 = 0.01;

/// What may stand at a point.
#[derive(Clone, Copy)]
struct AtPoint {
    choice: Choice,
    utilisation: f64,
}

/// The least that the points which are still open add.
#[derive(Clone, Copy, Default)]
pub(super) struct Open {
    pub(super) rams: f64,
    pub(super) mass: f64,
    pub(super) cost: f64,
}

/// What may stand at each point, and the least of it from each point on.
struct Lists {
    at: Vec<Vec<AtPoint>>,
    open: Vec<Open>,
}

/// How much has been done.
#[derive(Default)]
pub(super) struct Spent {
    tried: u32,
    looked_at: u32,
}

/// From which point on sets were left out that nothing refused; none so far where it is the number of points.
struct LeftOut(usize);

impl LeftOut {
    /// Leaves out whatever stands at the points from this one on.
    fn from(&mut self, point: usize) {
        self.0 = self.0.min(point);
    }
}

impl Spent {
    fn is_all(&self) -> bool {
        MOST_TRIED <= self.tried || MOST_LOOKED_AT <= self.looked_at
    }
}

/// One model everywhere, as many of it at each point as it takes there or more.
pub(super) fn by_point(hunt: &mut Hunt<'_>) -> Result<(), Stopped> {
    let mut spent = Spent::default();
    (0..hunt.job.input.rams.len()).try_for_each(|ram| descend(hunt, std::iter::once(ram), &mut spent))
}

/// Any model and any number at each point.
pub(super) fn mixed(hunt: &mut Hunt<'_>) -> Result<(), Stopped> {
    descend(hunt, 0..hunt.job.input.rams.len(), &mut Spent::default())
}

fn descend(hunt: &mut Hunt<'_>, rams: impl Iterator<Item = usize>, spent: &mut Spent) -> Result<(), Stopped> {
    let at = choices(hunt.job, rams);
    if at.iter().any(Vec::is_empty) {
        return Ok(());
    }
    let open = open(hunt.job, &at);
    let lists = Lists { at, open };
    let mut left_out = LeftOut(lists.at.len());
    choose(hunt, &lists, (&mut Vec::new(), 0.0), (spent, &mut left_out))?;
    // What could have stood there was not refused.
    let choices = lists.at.iter().skip(left_out.0).flatten().map(|at| at.choice);
    hunt.misses.keep(&choices.collect::<Vec<_>>());
    Ok(())
}

/// What could stand at each point by its capacity and closed height there, fewest rams first.
fn choices(job: &Job<'_>, rams: impl Iterator<Item = usize>) -> Vec<Vec<AtPoint>> {
    let points = job.input.case.points.len();
    let mut lists: Vec<Vec<AtPoint>> = vec![Vec::new(); points];
    for ram in rams {
        let mut set = job.set(&vec![(ram, 1); points]);
        for count in 1..=job.input.settings.rams_per_point {
            set.at_points.iter_mut().for_each(|placed| placed.count = count);
            for (at, list) in lists.iter_mut().enumerate() {
                let holds = |id| job.at_one_point(&set, id, at);
                if let (Ok(utilisation), Ok(_)) = (holds(CheckId::Capacity), holds(CheckId::ClosedHeight)) {
                    list.push(AtPoint { choice: (ram, count), utilisation });
                }
            }
        }
    }
    for list in &mut lists {
        list.sort_by_key(|at| (at.choice.1, at.choice.0));
    }
    lists
}

/// For each point and for the end: the least that the points from there on add.
fn open(job: &Job<'_>, lists: &[Vec<AtPoint>]) -> Vec<Open> {
    let mut open = vec![Open::default()];
    for list in lists.iter().rev() {
        let least = |figure: &dyn Fn(&Choice) -> Option<f64>| {
            list.iter().filter_map(|at| figure(&at.choice)).reduce(f64::min).unwrap_or(0.0)
        };
        let after = open.last().copied().unwrap_or_default();
        let hire = |choice: &Choice| job.hire(&[*choice]).map(|hire| (hire - CENT).max(0.0));
        open.push(Open {
            rams: after.rams + least(&|(_, count)| Some(f64::from(*count))),
            mass: after.mass + least(&|choice| job.mass(&[*choice])),
            cost: after.cost + least(&hire),
        });
    }
    open.reverse();
    open
}

/// Goes on at the first point that is open, leaving out what cannot be listed whatever stands at the others.
fn choose(
    hunt: &mut Hunt<'_>,
    lists: &Lists,
    (chosen, worked): (&mut Vec<Choice>, f64),
    (spent, left_out): (&mut Spent, &mut LeftOut),
) -> Result<(), Stopped> {
    let Some(list) = lists.at.get(chosen.len()) else {
        // Sets that are the same everywhere were looked at before.
        if chosen.iter().any(|choice| Some(choice) != chosen.first()) {
            spent.tried += 1;
            hunt.attempt(chosen)?;
        }
        return Ok(());
    };
    for at in list {
        if hunt.job.effort.stopped() {
            return Err(Stopped);
        }
        if spent.is_all() {
            hunt.complete = false;
            hunt.misses.keep(chosen);
            left_out.from(chosen.len());
            return Ok(());
        }
        spent.looked_at += 1;
        chosen.push(at.choice);
        let worked = worked.max(at.utilisation);
        let open = lists.open.get(chosen.len()).copied().unwrap_or_default();
        let bound = hunt.job.bound_with(chosen, open, (worked, hunt.job.fewest_lifts(chosen)));
        if hunt.front.rules_out(&bound) {
            hunt.leave_out(chosen, completions(lists, chosen));
            left_out.from(chosen.len());
        } else if within_stock(hunt.job, chosen) {
            choose(hunt, lists, (chosen, worked), (spent, left_out))?;
        }
        chosen.pop();
    }
    Ok(())
}

/// Whether the yard has as many of each model as are chosen so far, as far as its stock is known: more of them only take more.
fn within_stock(job: &Job<'_>, chosen: &[Choice]) -> bool {
    chosen.iter().all(|(ram, _)| {
        let taken = chosen.iter().filter(|(other, _)| other == ram).fold(0, |sum: u32, (_, n)| sum.saturating_add(*n));
        job.input.rams.get(*ram).and_then(|ram| ram.stock).is_none_or(|stock| taken <= stock)
    })
}

/// How many sets begin with these choices, beside the one that is the same everywhere, which was looked at before.
fn completions(lists: &Lists, chosen: &[Choice]) -> u64 {
    let mut rest = lists.at.iter().skip(chosen.len());
    let lengths = rest.clone().map(|list| u64::try_from(list.len()).unwrap_or(u64::MAX));
    let all = lengths.fold(1, u64::saturating_mul);
    let alike = chosen.first().is_some_and(|first| {
        let has = |list: &Vec<AtPoint>| list.iter().any(|at| at.choice == *first);
        chosen.iter().all(|choice| choice == first) && rest.all(has)
    });
    all.saturating_sub(u64::from(alike))
}
