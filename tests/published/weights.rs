//! Weights against published ones, each with its source beside it, and random
//! ticket sets for `weights_against_numpy.py`. The deviations are printed row
//! by row: `cargo test --test published_weights -- --nocapture`.

#![cfg(not(target_arch = "wasm32"))]

use std::fmt::Write;
use std::fs;
use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};

use tyreside::calc::quantity::{Length, Mass, kilogram, meter};
use tyreside::calc::weights::Measures;
use tyreside::calc::weights::estimate::{TrailerAsBuilt, VehicleAsBuilt, estimate};
use tyreside::calc::weights::plan::{Change, Item, Move, Place};
use tyreside::calc::weights::plates::{TrailerPlate, towing_limit, towing_limit_unstated};
use tyreside::calc::weights::solution::Solution;
use tyreside::calc::weights::ticket::{Ticket, Weighing, Wheels};

fn kg(value: f64) -> Mass {
    Mass::new::<kilogram>(value)
}

fn m(value: f64) -> Length {
    Length::new::<meter>(value)
}

/// Prints the row, and fails where it is off by more than `within`.
fn row(what: &str, computed: f64, published: f64, within: f64) {
    let off = computed - published;
    println!("{what:<60} {computed:>10.3} {published:>10.3} {off:>+8.3} (within {within})");
    assert!(off.abs() <= within, "{what}: {computed} {published}");
}

fn rig(wheelbase: f64, overhang: f64, drawbar: f64) -> Measures {
    Measures::new(m(wheelbase), m(overhang), m(drawbar)).unwrap()
}

/// What one load puts on a plate.
fn puts(mass: f64, place: Place, rig: &Measures, on: Weighing) -> f64 {
    let load = Move {
        was: None,
        now: Some(Item::new(kg(mass), place).unwrap()),
    };
    let change = Change::of(&[load], rig, 2).unwrap();
    change.mass(on, Wheels::Both).get::<kilogram>()
}

fn ticket(weighing: Weighing, mass: f64, step: f64) -> Ticket {
    Ticket::new(weighing, Wheels::Both, kg(mass), kg(step)).unwrap()
}

/// A whole vehicle is a load at its centre of mass.
#[test]
fn a_mass_between_the_axles_is_shared_as_in_textbooks() {
    let vehicle = |mass, wheelbase, ahead_of_rear, on| {
        let place = Place::Vehicle(m(ahead_of_rear));
        puts(mass, place, &rig(wheelbase, 1.0, 5.0), on)
    };
    // OpenStax, University Physics volume 1, example 12.1 (read): wheelbase
    // 2.5 m, 52 % on the front wheels; moments about the centre of mass put it
    // 0.52 · 2.5 m ahead of the rear axle.
    let front = vehicle(1000.0, 2.5, 1.3, Weighing::FrontAlone);
    row(
        "OpenStax 12.1: share on the front wheels, %",
        front / 10.0,
        52.0,
        1e-9,
    );
    // A physics exercise, worked out on documen.tv (quoted): 961.000 kg, axles
    // 3.27 m apart, centre of mass 0.615 m behind the front one; 7654.365 N
    // and 1773.045 N with g = 9.81 m/s².
    let (ahead, newtons) = (3.27 - 0.615, 9.81);
    for (name, on, published) in [
        (
            "961 kg car: front wheels, N",
            Weighing::FrontAlone,
            7654.365,
        ),
        ("961 kg car: rear wheels, N", Weighing::RearAlone, 1773.045),
    ] {
        row(
            name,
            vehicle(961.0, 3.27, ahead, on) * newtons,
            published,
            5e-4,
        );
    }
    // The same from Indian schoolbooks, worked out on learncbse.in (quoted):
    // 1800 kg, 1.8 m, 1.05 m behind the front axle; 3675 N on each front and
    // 5145 N on each back wheel with g = 9.8 m/s².
    for (name, on, published) in [
        (
            "1800 kg car: each front wheel, N",
            Weighing::FrontAlone,
            3675.0,
        ),
        (
            "1800 kg car: each back wheel, N",
            Weighing::RearAlone,
            5145.0,
        ),
    ] {
        row(
            name,
            vehicle(1800.0, 1.8, 0.75, on) * 9.8 / 2.0,
            published,
            1e-9,
        );
    }
}

