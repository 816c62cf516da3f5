//! The sheets of the three lifts, and that every example request gets an answer.

use super::{LIFTS, checks, page, sheet};
use ramwright_api::catalogue::{CatalogueFiles, check_catalogue};
use ramwright_api::json::Node;
use ramwright_api::operation::{AssessCircuit, PlanLift, SequencePackingLifts, ShareLoad, SizeRamSet, VerifyRamSet};
use ramwright_api::read::{Faults, Pointer, Read};
use ramwright_api::{Answer, Catalogues, Operation, Prepared};
use ramwright_engine::check::{CheckId, Status};
use ramwright_engine::plan::LiftPlan;
use std::sync::atomic::AtomicBool;

macro_rules! example {
    ($name:literal) => {
        include_str!(concat!("../../../../openapi/examples/", $name, ".json"))
    };
}

#[track_caller]
fn answer<O: Operation>(text: &str) -> Answer<O::Result> {
    let catalogues = Catalogues::embedded().unwrap();
    let prepared = Prepared::<O>::from_json(text.as_bytes(), &catalogues).unwrap();
    let computed = prepared.compute(&AtomicBool::new(false)).unwrap();
    // Through JSON, as the client gets it.
    serde_json::from_slice(&computed.to_json().unwrap()).unwrap()
}

fn lift(name: &str) -> Answer<LiftPlan> {
    let (_, text) = LIFTS.iter().find(|(known, _)| *known == name).unwrap();
    answer::<PlanLift>(text)
}

fn printed(answer: &Answer<LiftPlan>) -> String {
    sheet::sheet(answer, "LIFT")
}

#[test]
fn verify_the_verdicts_of_the_three_lifts() {
    for (name, status) in
        [("transformer", Status::Caution), ("bedplate", Status::Caution), ("link_press", Status::Caution)]
    {
        assert_eq!(lift(name).verdict.status, status, "{name}");
    }
    let sequence = lift("transformer").result.verification.unwrap().sequence.unwrap();
    assert!(1 < sequence.cycles.unwrap(), "the transformer shows packing lifts");
    let bedplate = lift("bedplate").result.verification.unwrap();
    assert!(bedplate.sequence.unwrap().cycles.is_some(), "the bedplate can be held");
    let stroke = bedplate.checks.iter().find(|check| check.id == CheckId::Stroke).unwrap();
    assert_eq!(stroke.status, Status::Caution, "the stroke limit is waived");
    assert!(lift("link_press").result.verification.unwrap().sequence.is_none(), "nothing is lifted");
}

#[test]
fn verify_every_line_fits_but_the_address_that_is_copied() {
    for (name, _) in LIFTS {
        let answer = lift(name);
        let permalink = answer.permalink.clone().unwrap();
        for line in printed(&answer).lines().filter(|line| *line != permalink) {
            assert!(line.chars().count() <= page::WIDTH, "{name}: {line}");
            assert_eq!(line, line.trim_end(), "{name}");
        }
    }
}

#[test]
fn verify_nothing_that_matters_is_left_out() {
    for (name, _) in LIFTS {
        let answer = lift(name);
        let text = printed(&answer);
        let said = flat(&text);
        let verification = answer.result.verification.as_ref().unwrap();
        for check in &verification.checks {
            assert!(said.contains(&super::figures::word(&check.id)), "{name}: {:?}", check.id);
            for missing in &check.missing {
                assert!(said.contains(&flat(missing.as_str())), "{name}: {missing}");
            }
        }
        for caution in &answer.cautions {
            assert!(said.contains(&flat(caution.text.as_str())), "{name}: {}", caution.text);
        }
        let sizing = answer.result.sizing.as_ref().unwrap();
        for option in sizing.options.iter().take(3) {
            assert!(said.contains(&option.set), "{name}: {}", option.set);
        }
        for refusal in &sizing.refusals {
            assert!(said.contains(refusal.nearest.ram.as_str()), "{name}: {}", refusal.nearest.ram);
        }
        for step in verification.sequence.iter().flat_map(|sequence| &sequence.steps) {
            assert!(text.contains(&super::figures::word(&step.kind)), "{name}: {:?}", step.kind);
        }
        assert!(text.contains(answer.permalink.as_deref().unwrap()), "{name}");
    }
}

