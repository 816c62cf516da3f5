use ramwright_engine::check::CheckId;
pub(crate) fn meaning(_check: Option<CheckId>, _symbol: &str) -> Option<&'static str> {
    None
}
