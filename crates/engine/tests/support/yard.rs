//! An invented yard, small enough to be searched quickly. No real maker's data.

use super::{kn, mm};
use ramwright_engine::catalogue::{Drive, Hose, Packing, PackingForm, PackingMaterial, PackingUse, Pump};
use ramwright_engine::circuit::{CircuitConditions, Oil};
use ramwright_engine::feed::CircuitChoice;
use ramwright_engine::ram::{Action, Material, Ram};
use ramwright_engine::support::{En338Class, NdsSpecies};
use ramwright_units::{
    Area, Flow, HoseLength, KinematicViscosity, OilPressure, OilVolume, PieceMass, Power, Stress, Temperature,
};

/// A double-acting ram of these sizes with everything stated.
pub(crate) fn ram(id: &str, area_cm2: f64, stroke_mm: f64, closed_mm: f64) -> Ram {
    let bore_mm = 10.0 * (4.0 * area_cm2 / std::f64::consts::PI).sqrt();
    Ram {
        id: id.into(),
        family: "elm".into(),
        action: Action::DoubleActing,
        material: Material::Steel,
        lock_collar: false,
        nominal_class: "no number to compute with".into(),
        effective_area: Area::from_cm2(area_cm2),
        annulus_area: Some(Area::from_cm2(0.4 * area_cm2)),
        rated_pressure: OilPressure::from_bar(680.0),
        stroke: mm(stroke_mm),
        closed_height: mm(closed_mm),
        body_diameter: Some(mm(1.45 * bore_mm)),
        base_diameter: Some(mm(1.45 * bore_mm)),
        plunger_diameter: Some(mm(0.75 * bore_mm)),
        plunger_bore: Some(mm(0.0)),
        plunger_yield: Some(Stress::from_mpa(600.0)),
        saddle_diameter: Some(mm(0.6 * bore_mm)),
        saddle_tilt_limit: None,
        side_load_limit_ratio: Some(0.05),
        return_force: None,
        return_preload: None,
        plunger_mass: None,
        mass: Some(PieceMass::from_kg(area_cm2 * (stroke_mm + closed_mm) * 0.002)),
        stock: Some(12),
        day_rate: Some(area_cm2 * 0.3),
        week_rate: Some(area_cm2 * 1.1),
    }
}

/// The ram of 35.0 cm2 at 680 bar, 238 kN.
pub(crate) fn small_ram() -> Ram {
    ram("elm-35", 35.0, 150.0, 210.0)
}

/// Rams of four sizes, one of them with a lock collar, one pushed back by its load.
pub(crate) fn rams() -> Vec<Ram> {
    let collar =
        Ram { lock_collar: true, action: Action::SingleActingLoadReturn, ..ram("elm-71c", 71.0, 100.0, 230.0) };
    let flat = Ram { action: Action::SingleActingSpringReturn, ..ram("elm-71f", 71.0, 40.0, 110.0) };
    vec![small_ram(), collar, flat, ram("elm-140", 140.0, 200.0, 330.0)]
}

fn piece(id: &str, thickness_mm: f64, settlement_mm: f64, use_: PackingUse, stock: u32) -> Packing {
    Packing {
        id: id.into(),
        description: "invented".into(),
        material: PackingMaterial::Steel,
        form: PackingForm::Plate,
        thickness: mm(thickness_mm),
        length: mm(400.0),
        width: mm(400.0),
        mass: PieceMass::from_kg(1.2 * thickness_mm),
        settlement_least: mm(0.0),
        settlement_greatest: mm(settlement_mm),
        load_limit: Some(kn(6000.0)),
        nds_species: Some(NdsSpecies::WhiteOak),
        en338_class: Some(En338Class::D30Edition2016),
        yield_strength: Some(Stress::from_mpa(265.0)),
        members: None,
        member_width: None,
        use_,
        stock,
        day_rate: Some(0.5),
        week_rate: Some(1.5),
    }
}

/// Pieces in the order of their ids; the first two are thin enough to follow up within 25 mm.
pub(crate) fn pieces() -> Vec<Packing> {
    let block = Packing { form: PackingForm::Block, ..piece("p3", 100.0, 0.3, PackingUse::Either, 24) };
    let timber = Packing { material: PackingMaterial::Hardwood, ..piece("p4", 50.0, 1.1, PackingUse::Base, 12) };
    vec![piece("p1", 10.0, 0.1, PackingUse::Either, 24), piece("p2", 20.0, 0.1, PackingUse::Holding, 18), block, timber]
}

pub(crate) fn pump() -> Pump {
    Pump {
        id: "pump".into(),
        drive: Drive::Electric,
        rated_pressure: OilPressure::from_bar(700.0),
        flow_fast: Flow::from_l_per_min(6.0),
        changeover_pressure: Some(OilPressure::from_bar(90.0)),
        flow_slow: Flow::from_l_per_min(1.1),
        flow_curve: Vec::new(),
        stroke_volume_fast: None,
        stroke_volume_slow: None,
        usable_oil: OilVolume::from_l(25.0),
        reservoir: None,
        power: Some(Power::from_kw(1.5)),
        outlets: Some(4),
        mass: None,
        stock: Some(2),
        day_rate: None,
        week_rate: None,
    }
}

pub(crate) fn hose() -> Hose {
    Hose {
        id: "hose".into(),
        bore: mm(6.0),
        length: HoseLength::from_m(7.5),
        rated_pressure: OilPressure::from_bar(720.0),
        swelling: None,
        mass: None,
        stock: Some(20),
        day_rate: None,
        week_rate: None,
    }
}

/// A mineral oil of grade 32, as it may be on a cool day.
pub(crate) fn oil() -> Oil {
    Oil {
        viscosity_40: KinematicViscosity::from_mm2_per_s(32.0),
        viscosity_100: KinematicViscosity::from_mm2_per_s(5.4),
        temperature: Temperature::from_k(288.15),
        coldest: None,
        density_kg_per_m3: 870.0,
        bulk_modulus: None,
    }
}

/// A pump at the height of the rams, with its efficiency.
pub(crate) fn conditions() -> CircuitConditions {
    CircuitConditions { fittings_k: None, back_pressure: OilPressure::ZERO, flow_division: None, pump_efficiency: 0.75 }
}

pub(crate) fn circuit() -> CircuitChoice {
    CircuitChoice {
        pump: pump(),
        pumps: 1,
        hose: Some(hose()),
        hose_count_in_series: 2,
        oil: oil(),
        conditions: conditions(),
    }
}
