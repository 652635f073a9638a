//! Weighbridge tickets as kept with a rig.

use super::{On, Weights};
use crate::calc::limits::Field;
use crate::calc::quantity::Length;
use crate::calc::weights::WeightsError;
use crate::calc::weights::plan::Item;
use crate::calc::weights::ticket::{Ticket, Weighing, Wheels};
use crate::rig::draft::Unusable;
use crate::rig::keep::{kept, kept_value};
use crate::rig::names::named;
use crate::rig::section::{Entered, Section, entered};
use crate::rig::typed::in_unit::kg;
use crate::rig::typed::{TypedLength, TypedMass};
use crate::rig::within;

named!(Wheels {
    Both: "both",
    Left: "left",
    Right: "right",
});
named!(OnPlate {
    FrontHitched: "front_hitched",
    RearHitched: "rear_hitched",
    VehicleHitched: "vehicle_hitched",
    TrailerAxles: "trailer_axles",
    TrailerFirst: "trailer_axle_1",
    TrailerSecond: "trailer_axle_2",
    TrailerThird: "trailer_axle_3",
    RearAndTrailer: "rear_and_trailer",
    Combination: "combination",
    TrailerWhole: "trailer_whole",
    Ball: "ball",
    FrontAlone: "front_alone",
    RearAlone: "rear_alone",
    VehicleAlone: "vehicle_alone",
});

/// [`Weighing`] as kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum OnPlate {
    /// Front axle, hitched.
    #[default]
    FrontHitched,
    /// Rear axle, hitched.
    RearHitched,
    /// Vehicle, hitched.
    VehicleHitched,
    /// The van's axles.
    TrailerAxles,
    /// The first of them.
    TrailerFirst,
    /// The second.
    TrailerSecond,
    /// The third.
    TrailerThird,
    /// Rear axle and van.
    RearAndTrailer,
    /// Everything.
    Combination,
    /// The van, unhitched.
    TrailerWhole,
    /// The coupling on a scale.
    Ball,
    /// Front axle, unhitched.
    FrontAlone,
    /// Rear axle, unhitched.
    RearAlone,
    /// Vehicle, unhitched.
    VehicleAlone,
}

impl OnPlate {
    /// Which of the van's axles it is, of a single one; from 0 at the front.
    pub fn line(self) -> Option<u8> {
        match self.weighing() {
            Weighing::TrailerLine(line) => Some(line),
            _ => None,
        }
    }

    /// What the core calls it.
    pub fn weighing(self) -> Weighing {
        match self {
            Self::FrontHitched => Weighing::FrontHitched,
            Self::RearHitched => Weighing::RearHitched,
            Self::VehicleHitched => Weighing::VehicleHitched,
            Self::TrailerAxles => Weighing::TrailerAxles,
            Self::TrailerFirst => Weighing::TrailerLine(0),
            Self::TrailerSecond => Weighing::TrailerLine(1),
            Self::TrailerThird => Weighing::TrailerLine(2),
            Self::RearAndTrailer => Weighing::RearAndTrailer,
            Self::Combination => Weighing::Combination,
            Self::TrailerWhole => Weighing::TrailerWhole,
            Self::Ball => Weighing::Ball,
            Self::FrontAlone => Weighing::FrontAlone,
            Self::RearAlone => Weighing::RearAlone,
            Self::VehicleAlone => Weighing::VehicleAlone,
        }
    }
}

kept! {
    /// One number off a ticket.
    pub struct ReadingRecord {
        /// What stood on the plate.
        on: OnPlate = "on",
        /// With which of its wheels.
        wheels: Wheels = "wheels",
        /// As printed.
        mass: Option<TypedMass> = "mass",
    }
}

impl Default for ReadingRecord {
    fn default() -> Self {
        Self::of(OnPlate::default(), Wheels::Both, None)
    }
}

impl ReadingRecord {
    /// A reading.
    pub fn of(on: OnPlate, wheels: Wheels, mass: Option<TypedMass>) -> Self {
        Self {
            on,
            wheels,
            mass,
            unknown: Default::default(),
        }
    }

