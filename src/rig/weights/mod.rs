//! Weights as kept with a rig: its measures, its plates, the masses as built,
//! and the load plan.

mod demo;
pub mod ticket;
pub mod total;

use super::draft::Unusable;
use super::keep::kept;
use super::names::named;
use super::section::{Section, entered};
use super::set_to::AxleSet;
use super::typed::in_unit::{kg, millimetres};
use super::typed::{TypedLength, TypedMass, TypedShare, TypedVolume};
use super::{Axle, Coupling, LoadFrom, Place, Rig, Surface, within};
use crate::calc::doubt::{Second, short_of};
use crate::calc::limits::{Field, OutOfRange};
use crate::calc::load::LoadSource;
use crate::calc::quantity::{Length, Mass, Span, Volume, kilogram, liter, millimeter};
use crate::calc::weights::estimate::{TrailerAsBuilt, VehicleAsBuilt, estimate};
use crate::calc::weights::plan::{self, Change, Item, Laden, Move, Tank};
use crate::calc::weights::plates::{Margin, Rating, margins, worst_first};
use crate::calc::weights::solution::Solution;
use crate::calc::weights::ticket::{Weighing, Wheels};
use crate::calc::weights::{AxleAt, Figure, Lever, Measures, WeightsError};
use ticket::{Laid, Tickets};

named!(On {
    Vehicle: "vehicle",
    Trailer: "trailer",
});
named!(ItemKind {
    Load: "load",
    Tank: "tank",
    SpareWheel: "spare_wheel",
    RearBox: "rear_box",
});

/// What a load lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum On {
    /// The tow vehicle.
    Vehicle,
    /// The van.
    #[default]
    Trailer,
}

/// What a load is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ItemKind {
    /// Any load.
    #[default]
    Load,
    /// A water tank.
    Tank,
    /// A spare wheel.
    SpareWheel,
    /// A box on the rear bar.
    RearBox,
}

kept! {
    /// One load.
    pub struct PlanItem {
        /// Tells it from the others.
        id: u32 = "id",
        /// What its owner calls it.
        name: String = "name",
        /// What it is.
        kind: ItemKind = "kind",
        /// What it lies on.
        on: On = "on",
        /// Ahead of the vehicle's rear axle, or of the middle of the van's;
        /// behind is less than none.
        at: TypedLength = "at",
        /// How heavy; of a tank, nothing.
        mass: Option<TypedMass> = "mass",
        /// What a tank holds.
        size: Option<TypedVolume> = "size",
        /// How full it is.
        fill: Option<TypedShare> = "fill",
    }
}

impl Default for PlanItem {
    fn default() -> Self {
        Self {
            id: 0,
            name: String::new(),
            kind: ItemKind::Load,
            on: On::Trailer,
            at: millimetres(0.0),
            mass: None,
            size: None,
            fill: None,
            unknown: Default::default(),
        }
    }
}

fn length(typed: TypedLength) -> Length {
    Length::new::<millimeter>(typed.amount().in_limit_unit())
}

fn item(on: On, at: TypedLength, mass: Mass) -> Result<Item, OutOfRange> {
    let at = length(at);
    let place = match on {
        On::Vehicle => plan::Place::Vehicle(at),
        On::Trailer => plan::Place::Trailer(at),
    };
    Item::new(mass, place)
}

impl PlanItem {
    /// Longest name kept.
    pub const LONGEST_NAME: usize = 30;

    /// Its tank, where it is one that has been described.
    pub fn tank(&self) -> Option<Tank> {
        if self.kind != ItemKind::Tank {
            return None;
        }
        let size = Volume::new::<liter>(self.size?.amount().in_limit_unit());
        Tank::new(size, self.fill?.percent()).ok()
    }

    /// How heavy it is now; nothing while that was not entered.
    pub fn mass_now(&self) -> Option<Mass> {
        match self.kind {
            ItemKind::Tank => self.tank().map(|tank| tank.water()),
            _ => self.mass.map(TypedMass::quantity),
        }
    }

    /// Where it lies, ahead of its axle.
    pub fn ahead(&self) -> Length {
        length(self.at)
    }

    /// Whether the rig has what it lies on.
    pub fn has_place(&self, has_trailer: bool) -> bool {
        has_trailer || self.on == On::Vehicle
    }

    fn now(&self) -> Option<Item> {
        item(self.on, self.at, self.mass_now()?).ok()
    }

    /// As it lies now, for a ticket; nothing while it has no mass.
    pub fn laid(&self) -> Option<Laid> {
        let mass = kg(self.mass_now()?.get::<kilogram>());
        Some(Laid {
            load: self.id,
            on: self.on,
            at: self.at,
            mass,
        })
    }
}

