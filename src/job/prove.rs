//! What was written, sewn on paper.

use crate::proof::{self, Fault, Folder, Proven};

/// Cuts and sews on paper what the files of a scene say, and compares it with the plan and with each other.
pub fn prove(files: &Folder) -> Result<Proven, Fault> {
    proof::prove_folder(files)
}
