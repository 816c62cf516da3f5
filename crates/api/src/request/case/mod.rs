//! The load case of a request: one of the valid ways to state it, or the contradictions in it.

use super::context::Context;
use super::wire::{CentreSent, LoadCaseSent, PointSent};
use super::words::{BaseWord, DataOrigin, HeadWord, SharingWord};
use crate::problem::FaultCode;
use crate::read::Pointer;
use crate::sent::Sent;
use ramwright_engine::check::Source;
use ramwright_engine::defaults::HORIZONTAL_SHARE;
use ramwright_engine::load::{
    Centre, Horizontal, JackingPoint, Level, LoadCase, Placed, Rule, Sharing, StatedShare, Task, point_order,
};
use ramwright_engine::ram::{BaseFixity, Head, Pad};
use ramwright_engine::remark::Caution;
use ramwright_units::{Force, Length, Range, Typed};

const PRACTICE: Source = Source::common_practice("common practice, no source");
/// Two positions nearer than this are one place.
const SAME_PLACE_M: f64 = 1e-6;
/// By how much a stated weight may differ from the sum of stated reactions.
const MISFIT: f64 = 0.001;

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
    let reader = Reader { sent, at: &at, points: &points };
    let (weight, sharing) = match task {
        Task::Raise => reader.raised(context)?,
        Task::Press | Task::Pull => reader.in_frame(context)?,
    };
    let horizontal = reader.horizontal(task, context)?;
    let jacking_points: Vec<JackingPoint> = points
        .iter()
        .zip(&order)
        .map(|(point, index)| jacking_point(point, task, &at.field("points").item(*index), context))
        .collect();
    Some(LoadCase { task, weight, sharing, horizontal, points: jacking_points, travel: sent.travel.get() })
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

fn jacking_point(sent: &PointSent, task: Task, here: &Pointer, context: &mut Context<'_>) -> JackingPoint {
    let base = match (sent.base, &sent.base_stiffness) {
        (Some(BaseWord::Steel | BaseWord::Concrete), Some(_)) => {
            let hint = "leave the stiffness out, or use the base \"soft\"";
            context.inconsistent(
                &here.field("base_stiffness"),
                "a base of steel or concrete counts as fixed, so a stiffness means nothing",
                hint,
            );
            BaseFixity::Unknown
        }
        (Some(BaseWord::Steel | BaseWord::Concrete), None) => BaseFixity::Fixed,
        (_, Some(stiffness)) => BaseFixity::Spring(stiffness.get()),
        (Some(BaseWord::Soft) | None, None) => BaseFixity::Unknown,
    };
    let head = match (sent.head, task) {
        (Some(HeadWord::Restrained), _) => Head::Restrained,
        (Some(HeadWord::Free), _) => Head::Free,
        (None, Task::Raise) => {
            context.assume_choice(
                &here.field("head"),
                "the ram's head is free to move sideways",
                Source::definition("the safe side"),
            );
            Head::Free
        }
        (None, Task::Press | Task::Pull) => {
            context.assume_choice(&here.field("head"), "the frame holds the ram's head sideways", PRACTICE);
            Head::Restrained
        }
    };
    JackingPoint {
        id: sent.id.0.clone(),
        clearance: sent.clearance.as_ref().map(Sent::get),
        packing_clearance: sent.packing_clearance.as_ref().map(Sent::get),
        limit: sent.limit.as_ref().map(Sent::get),
        foundation_limit: sent.foundation_limit.as_ref().map(Sent::get),
        pad: sent.pad.as_ref().map(|pad| Pad { length: pad.length.get(), width: pad.width.get() }),
        base,
        head,
    }
}

struct Reader<'s> {
    sent: &'s LoadCaseSent,
    at: &'s Pointer,
    points: &'s [&'s PointSent],
}