kept! {
    /// Everything about a rig's weights but its tickets.
    #[derive(Default)]
    pub struct Weights {
        /// Whether the rig's axles take their loads from here.
        in_use: bool = "in_use",
        /// From the vehicle's front to its rear axle.
        wheelbase: Option<TypedLength> = "wheelbase",
        /// From the rear axle to the ball.
        overhang: Option<TypedLength> = "overhang",
        /// From the ball to the middle of the van's axles.
        drawbar: Option<TypedLength> = "drawbar",
        /// Of the van's body.
        body: Option<TypedLength> = "body",
        /// Limit of the front axle.
        front_limit: Option<TypedMass> = "front_limit",
        /// Limit of the rear axle.
        rear_limit: Option<TypedMass> = "rear_limit",
        /// Gross vehicle mass.
        gvm: Option<TypedMass> = "gvm",
        /// Gross combination mass.
        gcm: Option<TypedMass> = "gcm",
        /// Towing limit.
        towing: Option<TypedMass> = "towing",
        /// Limit on the ball.
        ball_limit: Option<TypedMass> = "ball_limit",
        /// The vehicle as built, empty.
        unladen: Option<TypedMass> = "unladen",
        /// What of that is on its front axle.
        unladen_front: Option<TypedMass> = "unladen_front",
        /// The van's tare.
        tare: Option<TypedMass> = "tare",
        /// Its ball mass at tare.
        tare_ball: Option<TypedMass> = "tare_ball",
        /// Aggregate trailer mass.
        atm: Option<TypedMass> = "atm",
        /// Gross trailer mass.
        gtm: Option<TypedMass> = "gtm",
        /// Limit of the van's axles by their maker.
        trailer_limit: Option<TypedMass> = "trailer_limit",
        /// What a ticket or its owner says that all axles carry together,
        /// hitched.
        total: Option<TypedMass> = "total",
        /// The axles' masses as they were when their owner said that they were
        /// read right.
        read_right: Vec<TypedMass> = "read_right",
        /// The load plan.
        items: Vec<PlanItem> = "items",
        /// Texts that could not be used, one a field.
        unusable: Vec<Unusable> = "unusable",
    }
}

impl Section for Weights {
    const PART: &'static str = "weights";
    const VERSION: u32 = 1;

    fn fresh(demo: bool) -> Self {
        if demo { Self::demo() } else { Self::default() }
    }

    fn migrate(_: u32, _: &str) -> Option<Self> {
        None
    }

    fn is_sound(&self) -> bool {
        let rated = [
            self.front_limit,
            self.rear_limit,
            self.gvm,
            self.gcm,
            self.towing,
            self.ball_limit,
            self.unladen,
            self.unladen_front,
            self.tare,
            self.atm,
            self.gtm,
            self.trailer_limit,
        ];
        within(Field::Wheelbase, self.wheelbase)
            && within(Field::BallOverhang, self.overhang)
            && within(Field::DrawbarLength, self.drawbar)
            && within(Field::BodyLength, self.body)
            && within(Field::BallMass, self.tare_ball)
            && rated.into_iter().all(|mass| within(Field::RatedMass, mass))
            && within(Field::WeighedMass, self.total)
            && self.read_right.len() <= 2 * Rig::MOST_AXLES
            && self
                .read_right
                .iter()
                .all(|mass| within(Field::WeighedMass, Some(*mass)))
            && self.items.len() <= Self::MOST_ITEMS
            && self.items.iter().all(|item| {
                within(Field::ItemPlace, Some(item.at))
                    && within(Field::ItemMass, item.mass)
                    && within(Field::TankSize, item.size)
                    && within(Field::TankFill, item.fill)
            })
    }
}

entered!(Weights);

/// Why there are no weights at all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoWeights {
    /// A text that was entered can't be used.
    Unusable,
    /// More axle groups than a vehicle and a van have, or fewer than two on
    /// the vehicle.
    Axles,
    /// A ticket or a mass that is none.
    Wrong(WeightsError),
}

crate::calc::error_by_its_fields!(NoWeights);

impl From<WeightsError> for NoWeights {
    fn from(error: WeightsError) -> Self {
        Self::Wrong(error)
    }
}

impl From<OutOfRange> for NoWeights {
    fn from(error: OutOfRange) -> Self {
        Self::Wrong(error.into())
    }
}

/// What is known of a rig's weights.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    solution: Solution,
    change: Option<Change>,
    /// The measure that a plan and an estimate still need.
    pub lacks: Option<Field>,
    /// How many readings there are.
    pub readings: usize,
}

impl Found {
    /// The tickets, reconciled.
    pub fn solution(&self) -> &Solution {
        &self.solution
    }

    /// The rig as planned.
    pub fn laden(&self) -> Laden<'_> {
        Laden::new(&self.solution, self.change)
    }

    /// The rig as weighed.
    pub fn as_weighed(&self) -> Laden<'_> {
        Laden::new(&self.solution, None)
    }

    /// What the plan adds to a mass.
    pub fn moved(&self, weighing: Weighing) -> Option<Mass> {
        let change = self.change.as_ref()?;
        Some(change.mass(weighing, Wheels::Both))
    }
}

/// The load of one of the rig's axles.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleLoad {
    /// The axle, by its place in the rig's list.
    pub axle: usize,
    /// What it carries.
    pub load: LoadSource,
    /// Whether that is an estimate, at its high end.
    pub estimated: bool,
}

/// Where the rig has an axle.
fn place(at: AxleAt) -> Place {
    match at {
        AxleAt::Front => Place::Front,
        AxleAt::Rear => Place::Rear,
        AxleAt::Trailer => Place::Trailer,
    }
}

impl AxleLoad {
    /// A mass in whole kilograms; of an estimate up to the next.
    fn whole(&self, field: Field, mass: Mass) -> Result<Option<TypedMass>, OutOfRange> {
        let number = mass.get::<kilogram>();
        let whole = if self.estimated {
            (number - 1e-6).ceil()
        } else {
            number.round()
        };
        field.check(whole).map(|_| Some(kg(whole)))
    }

