//! The program as the maker runs it: what it writes, what it refuses, what its proof catches.

mod audition;
mod desk;
mod estimate;
mod examples;
mod finish;
mod heap;
mod hostile;
mod kept;
mod kills;
mod largest;
mod mutations;
mod output;
mod packets;
mod prints;
mod revise;
mod some_fabrics;
mod stash;
mod stencil;
mod targets;
