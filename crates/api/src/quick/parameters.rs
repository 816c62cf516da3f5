//! The list of the parameters: what each is called, where it goes in the request, and how it is described.

use super::Enquiry;
use crate::request::{BaseWord, DataOrigin, MOST_POINTS, PackingLiftsWord};
use crate::sent::{Bound, Name, Sent, bound, numbers};
use crate::sent::{Number, NumberBound};
use ramwright_engine::load::Task;
use ramwright_units::Profile;
use serde_json::{Value, json};
use utoipa::PartialSchema;
use utoipa::openapi::path::{self, ParameterBuilder, ParameterIn};
use utoipa::openapi::schema::{ObjectBuilder, Type};
use utoipa::openapi::{RefOr, Required, Schema};

/// How the text of a parameter stands in the request.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(super) enum Form {
    /// As it is: a quantity.
    Text,
    /// As it is: a word, a name or a title, in which no number is looked for.
    Word,
    /// As a number.
    Number,
    /// As more than one value, which code of its own makes.
    Made,
}

/// A parameter of the quick form.
#[derive(Clone, Copy, Debug)]
pub struct Parameter {
    /// Its name in the address.
    pub name: &'static str,
    /// Whether it must be given whatever else is.
    pub required: bool,
    /// What it says.
    words: &'static str,
    /// How it is written.
    example: &'static str,
    /// Its fields in the request, without the numbers of points.
    pub(super) fields: &'static [&'static str],
    pub(super) form: Form,
    schema: fn() -> RefOr<Schema>,
}

macro_rules! list {
    ($($name:ident $($required:ident)?: $form:ident, $schema:expr, [$($field:literal),+], $example:literal, $words:literal;)+) => {
        /// Every parameter that becomes a part of the request.
        pub const PARAMETERS: &[Parameter] = &[$(Parameter {
            name: stringify!($name),
            required: list!(@ $($required)?),
            words: $words,
            example: $example,
            fields: &[$($field),+],
            form: Form::$form,
            schema: $schema,
        },)+];
    };
    (@ required) => { true };
    (@) => { false };
}

list! {
    load required: Made, text::<bound::WeightOfLoad>, ["load_case/weight", "load_case/points/stated_reaction"], "212 t",
        "Weight of the load, as a mass or a force. With `duty` `press` or `pull` the force at each point, since nothing says how a frame divides it; a mass then counts under standard gravity.";
    points required: Made, count, ["load_case/points"], "4",
        "How many jacking points there are.";
    travel required: Text, text::<bound::Travel>, ["load_case/travel"], "420 mm",
        "How far the load must move.";
    clearance: Text, text::<bound::Clearance>, ["load_case/points/clearance"], "290 mm",
        "Height under the load where the rams go, the same at every point; a load that is raised needs it.";
    duty: Word, Task::schema, ["load_case/task"], "raise",
        "What the rams are to do; `raise` by default.";
    weight_tolerance: Number, number::<numbers::ToleranceFraction>, ["load_case/weight_tolerance"], "0.05",
        "By which fraction the weight may be wrong, either way; by default according to `origin`.";
    origin: Word, DataOrigin::schema, ["load_case/origin"], "calculated",
        "How the weight was come by.";
    length: Made, text::<bound::Position>, ["load_case/points/x", "load_case/centre_of_gravity"], "4.4 m",
        "Distance of the outer points along the load, from middle to middle. With `width` it gives the positions: 3 points are two at one end and one in the middle of the other, 4, 6, 8 and so on stand in two even rows; 2 points need `length` alone. Without it every point carries an equal share, and the answer cautions that this is a guess.";
    width: Made, text::<bound::Position>, ["load_case/points/y"], "2.3 m",
        "Distance of the outer points across the load, from middle to middle.";
    at: Made, places, ["load_case/points/x", "load_case/points/y"], "0 m/0 m;4.4 m/0 m;4.4 m/2.3 m;0 m/2.3 m",
        "Where the points stand, instead of `length` and `width`: x and y of each, with a slash between them and a semicolon before the next point.";
    centre_x: Text, text::<bound::Position>, ["load_case/centre_of_gravity/x"], "2.35 m",
        "Distance along `length` of the centre of gravity from the first point; with `centre_y`. Without both it is guessed in the middle of `length` and `width`, and the answer cautions so.";
    centre_y: Text, text::<bound::Position>, ["load_case/centre_of_gravity/y"], "1.08 m",
        "The same along `width`.";
    centre_z: Text, text::<bound::Position>, ["load_case/centre_of_gravity/z"], "1.9 m",
        "Height of the centre of gravity above the plane in which the load bears on the points; without it the horizontal force is not checked.";
    centre_tolerance: Text, text::<bound::Tolerance>, ["load_case/centre_of_gravity/tolerance"], "40 mm",
        "By how much the centre of gravity may be off along `length` and `width`, either way; by default according to `origin`.";
    support_stiffness: Text, text::<bound::SupportStiffness>, ["load_case/support_stiffness"], "80 kN/mm",
        "Stiffness of the support at each point; with `level_tolerance` more than three points share by it.";
    level_tolerance: Made, text::<bound::Gap>, ["settings/level_tolerance", "load_case/level_tolerance"], "5 mm",
        "Band within which the heights of the points are held; with `support_stiffness` it decides how more than three points share too.";
    horizontal_share: Number, number::<numbers::WeightFraction>, ["load_case/horizontal_share"], "0.03",
        "Horizontal force at the centre of gravity as a fraction of the weight, in any direction; 0.025 by default.";
    horizontal_force: Text, text::<bound::ForceOrZero>, ["load_case/horizontal_force"], "60 kN",
        "Horizontal force; instead of the fraction.";
    pad_length: Text, text::<bound::Side>, ["load_case/points/pad/length"], "600 mm",
        "One side of what the rams of a point stand on; with `pad_width`.";
    pad_width: Text, text::<bound::Side>, ["load_case/points/pad/width"], "500 mm",
        "The other side.";
    base: Word, BaseWord::schema, ["load_case/points/base"], "concrete",
        "What the rams stand on; without it stability is not checked.";
    limit: Text, text::<bound::AnyForce>, ["load_case/points/limit"], "1500 kN",
        "Force that each jacking point on the load may take; without it that is not checked.";
    foundation_limit: Text, text::<bound::AnyForce>, ["load_case/points/foundation_limit"], "1600 kN",
        "Force that the foundation under each point may take; without it that is not checked.";
    ram required: Word, Name::schema, ["ram_set/everywhere/ram"], "willow-01",
        "The ram at every point, by its name in the catalogue.";
    count: Number, number::<numbers::RamsAtPoint>, ["ram_set/everywhere/count"], "1",
        "How many of it stand side by side at every point; 1 by default.";
    packing: Made, pieces, ["settings/packing"], "slate-02 slate-06",
        "The packing pieces that are on site, by their names with a space between them; all of the catalogue by default.";
    capacity_limit: Number, number::<numbers::WorkingLimit>, ["settings/capacity_limit"], "0.8",
        "Part of a ram's capacity that may be used; 0.8 by default.";
    stroke_limit: Number, number::<numbers::WorkingLimit>, ["settings/stroke_limit"], "0.8",
        "Part of a ram's stroke that may be used; 0.8 by default.";
    packing_lifts: Word, PackingLiftsWord::schema, ["settings/packing_lifts"], "allowed",
        "Whether the lift may be done in packing lifts; allowed by default.";
    rams_per_point: Number, number::<numbers::RamsTried>, ["settings/rams_per_point"], "4",
        "Greatest number of rams side by side that the search tries; 4 by default.";
    hose_run: Text, text::<bound::LengthOfHose>, ["supply/hose_run"], "15 m",
        "How far the farthest ram is from the pumps, along the hoses.";
    hire_days: Number, number::<numbers::HireDays>, ["price/hire_days"], "7",
        "Days of the calendar for which the rams are hired; 7 by default.";
    catalogue: Word, Name::schema, ["catalogue"], "demo_yard",
        "The catalogue's name; `demo_yard`, which is invented, by default.";
    units: Word, Profile::schema, ["units"], "metric",
        "Units of the answer; `metric` by default.";
    title: Word, crate::catalogue::Words::schema, ["title"], "Invented: transformer off its plinth",
        "A title for people.";
}

