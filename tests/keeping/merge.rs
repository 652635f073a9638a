//! Two copies of a rig made one, and restoring.

use crate::rigs::{self, Fill, Random};
use std::cell::Cell;
use std::collections::BTreeSet;
use tyreside::rig::Rig;
use tyreside::rig::copies::Copies;
use tyreside::rig::section::Section;
use tyreside::store::file::{self, Found, Sections};
use tyreside::store::merge::{self, Here, Stands, Take};
use tyreside::store::{Garage, Memory, Plan, Shelf, Trouble, envelope};

const PARTS: [&str; 3] = ["axles", "nuts", "weights"];

/// A phone with one rig, and what is true of it: the state of each section,
/// and every state that it was made from or put in the place of.
#[derive(Clone, Default)]
struct Phone {
    sections: Sections,
    now: [u32; 3],
    before: [BTreeSet<u32>; 3],
}

impl Phone {
    fn edit(&mut self, part: usize, state: u32) {
        self.before[part].insert(self.now[part]);
        self.now[part] = state;
        let text = envelope::write(1, &format!("{{\"state\":{state}}}"));
        self.sections.retain(|(of, _)| of != PARTS[part]);
        self.sections.push((PARTS[part].to_owned(), text));
    }

    /// A copy leaves, as a file or by a link.
    fn copy(&mut self, by_link: bool) -> Sections {
        let now = merge::sums(&self.sections);
        let mut copies = merge::copies(&self.sections);
        copies.rig = "one".to_owned();
        copies.see(&now);
        self.sections = merge::with_copies(self.sections.clone(), &copies);
        if by_link {
            merge::with_copies(self.sections.clone(), &copies.in_short(&now))
        } else {
            self.sections.clone()
        }
    }
}

/// Against the truth: nothing that was changed here is ever taken for older
/// than what comes, nor the other way round.
#[test]
fn what_is_newer_is_told_without_a_clock() {
    let mut random = Random(11);
    let mut told = [0_u32; 6];
    let mut unsure = 0;
    for _ in 0..2_000 {
        let mut phones = vec![Phone::default(); 3];
        let mut state = 1;
        for part in 0..3 {
            phones[0].edit(part, state);
            state += 1;
        }
        for _ in 0..40 {
            let at = random.below(3);
            if random.chance(40) {
                if !phones[at].sections.is_empty() {
                    let part = random.below(3);
                    phones[at].edit(part, state);
                    state += 1;
                }
                continue;
            }
            let to = (at + 1 + random.below(2)) % 3;
            if phones[at].sections.is_empty() {
                continue;
            }
            let by_link = random.chance(30);
            let coming = phones[at].copy(by_link);
            let from = phones[at].clone();
            let phone = &mut phones[to];
            let mut both = false;
            for (part, stands) in merge::compare(&phone.sections, &coming) {
                let part = PARTS.iter().position(|of| *of == part).unwrap();
                let newer = from.before[part].contains(&phone.now[part]);
                let older = phone.before[part].contains(&from.now[part]);
                told[stands as usize] += 1;
                match stands {
                    Stands::Same => assert_eq!(phone.now[part], from.now[part]),
                    Stands::ComingNewer => assert!(newer, "taken for newer"),
                    Stands::HereNewer => assert!(older, "taken for older"),
                    Stands::Both => {
                        both = true;
                        unsure += u32::from(newer != older);
                    }
                    Stands::OnlyComing | Stands::OnlyHere => {}
                }
            }
            // What comes into conflict is left half of the time.
            if both && random.chance(50) {
                continue;
            }
            let take = if both { Take::Coming } else { Take::Newer };
            let joined = merge::joined(&phone.sections, &coming, take);
            for (part, name) in PARTS.iter().enumerate() {
                let text = |sections: &Sections| {
                    let mut all = sections.iter();
                    all.find(|(of, _)| of == name).map(|(_, text)| text.clone())
                };
                phone.before[part].extend(&from.before[part]);
                if text(&joined) != text(&phone.sections) {
                    let was = phone.now[part];
                    phone.before[part].insert(was);
                    phone.now[part] = from.now[part];
                } else if from.now[part] != phone.now[part] {
                    phone.before[part].insert(from.now[part]);
                }
            }
            phone.sections = joined;
        }
    }
    println!(
        "told: {} the same, {} only coming, {} only here, {} newer coming, {} newer here, {} changed \
         on both sides, of which {unsure} were on one (more states than are kept, or by a link)",
        told[0], told[1], told[2], told[3], told[4], told[5]
    );
    assert!(told[3] > 1000 && told[4] > 1000 && told[5] > 1000);
    assert!(unsure < told[5] / 3);
}

