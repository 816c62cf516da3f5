//! Why there is no plan, as the first reason that applies, and the least changes that cure it.

use super::bounds::{Climb, Profiles, Supply, climb, climb_by};
use super::cycles::{Fewest, fewest};
use super::meter::{Halt, Meter};
use super::model::Model;
use super::problem::{Goal, KindSet, LENGTH_MAX, PieceType, Problem, Restack, Use};
use super::stacks::Stacks;

/// Which stack a reason speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Stack {
    /// Under the ram.
    Base,
    /// Under the load.
    Holding,
}

/// A change that cures a reason, each on its own. After it another reason may show, except where the reason says so.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Cure {
    /// So many more pieces of a kind per point.
    MorePieces {
        /// Index of the kind.
        piece: usize,
        /// Pieces per point.
        count: u32,
    },
    /// So much more usable stroke, in tenths of a millimetre.
    MoreStroke(i64),
    /// So much more over-jack allowance, in tenths of a millimetre.
    MoreAllowance(i64),
    /// An entry gap over the ram so much smaller, in tenths of a millimetre.
    SmallerEntryGap(i64),
    /// A gap for packing pieces so much smaller, in tenths of a millimetre.
    SmallerPackingGap(i64),
    /// A limit so much higher, in tenths of a millimetre.
    HigherLimit(Stack, i64),
}

/// Why there is no plan. The first that applies is given, in this order. Cures that could not be computed within the
/// effort are left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Reason {
    /// The closed ram does not go under the load, even with nothing beneath it.
    RamDoesNotEnter {
        /// Closed height, plates or gap must come down by this much in all, in tenths of a millimetre.
        short_by: i64,
    },
    /// No piece for the holding stack is thin enough to follow the load up, and the job cannot end on collars.
    NoPieceThinEnough {
        /// Thickness of the thinnest, in tenths of a millimetre; `None` if there is no such piece at all.
        thinnest: Option<i64>,
        /// Greatest thickness that the gaps allow, in tenths of a millimetre.
        greatest_thickness: i64,
    },
    /// Even with unlimited pieces the load comes to a halt: the stroke is too short for gaps and settlement.
    NoProgress {
        /// Greatest settled rise, in tenths of a millimetre.
        furthest_rise: i64,
        /// The least stroke with which unlimited pieces do.
        cures: Vec<Cure>,
    },
    /// Even with unlimited pieces a height limit ends the climb.
    HeightLimit {
        /// The stack whose limit does; if both do, the base stack.
        stack: Stack,
        /// Greatest settled rise, in tenths of a millimetre.
        furthest_rise: i64,
        /// The least higher limit with which unlimited pieces do.
        cures: Vec<Cure>,
    },
    /// All pieces together do not make the last stack.
    StockTooShort {
        /// The stack that cannot be made.
        stack: Stack,
        /// Loaded height that is missing, in tenths of a millimetre.
        short_by: i64,
        /// More pieces of one kind that make it.
        cures: Vec<Cure>,
    },
    /// No stack ends inside the over-jack allowance.
    NoStackInAllowance {
        /// The greatest settled rise below the wanted one, in tenths of a millimetre; `None` if all stacks are too low to rest on.
        below: Option<i64>,
        /// More allowance, or more pieces of one kind, with which one does.
        cures: Vec<Cure>,
    },
    /// The pieces run out on the way.
    PiecesRunOut {
        /// Whether each stack having all pieces to itself would do; `None` if that was not found out.
        shared: Option<bool>,
        /// Greatest settled rise that can be reached, in tenths of a millimetre; for an end on packing it may lie within the wanted heights only if nothing else is missing.
        furthest_rise: i64,
        /// Changes after which there is a plan.
        cures: Vec<Cure>,
    },
}

/// States for one trial of a change.
const STATES_PER_TRIAL: u64 = 2_000_000;
/// States for all trials of one reason that needs searches.
pub(super) const STATES_FOR_CURES: u64 = 20_000_000;
/// Pieces of one kind tried at most.
const MORE_PIECES_MAX: u32 = 64;
/// The same where each trial is a search.
const MORE_PIECES_SEARCHED: u32 = 3;
/// Stacks listed at most in a trial.
const STACKS_PER_TRIAL: usize = 200_000;

