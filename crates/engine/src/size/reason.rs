//! Why the recommended set is the one.

use super::option::RamOption;
use super::terms::Objective;
use crate::Text;
use crate::check::Status;
use crate::load::Task;
use crate::verify::{Governing, Verdict};

/// One sentence: the set, the objectives that tell it from the others one after the other, and what decides its verdict.
pub(super) fn reason(
    best: &RamOption,
    others: &[RamOption],
    (objectives, task): (&[Objective], Task),
    complete: bool,
) -> Text {
    let mut equals: Vec<&RamOption> =
        others.iter().filter(|other| other.verdict.status == best.verdict.status).collect();
    let mut said: Vec<String> = Vec::new();
    for objective in
        objectives.iter().filter(|objective| asks(**objective, task) && figure(**objective, best).is_some())
    {
        if !said.is_empty() && equals.is_empty() {
            break;
        }
        said.push(phrase(*objective, best));
        let mine = figure(*objective, best);
        equals.retain(|other| figure(*objective, other) == mine);
    }
    let said = if said.is_empty() { vec!["nothing known that tells it apart".to_owned()] } else { said };
    let tie = match equals.len() {
        0 => "",
        _ => "; others are equal in all of that, and it is the first of them by the remaining figures and by name",
    };
    let verdict = match best.verdict.status {
        Status::Pass => "that pass",
        Status::Caution => "with no worse than cautions",
        Status::NotChecked => "that fail in nothing but lack inputs",
        Status::Fail => "which the load itself fails",
    };
    let decided = best.verdict.governing.as_ref().map_or_else(String::new, |governing| {
        let used = governing.utilisation.map_or_else(String::new, |used| format!(" {:.3}", rounded_up(used)));
        format!("; what decides: \"{}\"{used} at {}", governing.check.listed().title, governing.subject)
    });
    let fed = match (&best.circuit, &best.circuit_missing) {
        (_, Some(missing)) => format!("; no circuit is chosen for it, which needs {missing}"),
        (Some(circuit), None) if circuit.verdict.status != Status::Pass => {
            format!("; its circuit {}", open_of(&circuit.verdict))
        }
        _ => String::new(),
    };
    let looked_at = if complete { "" } else { " looked at, which are not all," };
    Text::from(format!(
        "{}: of the sets{looked_at} {verdict} it has {}{tie}{decided}{fed}",
        best.set,
        said.join(", then ")
    ))
}

/// What is not a plain pass in a circuit.
fn open_of(verdict: &Verdict) -> String {
    let open = if verdict.status == Status::Caution { "has a caution" } else { "is not checked to the end" };
    let of = |governing: &Governing| format!(" (\"{}\")", governing.check.listed().title);
    format!("{open}{}", verdict.governing.as_ref().map_or_else(String::new, of))
}

/// Whether an objective tells sets apart in a task.
fn asks(objective: Objective, task: Task) -> bool {
    objective != Objective::PackingLifts || task == Task::Raise
}

fn phrase(objective: Objective, option: &RamOption) -> String {
    let known = |value: Option<String>| value.unwrap_or_else(|| "not known".to_owned());
    match objective {
        Objective::Rams => format!("the fewest rams ({})", option.rams),
        Objective::PackingLifts => {
            format!("the fewest packing lifts ({})", known(option.packing_lifts.map(|lifts| lifts.to_string())))
        }
        Objective::Cost => {
            let cost = option.cost.as_ref().map(|money| format!("{} {:.2}", money.currency, money.amount));
            format!("the least hire ({})", known(cost))
        }
        Objective::Mass => {
            format!("the least mass ({})", known(option.mass.map(|mass| format!("{:.0} kg", mass.kg().ceil()))))
        }
        Objective::Utilisation => format!("the lowest utilisation ({:.3})", rounded_up(option.utilisation)),
        Objective::Time => {
            let time = option.time.map(|time| format!("{:.0} min", (time.s() / 60.0).ceil()));
            format!("the shortest time at the lift ({})", known(time))
        }
    }
}

fn figure(objective: Objective, option: &RamOption) -> Option<String> {
    Some(match objective {
        Objective::Rams => option.rams.to_string(),
        Objective::PackingLifts => option.packing_lifts?.to_string(),
        Objective::Cost => format!("{:.2}", option.cost.as_ref()?.amount),
        Objective::Mass => format!("{:.9e}", option.mass?.kg()),
        Objective::Utilisation => format!("{:.9e}", option.utilisation),
        Objective::Time => format!("{:.9e}", option.time?.s()),
    })
}

fn rounded_up(value: f64) -> f64 {
    (value * 1000.0 - 1e-6).ceil() / 1000.0
}
