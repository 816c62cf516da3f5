//! Weight and centre of gravity from what was measured under the load.

use super::centre::{Centre, Item, Symbols, in_order, mean_range, total_range};
use super::kernel::Vec2;
use super::kernel::geometry::{HullShape, convex_hull};
use crate::check::{Ledger, Line, Lines, Source, Standing, functions};
use crate::line;
use ramwright_units::{Area, Force, ForceRange, Length, LengthRange, OilPressure, Range, Typed};
use serde::{Deserialize, Serialize};
use thiserror::Error;
use utoipa::ToSchema;

/// What was read at one point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// A load cell under the load.
    Cell {
        /// What it reads.
        load: Force,
        /// Its greatest error, as a part of full scale.
        class: f64,
        /// The greatest that it can read.
        full_scale: Force,
    },
    /// The gauge of the rams at the point.
    Pressures {
        /// What it reads while the load creeps up.
        raising: OilPressure,
        /// What it reads while the load creeps down.
        lowering: Option<OilPressure>,
        /// Effective area of all rams at the point together.
        area: Area,
        /// The greatest that the gauge can read.
        full_scale: OilPressure,
        /// Its greatest error, as a part of full scale.
        class: f64,
        /// Greatest part of the raising force that seals and guides take; used where no lowering pressure was read.
        seal_friction: Option<f64>,
    },
}

/// What the readings say about one point.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WeighedPoint {
    /// What the point carried.
    pub reaction: ForceRange,
    /// What seals and guides took, where it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seal_friction: Option<Force>,
}

/// What is made of the weighed values.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum WeighedUse {
    /// Load cells at every point: the weighed values replace those of the drawing.
    InPlaceOfDrawing,
    /// Pressures at some point: the weighed values widen those of the drawing and never take from them.
    NeverBelowDrawing,
}

/// How far the weighed values are from those of the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Misfit {
    /// Expected weighed weight over the expected one of the drawing, less 1.
    pub weight: f64,
    /// Distance in plan between the two expected centres.
    pub centre: Length,
    /// Whether the two ranges of the weight and the two boxes of the centre overlap.
    pub agrees: bool,
}

/// The weighed load.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Weighed {
    /// The points in their order.
    pub readings: Vec<WeighedPoint>,
    /// The weight by the readings alone.
    pub weighed_weight: ForceRange,
    /// The centre of gravity by the readings alone; its height is that of the drawing, for readings say nothing of it.
    pub weighed_centre: Centre,
    /// The weight to go on with.
    pub weight: ForceRange,
    /// The centre of gravity to go on with.
    pub centre: Centre,
    /// How the two to go on with were made.
    pub used: WeighedUse,
    /// How far drawing and readings are apart.
    pub misfit: Misfit,
    /// The calculation, line by line.
    pub lines: Vec<Line>,
}

/// Why the readings give no weight and centre. Points count from 0 in the order of the readings.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum WeighingError {
    /// Not as many readings as points.
    #[error("there are {positions} points and {readings} readings; every point must be read")]
    Count {
        /// Number of points.
        positions: usize,
        /// Number of readings.
        readings: usize,
    },
    /// A reading that no instrument gives.
    #[error("reading {} (in the order of the points): {what}", .point + 1)]
    Reading {
        /// The point.
        point: usize,
        /// What is wrong with it.
        what: &'static str,
    },
    /// A lowering pressure above the raising one.
    #[error(
        "reading {} (in the order of the points): the pressure when lowering is above that when raising, which friction cannot do; were they exchanged?", .point + 1
    )]
    LoweringAboveRaising {
        /// The point.
        point: usize,
    },
    /// Neither a lowering pressure nor the friction.
    #[error(
        "reading {} (in the order of the points): needs the pressure when lowering, or else `seal_friction`", .point + 1
    )]
    NoFriction {
        /// The point.
        point: usize,
    },
    /// A plan in which the reactions do not show where the centre is.
    #[error("the centre of gravity was not weighed: {why}")]
    CentreNotWeighed {
        /// Why not.
        why: &'static str,
    },
    /// Nothing was weighed.
    #[error("the least weighed total is not above zero: the readings are no more than the error of the instruments")]
    NoWeight,
    /// A drawing without a weight or a place.
    #[error("weight and centre of the drawing must be ranges in order, and its least weight above zero")]
    Drawing,
    /// Numbers so great or so small that their sums are not.
    #[error("the readings cannot be computed with")]
    NotComputable,
}

