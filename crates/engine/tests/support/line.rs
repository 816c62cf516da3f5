//! What stands over and under the rams of the invented lifts, with everything stated.

use super::{kn, mm};
use ramwright_engine::ram::ReturnLine;
use ramwright_engine::support::stack::{Restraint, RestraintKind};
use ramwright_engine::support::{
    Allowable, ConcreteFoundation, DesignBasis, Duration, Eurocode, Foundation, Ground, Handling, HoldingValve,
    LineOfForce, Nds, PointLine, ServiceClass, Soffit, SteelPlate,
};
use ramwright_units::{Angle, GroundPressure, Length, OilPressure, Stress};

pub(crate) const NDS: DesignBasis = DesignBasis::NdsAsd(Nds { wet: true, concrete_load_factor: 1.6 });
pub(crate) const EUROCODE: DesignBasis = DesignBasis::Eurocode(Eurocode {
    load_factor: 1.5,
    duration: Duration::Medium,
    service_class: ServiceClass::Three,
    alpha_cc: 0.85,
});

/// Allowable values of an invented engineer.
pub(crate) fn own() -> DesignBasis {
    DesignBasis::Custom(Allowable {
        timber_across_grain: Some(Stress::from_mpa(3.0)),
        plate_bending: Some(Stress::from_mpa(160.0)),
        steel_bearing: Some(Stress::from_mpa(180.0)),
        concrete_bearing: Some(Stress::from_mpa(12.0)),
        ground: Some(GroundPressure::from_kpa(300.0)),
    })
}

/// A plate.
pub(crate) fn plate(side: f64, thickness: f64) -> SteelPlate {
    SteelPlate {
        length: mm(side),
        width: mm(side),
        thickness: mm(thickness),
        yield_strength: Some(Stress::from_mpa(355.0)),
    }
}

/// A block of concrete on ground.
pub(crate) fn block() -> Foundation {
    let concrete = ConcreteFoundation {
        strength: Some(Stress::from_mpa(35.0)),
        room: Some((mm(900.0), mm(900.0))),
        depth: Some(mm(800.0)),
        slab: false,
        punching_resistance: None,
    };
    let ground = Ground {
        length: mm(2_400.0),
        width: mm(2_200.0),
        allowable: Some(GroundPressure::from_kpa(350.0)),
        class: None,
        off_centre: Length::ZERO,
        own_weight: kn(120.0),
    };
    Foundation::Concrete(concrete, Some(ground))
}

/// The same at every point.
pub(crate) fn point() -> PointLine {
    PointLine {
        soffit: Some(Soffit::Steel(Some(Stress::from_mpa(235.0)))),
        soffit_angle: Some(Angle::from_deg(0.4)),
        off_centre: Some(mm(4.0)),
        lean: Some(Angle::from_deg(0.25)),
        head_plate: Some(plate(180.0, 30.0)),
        base_plate: None,
        contacts_loaded: None,
        foundation: Some(block()),
    }
}

/// Everything stated, for so many points.
pub(crate) fn line(points: usize) -> LineOfForce {
    LineOfForce {
        basis: Some(NDS),
        at_points: vec![point(); points],
        restraint: Some(Restraint { kind: RestraintKind::Guides, capacity: Some(kn(150.0)), play: Some(mm(0.0)) }),
        holding_valve: Some(HoldingValve::AtEachRam),
        oil_temperature_rise_k: Some(6.0),
        thermal_relief: Some(OilPressure::from_bar(690.0)),
        return_line: Some(ReturnLine::Open),
        handling: Some(Handling::LiftingGear),
    }
}
