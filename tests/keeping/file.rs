//! Files of rigs.

use crate::rigs::{self, Random};
use std::fs;
use tyreside::store::file::{self, Sections};

/// What `schema_check.py` reads: a file to a line.
const WRITTEN: &str = "target/backups.jsonl";

#[test]
fn ten_thousand_rigs_pass_through_files_unharmed() {
    let mut random = Random(9);
    let (mut number, mut files, mut bytes, mut longest) = (0, 0, 0, 0);
    while number < 10_000 {
        let count = 1 + random.below(5) as u64;
        let rigs: Vec<Sections> = (number..number + count)
            .map(|number| rigs::numbered(number).1)
            .collect();
        number += count;
        let text = file::write(&rigs);
        let found = file::read(&text).expect("a file");
        assert_eq!(found.len(), rigs.len());
        for (found, went) in found.iter().zip(&rigs) {
            assert!(found.rig.is_ok());
            assert_eq!(&found.sections, went);
        }
        files += 1;
        bytes += text.len();
        longest = longest.max(text.len());
    }
    println!(
        "{number} rigs in {files} files of {} bytes on average, {longest} at most",
        bytes / files
    );
    assert!(longest < file::LONGEST / 10);
}

/// `make schema` holds these to the published schema, by a library that is
/// someone else's.
#[test]
fn files_are_written_for_the_schema_check() {
    let lines = (0..200).map(|number| {
        let rigs = [number, number + 1].map(|number| rigs::numbered(number).1);
        file::write(&rigs[..1 + number as usize % 2]) + "\n"
    });
    fs::write(WRITTEN, lines.collect::<String>()).expect("a place in target");
}
