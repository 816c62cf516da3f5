//! Flow of a pump against pressure, as a list of points or as one line of text.

use super::entry::shown;
use crate::json::Node;
use crate::problem::{Fault, FaultCode};
use crate::read::{Faults, List, Pointer, Read, wrong_type};
use crate::sent::{PressureOrZero, PumpFlow};
use crate::wire_struct;
use ramwright_engine::catalogue::FlowPoint;
use ramwright_units::Measured;
use serde_json::Value;
use std::borrow::Cow;
use utoipa::openapi::RefOr;
use utoipa::openapi::schema::{ArrayBuilder, ObjectBuilder, OneOfBuilder, Ref, Schema, Type};
use utoipa::{PartialSchema, ToSchema};

/// How many points a curve may have.
pub const MOST_FLOW_POINTS: usize = 40;
/// The greatest length of a curve as text, in bytes.
const TEXT_LENGTH: usize = 2_000;
/// How far two values may differ and still be the same, as a part of them; it absorbs the rounding of units.
const SAME: f64 = 1e-9;

wire_struct! {
    /// What a pump delivers at a pressure.
    FlowPointSent {
        /// Pressure at the pump.
        pressure: PressureOrZero,
        /// Flow at that pressure.
        flow: PumpFlow,
    }
}

/// Points of flow against pressure: `[{"pressure": "0 bar", "flow": "7 L/min"}, ...]`, or the same as text,
/// `0 bar: 7 L/min; 700 bar: 1.1 L/min`, which is the form of a table's cell.
#[derive(Clone, Debug, PartialEq)]
pub struct FlowCurve(Vec<FlowPointSent>);

impl FlowCurve {
    /// The points for the engine.
    pub(super) fn points(&self) -> Vec<FlowPoint> {
        self.0.iter().map(|point| FlowPoint { pressure: point.pressure.get(), flow: point.flow.get() }).collect()
    }

    /// What the points contradict: each other, the rated pressure, or the fast flow.
    pub(super) fn fault(&self, rated: Measured, fast: Measured, at: &Pointer) -> Option<Fault> {
        let pressure = |point: &FlowPointSent| point.pressure.measured();
        let flow = |point: &FlowPointSent| point.flow.measured();
        let (first, last) = (self.0.first()?, self.0.last()?);
        let inconsistent = |detail: String, hint: &str| Some(at.fault(FaultCode::Inconsistent, detail).with_hint(hint));
        if self.0.len() < 2 || 0.0 < pressure(first).si() || pressure(last).si() < rated.si() * (1.0 - SAME) {
            let detail =
                format!("a curve runs from no pressure to the rated one of {}, in two points or more", shown(rated));
            return inconsistent(detail, "nothing is read beyond its ends");
        }
        if fast.si() * (1.0 + SAME) < flow(first).si() {
            let detail = format!("{} is more than flow_fast, {}", shown(flow(first)), shown(fast));
            return inconsistent(detail, "flow_fast is the greatest flow");
        }
        self.0.windows(2).find_map(|pair| match pair {
            [before, after] if pressure(after).si() <= pressure(before).si() => inconsistent(
                format!("{} comes after {}", shown(pressure(after)), shown(pressure(before))),
                "pressures rise from point to point",
            ),
            [before, after] if flow(before).si() < flow(after).si() => inconsistent(
                format!("{} is more than {} at a lower pressure", shown(flow(after)), shown(flow(before))),
                "a pump does not deliver more against more pressure",
            ),
            _ => None,
        })
    }
}

/// The list that a line of text stands for; what cannot be taken apart stays a pressure without a flow.
fn as_list(text: &str) -> Node {
    let points = text.split(';').map(|point| {
        let (pressure, flow) = point.split_once(':').unwrap_or((point, ""));
        let field = |name: &str, text: &str| (name.to_owned(), Node::Text(text.trim().to_owned()));
        Node::Object(vec![field("pressure", pressure), field("flow", flow)])
    });
    Node::List(points.collect())
}

