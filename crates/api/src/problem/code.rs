//! The closed list of problem codes, each with its title, status and help.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What the help page of a problem says.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub struct Help {
    /// What the problem means.
    pub meaning: &'static str,
    /// What the caller can do about it.
    pub remedy: &'static str,
    /// A request or situation that ends in this problem.
    pub example: &'static str,
}

/// Declares the problem codes: variant, wire name, default status, title, meaning, remedy, example.
macro_rules! problem_codes {
    ($($variant:ident, $wire:literal, $status:literal, $title:literal, $meaning:literal, $remedy:literal, $example:literal;)+) => {
        /// The code of a problem. New codes may be added; a client must tolerate ones it does not know.
        #[derive(Clone, Copy, Debug, Eq, PartialEq, Ord, PartialOrd, Serialize, Deserialize, ToSchema)]
        #[serde(rename_all = "snake_case")]
        pub enum ProblemCode {
            $(#[doc = $title] $variant,)+
        }

        impl ProblemCode {
            /// Every code, in the order in which the help index lists them.
            pub const ALL: &[Self] = &[$(Self::$variant,)+];

            /// The name on the wire, in the header `Problem-Code` and in the help page's address.
            pub const fn as_str(self) -> &'static str {
                match self { $(Self::$variant => $wire,)+ }
            }

            /// The title, the same for every occurrence.
            pub const fn title(self) -> &'static str {
                match self { $(Self::$variant => $title,)+ }
            }

            /// The HTTP status unless the occurrence says otherwise.
            pub const fn status(self) -> u16 {
                match self { $(Self::$variant => $status,)+ }
            }

            /// The text of the help page.
            pub const fn help(self) -> Help {
                match self {
                    $(Self::$variant => Help { meaning: $meaning, remedy: $remedy, example: $example },)+
                }
            }
        }
    };
}