/// Where neither is newer, what is here stays, unless what comes is chosen; and
/// a section that was changed back is not taken for older or newer.
#[test]
fn where_none_is_newer_what_is_here_stays() {
    let stands = |here: &Phone, coming: &Sections| {
        let all = merge::compare(&here.sections, coming);
        let of = |part: &str| all.iter().find(|(of, _)| of == part).map(|(_, of)| *of);
        [of(PARTS[0]), of(PARTS[1])]
    };
    let texts = |sections: &Sections| {
        let mut all = sections.clone();
        all.retain(|(part, _)| PARTS.contains(&part.as_str()));
        all.sort();
        all
    };
    let (mut here, mut there) = (Phone::default(), Phone::default());
    for part in 0..2 {
        here.edit(part, 1);
    }
    there.sections = merge::arriving(&here.copy(false), 20_700.0);
    here.edit(0, 2);
    there.edit(0, 3);
    there.edit(1, 3);
    let coming = there.copy(false);
    assert_eq!(
        stands(&here, &coming),
        [Some(Stands::Both), Some(Stands::ComingNewer)]
    );
    let mut expected = here.clone();
    expected.edit(1, 3);
    let newer = merge::joined(&here.sections, &coming, Take::Newer);
    assert_eq!(texts(&newer), texts(&expected.sections));
    let chosen = merge::joined(&here.sections, &coming, Take::Coming);
    assert_eq!(texts(&chosen), texts(&there.sections));

    // Both have been at 2 and at 3 by now.
    here.sections = chosen;
    there.sections = merge::joined(&there.sections, &here.copy(false), Take::Newer);
    there.edit(0, 2);
    let coming = there.copy(false);
    assert_eq!(stands(&here, &coming)[0], Some(Stands::ComingNewer));
    here.sections = merge::joined(&here.sections, &coming, Take::Newer);
    there.sections = merge::joined(&there.sections, &here.copy(false), Take::Newer);
    there.edit(0, 3);
    assert_eq!(stands(&here, &there.copy(false))[0], Some(Stands::Both));
}

/// A shelf that refuses a write, once so many were made.
struct Refusing {
    inner: Memory,
    was: Vec<(String, String)>,
    left: Cell<u32>,
}

impl Shelf for Refusing {
    fn get(&self, key: &str) -> Result<Option<String>, Trouble> {
        self.inner.get(key)
    }
    fn put(&self, key: &str, text: &str) -> Result<(), Trouble> {
        // What is put back was there, and has room.
        let was_there = self.was.iter().any(|(of, was)| of == key && was == text);
        if self.left.get() == 0 && !was_there {
            return Err(Trouble::Full);
        }
        self.left.set(self.left.get().saturating_sub(1));
        self.inner.put(key, text)
    }
    fn remove(&self, key: &str) -> Result<(), Trouble> {
        self.inner.remove(key)
    }
    fn keys(&self) -> Result<Vec<String>, Trouble> {
        self.inner.keys()
    }
}

fn all(shelf: &dyn Shelf) -> Vec<(String, String)> {
    let keys = shelf.keys().unwrap().into_iter();
    let mut all: Vec<_> = keys
        .map(|key| {
            let text = shelf.get(&key).unwrap().unwrap();
            (key, text)
        })
        .collect();
    all.sort();
    all
}

fn put_on(shelf: &Memory, id: u32, sections: &Sections) {
    for (part, text) in sections {
        shelf
            .put(&format!("tyreside.rig.{id}.{part}"), text)
            .unwrap();
    }
}

fn lots() -> impl FnMut() -> String {
    let mut drawn = 0;
    move || {
        drawn += 1;
        format!("lot{drawn}")
    }
}

fn found(sections: &Sections) -> Found {
    Found::of(sections.clone()).expect("an own section")
}

