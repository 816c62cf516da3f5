//! Tests of catalogues as a whole.

mod faults;
mod inline;

use super::*;
use crate::json::Node;
use crate::read::Read;
use proptest::prelude::*;
use ramwright_engine::ram::Ram;
use ramwright_units::{Length, Typed};

const TOML: &str = "name = \"yard\"\ntitle = \"A yard\"\norigin = \"invented\"\ncurrency = \"EUR\"\n";
const RAM_HEADS: &str =
    "id,action,material,lock_collar,effective_area_cm2,rated_pressure_bar,stroke_mm,closed_height_mm";

fn yard(rams: &str) -> CatalogueText {
    CatalogueText { name: "yard".into(), toml: TOML.into(), rams: rams.into(), ..CatalogueText::default() }
}

fn one_ram(heads: &str, cells: &str) -> Ram {
    let catalogue = parse_catalogue(&yard(&format!("{heads}\n{cells}\n"))).unwrap();
    catalogue.rams.into_values().next().unwrap()
}

#[test]
fn verify_the_embedded_catalogue_is_read_whole() {
    let all = Catalogues::embedded().unwrap();
    assert_eq!(all.names().collect::<Vec<_>>(), [DEFAULT_CATALOGUE]);
    let loaded = all.get(DEFAULT_CATALOGUE).unwrap();
    let summary = loaded.summary();
    assert_eq!((summary.rams, summary.pumps, summary.hoses, summary.packing), (63, 9, 8, 14));
    assert!(summary.origin.contains("invented"));
    // One cell of each table, read off the files by eye.
    let catalogue = &loaded.catalogue;
    let alder = &catalogue.rams["alder-02"];
    assert!((alder.rated_pressure.bar() - 640.0).abs() < 1e-9 && (alder.effective_area.cm2() - 17.0).abs() < 1e-9);
    assert_eq!((alder.annulus_area, alder.saddle_tilt_limit, alder.stock), (None, None, Some(11)));
    assert_eq!((alder.lock_collar, alder.nominal_class.as_str()), (false, "K 120"));
    assert!((catalogue.pumps["heron-03"].flow_slow.l_per_min() - 2.75).abs() < 1e-12);
    assert!((catalogue.hoses["reed-07"].length.m() - 23.0).abs() < 1e-12);
    assert!((catalogue.packing["oak-02"].settlement_greatest.mm() - 1.5).abs() < 1e-12);
}

#[test]
fn verify_the_digest_is_that_of_the_metric_json_and_changes_with_a_value() {
    let all = Catalogues::embedded().unwrap();
    let loaded = all.get(DEFAULT_CATALOGUE).unwrap();
    assert!(loaded.digest.starts_with("sha256:") && loaded.digest.len() == 7 + 64, "{}", loaded.digest);
    let mut other = loaded.catalogue.clone();
    assert_eq!(catalogue_digest(&other), loaded.digest);
    other.rams.get_mut("alder-01").unwrap().stroke = Length::from_mm(6.1);
    assert_ne!(catalogue_digest(&other), loaded.digest);
    other.rams.get_mut("alder-01").unwrap().stroke = Length::from_mm(f64::NAN);
    assert!(catalogue_digest(&other).starts_with("none"));
}

/// The same ram in metric and in US units: 1 in = 25.4 mm, 1 lb = 0.453 592 37 kg, 1 psi = 6 894.757 293 168 Pa (NIST SP 811).
#[test]
fn verify_the_unit_in_a_head_is_used() {
    let same = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-12;
    let metric = one_ram(
        &format!("{RAM_HEADS},mass_kg,plunger_yield_MPa,saddle_tilt_limit_deg"),
        "a,double_acting,steel,yes,129.032,689.4757293168361,254,381,45.359237,689.4757293168361,3",
    );
    let us = one_ram(
        "saddle_tilt_limit_rad,mass_lb,closed_height_in,stroke_ft,rated_pressure_psi,effective_area_in2,lock_collar,material,action,id,plunger_yield_ksi",
        "0.05235987755982988,100,15,0.8333333333333334,10000,20,TRUE,steel,double_acting,a,100",
    );
    assert!(same(metric.effective_area.si(), us.effective_area.si()));
    assert!(same(metric.rated_pressure.si(), us.rated_pressure.si()));
    assert!(same(metric.stroke.si(), us.stroke.si()));
    assert!(same(metric.closed_height.si(), us.closed_height.si()));
    assert!(same(metric.mass.unwrap().si(), us.mass.unwrap().si()));
    assert!(same(metric.plunger_yield.unwrap().si(), us.plunger_yield.unwrap().si()));
    assert!(same(metric.saddle_tilt_limit.unwrap().si(), us.saddle_tilt_limit.unwrap().si()));
    assert!(metric.lock_collar && us.lock_collar);
    // 20 in2 at 10 000 psi is 100 short tons-force, exactly.
    assert!(same((us.effective_area * Length::from_m(1.0)).si(), 0.012_903_2));
    assert!(same((us.rated_pressure * us.effective_area).kn(), 889.644_323_052_1));
}

