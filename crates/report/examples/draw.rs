//! Writes every drawing of a lift plan as SVG: `draw <request.json> <folder> [light|dark|print]`.

use ramwright_api::operation::PlanLift;
use ramwright_api::{Catalogues, Prepared};
use ramwright_report::Subject;
use ramwright_report::drawing::{Look, Theme, drawing, names, step_elevation};
use ramwright_units::Profile;
use std::error::Error;
use std::path::Path;
use std::sync::atomic::AtomicBool;

fn main() -> Result<(), Box<dyn Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [request, folder, rest @ ..] = words.as_slice() else {
        return Err("usage: draw <request.json> <folder> [light|dark|print]".into());
    };
    let theme = match rest.first().map(String::as_str) {
        Some("dark") => Theme::Dark,
        Some("print") => Theme::Print,
        _ => Theme::Light,
    };
    let look = Look { theme, units: Profile::Metric, decimal_comma: false, prefix: "d-".to_owned() };
    let catalogues = Catalogues::embedded().map_err(|faults| format!("{faults:?}"))?;
    let prepared = Prepared::<PlanLift>::from_json(&std::fs::read(request)?, &catalogues)
        .map_err(|problem| format!("{problem:?}"))?;
    let answer = prepared.compute(&AtomicBool::new(false)).map_err(|problem| format!("{problem:?}"))?;
    let subject = Subject::of_plan(prepared.input(), &answer.result);
    std::fs::create_dir_all(folder)?;
    let of_steps = [1, 4].into_iter().filter_map(|step| step_elevation(&subject, step, &look));
    for drawing in names(&subject).iter().filter_map(|name| drawing(&subject, name, &look)).chain(of_steps) {
        std::fs::write(Path::new(folder).join(format!("{}.svg", drawing.name)), drawing.svg)?;
    }
    Ok(())
}
