//! Rams as they are sent.

use super::entry::{Column, Entry, catalogue_entry, contradiction, shown, shown_in};
use crate::problem::Fault;
use crate::read::{Faults, Pointer};
use crate::sent::{
    Bore, ForceOrZero, MassOfPiece, Name, Number, Pressure, RamArea, RamLength, Rate, Sent, SideRatio, StockCount,
    Strength, Tilt,
};
use crate::wire_words;
use ramwright_engine::ram::{Action, Material, Ram};
use std::f64::consts::PI;

wire_words!(Action: "single_acting_load_return", "single_acting_spring_return", "double_acting");
wire_words!(Material: "steel", "aluminium");

catalogue_entry! {
    /// A ram as it is sent. What is left out is unknown, and the checks that need it say so.
    InlineRam {
        /// Name by which it is chosen.
        id: Name,
        /// Family.
        family: Option<Name>,
        /// How it is extended and retracted.
        action: Action,
        /// What its body is made of.
        material: Material,
        /// Whether a lock collar holds it extended.
        lock_collar: bool,
        /// A label; never computed with.
        nominal_class: Option<Name>,
        /// Area on which oil extends it.
        effective_area: RamArea,
        /// Area on which oil retracts it.
        annulus_area: Option<RamArea>,
        /// Greatest oil pressure.
        rated_pressure: Pressure,
        /// How far it extends.
        stroke: RamLength,
        /// Height at zero extension.
        closed_height: RamLength,
        /// Outside diameter of the body.
        body_diameter: Option<RamLength>,
        /// Diameter of the base.
        base_diameter: Option<RamLength>,
        /// Outside diameter of the plunger.
        plunger_diameter: Option<RamLength>,
        /// Diameter of the hole through the plunger; 0 if it is solid.
        plunger_bore: Option<Bore>,
        /// Yield strength of the plunger.
        plunger_yield: Option<Strength>,
        /// Diameter of the saddle.
        saddle_diameter: Option<RamLength>,
        /// By how much the saddle may tilt.
        saddle_tilt_limit: Option<Tilt>,
        /// Side load that it may take, as a share of its capacity.
        side_load_limit_ratio: Option<SideRatio>,
        /// Force of the return spring at full extension, seal friction taken off, or of the oil on the annulus.
        return_force: Option<ForceOrZero>,
        /// Force of the return spring at zero extension.
        return_preload: Option<ForceOrZero>,
        /// Mass of the plunger and of what it carries.
        plunger_mass: Option<MassOfPiece>,
        /// Mass of one ram.
        mass: Option<MassOfPiece>,
        /// How many there are.
        stock: Option<StockCount>,
        /// Rate for a day, in the catalogue's currency.
        day_rate: Option<Rate>,
        /// Rate for a week, in the catalogue's currency.
        week_rate: Option<Rate>,
    }
}

/// How far a plunger may exceed the bore that follows from the effective area, as a part of it.
///
/// Areas are listed rounded, and a plunger that fills its bore must not be refused for that.
const ROUNDING_OF_AREA: f64 = 0.01;

impl InlineRam {
    /// The diameter of a circle of the effective area, in m.
    fn bore_m(&self) -> f64 {
        (4.0 * self.effective_area.get().m2() / PI).sqrt()
    }

    /// Whether the fields agree with each other; every contradiction is a fault.
    fn agrees(&self, at: &Pointer, faults: &mut Faults) -> bool {
        let found = [
            self.annulus_fault(at),
            self.body_fault(at),
            self.plunger_fault(at),
            self.hole_fault(at),
            self.spring_fault(at),
            self.plunger_mass_fault(at),
        ];
        let sound = found.iter().all(Option::is_none);
        found.into_iter().flatten().for_each(|fault| faults.push(fault));
        sound
    }

    fn annulus_fault(&self, at: &Pointer) -> Option<Fault> {
        let annulus = self.annulus_area.as_ref()?;
        let whole = self.effective_area.measured();
        let detail = "the annulus is a part of the effective area and so smaller";
        (whole.si() <= annulus.measured().si())
            .then(|| contradiction(at, "annulus_area", annulus.measured(), shown(whole), detail))
    }