/// Random rigs here, random plans: carried out or refused at any write, and
/// taken back.
#[test]
fn a_plan_is_carried_out_whole_or_not_at_all_and_taken_back_byte_for_byte() {
    let mut random = Random(12);
    let (mut done, mut refused) = (0, 0);
    for case in 0..1_500_u64 {
        let inner = Memory::default();
        let count = 1 + random.below(3);
        for id in 1..=count {
            put_on(&inner, id as u32, &rigs::numbered(case * 7 + id as u64).1);
        }
        inner.put("tyreside.rig.9.nuts", "left over").unwrap();
        inner.put("tyreside.current", "1").unwrap();
        let mut garage = Garage::open(&inner).0;
        let here = garage.all(&inner);
        let mut plan = Plan::default();
        for number in 0..1 + random.below(3) as u64 {
            let (_, mut coming) = rigs::numbered(case * 13 + number + 500);
            match here.get(random.below(here.len() * 2)) {
                None => plan.put.push((None, coming)),
                Some(of) if plan.seen.contains(of) => {}
                Some(of) if random.chance(30) => {
                    plan.seen.push(of.clone());
                    plan.remove.push(of.id);
                }
                Some(of) => {
                    coming.truncate(1 + random.below(coming.len()));
                    let joined = merge::joined(&of.sections, &coming, Take::Coming);
                    plan.seen.push(of.clone());
                    plan.put.push((Some(of.id), joined));
                }
            }
        }
        let before = all(&inner);
        let shelf = Refusing {
            inner,
            was: before.clone(),
            left: Cell::new(random.below(24) as u32),
        };
        match garage.restore(&shelf, &plan, &mut lots()) {
            Err(why) => {
                assert_eq!(why, Trouble::Full);
                refused += 1;
            }
            Ok(restored) => {
                for (id, sections) in &plan.put {
                    let Some(id) = id else { continue };
                    let now = garage.parts_of(&shelf, *id);
                    assert!(sections.iter().all(|part| now.contains(part)));
                }
                // Opened anew, the same is there.
                let again = Garage::open(&shelf).0;
                let names = |of: &Garage| of.all(&shelf);
                assert_eq!(names(&again), names(&garage));
                assert_eq!(again.current_id(), garage.current_id());
                let mut identities: Vec<_> = names(&again)
                    .iter()
                    .map(|of| merge::copies(&of.sections).rig)
                    .filter(|rig| !rig.is_empty())
                    .collect();
                let rigs = identities.len();
                identities.sort();
                identities.dedup();
                assert_eq!(identities.len(), rigs, "one identity, two rigs");
                shelf.left.set(u32::MAX);
                garage.take_back(&shelf, restored).unwrap();
                done += 1;
            }
        }
        assert_eq!(all(&shelf), before);
        assert_eq!(garage.all(&shelf), here);
    }
    println!("{done} plans carried out and taken back, {refused} refused on the way");
    assert!(done > 200 && refused > 200);
}

#[test]
fn a_plan_made_before_another_tab_changed_something_is_not_carried_out() {
    let shelf = Memory::default();
    let (_, sections) = rigs::numbered(3);
    put_on(&shelf, 1, &sections);
    let mut garage = Garage::open(&shelf).0;
    let here = garage.all(&shelf);
    let (_, coming) = rigs::numbered(4);
    let plan = Plan {
        put: vec![(
            Some(1),
            merge::joined(&here[0].sections, &coming, Take::Coming),
        )],
        seen: here,
        remove: Vec::new(),
    };
    let theirs = rigs::numbered(5).1;
    put_on(&shelf, 1, &theirs);
    let before = all(&shelf);
    let result = garage.restore(&shelf, &plan, &mut lots());
    assert_eq!(result, Err(Trouble::Elsewhere));
    assert_eq!(all(&shelf), before);
    // And what was changed since is not taken back.
    let plan = Plan {
        put: vec![(None, coming)],
        ..Plan::default()
    };
    let restored = garage.restore(&shelf, &plan, &mut lots()).unwrap();
    let id = garage.current_id();
    shelf
        .put(&format!("tyreside.rig.{id}.axles"), "changed")
        .unwrap();
    let before = all(&shelf);
    assert_eq!(garage.take_back(&shelf, restored), Err(Trouble::Elsewhere));
    assert_eq!(all(&shelf), before);
}

fn renamed(sections: &Sections, name: &str) -> Sections {
    let mut sections = sections.clone();
    let own = sections
        .iter_mut()
        .find(|(part, _)| part == Rig::PART)
        .unwrap();
    let (version, body) = envelope::read(&own.1).unwrap();
    let mut rig: Rig = tyreside::rig::section::read(version, body).unwrap();
    rig.name = name.to_owned();
    own.1 = envelope::write(version, &tyreside::rig::section::body(&rig).unwrap());
    sections
}

fn without_copies(sections: &Sections) -> Sections {
    let all = sections.iter().filter(|(part, _)| part != Copies::PART);
    all.cloned().collect()
}