    /// Makes it what the axle's pressures follow from while hitched.
    fn hand_to(&self, axle: &mut Axle) -> Result<(), OutOfRange> {
        let whole = |field, mass| self.whole(field, mass);
        match self.load {
            LoadSource::Sides { left, right } => {
                let (left, right) = (
                    whole(Field::SideMass, left)?,
                    whole(Field::SideMass, right)?,
                );
                (axle.left, axle.right) = (left, right);
                axle.load_from = LoadFrom::Sides;
            }
            LoadSource::Weighed(mass) | LoadSource::Rating(mass) => {
                axle.weighed = whole(Field::AxleMass, mass)?;
                axle.load_from = LoadFrom::Weighed;
            }
        }
        Ok(())
    }

    /// Makes it what they follow from while the van is left behind.
    fn hand_alone_to(&self, axle: &mut Axle) -> Result<(), OutOfRange> {
        let mass = match self.load {
            LoadSource::Sides { left, right } if axle.load_from == LoadFrom::Sides => left + right,
            // Of sides weighed unhitched alone, the heavier counts for both.
            LoadSource::Sides { left, right } => 2.0 * if left > right { left } else { right },
            LoadSource::Weighed(mass) | LoadSource::Rating(mass) => mass,
        };
        axle.alone = self.whole(Field::AxleMass, mass)?;
        Ok(())
    }
}

/// The loads of the rig's axles in both of its states, where they are known.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Loads {
    /// With the van on the ball.
    pub hitched: Vec<AxleLoad>,
    /// The vehicle's by itself.
    pub alone: Vec<AxleLoad>,
}

impl Loads {
    /// Those of the drive ahead.
    pub fn ahead(&self, rig: &Rig) -> &[AxleLoad] {
        match rig.coupling {
            Coupling::Unhitched if rig.has_trailer() => &self.alone,
            _ => &self.hitched,
        }
    }

    /// Whether nothing is known.
    pub fn is_empty(&self) -> bool {
        self.hitched.is_empty() && self.alone.is_empty()
    }

    /// The axles of a rig whose pressures follow from these loads.
    ///
    /// # Errors
    /// [`OutOfRange`] by the limits of an axle's masses.
    pub fn on(&self, axles: &[Axle]) -> Result<Vec<Axle>, OutOfRange> {
        let mut axles = axles.to_vec();
        for of in &self.hitched {
            if let Some(axle) = axles.get_mut(of.axle) {
                of.hand_to(axle)?;
            }
        }
        for of in &self.alone {
            if let Some(axle) = axles.get_mut(of.axle) {
                of.hand_alone_to(axle)?;
            }
        }
        Ok(axles)
    }
}

/// An axle's mass beside other figures for it.
struct Beside {
    axle: usize,
    mass: Mass,
    second: Vec<Second>,
}

impl Weights {
    /// Most loads in a plan.
    pub const MOST_ITEMS: usize = 20;

    /// All loads as they lie now, for a ticket.
    pub fn laid(&self) -> Vec<Laid> {
        self.items.iter().filter_map(PlanItem::laid).collect()
    }

    /// From the ball to the van's body (common practice, no source), for the
    /// drawing alone.
    const DRAWBAR_TO_BODY_MM: f64 = 1300.0;

    /// The measures, once all that the rig has were entered: one that tows
    /// nothing has neither ball nor drawbar.
    ///
    /// # Errors
    /// The first field that is still blank, or out of its range.
    pub fn measures(&self, has_trailer: bool) -> Result<Measures, Field> {
        let needs = |field, of: Option<TypedLength>| of.map(length).ok_or(field);
        let wheelbase = needs(Field::Wheelbase, self.wheelbase)?;
        if !has_trailer {
            return Measures::of_vehicle(wheelbase).map_err(|error| error.limit.field);
        }
        let overhang = needs(Field::BallOverhang, self.overhang)?;
        let drawbar = needs(Field::DrawbarLength, self.drawbar)?;
        Measures::new(wheelbase, overhang, drawbar).map_err(|error| error.limit.field)
    }

    fn lever(&self) -> Option<Lever> {
        Lever::new(length(self.overhang?), length(self.wheelbase?)).ok()
    }

    /// From the front to the back of the van's body, ahead of its axles; as
    /// far behind them as ahead where its length was not entered. Nothing
    /// without a van.
    pub fn body(&self, measures: &Measures) -> Option<(Length, Length)> {
        let ahead = measures.drawbar()?.get::<millimeter>() - Self::DRAWBAR_TO_BODY_MM;
        let long = self
            .body
            .map_or(2.0 * ahead, |body| body.amount().in_limit_unit());
        let mm = Length::new::<millimeter>;
        Some((mm(ahead), mm(ahead - long)))
    }