/// Reasons that show without a search, and otherwise how far the stacks come when taken apart.
pub(super) fn before_search(
    problem: &Problem,
    model: &Model,
    meter: &mut Meter<'_>,
) -> Result<Result<Climb, Reason>, Halt> {
    if model.entry_at_start < 0 {
        return Ok(Err(Reason::RamDoesNotEnter { short_by: -model.entry_at_start }));
    }
    if let Some(reason) = none_thin_enough(problem) {
        return Ok(Err(reason));
    }
    // What can be climbed as it is needs no reason; most problems can.
    let real = Profiles::new(model, Supply::REAL, meter)?;
    let climbed = climb_by(model, &real, meter)?;
    if climbed.cycles.is_some() {
        return Ok(Ok(climbed));
    }
    let endless = Supply { unlimited: true, base_limit: false, holding_limit: false };
    let free = climb(model, endless, meter)?;
    if free.cycles.is_none() {
        let cures = least(LENGTH_MAX - problem.usable_stroke, meter, |more, meter| {
            let usable_stroke = problem.usable_stroke + more;
            climbs(&Problem { usable_stroke, ..problem.clone() }, endless, meter)
        })?;
        let mut cures: Vec<Cure> = cures.map(Cure::MoreStroke).into_iter().collect();
        cures.extend(smaller_gaps(problem, meter, |changed, meter| climbs(changed, endless, meter))?);
        return Ok(Err(Reason::NoProgress { furthest_rise: free.furthest, cures }));
    }
    if let Some(reason) = limited(problem, model, meter)? {
        return Ok(Err(reason));
    }
    if let Some(reason) = stock_short(problem, model, &real, meter)? {
        return Ok(Err(reason));
    }
    Ok(Ok(climbed))
}

fn none_thin_enough(problem: &Problem) -> Option<Reason> {
    if problem.restack != Restack::AddOnly || problem.ends_on_collars.is_some() {
        return None;
    }
    let held = problem.pieces.iter().filter(|piece| piece.use_.in_holding() && 0 < piece.stock_per_point);
    let thinnest = held.map(|piece| piece.thickness).min();
    let greatest_thickness = problem.follow_up_gap - problem.packing_gap;
    let enough = thinnest.is_some_and(|thickness| thickness <= greatest_thickness);
    (!enough).then_some(Reason::NoPieceThinEnough { thinnest, greatest_thickness })
}

/// Whether a changed problem can be climbed with its stacks apart.
fn climbs(problem: &Problem, supply: Supply, meter: &mut Meter<'_>) -> Result<bool, Halt> {
    let Ok(model) = Model::new(problem) else { return Ok(false) };
    Ok(climb(&model, supply, meter)?.cycles.is_some())
}

fn limited(problem: &Problem, model: &Model, meter: &mut Meter<'_>) -> Result<Option<Reason>, Halt> {
    let both = Supply { unlimited: true, base_limit: true, holding_limit: true };
    let limited = climb(model, both, meter)?;
    if limited.cycles.is_some() {
        return Ok(None);
    }
    let only_base = Supply { holding_limit: false, ..both };
    let base_stops = climb(model, only_base, meter)?.cycles.is_none();
    let (stack, supply) = if base_stops { (Stack::Base, only_base) } else { (Stack::Holding, both) };
    let limit_of = |piece: &PieceType| if base_stops { piece.base_height_limit } else { piece.holding_height_limit };
    let raised = |more: i64| {
        let mut raised = problem.clone();
        for piece in &mut raised.pieces {
            match stack {
                Stack::Base => piece.base_height_limit += more,
                Stack::Holding => piece.holding_height_limit += more,
            }
        }
        raised
    };
    let highest = problem.pieces.iter().map(limit_of).max().unwrap_or(0);
    let more = least(LENGTH_MAX - highest, meter, |more, meter| climbs(&raised(more), supply, meter))?;
    let cures = more.map(|more| Cure::HigherLimit(stack, more)).into_iter().collect();
    Ok(Some(Reason::HeightLimit { stack, furthest_rise: limited.furthest, cures }))
}