    /// Whether it is of these wheels of this.
    pub fn is(&self, on: OnPlate, wheels: Wheels) -> bool {
        self.on == on && self.wheels == wheels
    }
}

kept_value! {
    /// A load as it lay when the rig was weighed.
    pub struct Laid {
        /// Which, by its number in the plan.
        load: u32 = "load",
        /// On what.
        on: On = "on",
        /// Ahead of its axle.
        at: TypedLength = "at",
        /// How heavy it was.
        mass: TypedMass = "mass",
    }
}

impl Laid {
    /// Where it lay, ahead of its axle.
    pub fn ahead(&self) -> Length {
        super::length(self.at)
    }

    /// What the core makes of it.
    pub(super) fn item(&self) -> Option<Item> {
        super::item(self.on, self.at, self.mass.quantity()).ok()
    }
}

kept! {
    /// One visit to a weighbridge.
    pub struct TicketRecord {
        /// Tells it from the others; never used again.
        id: u32 = "id",
        /// Local day, counted from 1970-01-01.
        day: u32 = "day",
        /// Where, in words.
        place: String = "place",
        /// What the plate shows next.
        step: Option<TypedMass> = "step",
        /// The readings that were asked for.
        readings: Vec<ReadingRecord> = "readings",
        /// The loads that were aboard, as they lay.
        loads: Vec<Laid> = "loads",
    }
}

impl Default for TicketRecord {
    fn default() -> Self {
        Self {
            id: 0,
            day: 0,
            place: String::new(),
            step: Some(kg(Self::USUAL_STEP_KG)),
            readings: Vec::new(),
            loads: Vec::new(),
            unknown: Default::default(),
        }
    }
}

impl TicketRecord {
    /// The usual step of a public weighbridge.
    pub const USUAL_STEP_KG: f64 = 20.0;
    /// Longest place kept.
    pub const LONGEST_PLACE: usize = 40;

    /// The mass of a reading, where there is one.
    pub fn mass(&self, on: OnPlate, wheels: Wheels) -> Option<TypedMass> {
        self.readings
            .iter()
            .find(|reading| reading.is(on, wheels))
            .and_then(|reading| reading.mass)
    }

    /// Keeps the mass of a reading; it keeps its place in the list.
    pub fn set(&mut self, on: OnPlate, wheels: Wheels, mass: Option<TypedMass>) {
        match self
            .readings
            .iter_mut()
            .find(|reading| reading.is(on, wheels))
        {
            Some(reading) => reading.mass = mass,
            None => self.readings.push(ReadingRecord::of(on, wheels, mass)),
        }
    }

    /// A load as it lay then; nothing of one that was not aboard.
    pub fn laid(&self, load: u32) -> Option<Laid> {
        self.loads.iter().copied().find(|laid| laid.load == load)
    }

    /// Says how a load lay then, or that it was not aboard.
    pub fn set_laid(&mut self, load: u32, laid: Option<Laid>) {
        self.loads.retain(|of| of.load != load);
        self.loads.extend(laid);
    }

    /// How the names of its fields begin.
    pub fn fields(&self) -> String {
        format!("{} ", self.id)
    }

    /// What the core makes of it: its readings that have a mass.
    ///
    /// # Errors
    /// [`WeightsError`] as by [`Ticket::new`].
    pub fn tickets(&self) -> Result<Vec<Ticket>, WeightsError> {
        let step = self.step.unwrap_or(kg(Self::USUAL_STEP_KG)).quantity();
        self.readings
            .iter()
            .filter_map(|reading| Some((reading, reading.mass?)))
            .map(|(reading, mass)| {
                let on = reading.on.weighing();
                Ticket::new(on, reading.wheels, mass.quantity(), step)
            })
            .collect()
    }
}

kept! {
    /// All tickets of a rig.
    #[derive(Default)]
    pub struct Tickets {
        /// Oldest first.
        tickets: Vec<TicketRecord> = "tickets",
        /// The one that counts; none where only an estimate is wanted.
        in_force: Option<u32> = "in_force",
        /// Texts that could not be used, one a field.
        unusable: Vec<Unusable> = "unusable",
    }
}

