//! Links to a rig, and their QR codes.

use crate::rigs::{self, Fill, Random};
use std::collections::BTreeMap;
use tyreside::rig::copies::Copies;
use tyreside::rig::section::Section;
use tyreside::store::envelope;
use tyreside::store::file::Sections;
use tyreside::store::link::{self, Extent, LinkError};
use tyreside::ui::views::copies::qr;

const ADDRESS: &str = "https://tyreside.example/Some/folder/";

/// Sizes: least, middle, greatest.
fn spread(mut of: Vec<usize>) -> String {
    of.sort_unstable();
    format!(
        "{} to {}, half below {}",
        of[0],
        of[of.len() - 1],
        of[of.len() / 2]
    )
}

/// What another library reads off the drawing, from its path: module by
/// module, or as a camera sees it, at so many pixels to a module.
fn scanned(drawing: &qr::Qr, pixels: Option<usize>) -> String {
    let across = drawing.across as usize;
    let mut dark = vec![false; across * across];
    let (_, path) = drawing.svg.split_once("<path d=\"").expect("a path");
    let (path, _) = path.split_once('"').expect("its end");
    for run in path.split('z').filter(|run| !run.is_empty()) {
        let (start, rest) = run[1..].split_once('h').expect("a run");
        let (x, y) = start.split_once(' ').expect("a place");
        let (length, _) = rest.split_once('v').expect("a length");
        let [x, y, length] = [x, y, length].map(|number| number.parse::<usize>().unwrap());
        dark[y * across + x..][..length].fill(true);
    }
    let dark = |x: usize, y: usize| dark[y * across + x];
    let Some(pixels) = pixels else {
        let quiet = qr::QUIET as usize;
        let grid =
            rqrr::SimpleGrid::from_func(across - 2 * quiet, |x, y| dark(x + quiet, y + quiet));
        return rqrr::Grid::new(grid).decode().expect("readable").1;
    };
    let side = across * pixels;
    let mut image = rqrr::PreparedImage::prepare_from_greyscale(side, side, |x, y| {
        if dark(x / pixels, y / pixels) {
            20
        } else {
            235
        }
    });
    let grids = image.detect_grids();
    assert_eq!(grids.len(), 1, "codes found");
    grids[0].decode().expect("readable").1
}

/// The same sections, but for what is known of copies, which a link shortens.
fn assert_same(came: &Sections, went: &Sections) {
    let names = |of: &Sections| of.iter().map(|(part, _)| part.clone()).collect::<Vec<_>>();
    assert_eq!(names(came), names(went));
    assert!(
        !came
            .iter()
            .any(|(part, _)| part.starts_with("log") || part == "checks")
    );
    for (came, went) in came.iter().zip(went) {
        assert!(
            came == went || came.0 == Copies::PART,
            "{} is another",
            went.0
        );
    }
}

#[test]
fn ten_thousand_rigs_pass_through_link_and_qr_code_unharmed() {
    const RIGS: u64 = 10_000;
    let threads = std::thread::available_parallelism().map_or(1, |of| of.get() as u64);
    let all = std::thread::scope(|scope| {
        let parts: Vec<_> = (0..threads)
            .map(|first| scope.spawn(move || passed((first..RIGS).step_by(threads as usize))))
            .collect();
        let parts = parts
            .into_iter()
            .map(|part| part.join().expect("all passed"));
        parts.reduce(Passed::and).expect("one thread")
    });
    println!(
        "links to {RIGS} rigs, in characters; {} too long for one",
        all.too_long
    );
    for ((fill, extent), lengths) in all.lengths {
        println!("  {fill:?}, {extent}: {}", spread(lengths));
    }
    println!(
        "their codes by version; {} rigs are too long for one that can be scanned:",
        all.no_code
    );
    println!("  {:?}", all.versions);
    assert!(all.versions.len() > 12 && all.no_code > 100 && all.too_long > 100);
}

