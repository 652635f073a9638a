//! Starts the page.

#[cfg(target_arch = "wasm32")]
fn main() {
    tyreside::ui::start();
}

#[cfg(not(target_arch = "wasm32"))]
fn main() {
    println!("Tyreside is a web page: `make serve` builds and serves it.");
}
