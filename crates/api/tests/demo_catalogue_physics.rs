//! The invented demonstration catalogue obeys simple mechanics, row by row.
//!
//! Nothing here is read through the product's own parser: the text is read as plain CSV, so that a
//! fault in the parser cannot hide a fault in the data. Formulas: thick-walled tube after Lame,
//! clamped round plate under uniform pressure, thread in shear (textbook mechanics, from memory).
//! The factors and ranges are the catalogue's own choices.

mod demo_catalogue;

use std::collections::BTreeMap;

use demo_catalogue::{ALLOWED_PART_OF_YIELD, Faults, Row, disc_mm2, rows};

const RAMS: &str = include_str!("../catalogues/demo_yard/rams.csv");
const PUMPS: &str = include_str!("../catalogues/demo_yard/pumps.csv");
const HOSES: &str = include_str!("../catalogues/demo_yard/hoses.csv");
const PACKING: &str = include_str!("../catalogues/demo_yard/packing.csv");
const CATALOGUE: &str = include_str!("../catalogues/demo_yard/catalogue.toml");

const RAM_HEAD: &str = "id,family,action,material,lock_collar,nominal_class,effective_area_cm2,\
    annulus_area_cm2,rated_pressure_bar,stroke_mm,closed_height_mm,body_diameter_mm,\
    base_diameter_mm,plunger_diameter_mm,plunger_bore_mm,plunger_yield_MPa,saddle_diameter_mm,\
    saddle_tilt_limit_deg,side_load_limit_ratio,return_force_kN,\
    return_preload_kN,plunger_mass_kg,mass_kg,stock,day_rate,week_rate";
const PUMP_HEAD: &str = "id,drive,rated_pressure_bar,flow_fast_L_min,changeover_pressure_bar,\
    flow_slow_L_min,flow_curve,stroke_volume_fast_mL,stroke_volume_slow_mL,usable_oil_L,reservoir_L,power_kW,outlets,mass_kg,stock,day_rate,week_rate";
const HOSE_HEAD: &str = "id,bore_mm,length_m,rated_pressure_bar,swelling_mL_per_m,mass_kg,stock,day_rate,week_rate";
const PACKING_HEAD: &str = "id,description,material,form,thickness_mm,length_mm,width_mm,mass_kg,\
    settlement_least_mm,settlement_greatest_mm,load_limit_kN,nds_species,en338_class,yield_strength_MPa,members,\
    member_width_mm,use,stock,day_rate,week_rate";

/// Each family: action, material, lock collar; least guide length as a part of the bore.
const FAMILIES: [(&str, &str, f64); 6] = [
    ("alder", "single_acting_load_return steel no", 0.24),
    ("birch", "single_acting_spring_return steel no", 0.60),
    ("cedar", "single_acting_spring_return aluminium no", 0.60),
    ("hazel", "single_acting_load_return steel yes", 0.32),
    ("rowan", "double_acting steel no", 0.90),
    ("willow", "double_acting steel yes", 0.50),
];

const OIL_DENSITY_KG_PER_L: f64 = 0.85;

/// Ids are the group's name and a running number.
fn check_ids(table: &[Row], faults: &mut Faults) {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for row in table {
        let group = row.text("id").split('-').next().unwrap_or_default();
        let count = counts.entry(group).or_default();
        *count += 1;
        faults.require(row.text("id") == format!("{group}-{count:02}"), row, "id out of order");
    }
}

fn check_hire(row: &Row, stock_least: f64, stock_greatest: f64, faults: &mut Faults) {
    let stock = row.number("stock");
    faults.within(row, "stock", stock, stock_least, stock_greatest);
    faults.within(row, "broken part of the stock", stock.fract(), 0.0, 0.0);
    let day = row.number("day_rate");
    faults.require(day > 0.0, row, "day rate is not positive");
    faults.within(row, "week rate / day rate", row.number("week_rate") / day, 2.5, 4.0);
}

