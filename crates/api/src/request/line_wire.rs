//! What stands in the line of force, as it comes over the wire.

use super::case_wire::MOST_POINTS;
use super::words::{
    DesignRules, FoundationWord, HandlingWord, HoldingValveWord, RestraintWord, ReturnLineWord, SoffitWord,
};
use crate::read::List;
use crate::sent::{
    AlphaCc, AnyForce, Gap, GroundStress, LoadFactor, MemberCount, Name, PersonCount, Pressure, ServiceClassNumber,
    Side, Strength, TemperatureRise, Tilt, TimberStress, Tolerance,
};
use crate::wire_struct;
use ramwright_engine::support::{Duration, En338Class, GroundClass, NdsSpecies};

/// What differs from point to point.
pub type PointLines = List<PointLineSent, 1, MOST_POINTS>;

wire_struct! {
    /// Allowable values of your own, under service loads; what is left out is not checked.
    AllowableSent {
        /// Timber across the grain.
        timber_across_grain: Option<TimberStress>,
        /// Steel plates in bending.
        plate_bending: Option<Strength>,
        /// Steel in bearing.
        steel_bearing: Option<Strength>,
        /// Concrete in bearing.
        concrete_bearing: Option<TimberStress>,
        /// Ground.
        ground: Option<GroundStress>,
    }
}

wire_struct! {
    /// By whose rules timber, plates and concrete are checked.
    DesignBasisSent {
        /// The rules.
        rules: DesignRules,
        /// For `nds_asd`: whether the timber is wet in service; wet by default.
        wet_timber: Option<bool>,
        /// For `nds_asd`: load factor of ACI 318 for concrete; 1.6 by default.
        concrete_load_factor: Option<LoadFactor>,
        /// For `eurocode`: partial factor on the force; 1.5 by default.
        load_factor: Option<LoadFactor>,
        /// For `eurocode`: how long the load acts on timber.
        duration: Option<Duration>,
        /// For `eurocode`: service class of the timber, 1 to 3; 3 by default.
        service_class: Option<ServiceClassNumber>,
        /// For `eurocode`: coefficient `alpha_cc` of concrete; 0.85 by default.
        alpha_cc: Option<AlphaCc>,
        /// For `custom`: your own allowable values.
        allowable: Option<AllowableSent>,
    }
}

wire_struct! {
    /// The underside of the load where the rams, and the holding stack, bear.
    SoffitSent {
        /// What it is made of.
        material: SoffitWord,
        /// Yield strength of steel.
        yield_strength: Option<Strength>,
        /// Cylinder strength of concrete.
        concrete_strength: Option<TimberStress>,
        /// Species group of timber in the NDS.
        nds_species: Option<NdsSpecies>,
        /// Strength class of timber in EN 338.
        en338_class: Option<En338Class>,
    }
}

wire_struct! {
    /// A steel plate.
    PlateSent {
        /// One side.
        length: Side,
        /// The other side.
        width: Side,
        /// Thickness.
        thickness: Gap,
        /// Yield strength.
        yield_strength: Option<Strength>,
    }
}

wire_struct! {
    /// The ground under a foundation.
    GroundSent {
        /// One side of the area in which the foundation bears on the ground, as far as this point's force spreads.
        length: Side,
        /// The other side.
        width: Side,
        /// What the ground may carry: from a ground investigation, or from whoever answers for it.
        allowable: Option<GroundStress>,
        /// Class of ground with a presumptive value, instead of `allowable`.
        class: Option<GroundClass>,
        /// How far the force stands off the middle of that area; none if left out is an assumption.
        off_centre: Option<Tolerance>,
        /// Weight of the foundation that bears there.
        own_weight: Option<AnyForce>,
    }
}

wire_struct! {
    /// What carries the rams and stacks at a point.
    FoundationSent {
        /// What it is.
        material: FoundationWord,
        /// Cylinder strength of concrete.
        concrete_strength: Option<TimberStress>,
        /// One side of the concrete that lies concentric about the loaded area; without it no spread is taken.
        room_length: Option<Side>,
        /// The other side.
        room_width: Option<Side>,
        /// Depth of the concrete, or of the mat or layer on the ground.
        depth: Option<Side>,
        /// Punching resistance of a slab, from whoever designed it.
        punching_resistance: Option<AnyForce>,
        /// Yield strength of steelwork.
        yield_strength: Option<Strength>,
        /// The ground under it; for `steelwork` there is none.
        ground: Option<GroundSent>,
    }
}

wire_struct! {
    /// What holds the load sideways.
    RestraintSent {
        /// Its kind.
        kind: RestraintWord,
        /// The horizontal force that it takes, for the whole load, in any direction.
        capacity: Option<AnyForce>,
        /// How far the load can move before it takes hold; without any, rams and stacks take nothing of the horizontal force.
        play: Option<Gap>,
    }
}

wire_struct! {
    /// What stands over and under the rams and stacks, the same at every point.
    LineEverywhereSent {
        /// The underside of the load.
        soffit: Option<SoffitSent>,
        /// Greatest angle between the load's underside and the ram's head.
        soffit_angle: Option<Tilt>,
        /// How far the load bears off the ram's axis.
        off_centre: Option<Gap>,
        /// How far ram and stacks lean from the plumb.
        lean: Option<Tilt>,
        /// A plate between saddle and load.
        head_plate: Option<PlateSent>,
        /// A plate under the ram.
        base_plate: Option<PlateSent>,
        /// Crossings that carry in each pair of crib layers; all of them if left out.
        contacts_loaded: Option<MemberCount>,
        /// The foundation.
        foundation: Option<FoundationSent>,
    }
}

wire_struct! {
    /// What is different at one point; what is left out is as everywhere.
    PointLineSent {
        /// The point's id.
        point: Name,
        /// The underside of the load.
        soffit: Option<SoffitSent>,
        /// Greatest angle between the load's underside and the ram's head.
        soffit_angle: Option<Tilt>,
        /// How far the load bears off the ram's axis.
        off_centre: Option<Gap>,
        /// How far ram and stacks lean from the plumb.
        lean: Option<Tilt>,
        /// A plate between saddle and load.
        head_plate: Option<PlateSent>,
        /// A plate under the ram.
        base_plate: Option<PlateSent>,
        /// Crossings that carry in each pair of crib layers; all of them if left out.
        contacts_loaded: Option<MemberCount>,
        /// The foundation.
        foundation: Option<FoundationSent>,
    }
}

wire_struct! {
    /// Everything in the line of force from the load to the ground; what is left out is not checked.
    LineOfForceSent {
        /// By whose rules timber, plates and concrete are checked.
        design_basis: Option<DesignBasisSent>,
        /// The same at every point.
        everywhere: Option<LineEverywhereSent>,
        /// What differs.
        at_points: Option<PointLines>,
        /// What holds the load sideways.
        restraint: Option<RestraintSent>,
        /// Where load-holding valves sit.
        holding_valve: Option<HoldingValveWord>,
        /// By how much the oil may warm up while it is shut in, in K.
        oil_temperature_rise_k: Option<TemperatureRise>,
        /// Setting of a relief valve between ram and load-holding valve.
        thermal_relief: Option<Pressure>,
        /// The return side of double-acting rams.
        return_line: Option<ReturnLineWord>,
        /// Setting of a relief valve on the return side.
        return_relief: Option<Pressure>,
        /// How the rams are carried.
        handling: Option<HandlingWord>,
        /// How many persons carry one ram.
        persons: Option<PersonCount>,
    }
}