/// Words with single blanks, so that wrapping makes no difference.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn verify_what_is_not_checked_is_as_loud_as_what_fails() {
    let mut answer = lift("link_press");
    let quiet = printed(&answer);
    assert!(quiet.contains("FAILED: none") && quiet.contains("NOT CHECKED, and so not passed: none"), "{quiet}");
    assert!(!quiet.contains("!!"), "{quiet}");
    let checks = &mut answer.result.verification.as_mut().unwrap().checks;
    checks[0].status = Status::Fail;
    checks[1].status = Status::NotChecked;
    checks[1].missing = vec!["load_case/points/1/limit".into()];
    answer.result.circuit = None;
    let loud = printed(&answer);
    for expected in ["\n!! FAIL  ", "\n!! NOT CHECKED  ", "\n!! NOT CHECKED  pumps"] {
        assert!(loud.contains(expected), "{expected}: {loud}");
    }
    assert!(flat(&loud).contains("needs load_case/points/1/limit"), "{loud}");
}

#[test]
fn verify_a_failing_point_is_never_shown_as_one_of_the_passing() {
    let mut answer = lift("transformer");
    let checks = &mut answer.result.verification.as_mut().unwrap().checks;
    let failing = checks.iter_mut().find(|check| check.id == CheckId::Capacity && check.subject == "3").unwrap();
    failing.status = Status::Fail;
    failing.utilisation = Some(1.004);
    let text = printed(&answer);
    let line = text.lines().find(|line| line.starts_with("  capacity") && line.contains("FAIL")).unwrap();
    assert!(line.contains("point 3 ") && line.ends_with("1.01"), "{line}");
    let rest = text.lines().find(|line| line.starts_with("  capacity") && line.contains("PASS")).unwrap();
    assert!(rest.contains("worst of 3"), "{rest}");
}

#[test]
fn verify_a_plan_without_rams_says_so() {
    let (_, text) = LIFTS.iter().find(|(name, _)| *name == "link_press").unwrap();
    let answer = answer::<PlanLift>(&text.replace("\"travel\": \"140 mm\"", "\"travel\": \"14000 mm\""));
    assert!(answer.result.ram_set.is_empty());
    let text = printed(&answer);
    for expected in ["VERDICT     FAIL", "nothing in the catalogue fits", "!! NONE.", "WHAT EACH POINT CARRIES"] {
        assert!(text.contains(expected), "{expected}: {text}");
    }
}

#[test]
fn verify_places_are_said_in_words() {
    assert_eq!((checks::place("2"), checks::place("set")), ("point 2".into(), "the set".into()));
}

#[test]
fn verify_every_example_gets_an_answer() {
    let shares = answer::<ShareLoad>(example!("load_shares"));
    assert!(shares.result.points.iter().all(|point| point.any_equilibrium.is_some()), "elastic, the bound beside");
    let sizing = answer::<SizeRamSet>(example!("size"));
    assert_eq!(sizing.verdict.status, Status::Caution);
    assert!(sizing.result.options[0].recommended && sizing.result.reason.is_some());
    let verification = answer::<VerifyRamSet>(example!("verify"));
    let governing = verification.verdict.governing.unwrap();
    assert_eq!((governing.check, governing.subject.as_str()), (CheckId::JackingPointLimit, "2"));
    assert_eq!(governing.status, Status::Fail);
    let sequence = answer::<SequencePackingLifts>(example!("sequence"));
    assert!(1 < sequence.result.cycles.unwrap());
    let circuit = answer::<AssessCircuit>(example!("circuit"));
    assert!(circuit.result.pump_pressure.is_some());
}

#[test]
fn verify_the_example_catalogue_is_acceptable_and_leaves_something_open() {
    let node = Node::parse(example!("catalogue_check").as_bytes()).unwrap();
    let mut faults = Faults::default();
    let files = CatalogueFiles::read(&node, &Pointer::default(), &mut faults).unwrap();
    assert!(faults.is_empty());
    let check = check_catalogue(&files);
    assert!(check.acceptable, "{:?}", check.faults);
    assert!(!check.remarks.is_empty());
}

/// The README shows the transformer's sequence as the demo prints it.
#[test]
fn verify_the_readme_shows_the_sequence_as_it_is_printed() {
    let text = printed(&lift("transformer"));
    let start = text.find("PACKING LIFTS").unwrap();
    let section = text[start..].split("\n\n").take(2).collect::<Vec<_>>().join("\n\n");
    let readme = include_str!("../../../../README.md");
    let shown = readme.split("<!-- sequence:begin -->\n```text\n").nth(1).unwrap();
    let shown = shown.split("\n```\n<!-- sequence:end -->").next().unwrap();
    assert_eq!(shown, section.trim_end());
}
