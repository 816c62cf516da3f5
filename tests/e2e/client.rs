//! The typed client against the running service.

use ramwright_api::problem::ProblemCode;
use ramwright_client::{Client, ClientError, Probe};
use ramwright_tests::{Service, examples};
use serde_json::{Value, json};

fn client(service: &Service) -> Client {
    Client::new(&service.base_url()).unwrap()
}

macro_rules! assert_read {
    ($service:ident, $client:ident: $($method:ident $path:literal;)+) => {$(
        for units in ["metric", "us"] {
            let mut body = examples::of($path);
            body["units"] = json!(units);
            let raw = $service.post($path, &body).await;
            let typed = $client.$method(&body).await.unwrap();
            // Read into types and written again, nothing is lost; what a conversion of units rounds stays within 1e-9.
            let written: Value = serde_json::from_slice(&typed.to_json().unwrap()).unwrap();
            let found = ramwright_tests::compare::differences(&written, &raw.answer(), 1e-9);
            assert!(found.is_empty(), "{} in {units}: {found:?}", $path);
        }
    )+};
}

pub(crate) async fn verify_the_typed_client_reads_every_answer(service: &'static Service) {
    let client = client(service);
    assert_read! { service, client:
        share_load "/v1/load-shares";
        size_ram_set "/v1/ram-sets/size";
        verify_ram_set "/v1/ram-sets/verify";
        sequence_packing_lifts "/v1/packing-lifts/sequence";
        assess_circuit "/v1/circuits/assess";
        plan_lift "/v1/lift-plans";
    }
    let answer = client.share_load(examples::of("/v1/load-shares")).await.unwrap();
    let again =
        client.again::<ramwright_api::operation::ShareLoad>(answer.permalink.as_deref().unwrap()).await.unwrap();
    assert_eq!(again, answer);
    let read = client.validate::<ramwright_api::operation::ShareLoad>(examples::of("/v1/load-shares")).await.unwrap();
    assert_eq!((read.valid, &read.request_digest), (true, &answer.request_digest));
    assert!(!client.units().await.unwrap().units.is_empty());
    assert!(
        client
            .basis()
            .await
            .unwrap()
            .checks
            .iter()
            .any(|check| check.test == "validate_wight_example".to_owned().into())
    );
    assert!(client.materials().await.unwrap().materials.iter().any(|value| value.symbol.as_str() == "F_c_perp"));
    assert!(1 < client.limits().await.unwrap().points);
    for entry in client.catalogues().await.unwrap().catalogues {
        client.catalogue(&entry.name).await.unwrap();
    }
    assert!(client.check_catalogue(examples::catalogue()).await.unwrap().acceptable);
    assert_eq!(client.health(Probe::Ready).await.unwrap().status, "ready");
}

pub(crate) async fn verify_the_typed_client_gives_problems_as_errors(service: &'static Service) {
    let client = client(service);
    let refused = client.share_load(json!({"load_case": {"weight": 212}})).await.unwrap_err();
    let ClientError::Problem(problem) = refused else { panic!("{refused}") };
    assert_eq!((problem.code, problem.status), (ProblemCode::InvalidRequest, 400));
    let codes: Vec<&str> = problem.errors.iter().map(|fault| fault.code.as_str()).collect();
    assert_eq!(codes, ["bare_number", "missing_field", "missing_field"]);
    let refused = client.catalogue("a/b ?").await.unwrap_err();
    let ClientError::Problem(problem) = refused else { panic!("{refused}") };
    assert_eq!(problem.code, ProblemCode::UnknownCatalogue);
}
