//! Every test of the crate from outside, in one executable: what links once, links fast.

// What is compared leaves room for last bits.
#![expect(clippy::disallowed_methods)]

mod advise;
mod cloth;
mod colour;
mod commands;
mod fuzzing;
mod gallery;
mod hand;
mod horizon;
mod job;
mod layout;
mod looked_through;
mod oracle;
mod packets;
mod page;
mod palette;
mod picture;
mod plan;
mod prints;
mod proof;
mod properties;
mod propose;
mod readme;
mod refit;
mod revise;
mod sample_fabrics;
mod samples;
mod seeds;
mod spoilt;
mod stash;
mod steps;
mod stock;
mod story;
mod subset;
mod swatch;
mod thrift;
mod trade;
mod upright;
