//! What several suites share.

use proptest::prelude::*;
use proptest::test_runner::{TestCaseError, TestRunner};
use std::cell::RefCell;
use std::collections::BTreeMap;

/// Runs `check` over `strategy`, and prints how the cases spread over the
/// branches that it counts; each of `branches` must have been met.
pub fn spread<S: Strategy>(
    cases: u32,
    strategy: S,
    branches: &[&'static str],
    check: impl Fn(S::Value, &dyn Fn(&'static str)) -> Result<(), TestCaseError>,
) {
    let counts = RefCell::new(BTreeMap::new());
    let mut runner = TestRunner::new(ProptestConfig {
        cases,
        failure_persistence: None,
        ..ProptestConfig::default()
    });
    let count = |branch| *counts.borrow_mut().entry(branch).or_insert(0) += 1;
    runner
        .run(&strategy, |value| check(value, &count))
        .unwrap_or_else(|failure| panic!("{failure}"));
    println!("{:?}", counts.borrow());
    for branch in branches {
        let met = counts.borrow().get(branch).copied().unwrap_or(0);
        assert!(met >= 50, "{branch}: {met} cases");
    }
}
