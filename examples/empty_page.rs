//! A page with one word on it: what any page of this framework waits for
//! (`make start-time`).

#[cfg(target_arch = "wasm32")]
fn main() {
    leptos::mount::mount_to_body(|| "Started");
}

#[cfg(not(target_arch = "wasm32"))]
fn main() {}
