//! The load case of a request: one of the valid ways to state it, or the contradictions in it.

mod actions;
mod centre;
mod estimate;
mod frame;
mod girder;
mod load;
mod parts;
mod phases;
mod point;
mod rule;
mod stated;
mod weighed;

use super::case_wire::{LoadCaseSent, PointSent};
use super::context::Context;
use crate::problem::FaultCode;
use crate::read::Pointer;
use ramwright_engine::check::{Lines, Source};
use ramwright_engine::load::{JackingPoint, LoadCase, Record, Sharing, Task, point_order};
use ramwright_units::{Force, Range};

const PRACTICE: Source = Source::common_practice("common practice, no source");
/// Two positions nearer than this are one place.
const SAME_PLACE_M: f64 = 1e-6;

/// The engine's load case, with the points in their order.
pub(crate) fn parse_case(sent: &LoadCaseSent, context: &mut Context<'_>) -> Option<LoadCase> {
    let at = Pointer::default().field("load_case");
    unique_points(sent, &at, context);
    let task = sent.task.unwrap_or(Task::Raise);
    if sent.task.is_none() {
        context.assume_choice(&at.field("task"), "a load is raised", Source::definition("default task"));
    }
    let mut order: Vec<usize> = (0..sent.points.0.len()).collect();
    let id = |index: &usize| sent.points.0.get(*index).map_or("", |point| point.id.0.as_str());
    order.sort_by(|a, b| point_order(id(a), id(b)));
    let points: Vec<&PointSent> = order.iter().filter_map(|index| sent.points.0.get(*index)).collect();
    let reader = Reader { sent, at: &at, points: &points, order: &order };
    let load = match task {
        Task::Raise => {
            reader.nothing_of_frames(context);
            reader.raised(context)
        }
        Task::Press | Task::Pull => reader.in_frame(context),
    };
    let actions = reader.actions(task, context);
    let mut lines = Lines::default();
    let jacking_points: Vec<JackingPoint> = points
        .iter()
        .zip(&order)
        .map(|(point, index)| reader.jacking_point(point, *index, task, &mut lines, context))
        .collect();
    let Load { weight, sharing, mut record } = load?;
    record.lines.extend(lines.0);
    Some(LoadCase {
        task,
        weight,
        sharing,
        actions: actions?,
        points: jacking_points,
        travel: sent.travel.get(),
        record,
    })
}

/// A weight, how it comes to the points, and how both were come by.
struct Load {
    weight: Range<Force>,
    sharing: Sharing,
    record: Record,
}

struct Reader<'s> {
    sent: &'s LoadCaseSent,
    at: &'s Pointer,
    /// The points in their order.
    points: &'s [&'s PointSent],
    /// Where each of them stands in the request.
    order: &'s [usize],
}

impl Reader<'_> {
    /// The place of a point of the request, by its index there.
    fn point_at(&self, index: usize) -> Pointer {
        self.at.field("points").item(index)
    }

    /// The index of a point in its order.
    fn index_of(&self, id: &str) -> Option<usize> {
        self.points.iter().position(|point| point.id.0 == id)
    }

    /// Notes fields that mean nothing beside what else is given.
    fn not_used(&self, fields: &[(bool, &str)], detail: &str, hint: &str, context: &mut Context<'_>) {
        for (_, name) in fields.iter().filter(|(given, _)| *given) {
            context.inconsistent(&self.at.field(name), detail, hint);
        }
    }
}

fn unique_points(sent: &LoadCaseSent, at: &Pointer, context: &mut Context<'_>) {
    for (index, point) in sent.points.0.iter().enumerate() {
        let here = at.field("points").item(index);
        let earlier = || sent.points.0.iter().take(index);
        if earlier().any(|other| other.id == point.id) {
            let fault =
                here.field("id").fault(FaultCode::DuplicateId, format!("the id `{}` is given twice", point.id.0));
            context.faults.push(fault.with_given(point.id.0.as_str()));
        }
        if let Some(other) = earlier().find(|other| same_place(other, point)) {
            let detail = format!("it stands at the same place as point `{}`", other.id.0);
            context.inconsistent(&here.field("x"), detail, "points differ in x or y");
        }
    }
}

fn same_place(a: &PointSent, b: &PointSent) -> bool {
    match (&a.x, &a.y, &b.x, &b.y) {
        (Some(ax), Some(ay), Some(bx), Some(by)) => {
            (ax.get() - bx.get()).m().abs() < SAME_PLACE_M && (ay.get() - by.get()).m().abs() < SAME_PLACE_M
        }
        _ => false,
    }
}
