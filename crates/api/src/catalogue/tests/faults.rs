//! Faults of files: each with its place and kind.

use super::*;

fn faults_of(text: &CatalogueText) -> Vec<Fault> {
    parse_catalogue(text).unwrap_err()
}

#[track_caller]
fn check(text: &CatalogueText, expected: &[(&str, FaultCode)]) -> Vec<Fault> {
    let faults = faults_of(text);
    let found: Vec<_> = faults.iter().map(|fault| (fault.pointer.as_deref().unwrap(), fault.code)).collect();
    assert_eq!(found, expected, "{faults:#?}");
    faults
}

#[test]
fn verify_five_planted_faults_are_all_named_with_their_places() {
    let rams = format!(
        "{RAM_HEADS},annulus_area_cm2\n\
         a,double_acting,steel,no,100,700,150,300,40\n\
         b,double_actin,steel,no,100,700,150,300,40\n\
         c,double_acting,steel,no,100,70000,150,300,40\n\
         d,double_acting,steel,no,100,700,1.5.0,300,40\n\
         a,double_acting,steel,no,100,700,,300,40\n"
    );
    let faults = check(
        &yard(&rams),
        &[
            ("#/rams/2/action", FaultCode::UnknownValue),
            ("#/rams/3/rated_pressure", FaultCode::OutOfRange),
            ("#/rams/4/stroke", FaultCode::NotAQuantity),
            ("#/rams/5/id", FaultCode::DuplicateId),
            ("#/rams/5/stroke", FaultCode::MissingField),
        ],
    );
    assert_eq!(faults[0].nearest.as_deref(), Some("double_acting"));
    assert!(faults[1].detail.starts_with("`c` in line 4: "), "{}", faults[1].detail);
    assert_eq!(faults[1].limit.as_deref(), Some("4000 bar"));
    assert!(faults[3].detail.contains("line 2"), "{}", faults[3].detail);
    // Lines are counted alike however they end.
    assert_eq!(faults_of(&yard(&rams.replace('\n', "\r\n"))), faults);
}

#[test]
fn verify_a_head_is_faulted_once_and_not_in_every_row() {
    let rams = "id,action,material,lock_colar,effective_area_cm2,rated_pressure,stroke_kg,id\n\
                a,double_acting,steel,no,100,700,150,a\n\
                b,double_acting,steel,no,100,700,150,b\n";
    let faults = check(
        &yard(rams),
        &[
            ("#/rams/0/lock_colar", FaultCode::UnknownField),
            ("#/rams/0/rated_pressure", FaultCode::BareNumber),
            ("#/rams/0/stroke_kg", FaultCode::WrongDimension),
            ("#/rams/0/id", FaultCode::DuplicateField),
            ("#/rams/0/lock_collar", FaultCode::MissingField),
            ("#/rams/0/closed_height", FaultCode::MissingField),
        ],
    );
    assert_eq!(faults[0].nearest.as_deref(), Some("lock_collar"));
}

#[test]
fn verify_bad_cells_of_every_kind() {
    let rams = format!(
        "{RAM_HEADS},stock,side_load_limit_ratio\n\
         a,double_acting,steel,maybe,abc,700,\"1,5\",1e999,2.5,x\n\
         b,double_acting,steel,no,100,700,150\n\
         ,double_acting,steel,no,100,700,150,12 in,-1,0.9\n"
    );
    let faults = check(
        &yard(&rams),
        &[
            ("#/rams/1/lock_collar", FaultCode::UnknownValue),
            ("#/rams/1/effective_area", FaultCode::NotAQuantity),
            ("#/rams/1/stroke", FaultCode::NotAQuantity),
            ("#/rams/1/closed_height", FaultCode::NotFinite),
            ("#/rams/1/side_load_limit_ratio", FaultCode::WrongType),
            ("#/rams/1/stock", FaultCode::WrongType),
            ("#/rams/2", FaultCode::MalformedTable),
            ("#/rams/3/id", FaultCode::MissingField),
            ("#/rams/3/closed_height", FaultCode::NotAQuantity),
            ("#/rams/3/side_load_limit_ratio", FaultCode::OutOfRange),
            ("#/rams/3/stock", FaultCode::OutOfRange),
        ],
    );
    assert!(faults[7].detail.starts_with("line 4: "), "{}", faults[7].detail);
}

