//! The ceiling for the throughput of the service: the same bytes in both directions, and nothing calculated.
//!
//! `echo ADDRESS SIZE_ANSWER VERIFY_ANSWER` reads the body of a POST wholly and answers with the bytes of the file.

use std::sync::Arc;

use axum::Router;
use axum::body::Bytes;
use axum::http::header;
use axum::routing::post;

type Outcome = Result<(), Box<dyn std::error::Error>>;

#[tokio::main]
async fn main() -> Outcome {
    let mut words = std::env::args().skip(1);
    let (Some(address), Some(size), Some(verify), None) = (words.next(), words.next(), words.next(), words.next())
    else {
        return Err("usage: echo ADDRESS SIZE_ANSWER VERIFY_ANSWER".into());
    };
    let app = Router::new().merge(echo("/v1/ram-sets/size", &size)?).merge(echo("/v1/ram-sets/verify", &verify)?);
    let listener = tokio::net::TcpListener::bind(address).await?;
    axum::serve(listener, app).await?;
    Ok(())
}

fn echo(path: &str, file: &str) -> Result<Router, std::io::Error> {
    let answer: Arc<[u8]> = std::fs::read(file)?.into();
    let handler = move |body: Bytes| {
        let answer = Bytes::copy_from_slice(&answer);
        async move {
            drop(body);
            ([(header::CONTENT_TYPE, "application/json")], answer)
        }
    };
    Ok(Router::new().route(path, post(handler)))
}
