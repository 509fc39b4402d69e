//! References between records: found or reported, and what a repeater or gateway gives its channels.

use super::model::Plan;
use super::model_people::Place;
use super::model_radio::{Channel, Route};
use super::register::{Record, Register, subject};
use super::rules::DANGLING_ID;
use super::terms::Transmit;
use crate::ground::{At, Finding, Findings, Id, Subject, Tone, nearest};

/// Reports dangling ids (unless a syntax fault may have swallowed their records) and derives channels.
pub(super) fn resolve(plan: &mut Plan, is_cut: bool, found: &mut Findings) {
    if !is_cut {
        look_everything_up(plan, found);
    }
    derive_channels(plan);
}

fn look_everything_up(plan: &Plan, found: &mut Findings) {
    let mut look = Look { found };
    for repeater in plan.repeaters.iter() {
        look.up_maybe(&plan.places, repeater.place.as_ref(), &subject(repeater));
        look.up_maybe(&plan.members, repeater.verified.as_ref().and_then(|e| e.by.as_ref()), &subject(repeater));
    }
    for gateway in plan.gateways.iter() {
        look.up_maybe(&plan.places, gateway.place.as_ref(), &subject(gateway));
        look.up_maybe(&plan.members, gateway.verified.as_ref().and_then(|e| e.by.as_ref()), &subject(gateway));
    }
    for link in plan.links.iter() {
        look.up_maybe(&plan.places, link.place.as_ref(), &subject(link));
        link.joins.iter().for_each(|id| look.up(&plan.channels, id, &subject(link)));
    }
    for channel in plan.channels.iter() {
        look.up_maybe(&plan.channels, channel.next.as_ref(), &subject(channel));
        look.up_maybe(&plan.members, channel.verified.as_ref().and_then(|e| e.by.as_ref()), &subject(channel));
    }
    look_up_routes(plan, &mut look);
    for place in plan.places.iter() {
        let of_antennas = place.antennas.iter().flat_map(|antenna| &antenna.channels);
        for id in place.monitors.iter().chain(place.turns.iter().flatten()).chain(of_antennas) {
            look.up(&plan.channels, id, &subject(place));
        }
        for antenna in &place.antennas {
            antenna.repeaters.iter().for_each(|id| look.up(&plan.repeaters, id, &subject(place)));
            antenna.gateways.iter().for_each(|id| look.up(&plan.gateways, id, &subject(place)));
        }
        place.spacings.iter().flat_map(|spacing| &spacing.of).for_each(|id| look.up_antenna(place, id));
    }
    for member in plan.members.iter() {
        for id in &member.radios {
            look.up(&plan.radios, id, &subject(member));
        }
    }
    for wish in &plan.wishes {
        look.up(&plan.pools, &wish.pool, &subject(&wish.channel));
    }
    for agreement in plan.agreements.iter() {
        agreement.channels.iter().for_each(|id| look.up(&plan.channels, id, &subject(agreement)));
        agreement.members.iter().for_each(|id| look.up(&plan.members, id, &subject(agreement)));
    }
    look_up_people(plan, &mut look);
}

fn look_up_routes(plan: &Plan, look: &mut Look<'_>) {
    for channel in plan.channels.iter() {
        match &channel.route {
            Route::Repeater(id) => look.up(&plan.repeaters, id, &subject(channel)),
            Route::Gateway(id) => look.up(&plan.gateways, id, &subject(channel)),
            Route::Simplex | Route::Dial(_) | Route::Split | Route::ListenOnly => {}
        }
    }
}