#[derive(Default)]
struct Passed {
    lengths: BTreeMap<(Fill, &'static str), Vec<usize>>,
    versions: BTreeMap<u8, usize>,
    too_long: usize,
    no_code: usize,
}

impl Passed {
    fn and(mut self, other: Self) -> Self {
        for (of, lengths) in other.lengths {
            self.lengths.entry(of).or_default().extend(lengths);
        }
        for (version, count) in other.versions {
            *self.versions.entry(version).or_default() += count;
        }
        self.too_long += other.too_long;
        self.no_code += other.no_code;
        self
    }
}

fn passed(numbers: impl Iterator<Item = u64>) -> Passed {
    let mut all = Passed::default();
    for number in numbers {
        let (fill, sections) = rigs::numbered(number);
        let mut coded = false;
        for (extent, name) in [(Extent::Whole, "all"), (Extent::Rig, "what it is")] {
            let carried = link::carried(&sections, extent);
            let text = match link::write(&carried) {
                Ok(text) => text,
                Err(why) => {
                    assert_eq!((why, fill), (LinkError::TooLong, Fill::Full));
                    all.too_long += 1;
                    continue;
                }
            };
            assert!(text.len() <= link::LONGEST);
            all.lengths
                .entry((fill, name))
                .or_default()
                .push(text.len());
            let found = link::read(&text).expect("a link");
            assert_same(&found.sections, &carried);
            assert!(found.rig.is_ok());
            if coded {
                continue;
            }
            // As the page does: all of it, or what it is.
            match qr::code(ADDRESS, &text) {
                None => {}
                Some(code) => {
                    coded = true;
                    assert!(code.version().value() <= qr::LARGEST);
                    *all.versions.entry(code.version().value()).or_default() += 1;
                    // Three pixels to a module are what a screen of 360 has
                    // for the largest.
                    let pixels = (number % 50 == 0).then_some(3);
                    let read = scanned(&qr::drawing(&code), pixels);
                    assert_eq!(read, format!("{ADDRESS}#{text}"), "{number}");
                }
            }
        }
        all.no_code += usize::from(!coded);
    }
    all
}

fn rebuilt(fill: Fill, number: u64) -> (Sections, String) {
    let mut random = Random(number);
    let sections = rigs::sections(&mut random, fill);
    let carried = link::carried(&sections, Extent::Whole);
    let text = link::write(&carried).expect("a link");
    (carried, text)
}

#[test]
fn a_newer_link_and_no_link_are_refused() {
    let (_, text) = rebuilt(Fill::Begun, 1);
    let newer = text.replacen("RIG1", "RIG2", 1);
    assert_eq!(link::read(&newer), Err(LinkError::Newer { version: 2 }));
    let long = format!("RIG1-{}", "0".repeat(link::LONGEST));
    assert_eq!(link::read(&long), Err(LinkError::TooLong));
    for none in [
        "",
        "RIG",
        "RIG1",
        "RIG1-",
        "RIG01-00",
        "RIG0-00",
        "RIG-1-00",
        "/rig",
        "RIG1-\u{e9}\u{e9}",
    ] {
        assert_eq!(link::read(none), Err(LinkError::NotOne), "{none}");
    }
    assert_eq!(link::read(&text.to_lowercase()), Err(LinkError::NotOne));
    // A checksum does not make a rig of it.
    let (carried, _) = rebuilt(Fill::InUse, 3);
    let others = &carried[1..];
    assert_eq!(link::write(others), Err(LinkError::NotOne));
}

/// The length in a link is not taken at its word: four gigabytes' worth of
/// zeros pack into some thousand characters.
#[test]
fn a_link_that_unpacks_to_more_than_a_rig_is_refused() {
    let (carried, _) = rebuilt(Fill::Begun, 1);
    let (version, body) = envelope::read(&carried[0].1).unwrap();
    let blanks = " ".repeat(120_000);
    let body = body.replacen('{', &format!("{{\"of_later\":[{blanks}1],"), 1);
    let big = vec![(carried[0].0.clone(), envelope::write(version, &body))];
    assert_eq!(link::write(&big), Err(LinkError::TooLong));
}

/// Links changed by accident or in malice, as texts and as the bytes in them:
/// none panics, and what is read is what was sent.
#[test]
fn a_changed_link_is_refused_or_holds_what_was_sent() {
    let mut random = Random(5);
    let sent: Vec<_> = (0..12).map(|number| rebuilt(Fill::InUse, number)).collect();
    let (mut not_one, mut newer, mut same) = (0, 0, 0);
    const CASES: usize = 100_000;
    for case in 0..CASES {
        let (_, text) = &sent[random.below(sent.len())];
        let mut bytes = text.clone().into_bytes();
        let at = random.below(bytes.len());
        match case % 6 {
            0 => bytes.truncate(at),
            1 => bytes[at] = random.next() as u8,
            2 => bytes[at] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-"[random.below(37)],
            3 => {
                // At the version, mostly.
                let at = if random.chance(70) {
                    at.min(3 + random.below(2))
                } else {
                    at
                };
                let digits = random.below(1000).to_string();
                bytes.splice(at..at, digits.into_bytes());
            }
            4 => {
                // Part of another link, where it does not belong.
                let (_, other) = &sent[random.below(sent.len())];
                let to = at.min(other.len());
                bytes.truncate(at);
                bytes.extend(&other.as_bytes()[to..]);
            }
            _ => {
                let (from, to) = (random.below(bytes.len()), random.below(bytes.len()));
                bytes.drain(from.min(to)..from.max(to));
            }
        }
        let Ok(changed) = String::from_utf8(bytes) else {
            not_one += 1;
            continue;
        };
        match link::read(&changed) {
            Err(LinkError::NotOne | LinkError::TooLong) => not_one += 1,
            Err(LinkError::Newer { .. }) => newer += 1,
            Ok(found) => {
                // What was packed can be packed otherwise, and is the same.
                let own = |of: &Sections| of[0].1.clone();
                let whole = sent.iter().find(|(of, _)| own(of) == own(&found.sections));
                let (carried, _) = whole.unwrap_or_else(|| panic!("read another: {changed}"));
                assert_same(&found.sections, carried);
                same += 1;
            }
        }
    }
    println!("{CASES} changed links: {not_one} refused, {newer} taken for newer, {same} unchanged");
    assert!(not_one > CASES / 2 && newer > 100 && same > 100);
}

/// Links whose checksum is right and whose content is not: made by someone who
/// knows how. None panics; what is read names no key that is not a section's.
#[test]
fn a_forged_link_is_refused_or_a_rig() {
    let mut random = Random(6);
    let pieces = [
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        "\"",
        "null",
        "1e999",
        "-0",
        "\"axles\":[2,{}]",
        "[9,",
        "<b onclick=1>",
        "\\u0000",
        "\"..\":[1,{}]",
        "\"demo\":true",
        "9999999999",
        "\"\":[1,{}],",
    ];
    let (mut refused, mut unreadable, mut rigs) = (0, 0, 0);
    const CASES: usize = 50_000;
    for case in 0..CASES {
        let (carried, _) = rebuilt(Fill::Begun, case as u64 % 40);
        let mut text = String::from("{");
        for (part, record) in &carried {
            let (version, body) = envelope::read(record).unwrap();
            text.push_str(&format!("\"{part}\":[{version},{body}],"));
        }
        text.pop();
        text.push('}');
        let ends: Vec<_> = (0..text.len())
            .filter(|at| text.is_char_boundary(*at))
            .collect();
        let place = random.below(ends.len() - 3);
        let from = ends[place];
        match case % 3 {
            0 => text.insert_str(from, random.pick(&pieces)),
            1 => text.replace_range(from..ends[place + 1 + case % 2], ""),
            _ => {
                let number: String = random.below(1_000_000).to_string();
                let digit = text.bytes().position(|byte| byte.is_ascii_digit());
                let digit = digit.unwrap_or(0) + from % 400;
                if text.is_char_boundary(digit) && digit < text.len() {
                    text.insert_str(digit, &number);
                }
            }
        }
        match link::read(&link::packed(&text)) {
            Err(_) => refused += 1,
            Ok(found) => {
                match found.rig {
                    Ok(_) => rigs += 1,
                    Err(_) => unreadable += 1,
                }
                let plain = |c: char| c.is_ascii_alphanumeric() || "_.-".contains(c);
                assert!(
                    found
                        .sections
                        .iter()
                        .all(|(part, _)| !part.is_empty() && part.chars().all(plain))
                );
            }
        }
    }
    println!(
        "{CASES} forged links: {refused} refused, {unreadable} of unreadable rigs, {rigs} of rigs"
    );
    assert!(refused > 5000 && unreadable > 500 && rigs > 500);
}