/// Source: Giancoli, Physics: Principles with Applications, 7th edition,
/// chapter 9, problem 21, in a worked solution (quoted): a trailer of 2500 kg
/// rests on a support and on its wheels, its centre of mass 5.5 m behind the
/// support and 2.5 m ahead of the axle. 16844 N on the axle, 7656 N on the
/// support, with g = 9.8 m/s².
#[test]
fn a_trailer_loads_its_support_as_in_a_textbook() {
    let rig = rig(2.8, 1.2, 8.0);
    let trailer = |on| puts(2500.0, Place::Trailer(m(2.5)), &rig, on) * 9.8;
    row(
        "2500 kg trailer: axle, N",
        trailer(Weighing::TrailerAxles),
        16844.0,
        0.5,
    );
    row(
        "2500 kg trailer: support, N",
        trailer(Weighing::Ball),
        7656.0,
        0.5,
    );
    row(
        "2500 kg trailer: whole, N",
        trailer(Weighing::TrailerWhole),
        24500.0,
        1e-9,
    );
}

/// By hand: a ball mass B behind the rear axle by o turns the vehicle about
/// that axle. Moments about the rear axle: the front lightens by B·o/w; about
/// the front axle: the rear gains B·(w + o)/w.
#[test]
fn the_ball_lightens_the_front_axle_by_its_lever() {
    let rig = rig(2.8, 1.12, 4.9);
    // 49 kg on the ball itself.
    let on = |weighing| puts(49.0, Place::Trailer(m(4.9)), &rig, weighing);
    row(
        "front, kg",
        on(Weighing::FrontHitched),
        -49.0 * 1.12 / 2.8,
        1e-9,
    );
    row(
        "rear, kg",
        on(Weighing::RearHitched),
        49.0 * 3.92 / 2.8,
        1e-9,
    );
    row("van axles, kg", on(Weighing::TrailerAxles), 0.0, 1e-9);
    row("all, kg", on(Weighing::Combination), 49.0, 1e-9);
    // A spare wheel of 32 kg on a rear bar 3.5 m behind the van's axles.
    let bar = |weighing| puts(32.0, Place::Trailer(m(-3.5)), &rig, weighing);
    row(
        "spare on the bar: ball, kg",
        bar(Weighing::Ball),
        -32.0 * 3.5 / 4.9,
        1e-9,
    );
    row(
        "spare on the bar: van axles, kg",
        bar(Weighing::TrailerAxles),
        32.0 * 8.4 / 4.9,
        1e-9,
    );
}

/// Source: a caravan magazine's own weighing (quoted): rear axle 1233 kg
/// unhitched, ball 270 kg, rear axle 1650 kg hitched, 'an extra 147 kg' from
/// the front axle.
#[test]
fn a_published_weighing_gives_its_extra_mass_on_the_rear_axle() {
    let tickets = [
        ticket(Weighing::RearAlone, 1233.0, 1.0),
        ticket(Weighing::Ball, 270.0, 1.0),
        ticket(Weighing::RearHitched, 1650.0, 1.0),
        ticket(Weighing::FrontAlone, 1400.0, 1.0),
    ];
    let solution = Solution::new(&tickets, 2, None, &[]).unwrap();
    let front = solution
        .figure(Weighing::FrontHitched, Wheels::Both)
        .unwrap();
    row(
        "off the front axle, kg",
        1400.0 - front.mass.likely.get::<kilogram>(),
        147.0,
        1e-9,
    );
    row("lever", solution.lever().unwrap(), 147.0 / 270.0, 1e-9);
}

/// Source: a caravan journal's explanation of trailer law (read): tare 2,500,
/// GTM 3,250, ATM 3,500 kg; payload 1,000 kg and at least 250 kg on the ball.
/// The rest: Road Traffic (Mass and Loading Requirements) Regulations 1999
/// (SA), schedule 2 clause 2 (read); the design rules' towing limit (quoted).
#[test]
fn plates_give_payload_and_least_ball_mass_as_published() {
    let plate = TrailerPlate::new(kg(2500.0), kg(3250.0), kg(3500.0)).unwrap();
    row(
        "payload, kg",
        plate.payload().get::<kilogram>(),
        1000.0,
        0.0,
    );
    row(
        "least ball mass, kg",
        plate.least_ball().get::<kilogram>(),
        250.0,
        0.0,
    );
    let unstated = |braked| towing_limit_unstated(kg(2000.0), braked).get::<kilogram>();
    row(
        "unstated limit with brakes, kg",
        unstated(true),
        3000.0,
        0.0,
    );
    row("unstated limit without, kg", unstated(false), 2000.0, 0.0);
    let limit = |gear| towing_limit(kg(gear), kg(5700.0), kg(2900.0)).get::<kilogram>();
    row("GCM less GVM rules, kg", limit(3500.0), 2800.0, 0.0);
    row("the gear rules, kg", limit(2500.0), 2500.0, 0.0);
}