problem_codes! {
    InvalidRequest, "invalid_request", 422, "The request has faults",
        "The body or the address was read, but it says something the service cannot calculate with. Every fault found is listed in `errors`, in the order of the document, each with its place. The status is 400 if any part could not be read (a field missing, unknown or of the wrong type, a quantity without a unit), and 422 if all was read but a value is out of range or contradicts another.",
        "Put right every entry of `errors`: `pointer` says where, `hint` says how, `limit` and `nearest` say what would have been taken.",
        "`\"weight\": 212` has no unit; write `\"weight\": \"212 t\"` or `{\"value\": 212, \"unit\": \"t\"}`.";
    MalformedJson, "malformed_json", 400, "The body is not JSON",
        "The body could not be read as JSON: it is empty, cut short, not UTF-8, nested too deeply, or has something after its end.",
        "Check the body with any JSON tool; `detail` gives the line and column where reading stopped.",
        "`{\"units\": \"metric\",}` has a comma too many.";
    InvalidPermalink, "invalid_permalink", 404, "The permalink cannot be read",
        "The last part of the address is not a request that this service has packed: it was cut short, changed on the way, or is too large once unpacked.",
        "Copy the whole `permalink` of an answer, or send the request again with POST.",
        "A mail program broke the address in two and only the first line was followed.";
    NoEquilibrium, "no_equilibrium", 422, "The load cannot stand on these points",
        "At the expected weight and centre of gravity no set of pushing forces at the points holds the load: it would tip, or the linked groups leave it free to move, or there are too few points. `direction` says which way it goes.",
        "Move or add a point on the side that `direction` names, check the centre of gravity, or change which rams are linked.",
        "Two points, with the centre of gravity 300 mm beside the line through them.";
    UnknownCatalogue, "unknown_catalogue", 404, "No such catalogue",
        "The service has not loaded a catalogue of this name.",
        "Ask `GET /v1/catalogues` for the names, or leave the name out to use the default one.",
        "`GET /v1/catalogues/demo_yrad`";
    UnknownProblem, "unknown_problem", 404, "No such problem code",
        "The address asks for the help page of a problem code that does not exist.",
        "See `/problems` for all codes.",
        "`GET /problems/invalid_requests`";
    Unauthorized, "unauthorized", 401, "The request has no key, or a wrong one",
        "The operator of this service has given out keys, and the request came without one or with one that the service does not know. The header `WWW-Authenticate` says how a key is sent.",
        "Send `Authorization: Bearer KEY` with the key that the operator gave you. A key is never part of an address.",
        "A sheet that was copied without the header.";
    NotFound, "not_found", 404, "No such address",
        "The service has nothing at this address.",
        "See `/docs` or `/openapi.json` for every address there is.",
        "`POST /v1/ramsets/size`";
    MethodNotAllowed, "method_not_allowed", 405, "The address does not take this method",
        "The address exists, but not for this HTTP method. The header `Allow` lists the methods it takes.",
        "Use a method that `Allow` lists: calculations are sent with POST.",
        "`DELETE /v1/lift-plans`";
    NotAcceptable, "not_acceptable", 406, "The answer does not exist in this format",
        "The wanted format, from `format=` or else from the header `Accept`, is not one in which this operation answers.",
        "Ask for one of the formats that `detail` lists.",
        "`?format=svg` on an answer that has no drawing.";
    RequestTimeout, "request_timeout", 408, "The body came too slowly",
        "The body had not wholly arrived in the time the service waits for it.",
        "Send again; the calculation had not begun.",
        "A client that announces 400 bytes and sends 200.";
    PayloadTooLarge, "payload_too_large", 413, "The body is too large",
        "The body is larger than the service takes. `GET /v1/limits` gives the greatest size.",
        "Send less: name catalogue entries by id rather than carrying a whole list inline.",
        "A body of 3 MB where 1 MiB is taken.";
    UnsupportedMediaType, "unsupported_media_type", 415, "The body is not of a type the service reads",
        "The header `Content-Type` is missing, or is not a JSON type in UTF-8.",
        "Send `Content-Type: application/json`.",
        "A form sent as `application/x-www-form-urlencoded`.";
    RateLimited, "rate_limited", 429, "The key has been used too often",
        "The operator has set how many requests each key may make in a minute, and this key has made them. The request was not begun.",
        "Send again after the seconds that the header `Retry-After` gives. `POST /v1/batches` takes many calculations in one request.",
        "A loop over a thousand lifts, a request each, without a pause.";
    InternalError, "internal_error", 500, "The service failed",
        "A fault of the service itself. Nothing that was calculated may be used.",
        "Report it with the request id, which is in `instance` and in the header `X-Request-Id`.",
        "A calculation met a state that was held to be impossible.";
    CalculationTimeout, "calculation_timeout", 503, "The calculation took too long",
        "The calculation did not end in the time the service gives it and was stopped. A search that was stopped has no answer, not even a partial one.",
        "Ask for less at once: fewer points, fewer kinds of packing piece, or fewer rams to choose from.",
        "A packing sequence with many kinds of piece and very small steps.";
    Overloaded, "overloaded", 503, "The service is busy",
        "All calculation threads are at work and the queue before them is full, or too many requests are open. The request was not begun.",
        "Send again after the seconds that the header `Retry-After` gives. Every calculation may be repeated without harm.",
        "A sheet of some hundred cells that all recalculate at once.";
    SelfTestFailed, "self_test_failed", 503, "This machine does not calculate as it should",
        "At its start the service computes known values, and on this machine not all of them come out. Nothing that it calculates may be used.",
        "Take the service off this machine, and see `GET /v1/basis/verification` for the values that differ.",
        "A processor or a build that rounds otherwise than the one the values were tested on.";
    ServiceUnavailable, "service_unavailable", 503, "The service is stopping",
        "The service is being stopped: it finishes what is open and takes nothing new.",
        "Send again after the seconds that the header `Retry-After` gives.",
        "A balancer asks `GET /health/ready` while the server restarts.";
}

impl ProblemCode {
    /// The code of this wire name.
    pub fn from_wire(name: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|code| code.as_str() == name)
    }

    /// The problem's `type`: the address of its help page, relative to the service.
    pub fn type_uri(self) -> String {
        format!("/problems/{}", self.as_str())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_wire_names_are_what_serde_writes_and_come_back() {
        for code in ProblemCode::ALL {
            assert_eq!(serde_json::to_value(code).unwrap(), code.as_str());
            assert_eq!(ProblemCode::from_wire(code.as_str()), Some(*code));
        }
        assert_eq!(ProblemCode::from_wire("invalid_requests"), None);
    }

    #[test]
    fn verify_every_code_is_an_error_status_and_has_its_own_title() {
        let titles: std::collections::BTreeSet<_> = ProblemCode::ALL.iter().map(|code| code.title()).collect();
        assert_eq!(titles.len(), ProblemCode::ALL.len());
        assert!(ProblemCode::ALL.iter().all(|code| (400..600).contains(&code.status())));
    }
}
