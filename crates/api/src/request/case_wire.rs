//! The load case as it comes over the wire.

use super::force_wire::EstimatedReactionSent;
use super::words::{AxisWord, BaseWord, DataOrigin, HeadWord, PhaseWord, SharingWord};
use crate::read::List;
use crate::sent::{
    AnyForce, AxisAngle, BaseStiffness, BulkModulus, Clearance, Direction, DynamicFactor, ForceOrZero, GaugeClass,
    Modulus, Name, Oil, OilHeight, Position, Pressure, RamArea, SealFriction, SecondMomentOfArea, Side,
    SupportStiffness, Tilt, Tolerance, ToleranceFraction, Travel, WeightFraction, WeightOfLoad, WindArea, WindPressure,
};
use crate::wire_struct;
use ramwright_engine::load::Task;
use ramwright_engine::ram::Mounting;

/// The greatest number of points of a load case.
pub const MOST_POINTS: usize = 200;
/// The greatest number of parts of a load.
pub const MOST_PARTS: usize = 500;
/// The greatest number of phases.
pub const MOST_PHASES: usize = 24;
/// The greatest number of sections and of loads of a girder.
pub const MOST_STRETCHES: usize = 100;

/// The points of a load case.
pub type Points = List<PointSent, 1, MOST_POINTS>;
/// Ids of points.
pub type PointIds = List<Name, 1, MOST_POINTS>;
/// Groups of points.
pub type PointGroups = List<PointIds, 1, MOST_POINTS>;
/// The parts of a load.
pub type Parts = List<PartSent, 1, MOST_PARTS>;
/// The phases.
pub type Phases = List<PhaseSent, 1, MOST_PHASES>;
/// Bearings of the load's own.
pub type OwnBearings = List<OwnBearingSent, 1, MOST_PHASES>;
/// Sections of a girder.
pub type GirderSections = List<GirderSectionSent, 1, MOST_STRETCHES>;
/// Loads of a girder.
pub type GirderLoads = List<GirderLoadSent, 1, MOST_STRETCHES>;

wire_struct! {
    /// A part of the load.
    PartSent {
        /// Its name, different from all others.
        id: Name,
        /// Its weight.
        weight: WeightOfLoad,
        /// By which fraction its weight may be wrong; the load case's `weight_tolerance`, or by `origin`, by default.
        weight_tolerance: Option<ToleranceFraction>,
        /// Position in plan of its centre of gravity.
        x: Position,
        /// Position in plan.
        y: Position,
        /// Height above the plane in which the load bears on the points.
        z: Option<Position>,
        /// By how much x, y and z may each be wrong, either way; by default according to `origin`.
        tolerance: Option<Tolerance>,
    }
}

wire_struct! {
    /// The column of oil between plunger and load-holding valve.
    OilColumnSent {
        /// Area that the oil presses on.
        area: RamArea,
        /// Height of the oil under the plunger: the extension.
        height: OilHeight,
        /// All other oil up to the load-holding valve; none by default.
        dead_volume: Option<Oil>,
        /// Bulk modulus of the oil; 20 000 bar by default.
        bulk_modulus: Option<BulkModulus>,
    }
}

wire_struct! {
    /// By how much oil the hose up to the load-holding valve swells.
    HoseSwellingSent {
        /// Oil taken.
        swelling: Oil,
        /// At this pressure.
        at_pressure: Pressure,
    }
}

wire_struct! {
    /// Springs in series under a point, one ram's worth of each times the number of rams.
    SpringsSent {
        /// The oil column.
        oil: OilColumnSent,
        /// The hose, if oil in it is shut in with the ram.
        hose: Option<HoseSwellingSent>,
        /// The ram's steel.
        ram: Option<SupportStiffness>,
        /// The base stack.
        packing: Option<SupportStiffness>,
        /// Foundation and ground.
        ground: Option<SupportStiffness>,
    }
}

wire_struct! {
    /// What was read when the load was weighed: a load cell's `load`, or `raising_pressure` and `lowering_pressure`.
    ReadingSent {
        /// Load that the cell reads.
        load: Option<AnyForce>,
        /// Full scale of the cell.
        full_scale_load: Option<AnyForce>,
        /// Pressure while rising slowly.
        raising_pressure: Option<Pressure>,
        /// Pressure while sinking slowly.
        lowering_pressure: Option<Pressure>,
        /// Full scale of the gauge.
        full_scale_pressure: Option<Pressure>,
        /// Class of cell or gauge: its error as a fraction of full scale.
        class: GaugeClass,
        /// Part of the force that the seals take, where no lowering pressure was read.
        seal_friction: Option<SealFriction>,
    }
}

