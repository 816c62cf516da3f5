//! The problems of an operation, as its description lists them.

use ramwright_api::problem::ProblemDocument;
use utoipa::IntoResponses;

/// Declares a set of problem responses: variant, status, description.
macro_rules! problem_sets {
    ($($(#[$doc:meta])* $set:ident { $($variant:ident, $status:literal, $description:literal;)+ })+) => {
        $($(#[$doc])*
        #[derive(IntoResponses)]
        #[expect(dead_code, reason = "read by the description only")]
        pub(crate) enum $set {
            $(#[response(status = $status, description = $description, content_type = "application/problem+json")]
            $variant(ProblemDocument),)+
        })+
    };
}

problem_sets! {
    /// Of a calculation sent as a body.
    CalculationProblems {
        Unreadable, 400, "The request cannot be read: a field is missing, unknown or of the wrong type, or a quantity has no unit.";
        NoKey, 401, "The service asks for a key, and the request has none or a wrong one.";
        NotAcceptable, 406, "The answer does not exist in the format asked for.";
        Slow, 408, "The body came too slowly.";
        Large, 413, "The body is too large.";
        NotJson, 415, "The body is not JSON.";
        Unfit, 422, "A value is out of range or contradicts another, or the load cannot stand on its points.";
        Often, 429, "The key has been used too often within a minute.";
        Failed, 500, "A fault of the service itself.";
        Busy, 503, "The service is busy or stopping, or the calculation took too long.";
    }
    /// Of a batch, before its first line.
    BatchProblems {
        Unreadable, 400, "A parameter is unknown.";
        NoKey, 401, "The service asks for a key, and the request has none or a wrong one.";
        NotAcceptable, 406, "The answer is written in lines of JSON only.";
        NotLines, 415, "The body is not said to be lines of JSON.";
        Often, 429, "The key has been used too often within a minute.";
        Failed, 500, "A fault of the service itself.";
        Busy, 503, "The service is busy or stopping.";
    }
    /// Of a calculation asked for again by its permalink.
    PermalinkProblems {
        Unreadable, 400, "A parameter is unknown, or the request in the permalink cannot be read.";
        NoKey, 401, "The service asks for a key, and the request has none or a wrong one.";
        Unknown, 404, "The address holds no packed request.";
        NotAcceptable, 406, "The answer does not exist in the format asked for.";
        Unfit, 422, "A value is out of range or contradicts another, or the load cannot stand on its points.";
        Often, 429, "The key has been used too often within a minute.";
        Failed, 500, "A fault of the service itself.";
        Busy, 503, "The service is busy or stopping, or the calculation took too long.";
    }
    /// Of a calculation asked for by plain parameters.
    QuickProblems {
        Unreadable, 400, "A parameter is missing, unknown, repeated or cannot be read.";
        NoKey, 401, "The service asks for a key, and the request has none or a wrong one.";
        NotAcceptable, 406, "The answer does not exist in the format asked for.";
        Unfit, 422, "A value is out of range or contradicts another, or the load cannot stand on its points.";
        Often, 429, "The key has been used too often within a minute.";
        Failed, 500, "A fault of the service itself.";
        Busy, 503, "The service is busy or stopping, or the calculation took too long.";
    }
    /// Of a table of enquiries.
    TableProblems {
        Unreadable, 400, "The table cannot be read: a head means nothing, or a parameter of the address is unknown.";
        NotAcceptable, 406, "The answer does not exist in the format asked for.";
        Slow, 408, "The body came too slowly.";
        Large, 413, "The body is too large.";
        NotCsv, 415, "The body is neither CSV nor a form.";
        TooMany, 422, "The table has too many rows or columns.";
        Failed, 500, "A fault of the service itself.";
        Busy, 503, "The service is busy or stopping.";
    }
    /// Of a list.
    ListProblems {
        Unreadable, 400, "A parameter is unknown.";
        NoKey, 401, "The service asks for a key, and the request has none or a wrong one.";
        NotAcceptable, 406, "The answer does not exist in the format asked for.";
        Often, 429, "The key has been used too often within a minute.";
        Failed, 500, "A fault of the service itself.";
        Busy, 503, "The service is busy.";
    }
    /// Of one thing out of a list.
    NamedProblems {
        Unreadable, 400, "A parameter is unknown.";
        NoKey, 401, "The service asks for a key, and the request has none or a wrong one.";
        Absent, 404, "There is nothing of this name.";
        NotAcceptable, 406, "The answer does not exist in the format asked for.";
        Often, 429, "The key has been used too often within a minute.";
        Failed, 500, "A fault of the service itself.";
        Busy, 503, "The service is busy.";
    }
    /// Of a health check.
    HealthProblems {
        Unreadable, 400, "A parameter is unknown.";
        NotReady, 503, "The service is stopping, or known values do not come out on its machine.";
    }
}
