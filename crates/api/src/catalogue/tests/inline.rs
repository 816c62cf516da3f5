//! Entries inside a request, and checking files that a request brings.

use super::*;

fn inline(json: &str) -> (Option<InlineCatalogue>, Vec<Fault>) {
    let mut faults = Faults::default();
    let at = Pointer::default().field("catalogue_entries");
    let read = InlineCatalogue::read(&Node::parse(json.as_bytes()).unwrap(), &at, &mut faults);
    (read, faults.into_vec())
}

fn merge(json: &str, base: Option<&Catalogue>) -> Result<Catalogue, Vec<Fault>> {
    let (read, faults) = inline(json);
    assert_eq!(faults, []);
    let mut faults = Faults::default();
    let at = Pointer::default().field("catalogue_entries");
    let merged = read.unwrap().merge(base, &at, &mut faults);
    assert_eq!(merged.is_none(), !faults.is_empty());
    merged.ok_or(faults.into_vec())
}

fn ram(id: &str, more: &str) -> String {
    format!(
        r#"{{"id": "{id}", "action": "double_acting", "material": "steel", "lock_collar": false, "effective_area": "100 cm2",
            "rated_pressure": "700 bar", "stroke": {{"value": 150, "unit": "mm"}}, "closed_height": "300 mm"{more}}}"#
    )
}