#[test]
fn verify_ram_families_are_uniform_and_ordered() {
    let rams = rows(RAMS, RAM_HEAD);
    let mut faults = Faults::default();
    check_ids(&rams, &mut faults);
    let mut pressures = Vec::new();
    for (family, kind, _) in FAMILIES {
        let group: Vec<&Row> = rams.iter().filter(|ram| ram.text("family") == family).collect();
        let pressure = group.first().map_or(f64::NAN, |ram| ram.number("rated_pressure_bar"));
        for ram in &group {
            let own = [ram.text("action"), ram.text("material"), ram.text("lock_collar")];
            faults.require(own.join(" ") == kind, ram, "kind differs from its family's");
            faults.within(ram, "pressure", ram.number("rated_pressure_bar"), pressure, pressure);
            let named = ram.text("id").split('-').next() == Some(family);
            faults.require(named, ram, "id does not begin with the family");
        }
        for (small, large) in group.iter().zip(group.iter().skip(1)) {
            let (before, after) = (small.capacity_kn(), large.capacity_kn());
            let longer = small.number("stroke_mm") < large.number("stroke_mm");
            let rises = before < after || (before <= after && longer);
            faults.require(rises, large, "is not in order of capacity, then stroke");
        }
        pressures.push(format!("{pressure}"));
    }
    faults.report();
    pressures.sort();
    pressures.dedup();
    assert_eq!(pressures.len(), FAMILIES.len(), "families share a rated pressure: {pressures:?}");
    let known = |ram: &Row| FAMILIES.iter().any(|(family, ..)| *family == ram.text("family"));
    assert!(rams.iter().all(known), "a ram belongs to no family");
    let least = rams.iter().map(Row::capacity_kn).fold(f64::INFINITY, f64::min);
    let greatest = rams.iter().map(Row::capacity_kn).fold(0.0, f64::max);
    assert!((45.0..=50.0).contains(&least), "the least capacity is {least} kN");
    assert!((9_500.0..=10_000.0).contains(&greatest), "the greatest capacity is {greatest} kN");
}

#[test]
fn verify_nominal_class_is_not_the_capacity() {
    let mut faults = Faults::default();
    for ram in rows(RAMS, RAM_HEAD) {
        let label = ram.text("nominal_class").strip_prefix("K ").unwrap_or_default();
        let ratio = label.parse().unwrap_or(f64::NAN) / ram.capacity_kn();
        faults.require((ratio - 1.0).abs() > 0.02, &ram, "class equals the capacity in kN");
        faults.require((ratio * 9.806_65 - 1.0).abs() > 0.02, &ram, "class equals it in t");
    }
    faults.report();
}

#[test]
fn verify_plunger_fits_bore_and_carries_capacity() {
    let mut faults = Faults::default();
    for ram in rows(RAMS, RAM_HEAD) {
        let tenths = ram.number("effective_area_cm2") * 10.0;
        faults.within(&ram, "0.1 cm2 of area", tenths, tenths.round() - 1e-6, tenths.round() + 1e-6);
        let plunger = ram.number("plunger_diameter_mm");
        let fills_bore = ram.text("action") == "single_acting_load_return";
        let least_part = if fills_bore { 0.90 } else { 0.60 };
        faults.within(&ram, "plunger / bore", plunger / ram.bore_mm(), least_part, 0.999);
        let hole = ram.number("plunger_bore_mm");
        faults.within(&ram, "plunger bore / plunger", hole / plunger, 0.0, 0.6);
        let stress = ram.capacity_kn() * 1e3 / (disc_mm2(plunger) - disc_mm2(hole));
        let allowed = ALLOWED_PART_OF_YIELD * ram.number("plunger_yield_MPa");
        faults.within(&ram, "plunger stress in MPa", stress, 0.0, allowed);
        let saddle = ram.number("saddle_diameter_mm");
        faults.within(&ram, "saddle / plunger", saddle / plunger, 0.4, 1.0);
    }
    faults.report();
}

