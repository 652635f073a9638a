//! Starts the page in a browser.

#[cfg(target_arch = "wasm32")]
fn main() {
    tyreside::ui::start();
}

#[cfg(not(target_arch = "wasm32"))]
fn main() {
    println!("Tyreside is a web page: `make serve` builds it and prints its address.");
}