#[test]
fn verify_an_object_and_a_row_give_the_same_ram() {
    let row = one_ram(&format!("{RAM_HEADS},annulus_area_cm2,stock"), "a,double_acting,steel,no,100,700,150,300,40,3");
    let merged =
        merge(&format!(r#"{{"rams": [{}]}}"#, ram("a", r#", "annulus_area": "40 cm2", "stock": 3"#)), None).unwrap();
    assert_eq!(merged.rams["a"], row);
    assert_eq!((merged.name.as_str(), merged.currency.as_str()), ("inline", NO_CURRENCY));
}

#[test]
fn verify_entries_are_added_to_a_catalogue_and_ids_stay_unique() {
    let all = Catalogues::embedded().unwrap();
    let base = &all.get(DEFAULT_CATALOGUE).unwrap().catalogue;
    let merged = merge(&format!(r#"{{"rams": [{}]}}"#, ram("own-01", "")), Some(base)).unwrap();
    assert_eq!((merged.rams.len(), merged.pumps.len()), (base.rams.len() + 1, base.pumps.len()));
    assert_eq!((&merged.name, &merged.currency), (&base.name, &base.currency));
    assert_ne!(catalogue_digest(&merged), catalogue_digest(base));

    let twice = format!(r#"{{"rams": [{}, {}, {}]}}"#, ram("alder-01", ""), ram("x", ""), ram("x", ""));
    let faults = merge(&twice, Some(base)).unwrap_err();
    let found: Vec<_> = faults.iter().map(|fault| (fault.pointer.as_deref().unwrap(), fault.code)).collect();
    let expected = [
        ("#/catalogue_entries/rams/0/id", FaultCode::DuplicateId),
        ("#/catalogue_entries/rams/2/id", FaultCode::DuplicateId),
    ];
    assert_eq!(found, expected);
    assert!(faults[0].detail.contains("demo_yard") && faults[1].detail.contains("rams/1"), "{faults:?}");
}

#[test]
fn verify_rules_between_fields_and_currencies_hold_here_too() {
    let all = Catalogues::embedded().unwrap();
    let base = &all.get(DEFAULT_CATALOGUE).unwrap().catalogue;
    let json = format!(r#"{{"currency": "USD", "rams": [{}]}}"#, ram("x", r#", "annulus_area": "100 cm2""#));
    let faults = merge(&json, Some(base)).unwrap_err();
    let found: Vec<_> = faults.iter().map(|fault| (fault.pointer.as_deref().unwrap(), fault.code)).collect();
    let expected = [
        ("#/catalogue_entries/currency", FaultCode::Inconsistent),
        ("#/catalogue_entries/rams/0/annulus_area", FaultCode::Inconsistent),
    ];
    assert_eq!(found, expected);
    assert_eq!(merge(r#"{"currency": "USD"}"#, None).unwrap().currency, "USD");
}

#[test]
fn verify_a_bare_number_and_too_long_a_list_are_refused() {
    let (read, faults) = inline(&format!(r#"{{"rams": [{}]}}"#, ram("x", r#", "mass": 12"#)));
    assert!(read.is_none());
    assert_eq!(faults[0].pointer.as_deref(), Some("#/catalogue_entries/rams/0/mass"));
    assert_eq!(faults[0].code, FaultCode::BareNumber);
    let many = vec![ram("x", ""); MOST_INLINE + 1].join(",");
    let (_, faults) = inline(&format!(r#"{{"rams": [{many}]}}"#));
    assert_eq!(faults.iter().map(|fault| fault.code).collect::<Vec<_>>(), [FaultCode::TooManyItems]);
}

#[test]
fn verify_the_schema_states_the_same_limits() {
    let schema = serde_json::to_value(<InlineCatalogue as utoipa::PartialSchema>::schema()).unwrap();
    for list in ["rams", "pumps", "hoses", "packing"] {
        assert_eq!(schema["properties"][list]["maxItems"], MOST_INLINE, "{schema:#}");
    }
    let packing = serde_json::to_value(<InlinePacking as utoipa::PartialSchema>::schema()).unwrap();
    let required: Vec<&str> = packing["required"].as_array().unwrap().iter().filter_map(|name| name.as_str()).collect();
    let columns = <InlinePacking as super::super::entry::Entry>::COLUMNS;
    let wanted: Vec<&str> = columns.iter().filter(|column| column.required).map(|column| column.name).collect();
    assert_eq!(required, wanted);
}

fn checked(json: &serde_json::Value) -> CatalogueCheck {
    let mut faults = Faults::default();
    let node = Node::parse(json.to_string().as_bytes()).unwrap();
    let files = CatalogueFiles::read(&node, &Pointer::default(), &mut faults);
    assert_eq!(faults.into_vec(), []);
    check_catalogue(&files.unwrap())
}

#[test]
fn verify_a_sound_list_is_acceptable_and_says_what_it_leaves_open() {
    let rams = format!(
        "{RAM_HEADS},side_load_limit_ratio,stock\n\
         a,double_acting,steel,no,100,700,150,300,,2\n\
         b,single_acting_load_return,steel,no,100,700,150,300,0.02,2\n"
    );
    let check = checked(&serde_json::json!({ "rams_csv": rams, "catalogue_toml": TOML, "name": "yard" }));
    assert!(check.acceptable && check.faults.is_empty());
    let summary = check.summary.unwrap();
    assert_eq!((summary.name.as_str(), summary.rams, summary.packing), ("yard", 2, 0));
    let texts: Vec<&str> = check.remarks.iter().map(|remark| remark.text.as_str()).collect();
    assert!(texts.contains(&"1 of 2 rams have no side_load_limit_ratio: side_load will be not_checked"), "{texts:?}");
    assert!(texts.contains(&"1 of 1 rams have no annulus_area: capacity will be not_checked where they pull"));
    assert!(!texts.iter().any(|text| text.contains("stock")), "{texts:?}");
    let lists_alone = checked(&serde_json::json!({ "rams_csv": rams }));
    assert_eq!(lists_alone.summary.map(|summary| summary.currency), Some(NO_CURRENCY.to_owned()));
    assert!(checked(&serde_json::json!({})).acceptable);
}

#[test]
fn verify_a_faulty_list_is_not_acceptable() {
    let check = checked(&serde_json::json!({ "name": "other", "catalogue_toml": TOML, "hoses_csv": "id,bore\n" }));
    assert!(!check.acceptable && check.summary.is_none() && check.remarks.is_empty());
    let places: Vec<_> = check.faults.iter().filter_map(|fault| fault.pointer.as_deref()).collect();
    let expected = ["#/catalogue/name", "#/hoses/0/bore", "#/hoses/0/length", "#/hoses/0/rated_pressure"];
    assert_eq!(places, expected);
}

/// The demonstration yard leaves some limits open on purpose.
#[test]
fn verify_remarks_on_the_embedded_catalogue_count_right() {
    let all = Catalogues::embedded().unwrap();
    let remarks = catalogue_remarks(&all.get(DEFAULT_CATALOGUE).unwrap().catalogue);
    let rows = include_str!("../../../catalogues/demo_yard/rams.csv").lines().skip(1);
    // Column 19 of the file is side_load_limit_ratio.
    let open = rows.filter(|row| row.split(',').nth(18) == Some("")).count();
    let remark = remarks.iter().find(|remark| remark.column == "side_load_limit_ratio").unwrap();
    assert_eq!((remark.missing, remark.of), (open, 63));
    assert!(0 < open && open < 63);
}