    /// What is known of the weights.
    ///
    /// # Errors
    /// [`NoWeights`].
    pub fn found(&self, tickets: &Tickets, rig: &Rig) -> Result<Found, NoWeights> {
        if self.is_unusable_here() || tickets.is_unusable_now() {
            return Err(NoWeights::Unusable);
        }
        let count = |at: AxleAt| {
            rig.axles
                .iter()
                .filter(|axle| axle.place == place(at))
                .count()
        };
        let trailers = count(AxleAt::Trailer);
        if count(AxleAt::Front) != 1 || count(AxleAt::Rear) != 1 || trailers > 1 {
            return Err(NoWeights::Axles);
        }
        let trailer = rig.axles.iter().find(|axle| axle.place == Place::Trailer);
        let lines = trailer.map_or(1, |axle| axle.axles);

        let readings = match tickets.current() {
            Some(ticket) => ticket.tickets()?,
            None => Vec::new(),
        };
        let measures = self.measures(trailer.is_some());
        // With no reading there is no 'as weighed': all counts as it lies now.
        let ticket = tickets.current().filter(|_| !readings.is_empty());
        let mut moves: Vec<Move> = self
            .items
            .iter()
            .map(|of| {
                let now = of.now();
                let was = match ticket {
                    Some(ticket) => ticket.laid(of.id).and_then(|laid| laid.item()),
                    None => now,
                };
                Move { was, now }
            })
            .collect();
        // What was aboard then and is in the plan no longer was left behind.
        let gone = ticket.into_iter().flat_map(|ticket| &ticket.loads);
        let gone = gone.filter(|laid| self.items.iter().all(|of| of.id != laid.load));
        moves.extend(gone.map(|laid| Move {
            was: laid.item(),
            now: None,
        }));
        // What lies on the van stays there while the rig has none.
        if trailer.is_none() {
            let of_van = |item: &Option<Item>| {
                item.is_some_and(|item| matches!(item.place(), plan::Place::Trailer(_)))
            };
            for Move { was, now } in &mut moves {
                for item in [was, now] {
                    if of_van(item) {
                        *item = None;
                    }
                }
            }
        }
        let loaded: Vec<Item> = moves.iter().filter_map(|of| of.was).collect();
        let (mut change, mut estimates) = (None, Vec::new());
        if let Ok(measures) = &measures {
            change = Some(Change::of(&moves, measures, lines)?);
            estimates = estimate(
                self.vehicle_as_built()?,
                self.trailer_as_built()?.filter(|_| trailer.is_some()),
                &loaded,
                measures,
            );
        }
        let lever = self.lever().filter(|_| trailer.is_some());
        let solution = Solution::new(&readings, lines, lever, &estimates)?;
        Ok(Found {
            solution,
            change,
            lacks: measures.err(),
            readings: readings.len(),
        })
    }

    fn vehicle_as_built(&self) -> Result<Option<VehicleAsBuilt>, OutOfRange> {
        let front = self.unladen_front.map(TypedMass::quantity);
        self.unladen
            .map(|unladen| VehicleAsBuilt::new(unladen.quantity(), front))
            .transpose()
    }

    fn trailer_as_built(&self) -> Result<Option<TrailerAsBuilt>, OutOfRange> {
        let ball = self.tare_ball.map(TypedMass::quantity);
        self.tare
            .map(|tare| TrailerAsBuilt::new(tare.quantity(), ball))
            .transpose()
    }

    /// The limits that were entered; of an axle its rating on the rig page
    /// where there is none here.
    pub fn limits(&self, rig: &Rig) -> Vec<(Rating, Mass)> {
        let rated = |at: AxleAt| {
            let axle = rig.axles.iter().find(|axle| axle.place == place(at));
            axle.and_then(|axle| axle.rating)
        };
        [
            (
                Rating::Axle(AxleAt::Front),
                self.front_limit.or(rated(AxleAt::Front)),
            ),
            (
                Rating::Axle(AxleAt::Rear),
                self.rear_limit.or(rated(AxleAt::Rear)),
            ),
            (Rating::Gvm, self.gvm),
            (Rating::Gcm, self.gcm),
            (Rating::Towing, self.towing),
            (Rating::Ball, self.ball_limit),
            (Rating::Atm, self.atm),
            (Rating::Gtm, self.gtm.or(rated(AxleAt::Trailer))),
            (Rating::Axle(AxleAt::Trailer), self.trailer_limit),
        ]
        .into_iter()
        .filter_map(|(rating, limit)| Some((rating, limit?.quantity())))
        .collect()
    }

    /// The rig's axles whose mass, as entered hitched, falls short of a second
    /// figure: a ticket, the mass as built, a plate. By their places in the
    /// rig's list. Nothing of an axle whose load is its rating, or comes from
    /// here.
    pub fn doubts(&self, tickets: &Tickets, rig: &Rig) -> Vec<(usize, Second)> {
        if self.in_use {
            return Vec::new();
        }
        let all = self.second(tickets, rig).into_iter();
        all.filter_map(|of| Some((of.axle, short_of(of.mass, &of.second)?)))
            .collect()
    }

