//! Speeds and times of one cycle in a machine frame, and the oil that a ram takes which extends before it pulls.

use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario, Source};
use crate::circuit::{CircuitAssessment, CircuitInput};
use crate::force::{FrameCycle, Stroke, cycle_times};
use crate::line;
use crate::load::{LoadCase, Task};
use crate::ram::Action;
use ramwright_units::{Area, Flow, Length, OilVolume};

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

/// The oil of the full bore that rams take which go out before they pull, against the usable oil.
///
/// The circuit's own check counts the annulus, on which the pull works.
pub(super) fn oil_before_a_pull(case: &LoadCase, job: &CircuitInput) -> Option<Check> {
    if case.task != Task::Pull {
        return None;
    }
    let rams: f64 = job.points.iter().map(|point| f64::from(point.rams)).sum();
    let mut lines = Lines::default();
    let book = &mut lines;
    let needed = line!(book, V: OilVolume = n * A * e; n = rams, A = job.ram.effective_area, e = job.approach; Source::definition("out on the full bore before the pull"));
    let usable = line!(book, V_use: OilVolume = n_p * V_p; n_p = f64::from(job.pumps), V_p = job.pump.usable_oil; Source::stated("usable oil of one pump as the catalogue states it"));
    let finding = Finding::compare(needed, usable)
        .with_note("less what the annulus gives back where its oil returns to the same tank")
        .with_remedy(|| format!("{:.1} L of usable oil", (needed.l() * 10.0).ceil() / 10.0));
    let place =
        Place { id: CheckId::OilVolume, subject: "set", scenario: Scenario::AsPlanned, phase: Phase::SettingUp };
    Some(Check::new(&place, finding, lines))
}
