//! The scripts beside these tests, which work figures out again.

use serde_json::Value;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

/// Whether `script`, given `figures` as JSON, comes to the same.
pub fn accepts(script: &str, figures: &Value) -> bool {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/published");
    let mut python = Command::new("python3")
        .arg(folder.join(script))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("this check needs python3");
    let mut input = python.stdin.take().unwrap();
    input.write_all(figures.to_string().as_bytes()).unwrap();
    drop(input);
    let output = python.wait_with_output().unwrap();
    println!("{}", String::from_utf8_lossy(&output.stdout));
    match output.status.code() {
        Some(0) => true,
        Some(1) => false,
        code => panic!("the script itself failed: {code:?}"),
    }
}