#[test]
fn verify_rams_that_contradict_themselves() {
    // The bore for 100 cm2 is 112.84 mm.
    let rams = format!(
        "{RAM_HEADS},annulus_area_cm2,plunger_diameter_mm,plunger_bore_mm,body_diameter_in\n\
         a,double_acting,steel,no,100,700,150,300,100,80,20,6\n\
         b,double_acting,steel,no,100,700,150,300,40,115,20,6\n\
         c,double_acting,steel,no,100,700,150,300,40,80,80,6\n\
         d,double_acting,steel,no,100,700,150,300,40,80,20,4.44\n\
         e,double_acting,steel,no,100,700,150,300,99.9,113,,4.45\n"
    );
    let faults = check(
        &yard(&rams),
        &[
            ("#/rams/1/annulus_area", FaultCode::Inconsistent),
            ("#/rams/2/plunger_diameter", FaultCode::Inconsistent),
            ("#/rams/3/plunger_bore", FaultCode::Inconsistent),
            ("#/rams/4/body_diameter", FaultCode::Inconsistent),
        ],
    );
    assert_eq!(faults[1].limit.as_deref(), Some("112.8 mm"));
    assert_eq!((faults[3].given.as_deref(), faults[3].limit.as_deref()), (Some("4.44 in"), Some("4.442 in")));
}

#[test]
fn verify_pumps_hoses_and_packing_that_contradict_themselves() {
    let text = CatalogueText {
        pumps: "id,drive,rated_pressure_bar,flow_fast_L_min,changeover_pressure_bar,flow_slow_L_min,usable_oil_L\n\
                a,hand,700,2,700,1,5\nb,hand,700,1,50,2,5\nc,hand,700,2,,1,5\nd,hand,700,2,,2,5\n"
            .into(),
        hoses: "id,bore_mm,length_m,rated_pressure_bar\na,0,5,700\nb,6,5,700\n".into(),
        packing: "id,material,form,thickness_mm,length_mm,width_mm,mass_kg,settlement_least_mm,settlement_greatest_mm,use,stock\n\
                  a,steel,plate,10,300,300,7,0.2,0.1,either,5\nb,softwood,block,10,300,300,7,0.2,10,base,5\n"
            .into(),
        ..yard("")
    };
    check(
        &text,
        &[
            ("#/pumps/1/changeover_pressure", FaultCode::Inconsistent),
            ("#/pumps/2/flow_slow", FaultCode::Inconsistent),
            ("#/pumps/3/flow_slow", FaultCode::Inconsistent),
            ("#/hoses/1/bore", FaultCode::OutOfRange),
            ("#/packing/1/settlement_least", FaultCode::Inconsistent),
            ("#/packing/2/settlement_greatest", FaultCode::Inconsistent),
        ],
    );
}

#[test]
fn verify_faults_of_catalogue_toml() {
    let with = |toml: &str| CatalogueText { toml: toml.into(), ..yard("") };
    let unknown = "name = \"yard\"\ntitel = \"x\"\norigin = 3\ncurrency = \"euro\"\n";
    let faults = check(
        &with(unknown),
        &[
            ("#/catalogue/titel", FaultCode::UnknownField),
            ("#/catalogue/title", FaultCode::MissingField),
            ("#/catalogue/origin", FaultCode::WrongType),
            ("#/catalogue/currency", FaultCode::UnknownValue),
        ],
    );
    assert_eq!(faults[0].nearest.as_deref(), Some("title"));
    check(&with(&TOML.replace("\"yard\"", "\"a/b\"")), &[("#/catalogue/name", FaultCode::UnknownValue)]);
    check(&with(&TOML.replace("\"yard\"", "\"other\"")), &[("#/catalogue/name", FaultCode::Inconsistent)]);
    let broken = check(&with("name = \"yard\"\ntitle = \n"), &[("#/catalogue", FaultCode::MalformedTable)]);
    assert!(broken[0].detail.contains("line 2"), "{}", broken[0].detail);
}

/// Whatever is sent, the answer stays of a bounded size.
#[test]
fn verify_a_flood_of_faults_is_cut_off_and_says_so() {
    let rows = "x,,,,,,,\n".repeat(40_000);
    let faults = faults_of(&yard(&format!("{RAM_HEADS}\n{rows}")));
    assert!(faults.len() <= MOST_FAULTS + 10, "{}", faults.len());
    assert_eq!(faults.last().map(|fault| fault.code), Some(FaultCode::TooManyItems));
    let wide = faults_of(&yard(&"a,".repeat(100_000)));
    assert_eq!(wide.iter().map(|fault| fault.code).collect::<Vec<_>>(), [FaultCode::TooManyItems]);
    let long = faults_of(&yard(&format!("{RAM_HEADS}\n{},y,z,no,1,1,1,1\n", "é".repeat(100_000))));
    assert!(serde_json::to_string(&long).unwrap().len() < 4_000);
}

#[test]
fn verify_too_many_rows_are_refused() {
    use std::fmt::Write;
    let mut rams = format!("{RAM_HEADS}\n");
    for index in 0..=MOST_ROWS {
        writeln!(rams, "r{index},double_acting,steel,no,100,700,150,300").unwrap();
    }
    check(&yard(&rams), &[(&format!("#/rams/{}", MOST_ROWS + 1), FaultCode::TooManyItems)]);
}
