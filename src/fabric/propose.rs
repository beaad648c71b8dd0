//! p
/// placeholder
pub struct Proposal;
/// placeholder
pub fn propose() {}
