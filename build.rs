//! Leaves relocations in a program whose parts are to be taken out of it. Here
//! rather than in `RUSTFLAGS`, which would build every dependency anew.

use std::env::var;

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    let of_the_browser = var("CARGO_CFG_TARGET_ARCH").is_ok_and(|arch| arch == "wasm32");
    if of_the_browser && var("CARGO_FEATURE_SPLIT").is_ok() {
        println!("cargo:rustc-link-arg-bins=--emit-relocs");
    }
}
