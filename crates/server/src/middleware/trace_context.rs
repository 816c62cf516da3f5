//! The trace that a request belongs to (W3C Trace Context): taken over from the client or begun here, and continued.

use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue};
use axum::middleware::Next;
use axum::response::Response;

use super::request_id::jitter;

/// The header that carries it, both ways.
pub(crate) const HEADER: HeaderName = HeaderName::from_static("traceparent");

/// The trace of a request, and the service's own span in it.
#[derive(Clone, Debug, Eq, PartialEq)]
pub(crate) struct TraceContext {
    trace_id: String,
    /// The client's span, where the trace is the client's.
    parent_id: Option<String>,
    span_id: String,
    flags: String,
}

/// Whether the traces that begin here are recorded: they are where a collector takes them.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(crate) enum Beginning {
    /// Somebody is told of them.
    Recorded,
    /// They are in the log only.
    Unrecorded,
}

impl TraceContext {
    /// The context that [`follow`] gave the request.
    pub(crate) fn of(request: &Request) -> Self {
        request.extensions().get::<Self>().cloned().unwrap_or_else(|| Self::begin(Beginning::Unrecorded))
    }

    /// The id of the whole trace.
    pub(crate) fn trace_id(&self) -> &str {
        &self.trace_id
    }

    /// The id of what the service does of it.
    pub(crate) fn span_id(&self) -> &str {
        &self.span_id
    }

    /// The client's span that asked, where the trace is the client's.
    pub(crate) fn parent_id(&self) -> Option<&str> {
        self.parent_id.as_deref()
    }

    /// Whether who began the trace has it recorded: the last bit of the flags.
    pub(crate) fn is_recorded(&self) -> bool {
        u8::from_str_radix(&self.flags, 16).is_ok_and(|flags| flags & 1 == 1)
    }

    fn begin(beginning: Beginning) -> Self {
        let flags = match beginning {
            Beginning::Recorded => "01",
            Beginning::Unrecorded => "00",
        };
        Self {
            trace_id: format!("{:016x}{:016x}", jitter() | 1, jitter()),
            parent_id: None,
            span_id: new_span(),
            flags: flags.to_owned(),
        }
    }

    /// A header that is not as the recommendation says begins no trace, as it demands; so does one that is there twice.
    fn continued(headers: &HeaderMap) -> Option<Self> {
        let mut values = headers.get_all(HEADER).iter();
        let (value, None) = (values.next()?, values.next()) else { return None };
        let mut parts = value.to_str().ok()?.split('-');
        let (version, trace_id, parent, flags) = (parts.next()?, parts.next()?, parts.next()?, parts.next()?);
        let known = version == "00" && parts.next().is_none();
        // Of a later version only the first four parts are known.
        let later = version != "00" && version != "ff" && is_hex(version, 2);
        let fit = is_hex(trace_id, 32) && is_hex(parent, 16) && is_hex(flags, 2);
        let nothing = |id: &str| id.bytes().all(|digit| digit == b'0');
        ((known || later) && fit && !nothing(trace_id) && !nothing(parent)).then(|| Self {
            trace_id: trace_id.to_owned(),
            parent_id: Some(parent.to_owned()),
            span_id: new_span(),
            flags: known_flags(flags),
        })
    }

    fn header(&self) -> String {
        format!("00-{}-{}-{}", self.trace_id, self.span_id, self.flags)
    }
}

/// The flags that have a meaning, recorded and random; the recommendation wants the others passed on as nothing.
fn known_flags(flags: &str) -> String {
    format!("{:02x}", u8::from_str_radix(flags, 16).unwrap_or_default() & 0b11)
}

fn new_span() -> String {
    format!("{:016x}", jitter() | 1)
}

fn is_hex(text: &str, digits: usize) -> bool {
    text.len() == digits && text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'))
}

/// Gives every request its trace, and every answer the service's own span in it.
pub(crate) async fn follow(State(beginning): State<Beginning>, mut request: Request, next: Next) -> Response {
    let context = TraceContext::continued(request.headers()).unwrap_or_else(|| TraceContext::begin(beginning));
    request.extensions_mut().insert(context.clone());
    let mut response = next.run(request).await;
    if let Ok(value) = HeaderValue::from_str(&context.header()) {
        response.headers_mut().insert(HEADER, value);
    }
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    const TRACE: &str = "4bf92f3577b34da6a3ce929d0e0e4736";

    fn continued(values: &[&str]) -> Option<TraceContext> {
        let mut headers = HeaderMap::new();
        for value in values {
            headers.append(HEADER, HeaderValue::from_str(value).unwrap());
        }
        TraceContext::continued(&headers)
    }

    #[test]
    fn verify_a_trace_is_continued_with_a_span_of_its_own() {
        let context = continued(&[&format!("00-{TRACE}-00f067aa0ba902b7-01")]).unwrap();
        assert_eq!((context.trace_id(), context.flags.as_str()), (TRACE, "01"));
        assert_ne!(context.span_id(), "00f067aa0ba902b7");
        assert_eq!(context.parent_id(), Some("00f067aa0ba902b7"));
        assert!(continued(&[&context.header()]).is_some_and(|next| next.trace_id() == TRACE));
        for (flags, known) in [("00", "00"), ("01", "01"), ("03", "03"), ("04", "00"), ("ff", "03")] {
            assert_eq!(continued(&[&format!("00-{TRACE}-00f067aa0ba902b7-{flags}")]).unwrap().flags, known);
        }
        assert!(continued(&[&format!("42-{TRACE}-00f067aa0ba902b7-01-more")]).is_some());
    }

    #[test]
    fn verify_what_is_no_trace_begins_a_new_one() {
        let good = format!("00-{TRACE}-00f067aa0ba902b7-01");
        for bad in [
            "",
            "00",
            &format!("00-{}-00f067aa0ba902b7-01", TRACE.to_uppercase()),
            &format!("00-{}-00f067aa0ba902b7-01", "0".repeat(32)),
            &format!("00-{TRACE}-{}-01", "0".repeat(16)),
            &format!("00-{TRACE}-00f067aa0ba902b7-01-more"),
            &format!("ff-{TRACE}-00f067aa0ba902b7-01"),
            &format!("00-{TRACE}-00f067aa0ba902b7"),
            &format!("00-{TRACE}x-00f067aa0ba902b7-01"),
        ] {
            assert_eq!(continued(&[bad]), None, "{bad}");
        }
        assert_eq!(continued(&[&good, &good]), None);
        for (beginning, recorded) in [(Beginning::Recorded, true), (Beginning::Unrecorded, false)] {
            let begun = TraceContext::begin(beginning);
            assert_eq!((begun.is_recorded(), begun.parent_id()), (recorded, None));
            assert!(continued(&[&begun.header()]).is_some_and(|next| next.is_recorded() == recorded));
        }
    }
}
