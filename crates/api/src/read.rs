//! Reading wire types from a JSON tree: every fault is collected, each with its place.

use crate::json::Node;
use crate::problem::{Fault, FaultCode};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// The faults of one request, in document order.
#[derive(Debug, Default)]
pub struct Faults {
    listed: Vec<Fault>,
    /// How many there are beside.
    further: usize,
}

/// After so many faults the rest is counted only, so that an answer stays of a useful size.
pub const MOST_FAULTS: usize = 1000;

impl Faults {
    /// Adds a fault.
    pub fn push(&mut self, fault: Fault) {
        if self.listed.len() < MOST_FAULTS {
            self.listed.push(fault);
        } else {
            self.further += 1;
        }
    }

    /// Adds what faults there are.
    pub fn extend(&mut self, faults: impl IntoIterator<Item = Fault>) {
        faults.into_iter().for_each(|fault| self.push(fault));
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.listed.is_empty()
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.listed.len() + self.further
    }

    /// All of them; where there are too many to list, one of the whole says how many more there are.
    pub fn into_vec(mut self) -> Vec<Fault> {
        if 0 < self.further {
            let detail = format!("{} further faults are not listed", self.further);
            let fault = Fault::at("#", FaultCode::TooManyItems, detail);
            self.listed.push(fault.with_limit(MOST_FAULTS.to_string()));
        }
        self.listed
    }
}

/// A place in the request.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pointer(String);

impl Pointer {
    /// The place of a field of the object here.
    #[must_use]
    pub fn field(&self, name: &str) -> Self {
        Self(format!("{}/{}", self.0, name.replace('~', "~0").replace('/', "~1")))
    }

    /// The place of an item of the array here.
    #[must_use]
    pub fn item(&self, index: usize) -> Self {
        Self(format!("{}/{index}", self.0))
    }

    /// A fault here.
    pub fn fault(&self, code: FaultCode, detail: impl Into<String>) -> Fault {
        Fault::at(&self.0, code, detail)
    }

    /// The JSON Pointer as a URI fragment.
    pub fn fragment(&self) -> String {
        format!("#{}", self.0)
    }

    /// The JSON Pointer without `#` and leading slash, as assumptions name it.
    pub fn name(&self) -> &str {
        self.0.trim_start_matches('/')
    }
}

/// A type that can be read from a JSON tree and written back in one canonical form.
pub trait Read: Sized {
    /// Reads the value; on a fault it is collected and nothing is given.
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self>;

    /// What stands for a field that was not sent; a fault unless the type is optional.
    fn absent(at: &Pointer, faults: &mut Faults) -> Option<Self> {
        faults.push(at.fault(FaultCode::MissingField, "this field is required"));
        None
    }

    /// The canonical form; nothing for an optional that is absent.
    fn canonical(&self) -> Option<Value>;
}

impl<T: Read> Read for Option<T> {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        match node {
            Node::Null => Some(None),
            node => T::read(node, at, faults).map(Some),
        }
    }

    fn absent(_at: &Pointer, _faults: &mut Faults) -> Option<Self> {
        Some(None)
    }

    fn canonical(&self) -> Option<Value> {
        self.as_ref().and_then(Read::canonical)
    }
}

impl Read for bool {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        match node {
            Node::Bool(value) => Some(*value),
            other => {
                faults.push(wrong_type(other, "true or false", at));
                None
            }
        }
    }

    fn canonical(&self) -> Option<Value> {
        Some(Value::Bool(*self))
    }
}

/// A fault for a value of the wrong JSON type.
pub fn wrong_type(node: &Node, wanted: &str, at: &Pointer) -> Fault {
    let mut fault =
        at.fault(FaultCode::WrongType, format!("{wanted} is wanted here, not {}", with_article(node.type_name())));
    fault.given = Some(node.shown());
    fault
}