/// Numbers that differ each run; the seed is printed and can be given again.
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        // SplitMix64, Steele, Lea and Flood 2014.
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    fn below(&mut self, end: u64) -> u64 {
        self.next() % end
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.below(1 << 30) as f64 / (1_u64 << 30) as f64)
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len() as u64) as usize]
    }
}

const WEIGHINGS: [(Weighing, &str); 14] = [
    (Weighing::FrontAlone, "front alone"),
    (Weighing::RearAlone, "rear alone"),
    (Weighing::VehicleAlone, "vehicle alone"),
    (Weighing::FrontHitched, "front hitched"),
    (Weighing::RearHitched, "rear hitched"),
    (Weighing::VehicleHitched, "vehicle hitched"),
    (Weighing::TrailerAxles, "trailer axles"),
    (Weighing::RearAndTrailer, "rear and trailer"),
    (Weighing::Combination, "combination"),
    (Weighing::TrailerWhole, "trailer whole"),
    (Weighing::Ball, "ball"),
    (Weighing::TrailerLine(0), "trailer line 0"),
    (Weighing::TrailerLine(1), "trailer line 1"),
    (Weighing::TrailerLine(2), "trailer line 2"),
];

const WHEELS: [(Wheels, &str); 3] = [
    (Wheels::Both, "both"),
    (Wheels::Left, "left"),
    (Wheels::Right, "right"),
];

/// Writes random ticket sets, and what the solver makes of them, for numpy to
/// solve again (`make weights`). Half of the masses have nothing to do with
/// each other, so that residuals are large.
#[test]
fn random_ticket_sets_are_written_for_the_cross_check() {
    let seed = match std::env::var("WEIGHTS_SEED") {
        Ok(seed) => seed.parse().unwrap(),
        Err(_) => SystemTime::now()
            .duration_since(UNIX_EPOCH)
            .unwrap()
            .as_nanos() as u64,
    };
    println!("WEIGHTS_SEED={seed}");
    let mut random = Random(seed);
    let mut text = format!("{{\"seed\":{seed},\"sets\":[");
    for set in 0..1000 {
        text.push_str(if set == 0 { "\n" } else { ",\n" });
        write_set(&mut random, &mut text);
    }
    text.push_str("\n]}\n");
    let target = Path::new(env!("CARGO_MANIFEST_DIR")).join("target");
    fs::create_dir_all(&target).unwrap();
    fs::write(target.join("weights.json"), text).unwrap();
}

