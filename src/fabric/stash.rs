//! The maker's fabrics as a TOML file.
/// placeholder
pub struct Stash;
/// placeholder
#[derive(Debug)]
pub struct StashError;