wire_struct! {
    /// A place where the load bears by itself.
    OwnBearingSent {
        /// Its name, different from that of every point.
        id: Name,
        /// Position in plan.
        x: Position,
        /// Position in plan.
        y: Position,
        /// Its stiffness.
        stiffness: Option<SupportStiffness>,
    }
}

wire_struct! {
    /// What carries in one phase; every point that is not named carries on its rams, each point by itself.
    PhaseSent {
        /// The phase.
        phase: PhaseWord,
        /// Its name among phases of one kind.
        name: Option<Name>,
        /// Groups of points whose rams are connected through open valves and so share one pressure.
        linked: Option<PointGroups>,
        /// Points held on their locked collars.
        on_collars: Option<PointIds>,
        /// Points held on their stacks.
        on_packing: Option<PointIds>,
        /// Points at which nothing carries.
        not_carrying: Option<PointIds>,
        /// Where the load bears by itself.
        own_bearings: Option<OwnBearings>,
    }
}

wire_struct! {
    /// Wind.
    WindSent {
        /// Pressure, shape included.
        pressure: WindPressure,
        /// Area that it meets.
        area: WindArea,
        /// Height of the area's middle above the plane in which the load bears on the points.
        height: Position,
        /// Where it pushes to, as an angle from x towards y; any direction by default.
        toward: Option<Direction>,
    }
}

wire_struct! {
    /// A slope.
    SlopeSent {
        /// Angle from the level.
        angle: Tilt,
        /// Downhill, as an angle from x towards y; any direction by default.
        toward: Option<Direction>,
    }
}

wire_struct! {
    /// A stretch of a girder with one cross-section; it ends where the next one begins or the girder ends.
    GirderSectionSent {
        /// Where it begins; the first one where the girder begins.
        from: Position,
        /// Modulus of elasticity.
        modulus: Modulus,
        /// Second moment of area against vertical bending.
        second_moment: SecondMomentOfArea,
    }
}

wire_struct! {
    /// A part of a girder's weight: at `x`, or evenly between `from` and `to`.
    GirderLoadSent {
        /// How much.
        weight: WeightOfLoad,
        /// At one place.
        x: Option<Position>,
        /// Where an even load begins.
        from: Option<Position>,
        /// Where it ends.
        to: Option<Position>,
    }
}

wire_struct! {
    /// A girder along x over its points, with its weight in parts.
    GirderSent {
        /// Where it begins.
        from: Position,
        /// Where it ends.
        to: Position,
        /// Its sections, in order from `from`.
        sections: GirderSections,
        /// Its weight.
        loads: GirderLoads,
        /// By how much every load may stand off its place, either way; by default according to `origin`.
        tolerance: Option<Tolerance>,
        /// Greatest height of the centre of gravity above the plane in which it bears on the points.
        z: Option<Position>,
    }
}

wire_struct! {
    /// Where the centre of gravity is, in the axes of the points.
    CentreSent {
        /// Position in plan.
        x: Position,
        /// Position in plan.
        y: Position,
        /// Height above the plane in which the load bears on the points; without it the horizontal force is not checked.
        z: Option<Position>,
        /// By how much x and y may each be wrong, either way; by default according to `origin`.
        tolerance: Option<Tolerance>,
        /// By how much z may be greater; by default as much as x and y may be wrong.
        z_tolerance: Option<Tolerance>,
        /// Whether the place is a guess, such as the middle of the points, and not what somebody found; the answer then says so.
        guessed: Option<bool>,
    }
}

wire_struct! {
    /// The reaction at a point from somebody's own analysis.
    StatedReactionSent {
        /// The least; by default the expected one less the weight tolerance.
        least: Option<ForceOrZero>,
        /// The expected one.
        expected: AnyForce,
        /// The greatest; by default the expected one and the weight tolerance.
        greatest: Option<AnyForce>,
    }
}

wire_struct! {
    /// The plan size of what a point's rams stand on.
    PadSent {
        /// One side.
        length: Side,
        /// The other side.
        width: Side,
    }
}