/// What the last stacks lack, if anything.
fn missing(model: &Model, Profiles { base, holding }: &Profiles) -> Option<(Stack, i64)> {
    let last = holding.lowest_for(model.rise_least + model.packing_clearance);
    let demand = match (last.map(|height| model.demand(height)), model.collar_demand) {
        (None, None) => {
            let short = model.rise_least - model.rise(holding.greatest());
            return Some((Stack::Holding, short));
        }
        (Some(demand), None) | (None, Some(demand)) => demand,
        (Some(packing), Some(collars)) => packing.min(collars),
    };
    let short = demand - base.greatest();
    (0 < short).then_some((Stack::Base, short))
}

fn stock_short(
    problem: &Problem,
    model: &Model,
    real: &Profiles,
    meter: &mut Meter<'_>,
) -> Result<Option<Reason>, Halt> {
    let Some((stack, short_by)) = missing(model, real) else { return Ok(None) };
    let cures = more_pieces(problem, MORE_PIECES_MAX, meter, |changed, meter| {
        let Ok(model) = Model::new(changed) else { return Ok(false) };
        let real = Profiles::new(&model, Supply::REAL, meter)?;
        Ok(missing(&model, &real).is_none_or(|(still, _)| still != stack))
    })?;
    Ok(Some(Reason::StockTooShort { stack, short_by, cures }))
}

/// No listed stack ends the job.
pub(super) fn no_end(
    problem: &Problem,
    model: &Model,
    stacks: &Stacks,
    meter: &mut Meter<'_>,
) -> Result<Option<Reason>, Halt> {
    let list = 0..stacks.holding.len();
    if model.collar_demand.is_some() || list.clone().any(|stack| stacks.ends(model, stack)) {
        return Ok(None);
    }
    let rises = list.filter(|&stack| stacks.rests(model, stack)).map(|stack| stacks.rise(model, stack));
    let below = rises.filter(|&rise| rise < model.rise_least).max();
    let ends = |changed: &Problem, meter: &mut Meter<'_>| {
        let Ok(model) = Model::new(changed) else { return Ok(false) };
        let Some(stacks) = Stacks::new(&model, STACKS_PER_TRIAL, meter)? else { return Err(Halt::Effort) };
        Ok((0..stacks.holding.len()).any(|stack| stacks.ends(&model, stack)))
    };
    let allowance = least(LENGTH_MAX - problem.allowance, meter, |more, meter| {
        ends(&Problem { allowance: problem.allowance + more, ..problem.clone() }, meter)
    })?;
    let mut cures: Vec<Cure> = allowance.map(Cure::MoreAllowance).into_iter().collect();
    cures.extend(more_pieces(problem, MORE_PIECES_SEARCHED, meter, ends)?);
    Ok(Some(Reason::NoStackInAllowance { below, cures }))
}

/// The search found no plan.
pub(super) fn run_out(problem: &Problem, furthest_rise: i64, meter: &mut Meter<'_>) -> Result<Reason, Halt> {
    let shared = attempt(meter, |meter| solvable(&apart(problem), meter))?;
    let mut cures = more_pieces(problem, MORE_PIECES_SEARCHED, meter, solvable)?;
    let stroke = least(LENGTH_MAX - problem.usable_stroke, meter, |more, meter| {
        solvable(&Problem { usable_stroke: problem.usable_stroke + more, ..problem.clone() }, meter)
    })?;
    cures.extend(stroke.map(Cure::MoreStroke));
    let allowance = least(LENGTH_MAX - problem.allowance, meter, |more, meter| {
        solvable(&Problem { allowance: problem.allowance + more, ..problem.clone() }, meter)
    })?;
    cures.extend(allowance.map(Cure::MoreAllowance));
    cures.extend(smaller_gaps(problem, meter, solvable)?);
    Ok(Reason::PiecesRunOut { shared, furthest_rise, cures })
}

/// The problem with each kind that goes into either stack given to both, each with the whole stock, and any kinds together.
fn apart(problem: &Problem) -> Problem {
    let free = |piece: &PieceType, use_: Use| PieceType {
        use_,
        base_apart: KindSet::default(),
        holding_apart: KindSet::default(),
        spread_by: KindSet::default(),
        ..piece.clone()
    };
    let split = |piece: &PieceType| match piece.use_ {
        Use::Either => [Use::Base, Use::Holding].map(|use_| free(piece, use_)).to_vec(),
        Use::Base | Use::Holding => vec![free(piece, piece.use_)],
    };
    // What ends the job is not told apart by place.
    let (goal, base_needs) = (Goal::Window, None);
    Problem { pieces: problem.pieces.iter().flat_map(split).collect(), goal, base_needs, ..problem.clone() }
}