/// Weight and centre of gravity from readings at every point, held against the drawing.
///
/// Cells at every point replace the drawing. With pressures at any point, which friction falsifies, the values to go
/// on with are never below the drawing: expected and greatest weight are the greater of both, the least is the lesser,
/// and the centre lies in the box that holds both boxes, with the weighed centre as the expected one.
///
/// # Source
/// Statics; pressure x area; friction as half the difference between raising and lowering (common practice, no
/// source); extremes of a weighted average of ranges (Dong and Shah 1987, Karnik and Mendel 2001, from memory).
///
/// # Validity
/// All points read at one time, the whole load clear of everything else and level, the positions exact. Friction is
/// the same in both directions. Reactions are independent within their ranges, and no point pulls.
///
/// # Errors
/// [`WeighingError`]: a reading that cannot be, friction neither measured nor stated, fewer than three points or all
/// in line, nothing weighed, or a drawing that cannot be computed with.
pub fn weigh(
    positions: &[(Length, Length)],
    readings: &[Reading],
    drawing_weight: ForceRange,
    drawing_centre: &Centre,
) -> Result<Weighed, WeighingError> {
    require(positions, readings, &drawing_weight, drawing_centre)?;
    let mut lines = Lines::default();
    let book = &mut lines;
    let mut points = Vec::with_capacity(readings.len());
    for (point, reading) in readings.iter().enumerate() {
        points.push(reaction(book, point, reading)?);
    }
    let reactions: Vec<ForceRange> = points.iter().map(|point| point.reaction).collect();
    let weighed_weight = total_range(book, Symbols { axis: "", weight: "R" }, &reactions);
    if weighed_weight.least.n() <= 0.0 {
        return Err(WeighingError::NoWeight);
    }
    let mut along = |axis, place: fn(&(Length, Length)) -> Length| {
        let item = |(at, weight): (&(Length, Length), &ForceRange)| Item { weight: *weight, at: exact(place(at)) };
        let items: Vec<Item> = positions.iter().zip(&reactions).map(item).collect();
        mean_range(book, Symbols { axis, weight: "R" }, &items)
    };
    let (x, y) = (along("x", |at| at.0), along("y", |at| at.1));
    if !(in_order(&weighed_weight) && in_order(&x) && in_order(&y)) {
        return Err(WeighingError::NotComputable);
    }
    let weighed_centre = Centre { x, y, z: drawing_centre.z };
    let misfit = misfit(book, (&drawing_weight, drawing_centre), (&weighed_weight, &weighed_centre));
    if !(misfit.weight.is_finite() && misfit.centre.m().is_finite()) {
        return Err(WeighingError::NotComputable);
    }
    let used = if readings.iter().all(|reading| matches!(reading, Reading::Cell { .. })) {
        WeighedUse::InPlaceOfDrawing
    } else {
        WeighedUse::NeverBelowDrawing
    };
    let (weight, centre) = match used {
        WeighedUse::InPlaceOfDrawing => (weighed_weight, weighed_centre),
        WeighedUse::NeverBelowDrawing => {
            let weight = not_below(book, &drawing_weight, &weighed_weight);
            (weight, holding_both(&weighed_centre, drawing_centre))
        }
    };
    Ok(Weighed { readings: points, weighed_weight, weighed_centre, weight, centre, used, misfit, lines: lines.0 })
}

