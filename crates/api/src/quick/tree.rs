//! The request as a tree.

use super::layout::{layout, not_used};
use super::parameters::{Form, parameters_of};
use super::{Enquiry, Given};
use crate::catalogue::Carried;
use crate::json::Node;
use crate::problem::{Fault, FaultCode};
use crate::read::{Faults, Pointer, Read as _};
use crate::request::MOST_POINTS;
use crate::sent::{Sent, bound};
use ramwright_units::Dimension;

type Object = Vec<(String, Node)>;

/// The fields of each point begin with this.
const OF_POINTS: &str = "load_case/points/";

/// The request that the parameters make; what they lack or contradict is collected.
pub(super) fn request(enquiry: Enquiry, given: Given<'_>, carried: Option<&Carried>, faults: &mut Vec<Fault>) -> Node {
    let in_frame = matches!(given.text("duty"), Some("press" | "pull"));
    missing(enquiry, given, in_frame, faults);
    let (mut root, mut point) = (Object::new(), Object::new());
    for parameter in parameters_of(enquiry) {
        let Some(text) = given.text(parameter.name) else { continue };
        let node = match parameter.form {
            Form::Text | Form::Word => Node::Text(text.to_owned()),
            Form::Number => number(text),
            Form::Made => continue,
        };
        for field in parameter.fields {
            match field.strip_prefix(OF_POINTS) {
                Some(field) => put(&mut point, field, node.clone()),
                None => put(&mut root, field, node.clone()),
            }
        }
    }
    if given.text("pad_length").is_none() || given.text("pad_width").is_none() {
        point.retain(|(field, _)| field != "pad");
    }
    if let Some(load) = given.text("load") {
        if in_frame {
            put(&mut point, "stated_reaction/expected", force(load));
        } else {
            put(&mut root, "load_case/weight", Node::Text(load.to_owned()));
        }
    }
    if let Some(level) = given.text("level_tolerance") {
        let has_settings = enquiry != Enquiry::LoadShare;
        if has_settings {
            put(&mut root, "settings/level_tolerance", Node::Text(level.to_owned()));
        }
        // Where it can decide nothing but shares, the reader says what it lacks for that.
        if !has_settings || given.text("support_stiffness").is_some() && has_positions(given) {
            put(&mut root, "load_case/level_tolerance", Node::Text(level.to_owned()));
        }
    }
    if let Some(carried) = carried {
        put(&mut root, "inline", carried.node());
    }
    if let Some(pieces) = given.text("packing").filter(|_| enquiry.takes("packing")) {
        let names = pieces.split_whitespace().map(|name| Node::Text(name.to_owned()));
        put(&mut root, "settings/packing", Node::List(names.collect()));
    }
    if enquiry.takes("ram") && given.text("ram").is_none() && given.text("count").is_none() {
        // So that the reader misses the ram, which is said already, and not the whole set.
        put(&mut root, "ram_set/everywhere", Node::Object(Object::new()));
    }
    put_points(given, in_frame, &point, &mut root, faults);
    Node::Object(root)
}

fn has_positions(given: Given<'_>) -> bool {
    given.text("length").is_some() || given.text("at").is_some()
}

/// What must be given.
fn missing(enquiry: Enquiry, given: Given<'_>, in_frame: bool, faults: &mut Vec<Fault>) {
    for parameter in
        parameters_of(enquiry).filter(|parameter| parameter.required && given.text(parameter.name).is_none())
    {
        let (name, example) = (parameter.name, parameter.example());
        let fault = Fault::in_parameter(name, FaultCode::MissingField, format!("the parameter {name} is required"));
        faults.push(fault.with_hint(format!("give it, such as {name}={example}")));
    }
    if !in_frame && enquiry.takes("clearance") && given.text("clearance").is_none() {
        let detail = "a load that is raised needs the clearance under it, or nothing says which rams go in";
        faults.push(
            Fault::in_parameter("clearance", FaultCode::Inconsistent, detail)
                .with_hint("give the height under the load where the rams go, such as clearance=290 mm"),
        );
    }
    let missing_side = match (given.text("pad_length"), given.text("pad_width")) {
        (Some(_), None) => Some("pad_width"),
        (None, Some(_)) => Some("pad_length"),
        _ => None,
    };
    if let Some(name) = missing_side {
        let fault = Fault::in_parameter(name, FaultCode::Inconsistent, "a pad has two sides, and one is given");
        faults.push(fault.with_hint("give pad_length and pad_width, or neither"));
    }
}

