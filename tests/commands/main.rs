//! The program as the maker runs it: what it writes, what it refuses, what its proof catches.

mod desk;
mod hostile;
mod mutations;
mod output;
mod some_fabrics;
mod targets;
