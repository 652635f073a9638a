//! Copies of rigs: files, links and QR codes, and what becomes of them.
#![cfg(not(target_arch = "wasm32"))]

mod file;
mod link;
mod merge;
mod rigs;