impl Read for FlowCurve {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        type Points = List<FlowPointSent, 1, MOST_FLOW_POINTS>;
        match node {
            Node::Text(text) if text.len() <= TEXT_LENGTH => Points::read(&as_list(text), at, faults),
            Node::Text(text) => {
                let detail = format!("{} bytes, at most {TEXT_LENGTH} can be taken", text.len());
                faults.push(at.fault(FaultCode::TooLong, detail).with_limit(TEXT_LENGTH.to_string()));
                None
            }
            Node::List(_) => Points::read(node, at, faults),
            other => {
                faults.push(wrong_type(other, "a list of points, or \"0 bar: 7 L/min; 700 bar: 1.1 L/min\",", at));
                None
            }
        }
        .map(|points| Self(points.0))
    }

    fn canonical(&self) -> Option<Value> {
        Some(Value::Array(self.0.iter().filter_map(Read::canonical).collect()))
    }
}

impl PartialSchema for FlowCurve {
    fn schema() -> RefOr<Schema> {
        let point = format!("{}:{}", PressureOrZero::pattern(), PumpFlow::pattern());
        let text = ObjectBuilder::new()
            .schema_type(Type::String)
            .pattern(Some(format!("^{point}(;{point}){{0,{}}}$", MOST_FLOW_POINTS - 1)))
            .description(Some("Points as text: `0 bar: 7 L/min; 700 bar: 1.1 L/min`."))
            .max_length(Some(TEXT_LENGTH))
            .build();
        let list = ArrayBuilder::new()
            .items(Ref::from_schema_name(FlowPointSent::name()))
            .min_items(Some(1))
            .max_items(Some(MOST_FLOW_POINTS))
            .build();
        let words = "Flow against pressure from no pressure to the rated one, pressures rising and flows not, straight between the points.";
        RefOr::T(Schema::OneOf(OneOfBuilder::new().description(Some(words)).item(list).item(text).build()))
    }
}

impl ToSchema for FlowCurve {
    fn name() -> Cow<'static, str> {
        "FlowCurve".into()
    }

    fn schemas(schemas: &mut Vec<(String, RefOr<Schema>)>) {
        schemas.push((FlowPointSent::name().into_owned(), FlowPointSent::schema()));
        <FlowPointSent as ToSchema>::schemas(schemas);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault(text: &str) -> Option<String> {
        let mut faults = Faults::default();
        let at = Pointer::default();
        let curve = FlowCurve::read(&Node::Text(text.to_owned()), &at, &mut faults);
        let measured = |value, unit| ramwright_units::in_unit(value, unit).unwrap();
        match curve {
            None => Some(faults.into_vec().remove(0).detail),
            Some(curve) => curve.fault(measured(700.0, "bar"), measured(8.0, "L/min"), &at).map(|fault| fault.detail),
        }
    }

    #[test]
    fn verify_a_curve_that_makes_sense_is_taken() {
        assert_eq!(fault("0 bar: 8 L/min; 100 bar: 8 L/min; 700 bar: 1 L/min"), None);
        assert_eq!(fault("0 bar:8 L/min;700 bar:1 L/min"), None);
    }

    #[test]
    fn verify_a_curve_that_makes_none_is_refused() {
        for (text, part) in [
            ("0 bar: 8 L/min", "two points"),
            ("10 bar: 8 L/min; 700 bar: 1 L/min", "no pressure"),
            ("0 bar: 8 L/min; 600 bar: 1 L/min", "rated"),
            ("0 bar: 9 L/min; 700 bar: 1 L/min", "flow_fast"),
            ("0 bar: 8 L/min; 0 bar: 7 L/min; 700 bar: 1 L/min", "comes after"),
            ("0 bar: 2 L/min; 700 bar: 3 L/min", "more than 2 L/min"),
            ("0 bar 8 L/min", "quantity"),
            ("", ""),
        ] {
            let found = fault(text).unwrap_or_else(|| panic!("{text} is taken"));
            assert!(found.contains(part) || part == "quantity", "{text}: {found}");
        }
    }

    #[test]
    fn verify_text_and_list_are_one() {
        let mut faults = Faults::default();
        let read = |node: &Node, faults: &mut Faults| FlowCurve::read(node, &Pointer::default(), faults);
        let text = read(&Node::Text("0 bar: 8 L/min; 700 bar: 1 L/min".into()), &mut faults);
        let list = read(&as_list("0 bar: 8 L/min; 700 bar: 1 L/min"), &mut faults);
        assert_eq!(text.unwrap().canonical(), list.unwrap().canonical());
        assert!(faults.is_empty());
    }
}
