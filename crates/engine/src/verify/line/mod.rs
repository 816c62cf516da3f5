//! The checks of everything in the line of force, from the load's underside down to the ground.

mod foundation;
mod load_side;
mod ram_side;
mod sideways;
mod stacks;

pub(super) use foundation::foot_holds;
pub(super) use sideways::restrained;
pub(super) use stacks::{BASE, HOLDING, catching_stiffness, holding_limit, off_centre_under, on_the_head};

use super::raise::Raise;
use super::station::{Rule, Station};
use crate::check::{CheckId, Finding, Ledger, Phase};
use crate::load::Task;
use crate::packing_lift::Planned;
use crate::support::DesignBasis;
use ramwright_units::Force;

const BASIS: &str = "line_of_force/design_basis";
const ALLOWABLE: &str = "line_of_force/design_basis/allowable";
const SEQUENCE: &str = "a sequence of packing lifts; see the check of holding";

/// The checks of the ram itself that need to know how it stands.
pub(super) fn line_of_ram<L: Ledger>(task: Task) -> Vec<Rule<L>> {
    let mut rules = vec![
        Rule::new(CheckId::Stress, Phase::Raising, ram_side::stress_check),
        Rule::new(CheckId::ReturnLine, Phase::Raising, ram_side::return_line).planless(),
        Rule::new(CheckId::Handling, Phase::SettingUp, ram_side::handling_check).planless(),
    ];
    if task == Task::Raise {
        rules.extend([
            Rule::new(CheckId::SideLoad, Phase::Raising, ram_side::side_load_check).planless(),
            Rule::new(CheckId::SaddleAngle, Phase::Raising, ram_side::saddle_angle_check).planless(),
            Rule::new(CheckId::SaddleOffCentre, Phase::Raising, ram_side::saddle_off_centre_check).planless(),
            Rule::new(CheckId::CollarRelease, Phase::Holding, ram_side::collar_check),
            Rule::new(CheckId::WarmOil, Phase::Raising, ram_side::warm_oil_check).planless(),
        ]);
    }
    rules
}

/// The checks of what stands over and under the ram and the holding stack.
pub(super) fn line_to_ground<L: Ledger>() -> Vec<Rule<L>> {
    let mut rules = strengths_beyond_the_ram();
    rules.extend([
        Rule::new(CheckId::StackHeight, Phase::Raising, stacks::base_height),
        Rule::new(CheckId::StackOverhang, Phase::Raising, stacks::base_overhang),
        Rule::new(CheckId::StackPlumb, Phase::Raising, stacks::base_plumb),
        Rule::new(CheckId::Settlement, Phase::Raising, stacks::base_settlement),
        Rule::new(CheckId::StackHeight, Phase::Holding, stacks::holding_height),
        Rule::new(CheckId::StackOverhang, Phase::Holding, stacks::holding_overhang),
        Rule::new(CheckId::StackPlumb, Phase::Holding, stacks::holding_plumb),
        Rule::new(CheckId::Settlement, Phase::Holding, stacks::holding_settlement),
        Rule::new(CheckId::Punching, Phase::Raising, foundation::punching_under_the_ram).planless(),
        Rule::new(CheckId::Punching, Phase::Holding, foundation::punching_under_the_stack),
        Rule::new(CheckId::Sideways, Phase::Raising, sideways::raised),
        Rule::new(CheckId::Sideways, Phase::Holding, sideways::held),
    ]);
    rules
}

/// What forces decide, weight and sideways ones: what every scenario and every margin looks at.
pub(super) fn strength_rules<L: Ledger>() -> Vec<Rule<L>> {
    let mut rules = vec![Rule::new(CheckId::Stress, Phase::Raising, ram_side::stress_check)];
    rules.extend(strengths_beyond_the_ram());
    rules.extend([
        Rule::new(CheckId::Punching, Phase::Raising, foundation::punching_under_the_ram).planless(),
        Rule::new(CheckId::Punching, Phase::Holding, foundation::punching_under_the_stack),
        Rule::new(CheckId::SideLoad, Phase::Raising, ram_side::side_load_check).planless(),
        Rule::new(CheckId::StackPlumb, Phase::Raising, stacks::base_plumb),
        Rule::new(CheckId::StackPlumb, Phase::Holding, stacks::holding_plumb),
        Rule::new(CheckId::Sideways, Phase::Raising, sideways::raised),
        Rule::new(CheckId::Sideways, Phase::Holding, sideways::held),
        Rule::new(CheckId::Restraint, Phase::Raising, sideways::restrained_at),
        Rule::new(CheckId::WarmOil, Phase::Raising, ram_side::warm_oil_check).planless(),
    ]);
    rules
}

fn strengths_beyond_the_ram<L: Ledger>() -> Vec<Rule<L>> {
    vec![
        Rule::new(CheckId::SoffitBearing, Phase::Raising, load_side::soffit_over_the_ram).planless(),
        Rule::new(CheckId::SoffitBearing, Phase::Holding, load_side::soffit_over_the_stack),
        Rule::new(CheckId::HeadPlate, Phase::Raising, load_side::head_plate).planless(),
        Rule::new(CheckId::BasePlate, Phase::Raising, load_side::base_plate).planless(),
        Rule::new(CheckId::StackBearing, Phase::Raising, stacks::base_bearing),
        Rule::new(CheckId::StackBearing, Phase::Holding, stacks::holding_bearing),
        Rule::new(CheckId::FoundationBearing, Phase::Raising, foundation::under_the_ram),
        Rule::new(CheckId::FoundationBearing, Phase::Holding, foundation::under_the_stack),
        Rule::new(CheckId::GroundPressure, Phase::Raising, foundation::ground_under_the_ram),
        Rule::new(CheckId::GroundPressure, Phase::Holding, foundation::ground_under_the_stack),
    ]
}

/// The force that one ram may put on what it stands between: its share, or what its stop pressure gives.
fn pushed<L: Ledger>(station: &Station<'_>, book: &mut L) -> Force {
    use crate::check::Source;
    crate::line!(book, F: Force = k_stop * R / n; k_stop = station.stop_factor(), R = station.share(), n = f64::from(station.count); Source::common_practice("stop pressure over the greatest expected pressure, shared by the rams of the point"))
}

/// The force on one holding stack.
fn held<L: Ledger>(station: &Station<'_>, book: &mut L) -> Force {
    use crate::check::Source;
    crate::line!(book, F: Force = R / n; R = station.on_stacks().greatest, n = f64::from(station.count); Source::definition("each ram has a holding stack of its own"))
}

/// The design basis, or a finding that it is missing.
fn basis<'a>(station: &Station<'a>) -> Result<&'a DesignBasis, Finding> {
    station.line.basis.as_ref().ok_or_else(|| Finding::missing([BASIS]))
}

/// Whether a holding stack ever stands at the points; nothing if there is no sequence.
fn has_holding_stack(raise: &Raise) -> Option<bool> {
    raise.planned().map(Planned::holds_on_stacks)
}