#[test]
fn verify_annulus_and_return_force_fit_the_action() {
    let mut faults = Faults::default();
    for ram in rows(RAMS, RAM_HEAD) {
        let (area, force) = (ram.number("effective_area_cm2"), ram.number("return_force_kN"));
        let stated = ram.number("annulus_area_cm2");
        let one_port = ram.is_empty("annulus_area_cm2");
        if ram.text("action") == "double_acting" {
            let annulus = area - disc_mm2(ram.number("plunger_diameter_mm")) / 100.0;
            faults.within(&ram, "annulus in cm2", stated, annulus - 0.1, annulus + 0.1);
            let pull = stated * ram.number("rated_pressure_bar") / 100.0;
            faults.within(&ram, "return force in kN", force, pull - 1.0, pull + 1e-6);
        } else if ram.text("action") == "single_acting_spring_return" {
            faults.require(one_port, &ram, "has an annulus area without a second port");
            faults.within(&ram, "spring force / area in bar", force / area * 100.0, 1.0, 12.0);
            if !ram.is_empty("return_preload_kN") {
                faults.within(&ram, "preload / spring force", ram.number("return_preload_kN") / force, 0.3, 0.6);
            }
            let plunger = disc_mm2(ram.number("plunger_diameter_mm")) - disc_mm2(ram.number("plunger_bore_mm"));
            let least = plunger * ram.number("stroke_mm") * ram.density_kg_m3() / 1e9;
            let mass = ram.number("plunger_mass_kg");
            faults.within(&ram, "mass of the plunger in kg", mass, least * 0.98, ram.number("mass_kg") * 0.6);
        } else {
            faults.require(one_port, &ram, "has an annulus area without a second port");
            let none = ram.is_empty("return_force_kN");
            faults.require(none, &ram, "has a return force without spring or second port");
        }
    }
    faults.report();
}

#[test]
fn verify_body_holds_the_pressure_and_mass_fits_it() {
    let mut faults = Faults::default();
    for ram in rows(RAMS, RAM_HEAD) {
        let (bore, body) = (ram.bore_mm(), ram.number("body_diameter_mm"));
        faults.within(&ram, "body / bore", body / bore, 1.05, 1.5);
        let squares = (body * body + bore * bore) / (body * body - bore * bore);
        let hoop = ram.pressure_mpa() * squares;
        faults.within(&ram, "hoop stress in MPa", hoop, 0.0, ram.allowed_stress_mpa());
        faults.within(&ram, "base / body", ram.number("base_diameter_mm") / body, 1.0, 1.15);
        let envelope_m3 = disc_mm2(body) * ram.number("closed_height_mm") * 1e-9;
        let part = ram.number("mass_kg") / (envelope_m3 * ram.density_kg_m3());
        faults.within(&ram, "mass / solid envelope", part, 0.6, 1.0);
    }
    faults.report();
}

#[test]
fn verify_closed_height_holds_stroke_base_guide_and_collar() {
    let mut faults = Faults::default();
    for ram in rows(RAMS, RAM_HEAD) {
        let (bore, stroke) = (ram.bore_mm(), ram.number("stroke_mm"));
        let base = bore / 2.0 * (0.75 * ram.pressure_mpa() / ram.allowed_stress_mpa()).sqrt();
        let family = FAMILIES.iter().find(|(name, ..)| *name == ram.text("family"));
        let guide = bore * family.map_or(f64::NAN, |(_, _, part)| *part);
        let least = base + guide + ram.collar_mm();
        let beyond = ram.number("closed_height_mm") - stroke;
        faults.within(&ram, "closed height - stroke in mm", beyond, least, 1.6 * bore);
        if ram.text("family") == "alder" {
            faults.within(&ram, "a low ram's height / bore", beyond / bore, 0.45, 0.52);
            faults.within(&ram, "a low ram's stroke in mm", stroke, 5.0, 25.0);
        } else {
            faults.within(&ram, "(closed height - stroke) / bore", beyond / bore, 0.70, 1.6);
        }
    }
    faults.report();
}