fn look_up_people(plan: &Plan, look: &mut Look<'_>) {
    for net in plan.nets.iter() {
        for leg in &net.legs {
            look.up(&plan.channels, &leg.channel, &subject(net));
        }
        look.up_maybe(&plan.posts, net.control.as_ref(), &subject(net));
    }
    for post in plan.posts.iter() {
        look.up_maybe(&plan.places, post.place.as_ref(), &subject(post));
        for id in &post.nets {
            look.up(&plan.nets, id, &subject(post));
        }
    }
    for duty in &plan.duties {
        look.up(&plan.posts, &duty.post, &Subject::new("post", &duty.post));
        look.up(&plan.members, &duty.member, &Subject::new("member", &duty.member));
    }
    for accept in &plan.accepts {
        look.up(&plan.members, &accept.by, &Subject::new("member", &accept.by));
    }
    if let Some(edition) = &plan.edition {
        look.up(&plan.members, &edition.prepared_by, &Subject::new("member", &edition.prepared_by));
        look.up(&plan.members, &edition.approved_by, &Subject::new("member", &edition.approved_by));
    }
}

/// Looks ids up and reports those that nobody has.
struct Look<'a> {
    found: &'a mut Findings,
}

impl Look<'_> {
    fn up<T: Record>(&mut self, register: &Register<T>, id: &At<Id>, on: &Subject) {
        if register.knows(id) {
            return;
        }
        let finding = Finding::new(&DANGLING_ID, id.span, format!("no {} has the id `{}`", T::KIND, id.value))
            .label(format!("no such {}", T::KIND))
            .on(on.clone());
        self.found.push(match nearest(id.as_str(), register.ids().map(Id::as_str)) {
            Some(name) => finding.did_you_mean(name),
            None => finding,
        });
    }

    /// An antenna is known at its place alone.
    fn up_antenna(&mut self, place: &Place, id: &At<Id>) {
        if place.antennas.iter().any(|antenna| antenna.id.value == id.value) {
            return;
        }
        let what = format!("no antenna at {} has the id `{}`", place.tactical.value, id.value);
        let finding = Finding::new(&DANGLING_ID, id.span, what).label("no such antenna here").on(subject(place));
        self.found.push(match nearest(id.as_str(), place.antennas.iter().map(|antenna| antenna.id.as_str())) {
            Some(name) => finding.help(format!("did you mean \"{name}\"?")),
            None => finding.help(format!("add `antenna = [{{ id = \"{}\" }}]` to the place", id.value)),
        });
    }

    fn up_maybe<T: Record>(&mut self, register: &Register<T>, id: Option<&At<Id>>, on: &Subject) {
        if let Some(id) = id {
            self.up(register, id, on);
        }
    }
}

/// Fills in what repeaters and gateways give; a channel whose repeater is missing or was refused is refused with it.
fn derive_channels(plan: &mut Plan) {
    let channels = std::mem::take(&mut plan.channels);
    let mut refused = channels.clone_refused();
    for channel in channels.into_records() {
        let id = channel.id.value.clone();
        match derived(plan, channel) {
            Some(channel) => drop(plan.channels.add(channel)),
            None => drop(refused.insert(id)),
        }
    }
    for id in refused {
        plan.channels.refuse(id);
    }
}

fn derived(plan: &Plan, mut channel: Channel) -> Option<Channel> {
    match channel.route.clone() {
        Route::Repeater(id) => {
            let repeater = plan.repeaters.get(&id)?;
            channel.hear = id.with(repeater.output.value);
            channel.send = match channel.written_tx {
                Some(tx) if tx.value == Transmit::Off => None,
                _ => Some(id.with(repeater.input.value)),
            };
            if channel.written_tx_tone.is_none() {
                let tone = if repeater.tone_in.value == Tone::Carrier { Tone::Off } else { repeater.tone_in.value };
                channel.send_tone = id.with(tone);
            }
            // The repeater decides how it is modulated; a channel cannot choose.
            channel.signal = repeater.signal.clone();
            channel.service = repeater.service;
        }
        Route::Gateway(id) => {
            let gateway = plan.gateways.get(&id)?;
            channel.hear = id.with(gateway.frequency.value);
            channel.send = Some(id.with(gateway.frequency.value));
            channel.signal = gateway.signal.clone();
            channel.service = gateway.service;
            channel.speed = channel.speed.or(gateway.speed);
        }
        Route::Simplex | Route::Dial(_) | Route::Split | Route::ListenOnly => {}
    }
    Some(channel)
}