#[test]
fn verify_spreadsheet_habits_are_taken() {
    let cells = "a, double_acting ,steel,No,10,700,1.5e2,300";
    let text = format!("\u{feff}{RAM_HEADS},family\r\n{cells},\"oak, old\"\r\n,,,,,,,,\r\n\r\n");
    let ram = parse_catalogue(&yard(&text)).unwrap().rams.remove("a").unwrap();
    assert_eq!(ram.family, "oak, old");
    assert!((ram.stroke.mm() - 150.0).abs() < 1e-9);
    assert!(ram.plunger_bore.is_none() && ram.mass.is_none() && ram.stock.is_none());
}

/// A telescopic ram is lower than its stroke: that is no fault.
#[test]
fn verify_a_closed_height_below_the_stroke_is_taken() {
    let ram = one_ram(RAM_HEADS, "a,double_acting,steel,no,100,700,500,260");
    assert!(ram.closed_height < ram.stroke);
}

/// The fields of a schema, in order.
fn fields<T: utoipa::PartialSchema>() -> Vec<String> {
    let schema = serde_json::to_value(T::schema()).unwrap();
    schema["properties"].as_object().unwrap().keys().cloned().collect()
}

/// Every word of the engine's schema is read and written back.
fn check_words<T: Read + utoipa::PartialSchema>() {
    let schema = serde_json::to_value(T::schema()).unwrap();
    let words = schema["enum"].as_array().or_else(|| schema["oneOf"].as_array()).unwrap();
    assert!(!words.is_empty());
    for word in words {
        let word = word.as_str().or_else(|| word["const"].as_str()).or_else(|| word["enum"][0].as_str()).unwrap();
        let mut faults = Faults::default();
        let read = T::read(&Node::Text(word.to_owned()), &Pointer::default(), &mut faults);
        assert_eq!(read.and_then(|value| value.canonical()), Some(word.into()), "{word}");
    }
}

#[test]
fn verify_fields_and_words_are_those_of_the_engine() {
    assert_eq!(fields::<InlineRam>(), fields::<Ram>());
    assert_eq!(fields::<InlinePump>(), fields::<ramwright_engine::catalogue::Pump>());
    assert_eq!(fields::<InlineHose>(), fields::<ramwright_engine::catalogue::Hose>());
    assert_eq!(fields::<InlinePacking>(), fields::<ramwright_engine::catalogue::Packing>());
    check_words::<ramwright_engine::ram::Action>();
    check_words::<ramwright_engine::ram::Material>();
    check_words::<ramwright_engine::catalogue::Drive>();
    check_words::<ramwright_engine::catalogue::PackingMaterial>();
    check_words::<ramwright_engine::catalogue::PackingForm>();
    check_words::<ramwright_engine::catalogue::PackingUse>();
}

/// A table of the right heads and any cells, so that not all trials end at the heads.
fn any_table() -> impl Strategy<Value = String> {
    let cell = prop_oneof![
        ".{0,12}",
        Just("double_acting".to_owned()),
        Just("steel".to_owned()),
        Just(String::new()),
        any::<f64>().prop_map(|value| value.to_string()),
    ];
    proptest::collection::vec(proptest::collection::vec(cell, 0..10), 0..6).prop_map(|rows| {
        let rows: Vec<String> = rows.into_iter().map(|row| row.join(",")).collect();
        format!("{RAM_HEADS}\n{}", rows.join("\n"))
    })
}

proptest! {
    #[test]
    fn verify_any_bytes_answer(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let all = CatalogueText {
            name: text.clone(), toml: text.clone(), rams: text.clone(), pumps: text.clone(), hoses: text.clone(), packing: text
        };
        let _ = parse_catalogue(&all);
    }

    #[test]
    fn verify_any_rows_answer_and_what_is_taken_is_finite(table in any_table()) {
        if let Ok(catalogue) = parse_catalogue(&yard(&table)) {
            prop_assert!(catalogue_digest(&catalogue).starts_with("sha256:"));
        }
    }
}
