//! The invented rig's measures, plates and load plan.

use super::{ItemKind, On, PlanItem, Weights};
use crate::rig::typed::Typed;
use crate::rig::typed::in_unit::{kg, millimetres, percent};
use crate::rig::typed::{Amount, Measure, TypedVolume};

impl Weights {
    /// An invented wagon and van, with little left on the vehicle.
    pub(super) fn demo() -> Self {
        use ItemKind::{Load, RearBox, SpareWheel};
        let loads = [
            ("Spare wheel", SpareWheel, On::Trailer, -3000.0, 32.0),
            ("Rear box", RearBox, On::Trailer, -3000.0, 28.0),
            ("Annexe, chairs", Load, On::Trailer, 2800.0, 55.0),
            ("Food, kitchen", Load, On::Trailer, 600.0, 180.0),
            ("Two people", Load, On::Vehicle, 1300.0, 165.0),
            ("Fridge, drawers", Load, On::Vehicle, -300.0, 110.0),
            ("Tools, ropes", Load, On::Vehicle, -600.0, 90.0),
        ];
        let mut items: Vec<PlanItem> = loads
            .into_iter()
            .map(|(name, kind, on, at, mass)| PlanItem {
                name: name.to_owned(),
                kind,
                on,
                at: millimetres(at),
                mass: Some(kg(mass)),
                ..PlanItem::default()
            })
            .collect();
        items.push(PlanItem {
            name: "Fresh water".to_owned(),
            kind: ItemKind::Tank,
            on: On::Trailer,
            at: millimetres(450.0),
            size: litres(95.0),
            fill: Some(percent(60.0)),
            ..PlanItem::default()
        });
        for (id, item) in (1..).zip(&mut items) {
            item.id = id;
        }
        Self {
            wheelbase: Some(millimetres(2800.0)),
            overhang: Some(millimetres(1150.0)),
            drawbar: Some(millimetres(4900.0)),
            body: Some(millimetres(6200.0)),
            front_limit: Some(kg(1500.0)),
            rear_limit: Some(kg(1900.0)),
            gvm: Some(kg(3150.0)),
            gcm: Some(kg(5900.0)),
            towing: Some(kg(3000.0)),
            ball_limit: Some(kg(300.0)),
            unladen: Some(kg(2450.0)),
            unladen_front: Some(kg(1350.0)),
            tare: Some(kg(2020.0)),
            tare_ball: Some(kg(170.0)),
            atm: Some(kg(2650.0)),
            gtm: Some(kg(2400.0)),
            items,
            ..Self::default()
        }
    }
}

fn litres(number: f64) -> Option<TypedVolume> {
    Typed::of(Amount::new(number, Measure::Litre))
}
