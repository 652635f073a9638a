//! Sidewalls as they are moulded and as shops write them, and what is
//! understood of each: `cargo test --test sidewalls -- --nocapture` prints the
//! table. Markings: UN R30 clause 3, UN R54 clause 3 and ISO 4000-1 (size,
//! service description, second description, reinforced, M+S, tubeless, PR, FRT,
//! CP, T), the trade for the rest.

#![cfg(not(target_arch = "wasm32"))]

use tyreside::calc::tyre::designation::{
    Construction, Designation, DesignationError, Part, Size, Standard,
};

/// What was understood, written out in one way.
fn understood(text: &str) -> String {
    let reading = match Designation::read(text) {
        Ok(reading) => reading,
        Err(DesignationError::NotUnderstood { part, found }) => {
            return format!("! {part:?} at '{found}'");
        }
        Err(DesignationError::Conflict { part }) => return format!("! two of {part:?}"),
        Err(DesignationError::AmbiguousLetter { letter }) => return format!("! which {letter}?"),
        Err(DesignationError::OutOfRange(error)) => {
            return format!("! {:?} {}", error.limit.field, error.given);
        }
        Err(error) => return format!("! {error:?}"),
    };
    let tyre = reading.designation;
    let family = match (tyre.standard, tyre.marked) {
        (Standard::LightTruck, true) => "LT",
        (Standard::LightTruck, false) => "LT by its form",
        (Standard::SpecialTrailer, _) => "ST",
        (Standard::Commercial, true) => "C",
        (Standard::Commercial, false) => "C by its load",
        (Standard::Camper, _) => "CP",
        (Standard::Passenger, true) => "P",
        (Standard::Passenger, false) => "no mark",
    };
    let size = match tyre.size {
        Size::Metric { width, aspect } => format!("{width}/{aspect}"),
        Size::FullProfile { width } => format!("{width}"),
        Size::Flotation { diameter, width } => format!("{diameter}x{width}"),
        Size::Numeric { width } => format!("{width}"),
    };
    let construction = match tyre.construction {
        Construction::Radial => 'R',
        Construction::Diagonal => '-',
    };
    let mut text = format!("{family}: {size}{construction}{}", tyre.rim);
    if let Some(service) = tyre.service {
        text += &format!(" {}", service.single.number());
        if let Some(dual) = service.dual {
            text += &format!("/{}", dual.number());
        }
        text += service.speed.map_or("", |speed| speed.symbol());
    }
    if let Some(range) = tyre.load_range {
        text += &format!(" LR{}", range.letter());
    }
    if tyre.reinforced {
        text += " XL";
    }
    for mark in reading.passed_over {
        text += &format!(" [{mark}]");
    }
    text
}