#[test]
fn verify_ram_day_rate_rises_smoothly_with_mass_and_capacity() {
    let rams = rows(RAMS, RAM_HEAD);
    let mut faults = Faults::default();
    for ram in &rams {
        for other in &rams {
            let mass = other.number("mass_kg") / ram.number("mass_kg");
            let capacity = other.capacity_kn() / ram.capacity_kn();
            let rate = other.number("day_rate") / ram.number("day_rate");
            let message = format!("day rate to that of {}: {rate:.3}", other.text("id"));
            let bigger = mass >= 1.0 && capacity >= 1.0;
            faults.require(!bigger || rate >= 1.0, ram, &message);
            let near = bigger && mass <= 1.15 && capacity <= 1.15;
            faults.require(!near || rate <= 1.25, ram, &message);
        }
    }
    faults.report();
}

#[test]
fn verify_ram_stock_falls_with_size() {
    let rams = rows(RAMS, RAM_HEAD);
    let mut faults = Faults::default();
    for ram in &rams {
        check_hire(ram, 2.0, 12.0, &mut faults);
        let many = ram.number("stock") > 4.0 && ram.capacity_kn() > 3_000.0;
        faults.require(!many, ram, "a yard does not keep so many this large");
    }
    faults.report();
    for (family, ..) in FAMILIES {
        let group = rams.iter().filter(|ram| ram.text("family") == family);
        let stock: Vec<f64> = group.map(|ram| ram.number("stock")).collect();
        let third = stock.len() / 3;
        let small: f64 = stock.iter().take(third).sum();
        let large: f64 = stock.iter().rev().take(third).sum();
        assert!(small > large, "{family}: as many of the largest as of the smallest");
    }
}

#[test]
fn verify_side_load_and_tilt_limits_are_sometimes_unknown() {
    let rams = rows(RAMS, RAM_HEAD);
    let mut faults = Faults::default();
    let limits = [("side_load_limit_ratio", 0.01, 0.05), ("saddle_tilt_limit_deg", 1.0, 6.0)];
    for (column, least, greatest) in limits {
        for ram in rams.iter().filter(|ram| !ram.is_empty(column)) {
            faults.within(ram, column, ram.number(column), least, greatest);
        }
    }
    faults.report();
    let all = rams.len();
    let no_side = rams.iter().filter(|ram| ram.is_empty("side_load_limit_ratio")).count();
    assert!(no_side * 4 >= all && no_side * 12 <= all * 5, "{no_side} side load limits unknown");
    let no_tilt = rams.iter().filter(|ram| ram.is_empty("saddle_tilt_limit_deg")).count();
    assert!(no_tilt >= 3 && no_tilt * 3 <= all, "{no_tilt} tilt limits unknown");
}

#[test]
fn verify_pump_power_covers_pressure_times_flow() {
    let pumps = rows(PUMPS, PUMP_HEAD);
    let mut faults = Faults::default();
    check_ids(&pumps, &mut faults);
    for pump in &pumps {
        check_hire(pump, 1.0, 12.0, &mut faults);
        let drive = pump.text("drive");
        let known = ["electric", "air", "petrol", "hand"].contains(&drive);
        faults.require(known, pump, "drive is unknown");
        let (fast, slow) = (pump.number("flow_fast_L_min"), pump.number("flow_slow_L_min"));
        let (rated, power) = (pump.number("rated_pressure_bar"), pump.number("power_kW"));
        let efficiency = slow * rated / 600.0 / power;
        faults.within(pump, "slow stage efficiency", efficiency, 0.55, 0.90);
        if pump.is_empty("changeover_pressure_bar") {
            faults.within(pump, "fast flow of a single stage", fast, slow, slow);
        } else {
            let changeover = pump.number("changeover_pressure_bar");
            faults.within(pump, "changeover / rated pressure", changeover / rated, 0.02, 0.3);
            faults.within(pump, "fast / slow of two stages", fast / slow, 2.0, 10.0);
            let fast_power = fast * changeover / 600.0 / power;
            faults.within(pump, "fast stage's part of the power", fast_power, 0.05, 0.90);
        }
        faults.within(pump, "outlets", pump.number("outlets"), 1.0, 12.0);
        faults.require(drive != "hand" || power <= 0.2, pump, "asks more than an arm gives");
        let oil_kg = pump.number("usable_oil_L") * OIL_DENSITY_KG_PER_L;
        faults.require(pump.number("mass_kg") > oil_kg, pump, "weighs less than its oil");
    }
    faults.report();
}