fn text<B: Bound>() -> RefOr<Schema> {
    let range = format!("From {} to {} {}.", B::LEAST.0, B::GREATEST, B::LEAST.1);
    let pattern = format!("^{}$", Sent::<B>::pattern());
    ObjectBuilder::new().schema_type(Type::String).description(Some(range)).pattern(Some(pattern)).build().into()
}

fn number<B: NumberBound>() -> RefOr<Schema> {
    Number::<B>::schema()
}

fn places() -> RefOr<Schema> {
    let place = format!("({0}/{0})", Sent::<bound::Position>::pattern());
    ObjectBuilder::new().schema_type(Type::String).pattern(Some(format!("^{place}(;{place})*$"))).build().into()
}

fn pieces() -> RefOr<Schema> {
    let name = r"[^\x00-\x20\x7f-\x9f]+";
    ObjectBuilder::new().schema_type(Type::String).pattern(Some(format!("^{name}( +{name})*$"))).build().into()
}

fn count() -> RefOr<Schema> {
    ObjectBuilder::new().schema_type(Type::Integer).minimum(Some(1)).maximum(Some(MOST_POINTS)).build().into()
}

impl Parameter {
    /// What it says, for people.
    pub fn words(&self) -> &'static str {
        self.words
    }

    /// How it is written, by example.
    pub fn example(&self) -> &'static str {
        self.example
    }

    /// Whether its text holds numbers, in which a decimal comma may stand.
    pub fn has_numbers(&self) -> bool {
        match self.form {
            Form::Text | Form::Number => true,
            Form::Word => false,
            Form::Made => self.name != "packing",
        }
    }

    /// Whether it is a quantity, so that its unit may stand in the head of a column.
    pub fn is_quantity(&self) -> bool {
        match self.form {
            Form::Text => true,
            Form::Word | Form::Number => false,
            Form::Made => !matches!(self.name, "points" | "at" | "packing"),
        }
    }

    /// As the description shows it.
    fn described(&self) -> path::Parameter {
        let example = match self.form {
            Form::Text | Form::Word | Form::Made if self.name != "points" => Value::from(self.example),
            _ => serde_json::from_str(self.example).unwrap_or_else(|_| json!(self.example)),
        };
        ParameterBuilder::new()
            .name(self.name)
            .parameter_in(ParameterIn::Query)
            .required(if self.required { Required::True } else { Required::False })
            .description(Some(self.words))
            .schema(Some((self.schema)()))
            .example(Some(example))
            .build()
    }
}

/// The parameters that an enquiry takes.
pub fn parameters_of(enquiry: Enquiry) -> impl Iterator<Item = &'static Parameter> {
    PARAMETERS.iter().filter(move |parameter| enquiry.takes(parameter.name))
}

/// The parameters of an enquiry as the description shows them.
pub fn parameters(enquiry: Enquiry) -> Vec<path::Parameter> {
    parameters_of(enquiry).map(Parameter::described).collect()
}
