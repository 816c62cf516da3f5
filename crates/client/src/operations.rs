//! Every operation under its own name.

use crate::body::Body;
use crate::client::Client;
use crate::error::ClientError;
use crate::listed::{BasisList, Health, MaterialList, Probe, UnitList};
use ramwright_api::catalogue::{CatalogueAnswer, CatalogueCheck, CatalogueList};
use ramwright_api::operation::{AssessCircuit, PlanLift, SequencePackingLifts, ShareLoad, SizeRamSet, VerifyRamSet};
use ramwright_api::replay::Replay;
use ramwright_api::{Answer, Limits};
use ramwright_engine::circuit::CircuitAssessment;
use ramwright_engine::load::LoadShares;
use ramwright_engine::packing_lift::PackingSequence;
use ramwright_engine::plan::LiftPlan;
use ramwright_engine::size::Sizing;
use ramwright_engine::verify::Verification;

macro_rules! calculations {
    ($($(#[$doc:meta])* $name:ident: $operation:ty => $result:ty;)+) => {
        /// The calculations.
        impl Client {
            $($(#[$doc])*
            ///
            /// # Errors
            /// [`ClientError`] by its cause.
            pub async fn $name(&self, request: impl Into<Body>) -> Result<Answer<$result>, ClientError> {
                self.call::<$operation>(request).await
            })+
        }
    };
}

calculations! {
    /// What every point carries.
    share_load: ShareLoad => LoadShares;
    /// Which ram sets of the yard do the job.
    size_ram_set: SizeRamSet => Sizing;
    /// Whether a proposed ram set does the job.
    verify_ram_set: VerifyRamSet => Verification;
    /// The packing lifts of a ram set.
    sequence_packing_lifts: SequencePackingLifts => PackingSequence;
    /// Pressures, oil and times of a ram set.
    assess_circuit: AssessCircuit => CircuitAssessment;
    /// The whole job in one.
    plan_lift: PlanLift => LiftPlan;
}

/// The quick forms, by plain parameters such as `("load", "212 t")`.
impl Client {
    /// What each point carries.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn quick_load_share(&self, parameters: &[(&str, &str)]) -> Result<Answer<LoadShares>, ClientError> {
        self.get_by("/v1/quick/load-share", parameters).await
    }

    /// Which ram sets of the yard do the job.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn quick_ram_set(&self, parameters: &[(&str, &str)]) -> Result<Answer<Sizing>, ClientError> {
        self.get_by("/v1/quick/ram-set", parameters).await
    }

    /// Whether rams that are named do the job.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn quick_verification(&self, parameters: &[(&str, &str)]) -> Result<Answer<Verification>, ClientError> {
        self.get_by("/v1/quick/verification", parameters).await
    }

    /// In how many packing lifts rams that are named do the job.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn quick_packing_lifts(
        &self,
        parameters: &[(&str, &str)],
    ) -> Result<Answer<PackingSequence>, ClientError> {
        self.get_by("/v1/quick/packing-lifts", parameters).await
    }
}

/// Replays.
impl Client {
    /// A saved answer computed again and compared.
    ///
    /// Give the JSON as it was answered: an answer that was read into types and written again is rounded in its last digits,
    /// and these then differ.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn replay(&self, saved: impl Into<Body>) -> Result<Replay, ClientError> {
        self.post("/v1/replays", &saved.into()).await
    }
}

/// Lists, and the service itself.
impl Client {
    /// The catalogues that requests can name.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn catalogues(&self) -> Result<CatalogueList, ClientError> {
        self.get("/v1/catalogues").await
    }

    /// One catalogue with all its lists.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn catalogue(&self, name: &str) -> Result<CatalogueAnswer, ClientError> {
        self.get_one("/v1/catalogues", name).await
    }

    /// Whether the service would load these files, and what they leave open.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn check_catalogue(&self, files: impl Into<Body>) -> Result<CatalogueCheck, ClientError> {
        self.post("/v1/catalogues/check", &files.into()).await
    }

    /// Every unit that requests may use.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn units(&self) -> Result<UnitList, ClientError> {
        self.get("/v1/units").await
    }

    /// How much a request may hold.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn limits(&self) -> Result<Limits, ClientError> {
        self.get("/v1/limits").await
    }

    /// Every check with formula and source.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn basis(&self) -> Result<BasisList, ClientError> {
        self.get("/v1/basis").await
    }

    /// Every value of a material with its source.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn materials(&self) -> Result<MaterialList, ClientError> {
        self.get("/v1/materials").await
    }

    /// How the service is; a service that is not ready answers with a problem.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn health(&self, probe: Probe) -> Result<Health, ClientError> {
        self.get(probe.path()).await
    }
}