fn require(
    positions: &[(Length, Length)],
    readings: &[Reading],
    weight: &ForceRange,
    centre: &Centre,
) -> Result<(), WeighingError> {
    if positions.len() != readings.len() {
        return Err(WeighingError::Count { positions: positions.len(), readings: readings.len() });
    }
    let height = centre.z.is_none_or(|z| z.m().is_finite());
    if !(in_order(weight) && 0.0 < weight.least.n() && in_order(&centre.x) && in_order(&centre.y) && height) {
        return Err(WeighingError::Drawing);
    }
    let plan: Vec<Vec2> = positions.iter().map(|(x, y)| Vec2::new(x.m(), y.m())).collect();
    let why = match convex_hull(&plan).map_err(|_| WeighingError::NotComputable)?.shape() {
        HullShape::Polygon => return Ok(()),
        _ if positions.len() < 3 => "fewer than three points were read",
        HullShape::Empty | HullShape::Point | HullShape::Segment => {
            "all points lie in one line, so that whatever holds the load across it was not read"
        }
    };
    Err(WeighingError::CentreNotWeighed { why })
}

fn exact(at: Length) -> LengthRange {
    Range::new(at, at, at)
}

fn reaction(book: &mut impl Ledger, point: usize, reading: &Reading) -> Result<WeighedPoint, WeighingError> {
    let wrong = |what| Err(WeighingError::Reading { point, what });
    let (class, within_scale) = match *reading {
        Reading::Cell { load, class, full_scale } => (class, on_scale(load, full_scale)),
        Reading::Pressures { raising, lowering, class, full_scale, .. } => {
            (class, on_scale(raising, full_scale) && lowering.is_none_or(|low| on_scale(low, full_scale)))
        }
    };
    if !(0.0..1.0).contains(&class) {
        return wrong("the class of the instrument must be from 0 to below 1, as a part of full scale");
    }
    if !within_scale {
        return wrong("what was read must lie between zero and full scale");
    }
    let weighed = match *reading {
        Reading::Cell { load, class, full_scale } => cell(book, point, load, class, full_scale),
        Reading::Pressures { area, .. } if !(0.0 < area.m2() && area.m2().is_finite()) => {
            return wrong("the effective area must be above zero");
        }
        Reading::Pressures { raising, lowering: Some(lowering), area, full_scale, class, .. } => {
            if raising < lowering {
                return Err(WeighingError::LoweringAboveRaising { point });
            }
            both_ways(book, point, (raising, lowering), area, full_scale * class)
        }
        Reading::Pressures { raising, lowering: None, area, full_scale, class, seal_friction } => {
            let friction = seal_friction.ok_or(WeighingError::NoFriction { point })?;
            if !(0.0..1.0).contains(&friction) {
                return wrong("`seal_friction` must be from 0 to below 1, as a part of the raising force");
            }
            raising_only(book, point, raising, area, full_scale * class, friction)
        }
    };
    if in_order(&weighed.reaction) { Ok(weighed) } else { Err(WeighingError::NotComputable) }
}

/// Whether a value lies between zero and a finite full scale above zero.
fn on_scale<T: Typed>(value: T, full_scale: T) -> bool {
    full_scale.si().is_finite() && 0.0 < full_scale.si() && 0.0 <= value.si() && value.si() <= full_scale.si()
}

fn at_point(point: usize, text: &str, standing: Standing) -> Source {
    Source { text: format!("reading {} (in the order of the points): {text}", point + 1).into(), standing }
}

const CLASS: &str = "the error is class x full scale, wherever it reads; no point pulls";

fn cell(book: &mut impl Ledger, point: usize, load: Force, class: f64, full_scale: Force) -> WeighedPoint {
    let source = || at_point(point, CLASS, Standing::Stated);
    let least = line!(book, R_min: Force = max(R - c * R_fs, O); R = load, c = class, R_fs = full_scale, O = Force::ZERO; source());
    let greatest = line!(book, R_max: Force = R + c * R_fs; R = load, c = class, R_fs = full_scale; source());
    WeighedPoint { reaction: Range::new(least, load, greatest), seal_friction: None }
}