fn with_article(type_name: &str) -> String {
    match type_name {
        "null" => "null".into(),
        "array" | "object" => format!("an {type_name}"),
        other => format!("a {other}"),
    }
}

/// The fields of an object while they are read one after another.
pub struct Fields<'a> {
    fields: &'a [(String, Node)],
    at: &'a Pointer,
}

impl<'a> Fields<'a> {
    /// Opens an object, with a fault for every field that is unknown or given twice.
    pub fn open(node: &'a Node, at: &'a Pointer, known: &[&str], faults: &mut Faults) -> Option<Self> {
        let Node::Object(fields) = node else {
            faults.push(wrong_type(node, "an object", at));
            return None;
        };
        let mut seen = BTreeSet::new();
        for (name, _) in fields {
            if !known.contains(&name.as_str()) {
                faults.push(unknown_field(name, known, &at.field(name)));
            } else if !seen.insert(name.as_str()) {
                faults.push(at.field(name).fault(FaultCode::DuplicateField, format!("`{name}` is given twice")));
            }
        }
        Some(Self { fields, at })
    }

    /// Reads one field.
    pub fn take<T: Read>(&self, name: &str, faults: &mut Faults) -> Option<T> {
        let at = self.at.field(name);
        match self.fields.iter().find(|(field, _)| field == name) {
            Some((_, node)) => T::read(node, &at, faults),
            None => T::absent(&at, faults),
        }
    }
}

fn unknown_field(name: &str, known: &[&str], at: &Pointer) -> Fault {
    let mut fault = at.fault(FaultCode::UnknownField, format!("`{name}` is not a field of this object"));
    fault.nearest = nearest(name, known.iter().copied());
    fault.hint = Some(match &fault.nearest {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("the fields are {}", known.join(", ")),
    });
    fault
}

/// The known name most like a given one, if any is near enough to be meant.
pub fn nearest<'a>(given: &str, known: impl Iterator<Item = &'a str>) -> Option<String> {
    const NEAR_ENOUGH: f64 = 0.75;
    let given = given.to_lowercase();
    known
        .map(|name| (strsim::jaro_winkler(&given, &name.to_lowercase()), name))
        .filter(|(likeness, _)| NEAR_ENOUGH <= *likeness)
        // Of equals the first in the list, so that the answer never depends on chance.
        .fold(None, |best: Option<(f64, &str)>, next| match best {
            Some(so_far) if next.0 <= so_far.0 => Some(so_far),
            _ => Some(next),
        })
        .map(|(_, name)| name.to_owned())
}

/// A list of at least `MIN` and at most `MAX` items.
#[derive(Clone, Debug, PartialEq)]
pub struct List<T, const MIN: usize, const MAX: usize>(pub Vec<T>);

impl<T: Read, const MIN: usize, const MAX: usize> Read for List<T, MIN, MAX> {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        let Node::List(items) = node else {
            faults.push(wrong_type(node, "an array", at));
            return None;
        };
        let count_fault = if items.len() < MIN {
            Some((FaultCode::TooFewItems, format!("at least {MIN}"), MIN))
        } else if MAX < items.len() {
            Some((FaultCode::TooManyItems, format!("at most {MAX}"), MAX))
        } else {
            None
        };
        if let Some((code, words, limit)) = count_fault {
            let mut fault = at.fault(code, format!("{} items were sent, {words} can be taken", items.len()));
            fault.given = Some(items.len().to_string());
            fault.limit = Some(limit.to_string());
            faults.push(fault);
            return None;
        }
        let read: Vec<Option<T>> =
            items.iter().enumerate().map(|(index, item)| T::read(item, &at.item(index), faults)).collect();
        read.into_iter().collect::<Option<Vec<T>>>().map(Self)
    }

    fn canonical(&self) -> Option<Value> {
        Some(Value::Array(self.0.iter().filter_map(Read::canonical).collect()))
    }
}