    fn body_fault(&self, at: &Pointer) -> Option<Fault> {
        let body = self.body_diameter.as_ref()?.measured();
        let limit = shown_in(self.bore_m(), body.unit);
        let detail = format!("the body is wider than its bore, which is {limit} for this effective area");
        (body.si() <= self.bore_m()).then(|| contradiction(at, "body_diameter", body, limit, &detail))
    }

    fn plunger_fault(&self, at: &Pointer) -> Option<Fault> {
        let plunger = self.plunger_diameter.as_ref()?.measured();
        let limit = shown_in(self.bore_m(), plunger.unit);
        let detail = format!("the plunger fits its bore, which is {limit} for this effective area");
        (self.bore_m() * (1.0 + ROUNDING_OF_AREA) < plunger.si())
            .then(|| contradiction(at, "plunger_diameter", plunger, limit, &detail))
    }

    fn hole_fault(&self, at: &Pointer) -> Option<Fault> {
        let hole = self.plunger_bore.as_ref()?.measured();
        let plunger = self.plunger_diameter.as_ref()?.measured();
        let detail = "the hole through the plunger is smaller than the plunger";
        (plunger.si() <= hole.si()).then(|| contradiction(at, "plunger_bore", hole, shown(plunger), detail))
    }

    fn spring_fault(&self, at: &Pointer) -> Option<Fault> {
        let preload = self.return_preload.as_ref()?.measured();
        let full = self.return_force.as_ref()?.measured();
        let detail = "a spring pulls more the farther the ram is out";
        (full.si() < preload.si()).then(|| contradiction(at, "return_preload", preload, shown(full), detail))
    }

    fn plunger_mass_fault(&self, at: &Pointer) -> Option<Fault> {
        let plunger = self.plunger_mass.as_ref()?.measured();
        let whole = self.mass.as_ref()?.measured();
        let detail = "the plunger is a part of the ram and so lighter";
        (whole.si() <= plunger.si()).then(|| contradiction(at, "plunger_mass", plunger, shown(whole), detail))
    }
}

impl Entry for InlineRam {
    type Item = Ram;
    const LIST: &'static str = "rams";
    const COLUMNS: &'static [Column] = Self::COLUMNS;

    fn id(&self) -> &str {
        &self.id.0
    }

    fn item(&self, at: &Pointer, faults: &mut Faults) -> Option<Ram> {
        self.agrees(at, faults).then(|| Ram {
            id: self.id.0.clone(),
            family: self.family.as_ref().map_or_else(String::new, |name| name.0.clone()),
            action: self.action,
            material: self.material,
            lock_collar: self.lock_collar,
            nominal_class: self.nominal_class.as_ref().map_or_else(String::new, |name| name.0.clone()),
            effective_area: self.effective_area.get(),
            annulus_area: self.annulus_area.as_ref().map(Sent::get),
            rated_pressure: self.rated_pressure.get(),
            stroke: self.stroke.get(),
            closed_height: self.closed_height.get(),
            body_diameter: self.body_diameter.as_ref().map(Sent::get),
            base_diameter: self.base_diameter.as_ref().map(Sent::get),
            plunger_diameter: self.plunger_diameter.as_ref().map(Sent::get),
            plunger_bore: self.plunger_bore.as_ref().map(Sent::get),
            plunger_yield: self.plunger_yield.as_ref().map(Sent::get),
            saddle_diameter: self.saddle_diameter.as_ref().map(Sent::get),
            saddle_tilt_limit: self.saddle_tilt_limit.as_ref().map(Sent::get),
            side_load_limit_ratio: self.side_load_limit_ratio.as_ref().map(Number::get),
            return_force: self.return_force.as_ref().map(Sent::get),
            return_preload: self.return_preload.as_ref().map(Sent::get),
            plunger_mass: self.plunger_mass.as_ref().map(Sent::get),
            mass: self.mass.as_ref().map(Sent::get),
            stock: self.stock.as_ref().map(Number::count),
            day_rate: self.day_rate.as_ref().map(Number::get),
            week_rate: self.week_rate.as_ref().map(Number::get),
        })
    }
}