/// Raising, friction acts against the rams: `p_u A = R + F`. Lowering, it acts with them: `p_d A = R - F`.
fn both_ways(
    book: &mut impl Ledger,
    point: usize,
    (raising, lowering): (OilPressure, OilPressure),
    area: Area,
    error: OilPressure,
) -> WeighedPoint {
    let source =
        || at_point(point, "mean of raising and lowering, friction the same both ways", Standing::CommonPractice);
    let expected = line!(book, R: Force = (p_u + p_d) * A / 2.0; p_u = raising, p_d = lowering, A = area; source());
    let friction = line!(book, F: Force = (p_u - p_d) * A / 2.0; p_u = raising, p_d = lowering, A = area; source());
    // The mean of two readings of one gauge is wrong by as much as each, if both are wrong the same way.
    let class = || at_point(point, CLASS, Standing::Stated);
    let least =
        line!(book, R_min: Force = max(R - e * A, O); R = expected, e = error, A = area, O = Force::ZERO; class());
    let greatest = line!(book, R_max: Force = R + e * A; R = expected, e = error, A = area; class());
    WeighedPoint { reaction: Range::new(least, expected, greatest), seal_friction: Some(friction) }
}

fn raising_only(
    book: &mut impl Ledger,
    point: usize,
    raising: OilPressure,
    area: Area,
    error: OilPressure,
    friction: f64,
) -> WeighedPoint {
    let source =
        || at_point(point, "friction takes between nothing and its stated part of the raising force", Standing::Stated);
    let expected = line!(book, R: Force = p_u * A * (1.0 - f / 2.0); p_u = raising, A = area, f = friction; source());
    let least = line!(book, R_min: Force = max((p_u - e) * A * (1.0 - f), O); p_u = raising, e = error, A = area, f = friction, O = Force::ZERO; source());
    let greatest = line!(book, R_max: Force = (p_u + e) * A; p_u = raising, e = error, A = area; source());
    WeighedPoint { reaction: Range::new(least, expected, greatest), seal_friction: None }
}

/// The weight to go on with where the readings may be falsified by friction.
fn not_below(book: &mut impl Ledger, drawing: &ForceRange, weighed: &ForceRange) -> ForceRange {
    const RULE: Source =
        Source::common_practice("pressures never lower the weight below the drawing, nor narrow its tolerance");
    let least = line!(book, W_least: Force = min(W_r, W_d); W_r = weighed.least, W_d = drawing.least; RULE);
    let expected = line!(book, W_expected: Force = max(W_r, W_d); W_r = weighed.expected, W_d = drawing.expected; RULE);
    let greatest = line!(book, W_greatest: Force = max(W_r, W_d); W_r = weighed.greatest, W_d = drawing.greatest; RULE);
    Range::new(least, expected, greatest)
}

fn holding_both(weighed: &Centre, drawing: &Centre) -> Centre {
    let both = |weighed: &LengthRange, drawing: &LengthRange| {
        let least = functions::min(weighed.least, drawing.least);
        Range::new(least, weighed.expected, functions::max(weighed.greatest, drawing.greatest))
    };
    Centre { x: both(&weighed.x, &drawing.x), y: both(&weighed.y, &drawing.y), z: drawing.z }
}

fn misfit(book: &mut impl Ledger, drawing: (&ForceRange, &Centre), weighed: (&ForceRange, &Centre)) -> Misfit {
    let weight = line!(book, m: f64 = W_r / W_d - 1.0; W_r = weighed.0.expected, W_d = drawing.0.expected;
        Source::definition("expected weight by the readings against that of the drawing"));
    let (from, to) = (drawing.1, weighed.1);
    let off = |from: &LengthRange, to: &LengthRange| (to.expected - from.expected).m();
    let centre = Length::from_m(libm::hypot(off(&from.x, &to.x), off(&from.y, &to.y)));
    let agrees = overlap(drawing.0, weighed.0) && overlap(&from.x, &to.x) && overlap(&from.y, &to.y);
    Misfit { weight, centre, agrees }
}

fn overlap<T: PartialOrd>(a: &Range<T>, b: &Range<T>) -> bool {
    a.least <= b.greatest && b.least <= a.greatest
}

#[cfg(test)]
mod tests;