const FORMS: &[(&str, &str)] = &[
    // Light truck.
    ("LT265/75R16 123/120Q E", "LT: 265/75R16 123/120Q LRE"),
    (
        "LT265/75R16 123/120Q LOAD RANGE E",
        "LT: 265/75R16 123/120Q LRE",
    ),
    ("LT265/75R16 LRE 123/120Q", "LT: 265/75R16 123/120Q LRE"),
    ("LT265/75R16 LR-E 123/120Q", "LT: 265/75R16 123/120Q LRE"),
    ("LT265/75R16 L.R. E 123/120Q", "LT: 265/75R16 123/120Q LRE"),
    (
        "LT265/75R16 Load Range: E 123/120Q",
        "LT: 265/75R16 123/120Q LRE",
    ),
    ("LT265/75R16 123/120Q 10PR", "LT: 265/75R16 123/120Q LRE"),
    ("LT265/75R16 123/120Q 10 P.R.", "LT: 265/75R16 123/120Q LRE"),
    (
        "LT265/75R16 123/120Q 10 PLY RATING",
        "LT: 265/75R16 123/120Q LRE",
    ),
    ("LT265/75R16 123/120Q 10 ply", "LT: 265/75R16 123/120Q LRE"),
    ("LT265/75R16 123/120Q 10-ply", "LT: 265/75R16 123/120Q LRE"),
    ("LT245/75R17/E 121/118S", "LT: 245/75R17 121/118S LRE"),
    ("LT265/75R16E 123/120Q", "LT: 265/75R16 123/120Q LRE"),
    ("265/75R16LT 123/120Q E", "LT: 265/75R16 123/120Q LRE"),
    ("265/75R16 123/120Q LT", "LT: 265/75R16 123/120Q"),
    ("265/75R16 LT 123/120Q E OWL", "LT: 265/75R16 123/120Q LRE"),
    ("LT265/75R16 123/120Q E M+S", "LT: 265/75R16 123/120Q LRE"),
    (
        "LT265/75R16 123/120Q E M&S 3PMSF",
        "LT: 265/75R16 123/120Q LRE",
    ),
    (
        "LT265/75R16 123/120Q E RWL A/T",
        "LT: 265/75R16 123/120Q LRE",
    ),
    ("LT 265/75 R16 123/120 Q TL", "LT: 265/75R16 123/120Q"),
    ("LT265/75R16 123/120 E", "! which E?"),
    (
        "LT265/75R16 RADIAL TUBELESS 123/120Q",
        "LT: 265/75R16 123/120Q",
    ),
    (
        "LT265/75R16 123/120Q E STEEL BELTED RADIAL",
        "LT: 265/75R16 123/120Q LRE",
    ),
    (
        "LT265/75R16 123/120Q E DOT A1B2 3C4D 2319",
        "LT: 265/75R16 123/120Q LRE",
    ),
    (
        "LT265/75R16 123/120Q E GRIPPER",
        "LT: 265/75R16 123/120Q LRE [GRIPPER]",
    ),
    ("LT265/75R16 E GRIPPER", "! Rest at 'GRIPPER'"),
    ("LT265/75R16 123/120Q E *", "LT: 265/75R16 123/120Q LRE"),
    ("lt265/75r16 123/120q e", "LT: 265/75R16 123/120Q LRE"),
    ("LT265-75R16 123/120Q E", "LT: 265/75R16 123/120Q LRE"),
    // Flotation and numeric.
    ("31x10.50R15LT 109Q C", "LT: 31x10.5R15 109Q LRC"),
    ("31X10.50 R15 LT 109Q 6PR", "LT: 31x10.5R15 109Q LRC"),
    ("31-10.50R15LT 109Q", "LT: 31x10.5R15 109Q"),
    ("31/10.50R15 109Q", "LT by its form: 31x10.5R15 109Q"),
    ("31×10,50R15LT 109Q", "LT: 31x10.5R15 109Q"),
    ("31*10.50R15LT 109Q", "LT: 31x10.5R15 109Q"),
    ("33X12.50R17LT 120Q E OWL", "LT: 33x12.5R17 120Q LRE"),
    ("7.50R16LT 116/114N D", "LT: 7.5R16 116/114N LRD"),
    ("750R16LT 116/114N D", "LT: 7.5R16 116/114N LRD"),
    ("750R16", "C by its load: 7.5R16"),
    ("7.50R16C 122/118L TT", "C: 7.5R16 122/118L"),
    ("7.50-16LT 116/114N", "LT: 7.5-16 116/114N"),
    (
        "6.50R16 TUBE TYPE 108/107N 8PR",
        "C by its load: 6.5R16 108/107N LRD",
    ),
    // Commercial.
    ("195R14C 106/104P", "C: 195R14 106/104P"),
    ("195/R14C 106/104P", "C: 195R14 106/104P"),
    ("195 R 14 C 106/104 P", "C: 195R14 106/104P"),
    ("195R14C 8PR 106/104P", "C: 195R14 106/104P LRD"),
    ("185R14C 102/100R 8 PLY RATING", "C: 185R14 102/100R LRD"),
    ("225/75R16C 118/116R", "C: 225/75R16 118/116R"),
    ("225/75 R16 C 118/116 R", "C: 225/75R16 118/116R"),
    ("225/75R16C 121/120R (122N)", "C: 225/75R16 121/120R"),
    ("225/70R15C 112/110R (115N)", "C: 225/70R15 112/110R"),
    ("205/65R15C 102/100T (99V)", "C: 205/65R15 102/100T"),
    ("215/65R16C 109/107T 106H", "! two of LoadIndex"),
    ("235/65R16C 115/113R 8PR FRT", "C: 235/65R16 115/113R LRD"),
    ("195/70R15C 104/102R M+S", "C: 195/70R15 104/102R"),
    ("225/75R16CP 116/114R", "CP: 225/75R16 116/114R"),
    ("225/75R16 CP 116R", "CP: 225/75R16 116R"),
    ("225/75R16 116/114R CP", "CP: 225/75R16 116/114R"),
    ("215/70R15CP 109R", "CP: 215/70R15 109R"),
    ("265/75R16 123/120Q", "C by its load: 265/75R16 123/120Q"),
    (
        "265/70R17 121/118S 10PR",
        "C by its load: 265/70R17 121/118S LRE",
    ),
    // Special trailer.
    ("ST225/75R15 D", "ST: 225/75R15 LRD"),
    ("ST225/75R15 113/108M LRD", "ST: 225/75R15 113/108M LRD"),
    (
        "ST225/75R15 117/112N LOAD RANGE E",
        "ST: 225/75R15 117/112N LRE",
    ),
    ("ST205/75R14 C TRAILER USE ONLY", "ST: 205/75R14 LRC"),
    (
        "ST205/75R15 D FOR TRAILER SERVICE ONLY",
        "ST: 205/75R15 LRD",
    ),
    ("225/75R15ST 113M", "ST: 225/75R15 113M"),
    ("ST235/80R16/E 123/119M", "ST: 235/80R16 123/119M LRE"),
    ("ST225/75D15 LRD", "ST: 225/75-15 LRD"),
    // Passenger.
    ("P265/70R17 115T", "P: 265/70R17 115T"),
    ("265/70R17 115T", "no mark: 265/70R17 115T"),
    ("205/55R16 91V", "no mark: 205/55R16 91V"),
    ("205/55ZR16 91W", "no mark: 205/55R16 91W"),
    ("205/55R16 94V XL", "no mark: 205/55R16 94V XL"),
    ("205/55R16 94VXL", "no mark: 205/55R16 94V XL"),
    ("205/55R16 94V EXTRA LOAD", "no mark: 205/55R16 94V XL"),
    ("205/55R16 EXTRALOAD 94V", "no mark: 205/55R16 94V XL"),
    ("205/55R16 94V Extra-Load", "no mark: 205/55R16 94V XL"),
    ("205/55R16 94V REINF.", "no mark: 205/55R16 94V XL"),
    ("205/55R16 94V REINFORCED", "no mark: 205/55R16 94V XL"),
    ("205/55R16 94V RF", "no mark: 205/55R16 94V XL"),
    ("225/45RF17 91W", "no mark: 225/45R17 91W"),
    ("225/45R17 91W RFT", "no mark: 225/45R17 91W"),
    ("225/45R17 91W RUN FLAT", "no mark: 225/45R17 91W"),
    ("225/45ZRF17 (91W)", "no mark: 225/45R17 91W"),
    ("225/55R17 101W XL QX7", "no mark: 225/55R17 101W XL [QX7]"),
    ("235/60R18 103H SL M+S", "no mark: 235/60R18 103H"),
    ("235/60R18 103H STANDARD LOAD", "no mark: 235/60R18 103H"),
    ("265/65R17 112S OWL A/T", "no mark: 265/65R17 112S"),
    ("265/65R17 112S, tubeless", "no mark: 265/65R17 112S"),
    // No full tyre, or no size.
    ("T125/70D17 98M", "! Temporary"),
    ("T145/80R18 99M TEMPORARY USE ONLY", "! Temporary"),
    ("T 155/90R17 112M", "! Temporary"),
    ("265-75-16", "! Construction at '16'"),
    ("265/75/16", "! Construction at '/16'"),
    ("265/75 16 123Q", "! Construction at '16 123Q'"),
    ("26575R16", "! FirstNumber at '26575R16'"),
    ("265/75R", "! Rim at ''"),
    ("265/75R16 123/120Q 9PR", "! LoadRange at '9PR'"),
    ("265/75R66 123Q", "! RimDiameter 66"),
    ("LT265/75R16 ST", "! two of Standard"),
    ("LT265/75R16 123/120Q E 8PR", "! two of LoadRange"),
    ("LT265/75R16 123/102Q E", "! two of LoadIndex"),
];