#[test]
fn a_rig_is_known_by_its_identity_and_else_by_a_name_that_only_one_has() {
    let mut random = Random(20);
    let rig = renamed(&rigs::sections(&mut random, Fill::InUse), "Dusty");
    let other = renamed(&rigs::sections(&mut random, Fill::InUse), "Dusty");
    let here = |id, sections: &Sections| Here {
        id,
        name: found(sections).rig.unwrap().name,
        sections: sections.clone(),
    };
    let met =
        |here: &[Here], coming: &Sections| merge::meet(here, &found(coming), &[]).map(|of| of.id);
    let both = [here(1, &other), here(2, &rig)];
    // By its identity, whatever it is called.
    assert_eq!(met(&both, &renamed(&rig, "Called otherwise")), Some(2));
    assert_eq!(merge::meet(&both, &found(&rig), &[2]), None);
    // Two of one name: each has an identity, and neither is the other.
    assert_eq!(met(&both[..1], &rig), None);
    // A file of before there were identities.
    let old = without_copies(&rig);
    assert_eq!(met(&both, &old), Some(2), "its own section is the same");
    let changed = without_copies(&renamed(&rigs::sections(&mut random, Fill::Begun), "Dusty"));
    assert_eq!(met(&both, &changed), None, "which of the two?");
    assert_eq!(met(&both[..1], &changed), Some(1));
    let nameless = without_copies(&renamed(&changed, " "));
    assert_eq!(met(&[here(3, &renamed(&rig, " "))], &nameless), None);
}

/// One phone's file over the other's rig, each changed in one section.
#[test]
fn a_newer_copy_over_an_older_keeps_both_where_both_changed() {
    let mut random = Random(21);
    let (ours, theirs) = (Memory::default(), Memory::default());
    put_on(
        &ours,
        1,
        &without_copies(&rigs::sections(&mut random, Fill::Full)),
    );
    let mut here = Garage::open(&ours).0;
    let day = 20_700.0;
    let file = file::write(&here.copy_out(&ours, &|_| true, &mut lots(), day));
    let mut there = Garage::open(&theirs).0;
    let take = |garage: &mut Garage, shelf: &Memory, text: &str, take: Take| {
        let found = file::read(text).unwrap().remove(0);
        let all = garage.all(shelf);
        let met = merge::meet(&all, &found, &[]);
        let stands = met.map(|met| merge::compare(&met.sections, &found.sections));
        let put = match met {
            None => (None, merge::arriving(&found.sections, day)),
            Some(met) => (
                Some(met.id),
                merge::joined(&met.sections, &found.sections, take),
            ),
        };
        let plan = Plan {
            put: vec![put],
            ..Plan::default()
        };
        garage.restore(shelf, &plan, &mut lots()).unwrap();
        stands
    };
    assert_eq!(take(&mut there, &theirs, &file, Take::Newer), None);
    // Here the name, there the nuts: each side's newer one is taken.
    here.change(&ours, |rig: &mut Rig| rig.name = "Ours".to_owned())
        .unwrap();
    there
        .change(&theirs, |nuts: &mut tyreside::rig::nuts::Nuts| {
            nuts.vehicle.studs = 10
        })
        .unwrap();
    let file = file::write(&there.copy_out(&theirs, &|_| true, &mut lots(), day));
    let stands = take(&mut here, &ours, &file, Take::Newer).expect("the same rig");
    let of = |part: &str| stands.iter().find(|(of, _)| of == part).unwrap().1;
    assert_eq!(
        (of("axles"), of("nuts")),
        (Stands::HereNewer, Stands::ComingNewer)
    );
    assert_eq!(of("weights"), Stands::Same);
    here.hold::<tyreside::rig::nuts::Nuts>(&ours, None);
    let nuts: &tyreside::rig::nuts::Nuts = here.section(None).unwrap();
    assert_eq!(
        (nuts.vehicle.studs, here.current().name.as_str()),
        (10, "Ours")
    );
    // Both the name: neither is newer.
    there
        .change(&theirs, |rig: &mut Rig| rig.name = "Theirs".to_owned())
        .unwrap();
    let file = file::write(&there.copy_out(&theirs, &|_| true, &mut lots(), day));
    let found = file::read(&file).unwrap().remove(0);
    let all = here.all(&ours);
    let stands = merge::compare(&all[0].sections, &found.sections);
    assert!(stands.contains(&("axles".to_owned(), Stands::Both)));
}
