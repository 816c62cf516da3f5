//! A parsed request, ready to be computed.

use super::Operation;
use crate::answer::{Answer, CatalogueUsed, Validation, written};
use crate::catalogue::Catalogues;
use crate::digest::{LONGEST_PERMALINK, pack, sha256, unpack};
use crate::json::Node;
use crate::problem::{Direction, Problem, ProblemCode};
use crate::read::{Faults, Pointer, Read};
use crate::request::{Context, Section, Sections, parse_effort};
use ramwright_engine::remark::{Assumption, Caution, standing_cautions};
use ramwright_engine::{Effort, EngineError, defaults};
use ramwright_units::Profile;
use serde_json::Value;
use std::sync::atomic::AtomicBool;

/// A request that was understood, with everything needed to compute and to answer it.
pub struct Prepared<O: Operation> {
    input: O::Input,
    request: Value,
    units: Profile,
    catalogue: Option<CatalogueUsed>,
    assumptions: Vec<Assumption>,
    cautions: Vec<Caution>,
    states: u64,
}

impl<O: Operation> Prepared<O> {
    /// Reads a body.
    ///
    /// # Errors
    /// No JSON, or every fault of the request.
    pub fn from_json(body: &[u8], catalogues: &Catalogues) -> Result<Self, Problem> {
        let node = Node::parse(body).map_err(|error| Problem::new(ProblemCode::MalformedJson, error.to_string()))?;
        Self::from_node(&node, catalogues)
    }

    /// Reads a request that is a tree already.
    ///
    /// # Errors
    /// Every fault of the request.
    pub fn from_node(node: &Node, catalogues: &Catalogues) -> Result<Self, Problem> {
        let mut faults = Faults::default();
        let request = O::Request::read(node, &Pointer::default(), &mut faults);
        let sections = Sections::read(node);
        let mut context = Context::new(catalogues);
        let yard = O::yard(&sections, &mut context);
        let input = O::parse(&sections, yard.as_ref(), &mut context);
        let all: Vec<_> = faults.into_vec().into_iter().chain(context.faults.into_vec()).collect();
        if !all.is_empty() {
            return Err(Problem::invalid_request(crate::read::in_document_order(node, all)));
        }
        let (Some(request), Some(input)) = (request, input) else {
            return Err(Problem::new(ProblemCode::InternalError, "a request was refused without a reason"));
        };
        let catalogue =
            yard.map(|yard| CatalogueUsed { name: yard.catalogue.name.clone(), digest: yard.digest.clone() });
        Ok(Self {
            input,
            request: request.canonical().unwrap_or_default(),
            units: match sections.units {
                Section::Sent(units) => units,
                Section::Absent | Section::Faulty => Profile::Metric,
            },
            catalogue,
            assumptions: context.assumptions,
            cautions: context.cautions,
            states: parse_effort(&sections.settings, O::STATES),
        })
    }

    /// Reads the parameter of a permalink.
    ///
    /// # Errors
    /// Not a permalink, or every fault of the request in it.
    pub fn from_permalink(parameter: &str, catalogues: &Catalogues) -> Result<Self, Problem> {
        let body = unpack(parameter)
            .ok_or_else(|| Problem::new(ProblemCode::InvalidPermalink, "the address holds no packed request"))?;
        Self::from_json(&body, catalogues)
    }

    /// What the engine is asked.
    pub fn input(&self) -> &O::Input {
        &self.input
    }

    /// Computes and answers.
    ///
    /// # Errors
    /// No equilibrium at the expected values, or stopped by the caller.
    pub fn compute(&self, stop: &AtomicBool) -> Result<Answer<O::Result>, Problem> {
        let effort = Effort { states: self.states, stop };
        let result = O::compute(&self.input, effort).map_err(|error| problem(&error))?;
        let mut cautions = self.known_cautions();
        cautions.extend(O::cautions(&result));
        let (permalink, permalink_note) = self.permalink();
        Ok(Answer {
            operation: O::NAME.to_owned(),
            engine_version: env!("CARGO_PKG_VERSION").to_owned(),
            defaults: defaults::PROFILE.to_owned(),
            catalogue: self.catalogue.clone(),
            units: self.units,
            request: self.request.clone(),
            request_digest: self.request_digest(),
            result_digest: sha256(&written(Profile::Metric, &result)?),
            permalink,
            permalink_note,
            assumptions: self.assumptions.clone(),
            cautions,
            verdict: O::verdict(&result),
            result,
        })
    }

    /// Answers without computing: what was understood, and what would be assumed.
    pub fn validation(&self) -> Validation {
        Validation {
            operation: O::NAME.to_owned(),
            valid: true,
            defaults: defaults::PROFILE.to_owned(),
            catalogue: self.catalogue.clone(),
            units: self.units,
            request: self.request.clone(),
            request_digest: self.request_digest(),
            assumptions: self.assumptions.clone(),
            cautions: self.known_cautions(),
        }
    }

    fn request_digest(&self) -> String {
        sha256(self.request.to_string().as_bytes())
    }

    /// The cautions that hold whatever the result is.
    fn known_cautions(&self) -> Vec<Caution> {
        standing_cautions().into_iter().chain(self.cautions.iter().cloned()).collect()
    }

    fn permalink(&self) -> (Option<String>, Option<String>) {
        let address = pack(&self.request).map(|packed| format!("{}/{packed}", O::PATH));
        match address {
            Some(address) if address.len() <= LONGEST_PERMALINK => (Some(address), None),
            _ => (None, Some(format!("the request does not fit into an address of {LONGEST_PERMALINK} bytes"))),
        }
    }
}

fn problem(error: &EngineError) -> Problem {
    match error {
        EngineError::NoEquilibrium(reason) => {
            let direction = reason.direction().map(|(x, y)| Direction { x, y });
            Problem::no_equilibrium(reason.to_string(), direction)
        }
        EngineError::Stopped(_) => Problem::new(ProblemCode::CalculationTimeout, "the calculation was stopped"),
        other => Problem::new(ProblemCode::InternalError, other.to_string()),
    }
}