#[test]
fn sidewalls_are_read_as_they_are_moulded_and_written() {
    let mut wrong = Vec::new();
    let (mut accepted, mut refused) = (0, 0);
    for (text, expected) in FORMS {
        let got = understood(text);
        println!("{text:45} {got}");
        if got.starts_with('!') {
            refused += 1;
        } else {
            accepted += 1;
        }
        if got != *expected {
            wrong.push(format!("{text}\n  got      {got}\n  expected {expected}"));
        }
    }
    println!(
        "{} forms: {accepted} accepted, {refused} refused",
        FORMS.len()
    );
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(FORMS.len() >= 97, "{}", FORMS.len());
}

/// What is cut anywhere, or has any letter in any place, is read or refused,
/// and never a panic.
#[test]
fn no_form_panics_however_it_is_cut() {
    for (text, _) in FORMS {
        for (at, _) in text.char_indices() {
            let _ = Designation::read(&text[..at]);
            let _ = Designation::read(&text[at..]);
            for odd in ["T", "é", "(", ")", "/", "-", ".", "9", "★", "\u{a0}"] {
                let _ = Designation::read(&format!("{}{odd}{}", &text[..at], &text[at..]));
            }
        }
    }
    assert_eq!(
        Designation::read("T é").map(|reading| reading.designation.rim),
        Err(DesignationError::NotUnderstood {
            part: Part::FirstNumber,
            found: "T é".to_uppercase().replace('É', "é")
        })
    );
}