impl Tickets {
    /// Most tickets kept.
    pub const MOST: usize = 20;
    /// Most readings of one.
    pub const MOST_READINGS: usize = 30;

    /// The ticket that counts.
    pub fn current(&self) -> Option<&TicketRecord> {
        let id = self.in_force?;
        self.tickets.iter().find(|ticket| ticket.id == id)
    }

    /// The same, to change.
    pub fn current_mut(&mut self) -> Option<&mut TicketRecord> {
        let id = self.in_force?;
        self.tickets.iter_mut().find(|ticket| ticket.id == id)
    }

    /// Whether a text on the ticket that counts can't be used.
    pub fn is_unusable_now(&self) -> bool {
        self.current()
            .is_some_and(|ticket| self.is_unusable(&ticket.fields()))
    }

    /// Adds one of today, of the rig as it is loaded now, which then counts. Of
    /// too many the oldest goes.
    pub fn add(&mut self, day: u32, loads: Vec<Laid>) {
        let id = self.tickets.iter().map(|of| of.id).fold(0, u32::max) + 1;
        if self.tickets.len() >= Self::MOST {
            self.tickets.remove(0);
        }
        self.tickets.push(TicketRecord {
            id,
            day,
            loads,
            ..TicketRecord::default()
        });
        self.in_force = Some(id);
    }

    /// Forgets the ticket that counts, and its texts; the newest left counts.
    pub fn remove_current(&mut self) {
        let Some(ticket) = self.current() else {
            return;
        };
        let (id, fields) = (ticket.id, ticket.fields());
        self.tickets.retain(|of| of.id != id);
        self.unusable
            .retain(|text| !text.field.starts_with(&fields));
        self.in_force = self.tickets.last().map(|of| of.id);
    }

    /// The invented rig's: read off one visit.
    fn demo() -> Self {
        use OnPlate as On;
        let both = [
            (On::FrontHitched, 1310.0),
            (On::VehicleHitched, 3085.0),
            (On::TrailerAxles, 2240.0),
            (On::TrailerWhole, 2460.0),
            (On::FrontAlone, 1400.0),
            (On::VehicleAlone, 2865.0),
        ];
        let mut ticket = TicketRecord {
            id: 1,
            day: 20_575,
            place: "Invented weighbridge".to_owned(),
            step: Some(kg(5.0)),
            loads: Weights::demo().laid(),
            ..TicketRecord::default()
        };
        for (on, mass) in both {
            ticket.set(on, Wheels::Both, Some(kg(mass)));
        }
        for (wheels, mass) in [(Wheels::Left, 905.0), (Wheels::Right, 870.0)] {
            ticket.set(On::RearHitched, wheels, Some(kg(mass)));
        }
        Self {
            tickets: vec![ticket],
            in_force: Some(1),
            ..Self::default()
        }
    }
}

impl Section for Tickets {
    const PART: &'static str = "tickets";
    const VERSION: u32 = 1;

    fn fresh(demo: bool) -> Self {
        if demo { Self::demo() } else { Self::default() }
    }

    fn migrate(_: u32, _: &str) -> Option<Self> {
        None
    }

    fn is_sound(&self) -> bool {
        self.tickets.len() <= Self::MOST
            && self.tickets.iter().all(|ticket| {
                ticket.readings.len() <= Self::MOST_READINGS
                    && ticket.loads.len() <= Weights::MOST_ITEMS
                    && ticket.loads.iter().all(|laid| {
                        within(Field::ItemPlace, Some(laid.at))
                            && within(Field::ItemMass, Some(laid.mass))
                    })
                    && within(Field::TicketStep, ticket.step)
                    && ticket.readings.iter().all(|reading| {
                        let field = Self::field(reading.on);
                        within(field, reading.mass)
                    })
            })
    }
}

impl Tickets {
    /// What a reading may be.
    pub fn field(on: OnPlate) -> Field {
        match on {
            OnPlate::Ball => Field::BallMass,
            _ => Field::WeighedMass,
        }
    }
}

entered!(Tickets);