    /// Every axle's mass as entered hitched, with what else is known of it,
    /// surest first.
    fn second(&self, tickets: &Tickets, rig: &Rig) -> Vec<Beside> {
        let entered = |at: usize| {
            let axle = rig.axles.get(at)?;
            let masses = total::of_axle(axle).filter(|_| axle.load_from != LoadFrom::Rating)?;
            let masses = masses.into_iter().map(TypedMass::quantity);
            masses.reduce(|left, right| left + right)
        };
        let found = self.found(tickets, rig).ok();
        let laden = found.as_ref().map(Found::laden);
        let coupling = match rig.has_trailer() {
            true => Coupling::Hitched,
            false => Coupling::Unhitched,
        };
        let ticket = |at: AxleAt| {
            let figure = laden
                .as_ref()?
                .figure(at.weighing(coupling), Wheels::Both)?;
            (!figure.estimated).then_some(Second::Ticket(figure.mass.low))
        };
        let of = |typed: Option<TypedMass>| typed.map(TypedMass::quantity);
        // Of the van something is on the ball, a fifth at most (common
        // practice, no source).
        let tare = of(self.tare).map(|tare| 0.8 * tare);
        // The ball takes a tenth off the front axle at most (the same).
        let front = of(self.unladen_front).map(|front| 0.9 * front);
        let rear = of(self.unladen).zip(of(self.unladen_front));
        let rear = rear.map(|(whole, front)| whole - front);
        let mut all = Vec::new();
        for (at, axle) in rig.axles.iter().enumerate() {
            let Some(mass) = entered(at).filter(|_| rig.unusable_of(at).is_none()) else {
                continue;
            };
            let (standing, empty, plates) = match axle.place {
                Place::Front => (AxleAt::Front, front, [self.front_limit, None, None]),
                Place::Rear => (AxleAt::Rear, rear, [self.rear_limit, None, None]),
                Place::Trailer => (
                    AxleAt::Trailer,
                    tare,
                    [self.gtm, self.trailer_limit, self.atm],
                ),
            };
            let plates = plates.into_iter().chain([axle.rating]).filter_map(of);
            let plate = plates.reduce(|a, b| if b < a { b } else { a });
            let second = [
                ticket(standing),
                empty.map(Second::Empty),
                plate.map(Second::Plate),
            ];
            all.push(Beside {
                axle: at,
                mass,
                second: second.into_iter().flatten().collect(),
            });
        }
        all
    }

    /// What is left of each limit, worst first, its tyres' among them.
    ///
    /// # Errors
    /// [`NoWeights`].
    pub fn margins(&self, rig: &Rig, found: &Found) -> Result<Vec<Margin>, NoWeights> {
        let laden = found.laden();
        let mut all = margins(&laden, coupling(rig), &self.limits(rig))?;
        let loads = loads(rig, &laden);
        all.extend(loads.ahead(rig).iter().filter_map(|of| tyres(rig, of)));
        worst_first(&mut all);
        Ok(all)
    }
}

/// The state in which the rig is weighed up: one that tows nothing stands by
/// itself.
pub fn coupling(rig: &Rig) -> Coupling {
    if rig.tows() {
        Coupling::Hitched
    } else {
        Coupling::Unhitched
    }
}

/// What each axle of the rig carries, where that is known. One that tows
/// nothing has one state only, which is kept as its loads otherwise are.
pub fn loads(rig: &Rig, laden: &Laden) -> Loads {
    let each = |axles: &[AxleAt], coupling| {
        let each = axles.iter().filter_map(|at| {
            let axle = rig.axles.iter().position(|axle| axle.place == place(*at))?;
            let (load, estimated) = laden.load(*at, coupling)?;
            Some(AxleLoad {
                axle,
                load,
                estimated,
            })
        });
        each.collect()
    };
    let alone = each(&[AxleAt::Front, AxleAt::Rear], Coupling::Unhitched);
    if !rig.has_trailer() {
        return Loads {
            hitched: alone,
            alone: Vec::new(),
        };
    }
    Loads {
        hitched: each(&AxleAt::ALL, Coupling::Hitched),
        alone,
    }
}

