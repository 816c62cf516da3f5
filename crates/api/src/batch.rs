//! One line of a batch: a request that names its operation, and the line that answers it.

use crate::catalogue::Catalogues;
use crate::json::Node;
use crate::operation::{
    AssessCircuit, Operation, PlanLift, Prepared, SequencePackingLifts, ShareLoad, SizeRamSet, VerifyRamSet,
};
use crate::problem::{FaultCode, Problem, ProblemCode, ProblemDocument};
use crate::read::{Faults, Fields, Pointer, Read, in_document_order, read_word};
use crate::sent::Name;
use ramwright_engine::check::Status;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::sync::atomic::AtomicBool;
use utoipa::openapi::schema::{ObjectBuilder, OneOfBuilder, Type};
use utoipa::openapi::{Ref, RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

const FIELDS: &[&str] = &["id", "operation", "request"];

/// One line of a batch as it is sent: `id` (a name of the sender's, echoed), `operation`, and its `request`.
#[derive(Debug)]
pub struct BatchLine;

macro_rules! operations {
    ($($operation:ty),+ $(,)?) => {
        const NAMES: &[&str] = &[$(<$operation>::NAME),+];

        fn computed(asked: &Asked<'_>, catalogues: &Catalogues, stop: &AtomicBool) -> Result<Computed, Problem> {
            $(if asked.operation == <$operation>::NAME {
                return run::<$operation>(asked.request, catalogues, stop);
            })+
            Err(Problem::new(ProblemCode::InternalError, "an operation of this name was read and is none"))
        }

        impl PartialSchema for BatchLine {
            fn schema() -> RefOr<Schema> {
                let lines = OneOfBuilder::new()
                    .description(Some("One line of a batch: a calculation's operation id and its request."))
                    $(.item(line_of(<$operation>::NAME, &<<$operation as Operation>::Request as ToSchema>::name())))+;
                RefOr::T(Schema::OneOf(lines.build()))
            }
        }
    };
}

operations!(ShareLoad, SizeRamSet, VerifyRamSet, SequencePackingLifts, AssessCircuit, PlanLift);

fn line_of(operation: &str, request: &str) -> Schema {
    let id = "A name of the sender's own for this line; it comes back with the answer.";
    let id = ObjectBuilder::new().schema_type(Type::String).description(Some(id)).min_length(Some(1));
    ObjectBuilder::new()
        .property("id", id.max_length(Some(crate::sent::NAME_LENGTH)))
        .property("operation", ObjectBuilder::new().schema_type(Type::String).enum_values(Some([operation])))
        .property("request", Ref::from_schema_name(request))
        .required("operation")
        .required("request")
        .build()
        .into()
}

impl ToSchema for BatchLine {
    fn name() -> Cow<'static, str> {
        "BatchLine".into()
    }
}

/// One line of the answer to a batch.
#[derive(Debug, Serialize, Deserialize, ToSchema)]
#[serde(untagged)]
pub enum BatchReply {
    /// The answer to a line.
    Result {
        /// Which line it answers, counted from 0; empty lines do not count.
        index: u64,
        /// The line's own id; absent if it has none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        #[schema(nullable = false)]
        id: Option<String>,
        /// The status that the request would have by itself.
        status: u16,
        /// The whole answer, the same as of the operation's own address.
        #[schema(value_type = Object)]
        result: serde_json::Value,
    },
    /// The problem of a line.
    Problem {
        /// Which line it answers, counted from 0; empty lines do not count.
        index: u64,
        /// The line's own id; absent if it has none, or if it could not be read.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        #[schema(nullable = false)]
        id: Option<String>,
        /// The status that the request would have by itself.
        status: u16,
        /// What is wrong; places are those in the line.
        problem: Box<ProblemDocument>,
    },
    /// The last line.
    Summary {
        /// What came of all lines.
        summary: BatchSummary,
    },
}

/// The last line of the answer to a batch; without it the answer was cut short.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BatchSummary {
    /// Lines that were answered.
    pub lines: u64,
    /// Lines whose request was calculated, whatever the verdict.
    pub results: u64,
    /// Lines that met a problem.
    pub problems: u64,
    /// Whether the batch was read to its end.
    pub complete: bool,
    /// Why it was not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, value_type = Option<ProblemDocument>)]
    pub problem: Option<Problem>,
}

/// A line's answer, ready to be sent.
#[derive(Debug)]
pub struct Reply {
    /// The line without its end.
    pub line: Vec<u8>,
    /// The calculation and its verdict, or the code of its problem.
    pub outcome: Result<(&'static str, Status), ProblemCode>,
}

/// What a line says of itself, before its request is looked into.
struct Asked<'a> {
    operation: String,
    request: &'a Node,
}

struct Computed {
    bytes: Vec<u8>,
    operation: &'static str,
    verdict: Status,
}

/// Answers one line.
pub fn answer(index: u64, line: &[u8], catalogues: &Catalogues, stop: &AtomicBool) -> Reply {
    let node = match Node::parse(line) {
        Ok(node) => node,
        Err(error) => return refused(index, None, Problem::new(ProblemCode::MalformedJson, error.to_string())),
    };
    let id = id_in(&node);
    let asked = match asked(&node) {
        Ok(asked) => asked,
        Err(problem) => return refused(index, id.as_deref(), problem),
    };
    match computed(&asked, catalogues, stop) {
        Ok(computed) => Reply {
            line: result_line(index, id.as_deref(), &computed.bytes),
            outcome: Ok((computed.operation, computed.verdict)),
        },
        Err(problem) => refused(index, id.as_deref(), inside_request(problem)),
    }
}