wire_struct! {
    /// A jacking point.
    PointSent {
        /// Its number or name, different from all others.
        id: Name,
        /// Position in plan; at every point or at none.
        x: Option<Position>,
        /// Position in plan.
        y: Option<Position>,
        /// Height under the load where the ram goes, at the start; in a frame from where the ram's foot bears to the work, or,
        /// for the task `pull`, to where its head grips before the pull.
        clearance: Option<Clearance>,
        /// The same where the holding stack goes; by default the clearance.
        packing_clearance: Option<Clearance>,
        /// Force that the jacking point on the load may take.
        limit: Option<AnyForce>,
        /// Force that the foundation under it may take.
        foundation_limit: Option<AnyForce>,
        /// Plan size of what the rams stand on.
        pad: Option<PadSent>,
        /// What the rams stand on.
        base: Option<BaseWord>,
        /// Stiffness against turning of what a ram stands on, its base stack included; with a soft base only.
        base_stiffness: Option<BaseStiffness>,
        /// How the rams' heads are held sideways; free by default.
        head: Option<HeadWord>,
        /// The reaction from somebody's own analysis; at every point or at none.
        stated_reaction: Option<StatedReactionSent>,
        /// In a frame, instead of a stated reaction: the work from which the force is estimated.
        estimated_reaction: Option<EstimatedReactionSent>,
        /// In a frame: how the ram is held, which decides how it can buckle; by default `base` and `head` do alone.
        mounting: Option<Mounting>,
        /// In a frame: which way the ram's axis lies; vertical by default.
        axis: Option<AxisWord>,
        /// Angle between an inclined axis and the plumb.
        axis_angle: Option<AxisAngle>,
        /// In a frame, with `work_height` instead of `clearance`: from where the ram's foot bears to what the work stands on.
        daylight: Option<Clearance>,
        /// Height of the work in the daylight.
        work_height: Option<Side>,
        /// Stiffness of the support while the rams carry; `support_stiffness` of the load case by default.
        stiffness: Option<SupportStiffness>,
        /// What the stiffness is made of, instead of `stiffness`.
        springs: Option<SpringsSent>,
        /// Stiffness of the support while the load is held on packing or on a locked collar.
        held_stiffness: Option<SupportStiffness>,
        /// Known level error of the support, positive if it stands high; none by default.
        level: Option<Position>,
        /// Effective area of the rams at the point together; where rams are linked, at every point of the group or at none.
        ram_area: Option<RamArea>,
        /// Where the holding stack bears on the load, if not where the rams do; with `packing_y`.
        packing_x: Option<Position>,
        /// The same along y.
        packing_y: Option<Position>,
        /// Force that the load may take there; with `packing_x` and `packing_y` only.
        packing_limit: Option<AnyForce>,
        /// Force that the foundation under the holding stack may take there.
        packing_foundation_limit: Option<AnyForce>,
        /// What a load cell or the gauges read when the load was weighed; at every point or at none.
        reading: Option<ReadingSent>,
    }
}

wire_struct! {
    /// What is to be moved, where it bears, and how far it must go.
    LoadCaseSent {
        /// What the rams are to do; `raise` by default.
        task: Option<Task>,
        /// Weight of the load; not in a frame.
        weight: Option<WeightOfLoad>,
        /// By which fraction the weight may be wrong, either way; by default according to `origin`.
        weight_tolerance: Option<ToleranceFraction>,
        /// How weight and centre of gravity were come by.
        origin: Option<DataOrigin>,
        /// Where the centre of gravity is.
        centre_of_gravity: Option<CentreSent>,
        /// The parts that the load is made of, instead of weight and centre of gravity.
        parts: Option<Parts>,
        /// A load that bends, on points in one line along x, instead of weight and centre of gravity.
        girder: Option<GirderSent>,
        /// By which rule more than three supports share; by default elastic where level tolerance and stiffness are known, else
        /// the worst of all equilibria.
        sharing: Option<SharingWord>,
        /// Width of the band in which the level errors of all points lie, for elastic sharing and for a girder.
        level_tolerance: Option<Tolerance>,
        /// Stiffness of the support at each point that states none of its own.
        support_stiffness: Option<SupportStiffness>,
        /// What carries in each phase; by default every ram carries by itself while the load is raised.
        phases: Option<Phases>,
        /// Horizontal force at the centre of gravity as a fraction of the weight, in any direction, added to wind and slope; by
        /// default 0.025, or wind and slope where they are more.
        horizontal_share: Option<WeightFraction>,
        /// Horizontal force; instead of the fraction.
        horizontal_force: Option<ForceOrZero>,
        /// Wind on the load.
        wind: Option<WindSent>,
        /// Slope of the plane in which the points stand.
        slope: Option<SlopeSent>,
        /// Greatest vertical load over the weight when the load is moved or set down; 1 by default.
        dynamic_factor: Option<DynamicFactor>,
        /// Distance from tipping below which a caution is wanted.
        least_tipping_margin: Option<Tolerance>,
        /// How far the load must move.
        travel: Travel,
        /// The jacking points.
        points: Points,
    }
}
