//! Speeds and times of one cycle in a machine frame.

use crate::circuit::{CircuitAssessment, CircuitInput};
use crate::force::{FrameCycle, Stroke, cycle_times};
use crate::load::{LoadCase, Task};
use crate::ram::Action;
use ramwright_units::{Area, Flow, Length};

/// The cycle of the rams of a circuit; nothing where a load is raised, or where an area is not known.
///
/// A ram that presses goes out and works on its full bore; one that pulls goes out on its full bore and works on its annulus.
/// A double-acting ram goes back on its annulus at the flow of the approach.
pub(super) fn cycle(case: &LoadCase, job: &CircuitInput, found: &CircuitAssessment) -> Option<FrameCycle> {
    let (fast, slow) = (found.times.approach_flow.flow, found.times.load_flow.flow);
    let full = job.ram.effective_area;
    let annulus = job.ram.annulus_area.filter(|_| job.ram.action == Action::DoubleActing);
    let rams = job.points.iter().fold(0, |sum: u32, point| sum.saturating_add(point.rams));
    let stroke = |area: Area, flow: Flow, length: Length| Stroke { area, flow, length };
    let (work, back) = match case.task {
        Task::Raise => return None,
        Task::Press => {
            let back = annulus.map(|annulus| stroke(annulus, fast, job.approach + case.travel));
            (stroke(full, slow, case.travel), back)
        }
        Task::Pull => {
            let rest = (job.approach - case.travel).max(Length::ZERO);
            (stroke(annulus?, slow, case.travel), Some(stroke(annulus?, fast, rest)))
        }
    };
    cycle_times(rams, stroke(full, fast, job.approach), work, back).ok()
}