/// What the heaviest tyre of an axle carries, beside what it could at the
/// pressure that the tyres are set to, or are to be set to on sealed road as
/// the rig page has it.
fn tyres(rig: &Rig, of: &AxleLoad) -> Option<Margin> {
    let axle = rig.axles.get(of.axle)?;
    if rig.unusable_of(of.axle).is_some() {
        return None;
    }
    let set = match rig.set_to.axle(of.axle, axle.group().tyres()) {
        AxleSet::Alike(tyre) => Some(tyre.pressure()),
        AxleSet::Apart(_) | AxleSet::Unknown => None,
    };
    let (understood, answer) = rig.answer_on(axle, Surface::Sealed).ok()?;
    let pressure = set.unwrap_or(answer.sealed.pressure);
    let load = of.load.wheel_load(axle.group(), rig.uneven_load.percent());
    let load = load.ok()?;
    let at = match axle.place {
        Place::Front => AxleAt::Front,
        Place::Rear => AxleAt::Rear,
        Place::Trailer => AxleAt::Trailer,
    };
    Some(Margin {
        rating: Rating::Tyre(at),
        mass: Figure {
            mass: Span {
                low: load,
                likely: load,
                high: load,
            },
            estimated: of.estimated,
        },
        limit: understood.axle.capacity.carries(pressure),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rig::PressureUnit;
    use crate::rig::section::{again, body, read};

    fn found(weights: &Weights, tickets: &Tickets, rig: &Rig) -> Found {
        weights.found(tickets, rig).expect("weights")
    }

    fn demo() -> (Weights, Tickets, Rig) {
        (Weights::fresh(true), Tickets::fresh(true), Rig::demo())
    }

    fn likely(laden: &Laden, weighing: Weighing) -> f64 {
        let figure = laden.figure(weighing, Wheels::Both).expect("a figure");
        figure.mass.likely.get::<kilogram>()
    }

    /// The demo's readings agree with each other and with its axles on the rig
    /// page; its worst rating is within, but not by much.
    #[test]
    fn the_demo_agrees_with_itself() {
        let (weights, tickets, rig) = demo();
        let found = found(&weights, &tickets, &rig);
        assert_eq!(found.solution().contradiction(), None);
        assert_eq!(found.lacks, None);
        let laden = found.laden();
        for (weighing, kg) in [
            (Weighing::FrontHitched, 1310.0),
            (Weighing::RearHitched, 1775.0),
            (Weighing::TrailerAxles, 2240.0),
            (Weighing::Ball, 220.0),
            (Weighing::Combination, 5325.0),
        ] {
            let off = likely(&laden, weighing) - kg;
            assert!(off.abs() < 1.0, "{weighing:?} {off}");
        }
        let margins = weights.margins(&rig, &found).expect("margins");
        println!(
            "{:?}",
            margins
                .iter()
                .map(|of| (of.rating, of.left(), of.percent()))
                .collect::<Vec<_>>()
        );
        assert_eq!(margins[0].rating, Rating::Gvm);
        assert!((60.0..70.0).contains(&margins[0].left().get::<kilogram>()));
    }

    /// By hand: a spare wheel of 32 kg from 3 m behind the van's axles to over
    /// them puts 32·3/4.9 = 19.6 kg on the ball and takes as much off the
    /// axles; back again all is as before.
    #[test]
    fn the_spare_wheel_moved_over_the_axles_loads_the_ball() {
        let (mut weights, tickets, rig) = demo();
        let before = found(&weights, &tickets, &rig);
        weights.items[0].at = millimetres(0.0);
        let moved = found(&weights, &tickets, &rig);
        for (weighing, kg) in [
            (Weighing::Ball, 32.0 * 3.0 / 4.9),
            (Weighing::TrailerAxles, -32.0 * 3.0 / 4.9),
            (Weighing::FrontHitched, -32.0 * 3.0 / 4.9 * 1150.0 / 2800.0),
            (Weighing::Combination, 0.0),
        ] {
            let change = likely(&moved.laden(), weighing) - likely(&before.laden(), weighing);
            assert!((change - kg).abs() < 1e-9, "{weighing:?} {change} {kg}");
        }
        let least = |found: &Found| {
            let mut rig = rig.clone();
            rig.axles = loads(&rig, &found.laden()).on(&rig.axles).expect("loads");
            let (_, answer) = rig.answer(&rig.axles[2]).expect("an answer");
            answer.sealed.load_minimum
        };
        assert!(least(&moved) < least(&before));
        weights.items[0].at = tickets.current().unwrap().laid(1).unwrap().at;
        assert_eq!(found(&weights, &tickets, &rig), before);
    }

    /// A vehicle that tows nothing was asked for the distance from ball to van
    /// axles, and got no estimate without it.
    ///
    /// By hand: 2100 kg unladen, 1150 of them in front, and 100 kg a metre
    /// ahead of the rear axle of a wheelbase of 2.8 m: 1150 + 100/2.8 and the
    /// rest.
    #[test]
    fn a_vehicle_without_a_van_needs_no_drawbar() {
        let mut rig = Rig::demo();
        rig.remove_axle(2);
        let at = |id, on, mm| PlanItem {
            id,
            on,
            at: millimetres(mm),
            mass: Some(kg(100.0)),
            ..PlanItem::default()
        };
        let weights = Weights {
            wheelbase: Some(millimetres(2800.0)),
            unladen: Some(kg(2100.0)),
            unladen_front: Some(kg(1150.0)),
            // As it was while there was a van.
            overhang: Some(millimetres(1150.0)),
            tare: Some(kg(1800.0)),
            atm: Some(kg(2500.0)),
            items: vec![at(1, On::Vehicle, 1000.0), at(2, On::Trailer, 2000.0)],
            ..Weights::default()
        };
        let found = found(&weights, &Tickets::default(), &rig);
        assert_eq!(found.lacks, None);
        let laden = found.laden();
        for (weighing, kg) in [
            (Weighing::FrontAlone, 1150.0 + 100.0 / 2.8),
            (Weighing::VehicleAlone, 2200.0),
        ] {
            let off = likely(&laden, weighing) - kg;
            assert!(off.abs() < 1e-6, "{weighing:?} {off}");
        }
        for of_van in [Weighing::TrailerWhole, Weighing::Ball] {
            assert_eq!(laden.figure(of_van, Wheels::Both), None);
        }
        let margins = weights.margins(&rig, &found).expect("margins");
        assert!(margins.iter().all(|of| of.rating != Rating::Atm));
        // With a van the drawbar is asked for.
        assert_eq!(weights.measures(true), Err(Field::DrawbarLength));
    }

    /// A first digit misread, and digits swapped, passed in silence where no
    /// other axle gave them away: the demo's rear axle has 1775 kg on its ticket
    /// and 1900 kg on its plate.
    #[test]
    fn a_mass_beside_its_ticket_or_its_plate_is_doubted() {
        let (weights, tickets, mut rig) = demo();
        assert_eq!(weights.doubts(&tickets, &rig), []);
        rig.axles[1].load_from = LoadFrom::Weighed;
        let doubt = |weights: &Weights, tickets: &Tickets, rig: &mut Rig, mass| {
            rig.axles[1].weighed = Some(kg(mass));
            weights.doubts(tickets, rig)
        };
        assert_eq!(doubt(&weights, &tickets, &mut rig, 1775.0), []);
        assert!(matches!(
            doubt(&weights, &tickets, &mut rig, 1575.0)[..],
            [(1, Second::Ticket(_))]
        ));
        let none = Tickets::default();
        let plates = Weights {
            unladen: None,
            ..weights.clone()
        };
        assert_eq!(doubt(&plates, &none, &mut rig, 1575.0), []);
        assert!(matches!(
            doubt(&plates, &none, &mut rig, 1175.0)[..],
            [(1, Second::Plate(_))]
        ));
        // What comes from the tickets is not held against them.
        let in_use = Weights {
            in_use: true,
            ..weights
        };
        assert_eq!(doubt(&in_use, &tickets, &mut rig, 1175.0), []);
    }

    /// Sides weighed are handed over as sides, an estimate at its high end.
    #[test]
    fn loads_handed_over_are_those_weighed() {
        let (weights, tickets, mut rig) = demo();
        let found = found(&weights, &tickets, &rig);
        let loads = loads(&rig, &found.laden());
        assert!(loads.hitched.iter().all(|of| !of.estimated));
        rig.axles = loads.on(&rig.axles).expect("loads");
        assert_eq!(rig.axles[0].weighed, Some(kg(1310.0)));
        assert_eq!(rig.axles[1].load_from, LoadFrom::Sides);
        assert_eq!(
            (rig.axles[1].left, rig.axles[1].right),
            (Some(kg(905.0)), Some(kg(870.0)))
        );
        assert_eq!(rig.axles[2].weighed, Some(kg(2240.0)));
        assert_eq!(rig.axles[2].load_from, LoadFrom::Weighed);
        // The vehicle by itself was weighed too; of the van it says nothing.
        assert_eq!(rig.axles[0].alone, Some(kg(1400.0)));
        assert_eq!(rig.axles[1].alone, Some(kg(1465.0)));
        assert_eq!(rig.axles[2].alone, None);
        assert_eq!(loads.on(&rig.axles), Ok(rig.axles.clone()));
    }

    /// Of sides weighed unhitched alone, the heavier counts for both; a mass
    /// that no axle has is refused, and changes nothing.
    #[test]
    fn loads_by_themselves_are_handed_over_at_their_heavier_side() {
        let kilograms = |of| Mass::new::<kilogram>(of);
        let (left, right) = (kilograms(700.0), kilograms(760.0));
        let sides = AxleLoad {
            axle: 0,
            load: LoadSource::Sides { left, right },
            estimated: false,
        };
        let mut loads = Loads {
            hitched: Vec::new(),
            alone: vec![sides],
        };
        let axles = Rig::demo().axles;
        let handed = loads.on(&axles).expect("loads");
        assert_eq!(handed[0].alone, Some(kg(1520.0)));
        assert_eq!(handed[0].weighed, axles[0].weighed);
        loads.alone[0].load = LoadSource::Weighed(kilograms(1_234_567.0));
        let refused = loads.on(&axles).expect_err("no axle's mass");
        assert_eq!(refused.limit.field, Field::AxleMass);
        assert!(!loads.is_empty() && Loads::default().is_empty());
    }

    /// One that tows nothing has its only loads where its pressures look for
    /// them.
    #[test]
    fn a_vehicle_without_a_van_is_weighed_by_itself() {
        let (weights, mut tickets, mut rig) = demo();
        rig.remove_axle(2);
        tickets.current_mut().unwrap().readings = vec![
            ticket::ReadingRecord::of(ticket::OnPlate::FrontAlone, Wheels::Both, Some(kg(1400.0))),
            ticket::ReadingRecord::of(
                ticket::OnPlate::VehicleAlone,
                Wheels::Both,
                Some(kg(2865.0)),
            ),
        ];
        let found = found(&weights, &tickets, &rig);
        let loads = loads(&rig, &found.laden());
        rig.axles = loads.on(&rig.axles).expect("loads");
        assert_eq!(rig.axles[0].weighed, Some(kg(1400.0)));
        assert_eq!(rig.axles[1].weighed, Some(kg(1465.0)));
        let margins = weights.margins(&rig, &found).expect("margins");
        let rated: Vec<_> = margins.iter().map(|of| of.rating).collect();
        assert!(rated.contains(&Rating::Gvm) && !rated.contains(&Rating::Gcm));
    }

    /// A van left behind has nothing to say of the drive.
    #[test]
    fn unhitched_the_vehicle_alone_is_held_to_its_ratings() {
        let (weights, tickets, mut rig) = demo();
        let rated = |rig: &Rig| {
            let found = found(&weights, &tickets, rig);
            let all = weights.margins(rig, &found).expect("margins");
            all.into_iter().map(|of| of.rating).collect::<Vec<_>>()
        };
        let hitched = rated(&rig);
        assert!(hitched.contains(&Rating::Gcm));
        assert!(hitched.contains(&Rating::Tyre(AxleAt::Trailer)));
        rig.coupling = Coupling::Unhitched;
        let alone = rated(&rig);
        assert!(alone.contains(&Rating::Gvm) && alone.contains(&Rating::Tyre(AxleAt::Front)));
        assert!(!alone.contains(&Rating::Gcm));
        assert!(!alone.contains(&Rating::Tyre(AxleAt::Trailer)));
    }

    #[test]
    fn without_a_ticket_there_is_an_estimate_and_without_measures_what_is_lacking() {
        let (mut weights, _, rig) = demo();
        let none = Tickets::default();
        let estimate = found(&weights, &none, &rig);
        for at in AxleAt::ALL {
            let weighing = at.weighing(Coupling::Hitched);
            let figure = estimate
                .laden()
                .figure(weighing, Wheels::Both)
                .expect("a figure");
            assert!(figure.estimated && figure.mass.high > figure.mass.likely);
        }
        // The invented rig was weighed within its estimate.
        let (_, tickets, _) = demo();
        let weighed = found(&weights, &tickets, &rig);
        for weighing in [
            Weighing::FrontHitched,
            Weighing::RearHitched,
            Weighing::TrailerAxles,
        ] {
            let figure = estimate.laden().figure(weighing, Wheels::Both).unwrap();
            let kg = likely(&weighed.laden(), weighing);
            let (low, high) = (figure.mass.low, figure.mass.high);
            assert!(
                (low.get::<kilogram>()..=high.get::<kilogram>()).contains(&kg),
                "{weighing:?}"
            );
        }
        weights.drawbar = None;
        let lacking = found(&weights, &none, &rig);
        assert_eq!(lacking.lacks, Some(Field::DrawbarLength));
        assert_eq!(lacking.laden().figure(Weighing::Ball, Wheels::Both), None);
        assert!(loads(&rig, &lacking.laden()).is_empty());
    }

    #[test]
    fn a_rig_that_is_none_or_a_text_that_cannot_be_used_gives_no_weights() {
        let (mut weights, tickets, mut rig) = demo();
        weights.unusable.push(Unusable::default());
        assert_eq!(weights.found(&tickets, &rig), Err(NoWeights::Unusable));
        weights.unusable.clear();
        rig.axles.push(Axle::empty(Place::Rear));
        assert_eq!(weights.found(&tickets, &rig), Err(NoWeights::Axles));
        let empty = Rig::empty("", PressureUnit::Psi);
        let nothing = found(&Weights::default(), &Tickets::default(), &empty);
        assert_eq!(nothing.readings, 0);
        assert_eq!(Weights::default().margins(&empty, &nothing), Ok(Vec::new()));
    }

    /// A load of the ticket that is in the plan no longer was left behind, and
    /// one that came aboard since counts on top. Another ticket has loads of
    /// its own.
    #[test]
    fn what_was_aboard_belongs_to_the_ticket() {
        let (mut weights, mut tickets, rig) = demo();
        let whole = |weights: &Weights, tickets: &Tickets| {
            let found = found(weights, tickets, &rig);
            likely(&found.laden(), Weighing::Combination)
        };
        let before = whole(&weights, &tickets);
        let spare = weights.items.remove(0);
        assert!((whole(&weights, &tickets) - before + 32.0).abs() < 1e-9);
        weights.items.push(PlanItem { id: 99, ..spare });
        assert!((whole(&weights, &tickets) - before).abs() < 1e-9);
        weights.items[0].mass = Some(kg(38.0));
        assert!((whole(&weights, &tickets) - before - 10.0).abs() < 1e-9);
        // Weighed again so, all is as weighed.
        let again = tickets.current().unwrap().readings.clone();
        tickets.add(20_600, weights.laid());
        tickets.current_mut().unwrap().readings = again;
        tickets.current_mut().unwrap().step = Some(kg(5.0));
        assert!((whole(&weights, &tickets) - before).abs() < 1e-9);
        tickets.in_force = Some(1);
        assert!((whole(&weights, &tickets) - before - 10.0).abs() < 1e-9);
    }

    /// As version 1 writes them. If this fails, kept weights would no longer be
    /// read: add a version instead of changing it.
    #[test]
    fn version_1_stays_readable_and_is_written_back_whole() {
        let text = r#"{"in_use":true,"wheelbase":"2800 mm","overhang":"1150 mm","drawbar":"4900 mm","gvm":"6945 lb","items":[{"id":3,"name":"Water","kind":"tank","on":"vehicle","at":"-350 mm","size":"95 L","fill":"60 %"}],"later":[1]}"#;
        let weights: Weights = read(1, text).expect("weights");
        assert!(weights.in_use);
        assert_eq!(weights.items[0].mass_now().unwrap().get::<kilogram>(), 57.0);
        let first = body(&weights).expect("a body");
        assert_eq!(first, text);
        let (demo, tickets, _) = demo();
        assert_eq!(again(&demo), demo);
        assert_eq!(again(&tickets), tickets);
        let ticket = r#"{"tickets":[{"id":2,"day":20575,"place":"By the silos","step":"20 kg","readings":[{"on":"rear_hitched","wheels":"left","mass":"905 kg"}],"loads":[{"load":3,"on":"trailer","at":"450 mm","mass":"57 kg"}]}],"in_force":2}"#;
        let kept: Tickets = read(1, ticket).expect("tickets");
        assert_eq!(body(&kept).expect("a body"), ticket);
        assert_eq!(kept.current().unwrap().tickets().unwrap().len(), 1);
        let wrong = [
            ("2800 mm", "28 mm"),
            ("\"tank\"", "\"pool\""),
            ("95 L", "95 kg"),
        ];
        for (old, new) in wrong {
            assert!(
                read::<Weights>(1, &text.replace(old, new)).is_err(),
                "{new}"
            );
        }
        for (old, new) in [
            ("905 kg", "5 kg"),
            ("left", "inner"),
            ("20 kg", "0 kg"),
            ("57 kg", "57 L"),
        ] {
            assert!(
                read::<Tickets>(1, &ticket.replace(old, new)).is_err(),
                "{new}"
            );
        }
    }
}