#[test]
fn verify_hose_mass_follows_bore_and_length() {
    let hoses = rows(HOSES, HOSE_HEAD);
    let rams = rows(RAMS, RAM_HEAD);
    let ram_bar = rams.iter().map(|ram| ram.number("rated_pressure_bar")).fold(0.0, f64::max);
    let mut faults = Faults::default();
    check_ids(&hoses, &mut faults);
    for hose in &hoses {
        check_hire(hose, 4.0, 30.0, &mut faults);
        let (bore, length) = (hose.number("bore_mm"), hose.number("length_m"));
        let mass = hose.number("mass_kg");
        let oil_kg = disc_mm2(bore) * length * 1e-3 * OIL_DENSITY_KG_PER_L;
        faults.require(mass > oil_kg, hose, "weighs less than the oil in it");
        faults.within(hose, "mass / bore / length in kg/mm/m", mass / bore / length, 0.06, 0.15);
        let strong = hose.number("rated_pressure_bar") >= ram_bar;
        faults.require(strong, hose, "is weaker than a ram of the yard");
    }
    faults.report();
}

#[test]
fn verify_packing_mass_settlement_and_load_limit() {
    let pieces = rows(PACKING, PACKING_HEAD);
    let mut faults = Faults::default();
    check_ids(&pieces, &mut faults);
    for piece in &pieces {
        check_hire(piece, 16.0, 60.0, &mut faults);
        let plan_mm2 = piece.number("length_mm") * piece.number("width_mm");
        let volume_m3 = plan_mm2 * piece.number("thickness_mm") * 1e-9;
        let mass = volume_m3 * piece.density_kg_m3();
        faults.within(piece, "mass in kg", piece.number("mass_kg"), mass - 0.051, mass + 0.051);
        let steel = piece.text("material") == "steel";
        let group = if steel { "slate-" } else { "oak-" };
        faults.require(piece.text("id").starts_with(group), piece, "id hides the material");
        let (softest, stiffest) = if steel { (0.2, 0.0) } else { (3.0, 0.5) };
        let least = piece.number("settlement_least_mm");
        let greatest = piece.number("settlement_greatest_mm");
        faults.within(piece, "least settlement in mm", least, stiffest, softest);
        faults.within(piece, "greatest settlement in mm", greatest, least, softest);
        let limit = piece.number("load_limit_kN");
        if steel {
            faults.within(piece, "load limit in kN", limit, 1.0, (plan_mm2 * 0.1).min(6_000.0));
        } else {
            faults.within(piece, "load limit / plan in MPa", limit * 1e3 / plan_mm2, 3.0, 4.0);
        }
        let form = ["plate", "block", "crib_layer"].contains(&piece.text("form"));
        faults.require(form, piece, "form is unknown");
        let usage = ["base", "holding", "either"].contains(&piece.text("use"));
        faults.require(usage, piece, "use is unknown");
        faults.require(!piece.is_empty("description"), piece, "is not described");
    }
    faults.report();
}

#[test]
fn verify_catalogue_says_that_it_is_invented() {
    let wanted =
        ["name = \"demo_yard\"", "origin = \"invented for demonstration; no real equipment\"", "currency = \"EUR\""];
    for line in wanted {
        assert!(CATALOGUE.lines().any(|found| found == line), "catalogue.toml lacks {line}");
    }
}