impl Reader<'_> {
    /// A load that is raised: by positions, equally, or as stated.
    fn raised(&self, context: &mut Context<'_>) -> Option<(Range<Force>, Sharing)> {
        if self.points.iter().any(|point| point.stated_reaction.is_some()) {
            return self.stated(context);
        }
        let weight = self.weight(context);
        let placed = self.points.iter().filter(|point| point.x.is_some() || point.y.is_some()).count();
        let sharing = match (&self.sent.centre_of_gravity, placed) {
            (None, 0) => Some(self.equal(context)),
            (Some(centre), _) => self.placed(centre, context).map(Sharing::Placed),
            (None, _) => {
                let here = self.at.field("centre_of_gravity");
                context.inconsistent(
                    &here,
                    "the points have positions, so the centre of gravity is needed",
                    "give x, y and, for the horizontal force, z",
                );
                None
            }
        };
        Some((weight?, sharing?))
    }

    /// Without positions only an equal division is possible.
    fn equal(&self, context: &mut Context<'_>) -> Sharing {
        let here = self.at.field("points");
        context.assume_choice(&here, "no positions were given: every point carries an equal share", PRACTICE);
        context.cautions.push(Caution::new(
            "equal_shares",
            "Equal shares are a guess. Under a stiff load on a rectangle of four points two diagonal points can carry it all, which is twice the equal share at each; give positions and the centre of gravity.",
        ));
        Sharing::Equal
    }

    fn weight(&self, context: &mut Context<'_>) -> Option<Range<Force>> {
        let Some(weight) = &self.sent.weight else {
            let fault = self
                .at
                .field("weight")
                .fault(FaultCode::Inconsistent, "a load that is raised has a weight, and none is given");
            context.faults.push(fault.with_hint("give it as a mass or as a force, such as \"212 t\""));
            return None;
        };
        let tolerance = self.weight_tolerance(context);
        let force = weight.get().force;
        Some(Range::new(force * (1.0 - tolerance), force, force * (1.0 + tolerance)))
    }

    fn weight_tolerance(&self, context: &mut Context<'_>) -> f64 {
        if let Some(tolerance) = &self.sent.weight_tolerance {
            return tolerance.get();
        }
        let (tolerance, text) = match self.sent.origin {
            Some(DataOrigin::Weighed) => (0.03, "the weight may be wrong by this fraction, since it was weighed"),
            Some(DataOrigin::Calculated) => (0.05, "the weight may be wrong by this fraction, since it was calculated"),
            Some(DataOrigin::Nameplate) => {
                (0.10, "the weight may be wrong by this fraction, since it is from a plate or list")
            }
            None => (0.10, "the weight may be wrong by this fraction, since nothing says where it is from"),
        };
        context.assume(&self.at.field("weight_tolerance"), text, tolerance, PRACTICE);
        tolerance
    }

    fn placed(&self, centre: &CentreSent, context: &mut Context<'_>) -> Option<Placed> {
        let positions: Option<Vec<(Length, Length)>> =
            self.points.iter().map(|point| Some((point.x.as_ref()?.get(), point.y.as_ref()?.get()))).collect();
        let rule = self.rule(context);
        let Some(positions) = positions else {
            for (index, point) in self.sent.points.0.iter().enumerate() {
                for (name, position) in [("x", &point.x), ("y", &point.y)] {
                    if position.is_none() {
                        let here = self.at.field("points").item(index).field(name);
                        context.inconsistent(
                            &here,
                            format!("the point `{}` has no {name}", point.id.0),
                            "with a centre of gravity every point needs x and y",
                        );
                    }
                }
            }
            return None;
        };
        let tolerance = self.centre_tolerance(centre, &positions, context);
        let centre = Centre { x: centre.x.get(), y: centre.y.get(), z: centre.z.as_ref().map(Sent::get), tolerance };
        Some(Placed { centre, positions, rule: rule? })
    }

    fn centre_tolerance(
        &self,
        centre: &CentreSent,
        positions: &[(Length, Length)],
        context: &mut Context<'_>,
    ) -> Length {
        if let Some(tolerance) = &centre.tolerance {
            return tolerance.get();
        }
        let (share, text) = match self.sent.origin {
            Some(DataOrigin::Weighed) => (
                0.01,
                "the centre of gravity may be wrong by this much in x and y: 1 % of the greatest distance between points, since the load was weighed",
            ),
            Some(DataOrigin::Calculated) => (
                0.025,
                "the centre of gravity may be wrong by this much in x and y: 2.5 % of the greatest distance between points, since it was calculated",
            ),
            Some(DataOrigin::Nameplate) | None => (
                0.05,
                "the centre of gravity may be wrong by this much in x and y: 5 % of the greatest distance between points, since nothing better is known",
            ),
        };
        let tolerance = greatest_distance(positions) * share;
        context.assume(&self.at.field("centre_of_gravity").field("tolerance"), text, tolerance, PRACTICE);
        tolerance
    }

    fn rule(&self, context: &mut Context<'_>) -> Option<Rule> {
        let level = match (&self.sent.level_tolerance, &self.sent.support_stiffness) {
            (Some(band), Some(stiffness)) => Some(Level { band: band.get(), stiffness: stiffness.get() }),
            (None, None) => None,
            (Some(_), None) => {
                context.inconsistent(
                    &self.at.field("support_stiffness"),
                    "a level tolerance means nothing without the stiffness of the supports",
                    "give both or neither",
                );
                return None;
            }
            (None, Some(_)) => {
                context.inconsistent(
                    &self.at.field("level_tolerance"),
                    "a stiffness of the supports means nothing without a level tolerance",
                    "give both or neither",
                );
                return None;
            }
        };
        match (self.sent.sharing, level) {
            (Some(SharingWord::Elastic), level) => Some(Rule::Elastic(level)),
            (None, Some(level)) => Some(Rule::Elastic(Some(level))),
            (Some(SharingWord::WorstEquilibrium), None) => Some(Rule::WorstEquilibrium),
            (Some(SharingWord::WorstEquilibrium), Some(_)) => {
                context.inconsistent(
                    &self.at.field("sharing"),
                    "the worst equilibrium does not use levels or stiffness",
                    "use elastic sharing, or leave level_tolerance and support_stiffness out",
                );
                None
            }
            (None, None) => Some(Rule::Automatic),
        }
    }

    /// Reactions from somebody's own analysis.
    fn stated(&self, context: &mut Context<'_>) -> Option<(Range<Force>, Sharing)> {
        self.nothing_beside_stated(context);
        let shares = self.stated_shares(context)?;
        let sum = |part: fn(&StatedShare) -> Force| shares.iter().map(part).sum::<Force>();
        let total = Range::new(sum(|share| share.least), sum(|share| share.expected), sum(|share| share.greatest));
        if let Some(weight) = &self.sent.weight {
            let misfit = (weight.get().force - total.expected) / total.expected;
            if MISFIT < misfit.abs() {
                let detail =
                    format!("the stated reactions add up to {:.4} of this weight", total.expected / weight.get().force);
                context.inconsistent(
                    &self.at.field("weight"),
                    detail,
                    "leave the weight out, or put the reactions right",
                );
            }
        }
        Some((total, Sharing::Stated(shares)))
    }

    fn nothing_beside_stated(&self, context: &mut Context<'_>) {
        let others = [
            (self.sent.centre_of_gravity.is_some(), "centre_of_gravity"),
            (self.sent.sharing.is_some(), "sharing"),
            (self.sent.level_tolerance.is_some(), "level_tolerance"),
            (self.sent.support_stiffness.is_some(), "support_stiffness"),
        ];
        for (given, name) in others {
            if given {
                context.inconsistent(
                    &self.at.field(name),
                    "with stated reactions this is not used",
                    "leave it out, or leave the stated reactions out",
                );
            }
        }
    }

    fn stated_shares(&self, context: &mut Context<'_>) -> Option<Vec<StatedShare>> {
        let needs_tolerance = self.points.iter().any(|point| {
            point.stated_reaction.as_ref().is_some_and(|stated| stated.least.is_none() || stated.greatest.is_none())
        });
        if !needs_tolerance && self.sent.weight_tolerance.is_some() {
            context.inconsistent(
                &self.at.field("weight_tolerance"),
                "every reaction states its least and greatest, so this is not used",
                "leave it out",
            );
        }
        let tolerance = if needs_tolerance { self.weight_tolerance(context) } else { 0.0 };
        let mut complete = true;
        for (index, point) in self.sent.points.0.iter().enumerate() {
            let here = self.at.field("points").item(index).field("stated_reaction");
            match &point.stated_reaction {
                None => {
                    complete = false;
                    context.inconsistent(
                        &here,
                        format!("the point `{}` has no stated reaction", point.id.0),
                        "state it for every point or for none",
                    );
                }
                Some(stated) => {
                    let range = in_range(stated, tolerance);
                    if range.expected < range.least || range.greatest < range.expected {
                        complete = false;
                        context.inconsistent(&here, "least, expected and greatest must not fall", "put them in order");
                    }
                }
            }
        }
        let shares = self.points.iter().filter_map(|point| point.stated_reaction.as_ref());
        complete.then(|| shares.map(|stated| in_range(stated, tolerance)).collect())
    }

    /// A frame: stated forces, and nothing that belongs to a load on its supports.
    fn in_frame(&self, context: &mut Context<'_>) -> Option<(Range<Force>, Sharing)> {
        let others = [
            (self.sent.weight.is_some(), "weight"),
            (self.sent.horizontal_share.is_some(), "horizontal_share"),
            (self.sent.horizontal_force.is_some(), "horizontal_force"),
        ];
        for (given, name) in others {
            if given {
                context.inconsistent(
                    &self.at.field(name),
                    "in a frame nothing is lifted, so this is not used",
                    "leave it out, or use the task \"raise\"",
                );
            }
        }
        self.nothing_beside_stated(context);
        let shares = self.stated_shares(context)?;
        let sum = |part: fn(&StatedShare) -> Force| shares.iter().map(part).sum::<Force>();
        let total = Range::new(sum(|share| share.least), sum(|share| share.expected), sum(|share| share.greatest));
        Some((total, Sharing::Stated(shares)))
    }

    fn horizontal(&self, task: Task, context: &mut Context<'_>) -> Option<Horizontal> {
        match (&self.sent.horizontal_share, &self.sent.horizontal_force) {
            (Some(_), Some(_)) => {
                context.inconsistent(
                    &self.at.field("horizontal_force"),
                    "both a share and a force are given",
                    "give one of them",
                );
                None
            }
            (Some(share), None) => Some(Horizontal::ShareOfWeight(share.get())),
            (None, Some(force)) => Some(Horizontal::Stated(force.get())),
            (None, None) => {
                if task == Task::Raise {
                    let source = Source::from_memory("falsework practice");
                    let text = "horizontal force at the centre of gravity as a fraction of the weight";
                    context.assume(&self.at.field("horizontal_share"), text, HORIZONTAL_SHARE, source);
                }
                Some(Horizontal::ShareOfWeight(HORIZONTAL_SHARE))
            }
        }
    }
}

fn in_range(stated: &super::wire::StatedReactionSent, tolerance: f64) -> Range<Force> {
    let expected = stated.expected.get();
    Range::new(
        stated.least.as_ref().map_or(expected * (1.0 - tolerance), Sent::get),
        expected,
        stated.greatest.as_ref().map_or(expected * (1.0 + tolerance), Sent::get),
    )
}

fn greatest_distance(positions: &[(Length, Length)]) -> Length {
    let square = |a: &(Length, Length), b: &(Length, Length)| {
        let (x, y) = ((a.0 - b.0).si(), (a.1 - b.1).si());
        x * x + y * y
    };
    let pairs =
        positions.iter().enumerate().flat_map(|(index, a)| positions.iter().skip(index + 1).map(move |b| square(a, b)));
    Length::from_si(pairs.fold(0.0, f64::max).sqrt())
}