/// The points, each with what all have in common, and the centre of gravity where they have positions.
fn put_points(given: Given<'_>, in_frame: bool, common: &Object, root: &mut Object, faults: &mut Vec<Fault>) {
    let count = count(given, faults);
    let layout = if in_frame {
        not_used(given, "in a machine frame the forces at the points are stated, so this is not used", faults);
        None
    } else {
        layout(given, count, faults)
    };
    if let Some(layout) = &layout {
        put_centre(given, &layout.middle, root, faults);
    } else {
        // Its fields mean nothing without positions, and have their faults already.
        remove(root, "load_case", "centre_of_gravity");
    }
    if layout.is_none() && has_positions(given) {
        // The reader must not blame these for positions that are at fault.
        remove(root, "load_case", "support_stiffness");
        remove(root, "load_case", "level_tolerance");
    }
    let mut places = layout.into_iter().flat_map(|layout| layout.points);
    // Faults of what the points have in common are found at one of them too.
    let points = (1..=count.unwrap_or(1)).map(|number| {
        let mut point = common.clone();
        put(&mut point, "id", Node::Text(number.to_string()));
        if let Some((x, y)) = places.next() {
            put(&mut point, "x", x);
            put(&mut point, "y", y);
        }
        Node::Object(point)
    });
    let points = Node::List(points.collect());
    put(root, "load_case/points", points);
}

fn put_centre(given: Given<'_>, middle: &(Node, Node), root: &mut Object, faults: &mut Vec<Fault>) {
    let other = match (given.text("centre_x"), given.text("centre_y")) {
        (Some(_), Some(_)) => return,
        (None, None) => {
            put(root, "load_case/centre_of_gravity/x", middle.0.clone());
            put(root, "load_case/centre_of_gravity/y", middle.1.clone());
            put(root, "load_case/centre_of_gravity/guessed", Node::Bool(true));
            return;
        }
        (Some(_), None) => "centre_y",
        (None, Some(_)) => "centre_x",
    };
    let fault = Fault::in_parameter(other, FaultCode::Inconsistent, "a place needs centre_x and centre_y");
    faults.push(fault.with_hint("give both, or neither"));
    let field = if other == "centre_x" { "load_case/centre_of_gravity/x" } else { "load_case/centre_of_gravity/y" };
    // Stands in, so that the reader looks at the rest.
    put(root, field, middle.0.clone());
}

/// How many points there are.
fn count(given: Given<'_>, faults: &mut Vec<Fault>) -> Option<usize> {
    let text = given.text("points")?;
    let whole = match number(text) {
        Node::Number(value) if value.fract().abs() <= 0.0 => value,
        _ => {
            let fault = Fault::in_parameter("points", FaultCode::WrongType, "a whole number is wanted here");
            faults.push(fault.with_given(text));
            return None;
        }
    };
    // Counted up, so that no number is cast.
    let found = (1..=MOST_POINTS).zip(1_u32..).find(|(_, count)| whole < f64::from(*count) + 0.5);
    let (words, limit) = match found {
        Some((count, _)) if 0.5 < whole => return Some(count),
        Some(_) => ("at least", 1),
        None => ("at most", MOST_POINTS),
    };
    let detail = format!("{text} points were given, {words} {limit} can be taken");
    let fault = Fault::in_parameter("points", FaultCode::OutOfRange, detail).with_limit(limit.to_string());
    faults.push(fault.with_given(text));
    None
}

/// A number where the text is one; any other text stays, and the reader says that a number is wanted.
fn number(text: &str) -> Node {
    let value = text.trim().parse::<f64>().ok().filter(|value| value.is_finite());
    value.map_or_else(|| Node::Text(text.to_owned()), Node::Number)
}

/// The force of a load; of a mass, that under standard gravity.
fn force(text: &str) -> Node {
    let node = Node::Text(text.to_owned());
    let read = Sent::<bound::WeightOfLoad>::read(&node, &Pointer::default(), &mut Faults::default());
    match read {
        Some(weight) if weight.measured().unit.dimension == Dimension::Mass => quantity(weight.get().force.kn(), "kN"),
        _ => node,
    }
}

/// A quantity in its object form.
pub(super) fn quantity(value: f64, unit: &str) -> Node {
    Node::Object(vec![("value".to_owned(), Node::Number(value)), ("unit".to_owned(), Node::Text(unit.to_owned()))])
}

/// Sets a field, with the objects on the way to it.
fn put(object: &mut Object, path: &str, node: Node) {
    match path.split_once('/') {
        None => object.push((path.to_owned(), node)),
        Some((first, rest)) => {
            let mut inner = match object.iter().position(|(name, _)| name == first) {
                Some(at) => match object.remove(at) {
                    (_, Node::Object(inner)) => inner,
                    _ => Object::new(),
                },
                None => Object::new(),
            };
            put(&mut inner, rest, node);
            object.push((first.to_owned(), Node::Object(inner)));
        }
    }
}

fn remove(object: &mut Object, first: &str, name: &str) {
    for (own, node) in object.iter_mut() {
        if let (true, Node::Object(inner)) = (own == first, node) {
            inner.retain(|(field, _)| field != name);
        }
    }
}