impl<T: utoipa::ToSchema, const MIN: usize, const MAX: usize> utoipa::PartialSchema for List<T, MIN, MAX> {
    fn schema() -> utoipa::openapi::RefOr<utoipa::openapi::Schema> {
        utoipa::openapi::ArrayBuilder::new()
            .items(utoipa::openapi::Ref::from_schema_name(T::name()))
            .min_items(Some(MIN))
            .max_items(Some(MAX))
            .build()
            .into()
    }
}

impl<T: utoipa::ToSchema, const MIN: usize, const MAX: usize> utoipa::ToSchema for List<T, MIN, MAX> {
    fn name() -> std::borrow::Cow<'static, str> {
        format!("{}List", T::name()).into()
    }

    fn schemas(schemas: &mut Vec<(String, utoipa::openapi::RefOr<utoipa::openapi::Schema>)>) {
        schemas.push((T::name().into_owned(), T::schema()));
        T::schemas(schemas);
    }
}

/// Declares a wire struct: its fields, how it is read and how it is written back.
///
/// A field whose name is no Rust identifier is given as `rust_name as "wire_name"`.
#[macro_export]
macro_rules! wire_struct {
    ($(#[$meta:meta])* $name:ident { $($(#[$field_meta:meta])* $field:ident $(as $wire:literal)? : $type:ty),+ $(,)? }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq, utoipa::ToSchema)]
        pub struct $name {
            $($(#[$field_meta])* $(#[schema(rename = $wire)])? pub $field: $type,)+
        }

        impl $crate::read::Read for $name {
            fn read(
                node: &$crate::json::Node,
                at: &$crate::read::Pointer,
                faults: &mut $crate::read::Faults,
            ) -> Option<Self> {
                const FIELDS: &[&str] = &[$($crate::wire_name!($field $($wire)?)),+];
                let fields = $crate::read::Fields::open(node, at, FIELDS, faults)?;
                $(let $field = fields.take::<$type>($crate::wire_name!($field $($wire)?), faults);)+
                Some(Self { $($field: $field?),+ })
            }

            fn canonical(&self) -> Option<serde_json::Value> {
                let mut object = serde_json::Map::new();
                $(if let Some(value) = $crate::read::Read::canonical(&self.$field) {
                    object.insert($crate::wire_name!($field $($wire)?).to_owned(), value);
                })+
                Some(serde_json::Value::Object(object))
            }
        }
    };
}

/// The wire name of a field.
#[doc(hidden)]
#[macro_export]
macro_rules! wire_name {
    ($field:ident) => {
        stringify!($field)
    };
    ($field:ident $wire:literal) => {
        $wire
    };
}

/// Makes an enum of plain words readable; `serde` gives the words.
#[macro_export]
macro_rules! wire_words {
    ($type:ty: $($word:literal),+) => {
        impl $crate::read::Read for $type {
            fn read(
                node: &$crate::json::Node,
                at: &$crate::read::Pointer,
                faults: &mut $crate::read::Faults,
            ) -> Option<Self> {
                const WORDS: &[&str] = &[$($word),+];
                $crate::read::read_word(node, at, WORDS, faults)
            }

            fn canonical(&self) -> Option<serde_json::Value> {
                serde_json::to_value(self).ok()
            }
        }
    };
}

/// Reads one of a closed list of words.
pub fn read_word<T: serde::de::DeserializeOwned>(
    node: &Node,
    at: &Pointer,
    words: &[&str],
    faults: &mut Faults,
) -> Option<T> {
    let Node::Text(text) = node else {
        faults.push(wrong_type(node, "a string", at));
        return None;
    };
    if words.contains(&text.as_str()) {
        return serde_json::from_value(Value::String(text.clone())).ok();
    }
    let mut fault = at.fault(FaultCode::UnknownValue, format!("`{}` is not one of the words known here", node.shown()));
    fault.given = Some(node.shown());
    fault.nearest = nearest(text, words.iter().copied());
    fault.hint = Some(format!("one of {}", words.join(", ")));
    faults.push(fault);
    None
}

/// Puts faults in the order in which their places stand in the document; a missing field comes after its siblings.
pub fn in_document_order(node: &Node, mut faults: Vec<Fault>) -> Vec<Fault> {
    let mut places = Places::default();
    faults.sort_by_cached_key(|fault| {
        fault.pointer.as_deref().map(|pointer| places.of(node, pointer)).unwrap_or_default()
    });
    faults
}

/// Where the fields of an object stand, by their names.
type Positions<'a> = BTreeMap<&'a str, usize>;

/// The positions in each object that was passed, by its address: there can be as many faults as fields, and looking each
/// field up among all would take minutes of a body that is allowed.
#[derive(Default)]
struct Places<'a>(BTreeMap<*const (String, Node), Positions<'a>>);

impl<'a> Places<'a> {
    /// The index of each part of a pointer among its siblings.
    fn of(&mut self, node: &'a Node, pointer: &str) -> Vec<usize> {
        let mut here = Some(node);
        let parts = pointer.trim_start_matches('#').split('/').skip(1);
        parts
            .map(|part| {
                let name = part.replace("~1", "/").replace("~0", "~");
                let found = match here {
                    Some(Node::Object(fields)) => {
                        self.position(fields, &name).and_then(|at| fields.get(at).map(|field| (at, &field.1)))
                    }
                    Some(Node::List(items)) => {
                        name.parse().ok().and_then(|at: usize| items.get(at).map(|item| (at, item)))
                    }
                    _ => None,
                };
                here = found.map(|(_, node)| node);
                found.map_or(usize::MAX, |(at, _)| at)
            })
            .collect()
    }

    fn position(&mut self, fields: &'a [(String, Node)], name: &str) -> Option<usize> {
        let positions = self.0.entry(fields.as_ptr()).or_insert_with(|| {
            // Of equal names the first: they come last here, and stay.
            fields.iter().enumerate().rev().map(|(at, (name, _))| (name.as_str(), at)).collect()
        });
        positions.get(name).copied()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::{Duration, Instant};

    #[test]
    fn verify_faults_stand_in_the_order_of_the_document() {
        let node = Node::parse(br#"{"b": [{"y": 1}, {"x": 1, "z": 2}], "a": 3, "b": 4}"#).unwrap();
        let places = ["#/c", "#/a", "#/b/1/z", "#/b/1/x", "#/b/0/q", "#/b", "#"];
        let faults = places.map(|place| Fault::at(place, FaultCode::WrongType, "x")).to_vec();
        let sorted: Vec<_> = in_document_order(&node, faults).into_iter().filter_map(|fault| fault.pointer).collect();
        assert_eq!(sorted, ["#", "#/b", "#/b/0/q", "#/b/1/x", "#/b/1/z", "#/a", "#/c"]);
    }

    /// A body of the greatest size can hold this many fields; each is a fault.
    #[test]
    fn verify_a_body_of_faults_alone_is_told_soon() {
        let fields = |name: &dyn Fn(usize) -> String| {
            let fields = (0..100_000).map(|number| (name(number), Node::Null));
            Node::Object(fields.collect())
        };
        let begun = Instant::now();
        for node in [fields(&|number| format!("a{number}")), fields(&|number| format!("a{}", number.min(50_000)))] {
            let mut faults = Faults::default();
            Fields::open(&node, &Pointer::default(), &["a50000"], &mut faults);
            let sorted = in_document_order(&node, faults.into_vec());
            assert_eq!(sorted.len(), MOST_FAULTS + 1);
            assert_eq!(sorted[0].detail, "98999 further faults are not listed");
            assert_eq!(sorted[1].pointer.as_deref(), Some("#/a0"));
        }
        // A search through all fields for each took half a minute, however fast the machine.
        assert!(begun.elapsed() < Duration::from_secs(15), "{:?}", begun.elapsed());
    }
}