/// Whether a changed problem has a plan.
fn solvable(problem: &Problem, meter: &mut Meter<'_>) -> Result<bool, Halt> {
    let Ok(model) = Model::new(problem) else { return Err(Halt::Effort) };
    if model.entry_at_start < 0 {
        return Ok(false);
    }
    let Some(lower_bound) = climb(&model, Supply::REAL, meter)?.cycles else { return Ok(false) };
    let Some(stacks) = Stacks::new(&model, STACKS_PER_TRIAL, meter)? else { return Err(Halt::Effort) };
    match fewest(&model, &stacks, lower_bound, meter)? {
        Fewest::Found(_) => Ok(true),
        Fewest::Never { .. } => Ok(false),
        Fewest::Unknown { .. } => Err(Halt::Effort),
    }
}

/// One trial; `None` if it takes too much effort, or if no changes are sought.
fn attempt<'a>(
    meter: &mut Meter<'a>,
    trial: impl FnOnce(&mut Meter<'a>) -> Result<bool, Halt>,
) -> Result<Option<bool>, Halt> {
    if !meter.seeks_cures() {
        return Ok(None);
    }
    match meter.part(STATES_PER_TRIAL, trial) {
        Ok(answer) => Ok(Some(answer)),
        Err(Halt::Effort) => Ok(None),
        Err(Halt::Stopped) => Err(Halt::Stopped),
    }
}

/// Least change, in whole tenths up to `most`, for which a trial that stays true once true succeeds.
fn least<'a>(
    most: i64,
    meter: &mut Meter<'a>,
    trial: impl Fn(i64, &mut Meter<'a>) -> Result<bool, Halt>,
) -> Result<Option<i64>, Halt> {
    let mut fails = 0;
    let mut works = 1;
    loop {
        works = works.min(most);
        match attempt(meter, |meter| trial(works, meter))? {
            Some(true) => break,
            Some(false) if works < most => (fails, works) = (works, 2 * works),
            _ => return Ok(None),
        }
    }
    while 1 < works - fails {
        let middle = fails + (works - fails) / 2;
        match attempt(meter, |meter| trial(middle, meter))? {
            Some(true) => works = middle,
            Some(false) => fails = middle,
            None => return Ok(None),
        }
    }
    Ok(Some(works))
}

/// The gaps by how much smaller, each on its own, for a trial to succeed.
fn smaller_gaps<'a>(
    problem: &Problem,
    meter: &mut Meter<'a>,
    trial: impl Fn(&Problem, &mut Meter<'a>) -> Result<bool, Halt>,
) -> Result<Vec<Cure>, Halt> {
    let entry = least(problem.ram_gap, meter, |less, meter| {
        trial(&Problem { ram_gap: problem.ram_gap - less, ..problem.clone() }, meter)
    })?;
    let packing = least(problem.packing_gap, meter, |less, meter| {
        trial(&Problem { packing_gap: problem.packing_gap - less, ..problem.clone() }, meter)
    })?;
    let both = [entry.map(Cure::SmallerEntryGap), packing.map(Cure::SmallerPackingGap)];
    Ok(both.into_iter().flatten().collect())
}

/// For each kind, the fewest more pieces with which a trial succeeds.
fn more_pieces<'a>(
    problem: &Problem,
    most: u32,
    meter: &mut Meter<'a>,
    trial: impl Fn(&Problem, &mut Meter<'a>) -> Result<bool, Halt>,
) -> Result<Vec<Cure>, Halt> {
    let mut cures = Vec::new();
    for piece in 0..problem.pieces.len() {
        let count = least(i64::from(most), meter, |more, meter| {
            let mut changed = problem.clone();
            for kind in changed.pieces.iter_mut().skip(piece).take(1) {
                kind.stock_per_point = kind.stock_per_point.saturating_add(u32::try_from(more).unwrap_or(most));
            }
            trial(&changed, meter)
        })?;
        cures.extend(count.and_then(|count| u32::try_from(count).ok()).map(|count| Cure::MorePieces { piece, count }));
    }
    Ok(cures)
}
