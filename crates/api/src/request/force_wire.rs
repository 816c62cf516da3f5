//! The work that a ram does in a machine frame, as it comes over the wire.

use super::words::InterferenceWord;
use crate::sent::{
    AfterServiceFactor, Bore, FrictionCoefficient, InterferenceOrZero, InterferenceSize, Modulus, PlasticModulus,
    PoissonRatio, Side, Strength,
};
use crate::wire_struct;
use ramwright_engine::force::DieKind;

wire_struct! {
    /// Interference between shaft and hub.
    InterferenceSent {
        /// Whether it is the radial interference or that on the diameter, which is twice as much.
        measure: InterferenceWord,
        /// The least.
        least: InterferenceOrZero,
        /// The expected one; by default the middle of both.
        expected: Option<InterferenceSize>,
        /// The greatest.
        greatest: InterferenceSize,
    }
}

wire_struct! {
    /// Coefficient of friction between shaft and hub.
    FrictionSent {
        /// The least.
        least: FrictionCoefficient,
        /// The expected one; by default the middle of both.
        expected: Option<FrictionCoefficient>,
        /// The greatest.
        greatest: FrictionCoefficient,
    }
}

wire_struct! {
    /// A strength that is known within a range.
    StrengthRangeSent {
        /// The least.
        least: Strength,
        /// The expected one; by default the middle of both.
        expected: Option<Strength>,
        /// The greatest.
        greatest: Strength,
    }
}

wire_struct! {
    /// A shaft in a hub with interference: the force along the joint by thick cylinders and friction.
    InterferenceFitSent {
        /// Interference.
        interference: InterferenceSent,
        /// Diameter of the joint.
        joint_diameter: Side,
        /// Length of the joint.
        joint_length: Side,
        /// Outside diameter of the hub.
        hub_outside_diameter: Side,
        /// Diameter of the hole through the shaft; solid by default.
        shaft_bore: Option<Bore>,
        /// Modulus of elasticity of the hub; that of steel, 210 GPa, by default.
        hub_modulus: Option<Modulus>,
        /// Poisson's ratio of the hub; 0.3 by default.
        hub_poisson_ratio: Option<PoissonRatio>,
        /// Modulus of elasticity of the shaft; that of steel, 210 GPa, by default.
        shaft_modulus: Option<Modulus>,
        /// Poisson's ratio of the shaft; 0.3 by default.
        shaft_poisson_ratio: Option<PoissonRatio>,
        /// Yield strength of the hub; without it the hub is not checked.
        hub_yield: Option<Strength>,
        /// Friction.
        friction: FrictionSent,
        /// For the task `pull`: by which factor the greatest force is greater after long service; 1 by default.
        after_service_factor: Option<AfterServiceFactor>,
    }
}

wire_struct! {
    /// A sheet bent in air over a die.
    AirBendingSent {
        /// What it is bent over.
        die: DieKind,
        /// Opening of the die.
        die_opening: Side,
        /// Length of the bend.
        width: Side,
        /// Thickness of the sheet.
        thickness: Bore,
        /// Tensile strength of the sheet.
        tensile_strength: StrengthRangeSent,
    }
}

wire_struct! {
    /// A cross-section: `diameter` alone, `diameter` and `bore`, `width` and `height`, or `plastic_modulus` and `height`.
    BentSectionSent {
        /// Outside diameter of a round bar or tube.
        diameter: Option<Side>,
        /// Inside diameter of a tube.
        bore: Option<Bore>,
        /// Width of a rectangle, across the force.
        width: Option<Side>,
        /// Height along the force.
        height: Option<Side>,
        /// Plastic section modulus of any other section.
        plastic_modulus: Option<PlasticModulus>,
    }
}

wire_struct! {
    /// A bar or beam bent back in the middle between two supports.
    StraighteningSent {
        /// Distance of the supports.
        span: Side,
        /// Its cross-section.
        section: BentSectionSent,
        /// Its yield strength.
        yield_strength: StrengthRangeSent,
        /// Its greatest tensile strength, which it may reach as it hardens; by default 1.6 times the greatest yield strength.
        tensile_strength: Option<Strength>,
    }
}

wire_struct! {
    /// The work from which the force at a point is estimated; exactly one kind.
    EstimatedReactionSent {
        /// A shaft pressed into a hub or pulled off.
        interference_fit: Option<InterferenceFitSent>,
        /// A sheet bent in air.
        air_bending: Option<AirBendingSent>,
        /// A bar bent back.
        straightening: Option<StraighteningSent>,
    }
}