fn write_set(random: &mut Random, text: &mut String) {
    let lines = 1 + random.below(3) as u8;
    let (wheelbase, overhang, drawbar) = (
        random.between(2.3, 4.0),
        random.between(0.8, 1.8),
        random.between(3.0, 7.0),
    );
    let measures = rig(wheelbase, overhang, drawbar);
    let measured = random.below(2) == 0;
    let alike = random.below(2) == 0;
    // Each weighing's likely mass, where the set is to make sense: front 1400,
    // rear 1600, ball 200, van axles 2100 kg, shared evenly.
    let relief = 200.0 * overhang / wheelbase;
    let likely = |weighing| match weighing {
        Weighing::FrontAlone => 1400.0,
        Weighing::RearAlone => 1600.0,
        Weighing::VehicleAlone => 3000.0,
        Weighing::FrontHitched => 1400.0 - relief,
        Weighing::RearHitched => 1800.0 + relief,
        Weighing::VehicleHitched => 3200.0,
        Weighing::TrailerAxles => 2100.0,
        Weighing::TrailerLine(_) => 2100.0 / f64::from(lines),
        Weighing::RearAndTrailer => 3900.0 + relief,
        Weighing::Combination => 5300.0,
        Weighing::TrailerWhole => 2300.0,
        Weighing::Ball => 200.0,
    };
    let here = WEIGHINGS.len() - 3 + usize::from(lines);
    let mut tickets = Vec::new();
    let mut written = Vec::new();
    for _ in 0..random.below(13) {
        let (weighing, name) = random.of(&WEIGHINGS[..here]);
        // One side in three, so that sides are often determined.
        let sides = if weighing.has_sides() && random.below(3) == 0 {
            3
        } else {
            1
        };
        let (wheels, side) = random.of(&WHEELS[..sides]);
        let share = if wheels == Wheels::Both { 1.0 } else { 0.5 };
        let step = random.of(&[1.0, 5.0, 10.0, 20.0, 50.0]);
        let mass = if alike {
            (likely(weighing) * share / step).round() * step
        } else {
            random.between(20.0, 2000.0)
        };
        tickets.push(Ticket::new(weighing, wheels, kg(mass), kg(step)).unwrap());
        written.push(format!(
            "{{\"weighing\":\"{name}\",\"wheels\":\"{side}\",\"mass\":{mass:?},\"step\":{step:?}}}"
        ));
    }

    let vehicle = (random.below(2) == 0).then(|| random.between(1800.0, 2600.0));
    let front = (random.below(2) == 0).then(|| random.between(900.0, 1300.0));
    let tare = (random.below(2) == 0).then(|| random.between(1200.0, 2600.0));
    let ball = (random.below(2) == 0).then(|| random.between(50.0, 300.0));
    let items: Vec<(bool, f64, f64)> = (0..random.below(5))
        .map(|_| {
            let trailer = random.below(2) == 0;
            (
                trailer,
                random.between(0.0, 150.0),
                random.between(-3.0, 3.0),
            )
        })
        .collect();
    let loaded: Vec<Item> = items
        .iter()
        .map(|(trailer, mass, at)| {
            let place = if *trailer {
                Place::Trailer(m(*at))
            } else {
                Place::Vehicle(m(*at))
            };
            Item::new(kg(*mass), place).unwrap()
        })
        .collect();
    let estimates = estimate(
        vehicle.map(|unladen| VehicleAsBuilt::new(kg(unladen), front.map(kg)).unwrap()),
        tare.map(|tare| TrailerAsBuilt::new(kg(tare), ball.map(kg)).unwrap()),
        &loaded,
        &measures,
    );
    let lever = measured.then(|| measures.lever()).flatten();
    let solution = Solution::new(&tickets, lines, lever, &estimates).unwrap();

    let mut figures = Vec::new();
    for (weighing, name) in &WEIGHINGS[..here] {
        for (wheels, side) in &WHEELS[..if weighing.has_sides() { 3 } else { 1 }] {
            let found = match solution.figure(*weighing, *wheels) {
                Some(figure) => format!(
                    "{{\"likely\":{:?},\"doubt\":{:?},\"estimated\":{}}}",
                    figure.mass.likely.get::<kilogram>(),
                    figure.doubt().get::<kilogram>(),
                    figure.estimated
                ),
                None => "null".to_owned(),
            };
            figures.push(format!("[\"{name}\",\"{side}\",{found}]"));
        }
    }
    let residuals: Vec<String> = solution
        .residuals()
        .iter()
        .map(|of| {
            format!(
                "[{:?},{:?}]",
                of.off.get::<kilogram>(),
                of.explained.get::<kilogram>()
            )
        })
        .collect();
    let items: Vec<String> = items
        .iter()
        .map(|(trailer, mass, at)| format!("[{trailer},{mass:?},{at:?}]"))
        .collect();
    let maybe = |value: Option<f64>| value.map_or("null".to_owned(), |value| format!("{value:?}"));
    write!(
        text,
        "{{\"lines\":{lines},\"measured\":{measured},\"wheelbase\":{wheelbase:?},\
         \"overhang\":{overhang:?},\"drawbar\":{drawbar:?},\"tickets\":[{}],\
         \"unladen\":{},\"front\":{},\"tare\":{},\"ball\":{},\"items\":[{}],\
         \"figures\":[{}],\"residuals\":[{}]}}",
        written.join(","),
        maybe(vehicle),
        maybe(front),
        maybe(tare),
        maybe(ball),
        items.join(","),
        figures.join(","),
        residuals.join(","),
    )
    .unwrap();
}