/// The answer to a line that meets this problem.
pub fn refused(index: u64, id: Option<&str>, problem: Problem) -> Reply {
    #[derive(Serialize)]
    struct Line<'a> {
        index: u64,
        #[serde(skip_serializing_if = "Option::is_none")]
        id: Option<&'a str>,
        status: u16,
        problem: Problem,
    }
    let code = problem.code;
    let line = Line { index, id, status: problem.status, problem };
    // Texts and whole numbers only, which are always written.
    Reply { line: serde_json::to_vec(&line).unwrap_or_default(), outcome: Err(code) }
}

/// The id of a line, for what could not begin to answer it.
pub fn id_of(line: &[u8]) -> Option<String> {
    Node::parse(line).ok().as_ref().and_then(id_in)
}

fn id_in(node: &Node) -> Option<String> {
    let Node::Object(fields) = node else { return None };
    let (_, id) = fields.iter().find(|(name, _)| name == "id")?;
    Name::read(id, &Pointer::default(), &mut Faults::default()).map(|name| name.0)
}

fn asked(node: &Node) -> Result<Asked<'_>, Problem> {
    let at = Pointer::default();
    let mut faults = Faults::default();
    let fields = Fields::open(node, &at, FIELDS, &mut faults);
    let Node::Object(own) = node else { return Err(Problem::invalid_request(faults.into_vec())) };
    let field = |name: &str| own.iter().find(|(field, _)| field == name).map(|(_, value)| value);
    if let Some(fields) = &fields {
        fields.take::<Option<Name>>("id", &mut faults);
    }
    let operation = match field("operation") {
        Some(value) => read_word::<String>(value, &at.field("operation"), NAMES, &mut faults),
        None => missing("operation", &mut faults),
    };
    let request = field("request").or_else(|| missing("request", &mut faults));
    match (operation, request) {
        (Some(operation), Some(request)) if faults.is_empty() => Ok(Asked { operation, request }),
        _ => Err(Problem::invalid_request(in_document_order(node, faults.into_vec()))),
    }
}

fn missing<T>(name: &str, faults: &mut Faults) -> Option<T> {
    faults.push(Pointer::default().field(name).fault(FaultCode::MissingField, "this field is required"));
    None
}

fn run<O: Operation>(request: &Node, catalogues: &Catalogues, stop: &AtomicBool) -> Result<Computed, Problem> {
    let answer = Prepared::<O>::from_node(request, catalogues)?.compute(stop)?;
    Ok(Computed { bytes: answer.to_json()?, operation: O::NAME, verdict: answer.verdict.status })
}

/// Names the places of a request as they are in its line.
fn inside_request(mut problem: Problem) -> Problem {
    for fault in &mut problem.errors {
        if let Some(place) = fault.pointer.as_deref().and_then(|pointer| pointer.strip_prefix('#')) {
            fault.pointer = Some(format!("#/request{place}"));
        }
    }
    problem
}

/// The answer is spliced in as it was written, so that it is the same to the byte as that of its own address.
fn result_line(index: u64, id: Option<&str>, answer: &[u8]) -> Vec<u8> {
    let id = id.map(|id| format!("\"id\":{},", serde_json::Value::from(id))).unwrap_or_default();
    let head = format!("{{\"index\":{index},{id}\"status\":200,\"result\":");
    [head.as_bytes(), answer, b"}"].concat()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn reply(line: &str) -> Value {
        let catalogues = Catalogues::embedded().unwrap();
        let reply = answer(7, line.as_bytes(), &catalogues, &AtomicBool::new(false));
        serde_json::from_slice(&reply.line).unwrap()
    }

    fn request() -> Value {
        json!({"load_case": {"weight": "40 t", "travel": "10 mm", "points": [{"id": "1"}, {"id": "2"}]}})
    }

    #[test]
    fn verify_a_line_is_answered_with_its_index_and_id() {
        let reply = reply(&json!({"operation": "share_load", "request": request(), "id": "a \"b\""}).to_string());
        assert_eq!((&reply["index"], &reply["id"], &reply["status"]), (&json!(7), &json!("a \"b\""), &json!(200)));
        assert_eq!(reply["result"]["operation"], "share_load");
    }

    #[test]
    fn verify_places_are_those_of_the_line() {
        let mut bad = request();
        bad["load_case"]["weight"] = json!(40);
        let reply = reply(&json!({"id": "x", "operation": "share_load", "request": bad}).to_string());
        assert_eq!((&reply["id"], &reply["status"]), (&json!("x"), &json!(400)));
        assert_eq!(reply["problem"]["errors"][0]["pointer"], "#/request/load_case/weight");
    }

    #[test]
    fn verify_every_fault_of_a_line_itself_is_named() {
        let reply = reply(r#"{"id": 3, "operation": "share_loads", "reqeust": {}}"#);
        let faults = reply["problem"]["errors"].as_array().unwrap();
        let found: Vec<_> = faults.iter().map(|one| (one["pointer"].as_str().unwrap(), &one["code"])).collect();
        let expected = [
            ("#/id", json!("wrong_type")),
            ("#/operation", json!("unknown_value")),
            ("#/reqeust", json!("unknown_field")),
            ("#/request", json!("missing_field")),
        ];
        assert_eq!(found, expected.iter().map(|(place, code)| (*place, code)).collect::<Vec<_>>());
        assert!(reply.get("id").is_none());
    }

    #[test]
    fn verify_what_is_no_json_or_no_object_is_a_problem() {
        assert_eq!(reply("{")["problem"]["code"], "malformed_json");
        assert_eq!(reply("[]")["problem"]["errors"][0]["code"], "wrong_type");
        assert_eq!(id_of(br#"{"id": "q", "operation": 3}"#), Some("q".to_owned()));
        assert_eq!(id_of(b"{"), None);
    }
}
