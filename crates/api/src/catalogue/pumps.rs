//! Pumps as they are sent.

use super::entry::{Column, Entry, catalogue_entry, contradiction, shown};
use super::flow_curve::FlowCurve;
use crate::problem::Fault;
use crate::read::{Faults, Pointer};
use crate::sent::{
    MassOfPiece, MotorPower, Name, Number, Oil, OutletCount, Pressure, PumpFlow, Rate, Sent, StockCount, StrokeVolume,
};
use crate::wire_words;
use ramwright_engine::catalogue::{Drive, Pump};

wire_words!(Drive: "electric", "air", "petrol", "hand");

catalogue_entry! {
    /// A pump as it is sent. A single-stage pump has one flow and no change-over pressure.
    InlinePump {
        /// Name by which it is chosen.
        id: Name,
        /// What drives it.
        drive: Drive,
        /// Greatest pressure.
        rated_pressure: Pressure,
        /// Flow below the change-over pressure.
        flow_fast: PumpFlow,
        /// Pressure above which only the slow stage delivers.
        changeover_pressure: Option<Pressure>,
        /// Flow under load.
        flow_slow: PumpFlow,
        /// Flow against pressure, from none to the greatest, where more is known than two stages.
        flow_curve: Option<FlowCurve>,
        /// Oil that one stroke of a hand pump gives below the change-over pressure.
        stroke_volume_fast: Option<StrokeVolume>,
        /// Oil that one stroke of a hand pump gives under load.
        stroke_volume_slow: Option<StrokeVolume>,
        /// Oil that may be drawn.
        usable_oil: Oil,
        /// Oil that the reservoir holds when it is full.
        reservoir: Option<Oil>,
        /// Motor power.
        power: Option<MotorPower>,
        /// How many hoses can be connected.
        outlets: Option<OutletCount>,
        /// Mass of one pump.
        mass: Option<MassOfPiece>,
        /// How many there are.
        stock: Option<StockCount>,
        /// Rate for a day, in the catalogue's currency.
        day_rate: Option<Rate>,
        /// Rate for a week, in the catalogue's currency.
        week_rate: Option<Rate>,
    }
}

/// How far two flows may differ and still be the same, as a part of them; it absorbs the rounding of units.
const SAME_FLOW: f64 = 1e-9;

impl InlinePump {
    /// Whether the fields agree with each other; every contradiction is a fault.
    fn agrees(&self, at: &Pointer, faults: &mut Faults) -> bool {
        let curve = self.flow_curve.as_ref().and_then(|curve| {
            let at = at.field("flow_curve");
            curve.fault(self.rated_pressure.measured(), self.flow_fast.measured(), &at)
        });
        let found = [
            self.changeover_fault(at),
            self.flow_fault(at),
            curve,
            self.stroke_fault(at),
            self.drive_fault(at),
            self.reservoir_fault(at),
        ];
        let sound = found.iter().all(Option::is_none);
        found.into_iter().flatten().for_each(|fault| faults.push(fault));
        sound
    }

    fn changeover_fault(&self, at: &Pointer) -> Option<Fault> {
        let changeover = self.changeover_pressure.as_ref()?.measured();
        let rated = self.rated_pressure.measured();
        let detail = "the pump changes over below its rated pressure";
        (rated.si() <= changeover.si())
            .then(|| contradiction(at, "changeover_pressure", changeover, shown(rated), detail))
    }

    /// Two stages deliver less under load; one stage delivers the same at every pressure.
    fn flow_fault(&self, at: &Pointer) -> Option<Fault> {
        let (fast, slow) = (self.flow_fast.measured(), self.flow_slow.measured());
        let room = SAME_FLOW * fast.si();
        if fast.si() + room < slow.si() {
            let detail = "the flow under load is not above the flow before it";
            return Some(contradiction(at, "flow_slow", slow, shown(fast), detail));
        }
        let one_stage = self.changeover_pressure.is_none() && self.flow_curve.is_none();
        (one_stage && slow.si() < fast.si() - room).then(|| {
            let detail = "without a changeover_pressure the pump has one stage, and so one flow";
            contradiction(at, "flow_slow", slow, shown(fast), detail)
                .with_hint("give changeover_pressure, or the same flow as flow_fast")
        })
    }

    fn stroke_fault(&self, at: &Pointer) -> Option<Fault> {
        let slow = self.stroke_volume_slow.as_ref()?.measured();
        let fast = self.stroke_volume_fast.as_ref()?.measured();
        let detail = "a stroke under load gives no more than one before it";
        (fast.si() < slow.si()).then(|| contradiction(at, "stroke_volume_slow", slow, shown(fast), detail))
    }

    fn drive_fault(&self, at: &Pointer) -> Option<Fault> {
        let strokes =
            [("stroke_volume_fast", &self.stroke_volume_fast), ("stroke_volume_slow", &self.stroke_volume_slow)];
        let stated = strokes.into_iter().find_map(|(name, volume)| Some((name, volume.as_ref()?.measured())));
        let (name, volume) = stated.filter(|_| self.drive != Drive::Hand)?;
        let detail = "strokes are those of a pump that is driven by hand";
        Some(contradiction(at, name, volume, "drive `hand`".into(), detail))
    }

    fn reservoir_fault(&self, at: &Pointer) -> Option<Fault> {
        let reservoir = self.reservoir.as_ref()?.measured();
        let usable = self.usable_oil.measured();
        let detail = "the reservoir holds at least the oil that may be drawn";
        (reservoir.si() < usable.si()).then(|| contradiction(at, "reservoir", reservoir, shown(usable), detail))
    }
}

impl Entry for InlinePump {
    type Item = Pump;
    const LIST: &'static str = "pumps";
    const COLUMNS: &'static [Column] = Self::COLUMNS;

    fn id(&self) -> &str {
        &self.id.0
    }

    fn item(&self, at: &Pointer, faults: &mut Faults) -> Option<Pump> {
        self.agrees(at, faults).then(|| Pump {
            id: self.id.0.clone(),
            drive: self.drive,
            rated_pressure: self.rated_pressure.get(),
            flow_fast: self.flow_fast.get(),
            changeover_pressure: self.changeover_pressure.as_ref().map(Sent::get),
            flow_slow: self.flow_slow.get(),
            flow_curve: self.flow_curve.as_ref().map_or_else(Vec::new, FlowCurve::points),
            stroke_volume_fast: self.stroke_volume_fast.as_ref().map(Sent::get),
            stroke_volume_slow: self.stroke_volume_slow.as_ref().map(Sent::get),
            usable_oil: self.usable_oil.get(),
            reservoir: self.reservoir.as_ref().map(Sent::get),
            power: self.power.as_ref().map(Sent::get),
            outlets: self.outlets.as_ref().map(Number::count),
            mass: self.mass.as_ref().map(Sent::get),
            stock: self.stock.as_ref().map(Number::count),
            day_rate: self.day_rate.as_ref().map(Number::get),
            week_rate: self.week_rate.as_ref().map(Number::get),
        })
    }
}
