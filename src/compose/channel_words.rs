//! What a row says of a channel: every value needed to set a radio by hand, in the words of the card.

use super::block::{Cell, Role, Text};
use super::site_words::silent_place;
use crate::audience::{Holder, View};
use crate::ground::{Day, Decimal, Frequency, Power, Span, Stretch, Tone, article};
use crate::plan::{
    Channel, Danger, Gateway, GatewayKind, Licence, Mode, Plan, Ref, Repeater, Route, WidthWord, as_set,
};
use crate::reckon::{
    Barred, Step, Transmission, authority, authority_until, class_limit, hears, mode_words, networks_of, own_power,
    steps,
};
use crate::tables::{Class, Tables};

/// All channels in the order of their rows: by row_number, those without one last, then by id.
pub(super) fn in_order(plan: &Plan) -> Vec<&Channel> {
    let mut channels: Vec<&Channel> = plan.channels.iter().collect();
    channels
        .sort_by_key(|channel| (channel.row.is_none(), channel.row.as_ref().map(|row| row.value), &channel.id.value));
    channels
}

/// The number of its row as printed; nothing without one.
pub(super) fn row_number(channel: &Channel) -> String {
    channel.row.as_ref().map_or_else(String::new, |row| row.to_string())
}

/// The printed name, in strong words where a style has them.
pub(super) fn name_text(channel: &Channel) -> Text {
    Text::plain(channel.name.as_str(), channel.name.span)
}

/// The frequency to hear, as dialled.
pub(super) fn hear(channel: &Channel) -> Cell {
    frequency(channel, channel.hear.value, channel.hear.span, Role::Hear)
}

/// The frequency to send, as dialled, or the words that forbid it.
pub(super) fn send(channel: &Channel, view: &View<'_>) -> Cell {
    let is_silent = silent_place(view).is_some();
    let silence = if is_silent && channel.send.is_some() { "do not send" } else { "listen only" };
    channel.send.as_ref().filter(|_| !is_silent).map_or_else(
        || Cell { text: Text::plain(silence, channel.span), role: Role::Word, base: Some("off".to_owned()) },
        |send| frequency(channel, send.value, send.span, Role::Send),
    )
}

fn frequency(channel: &Channel, value: Frequency, span: Span, role: Role) -> Cell {
    let printed = if channel.side().is_some() { value.to_khz() } else { value.to_mhz() };
    Cell { text: Text::plain(printed, span), role, base: Some(value.as_hertz().to_string()) }
}

/// The tone to send; on an HF dial frequency the sideband. None where nothing is sent.
pub(super) fn tone(channel: &Channel) -> Option<Cell> {
    if let Route::Dial(side) = &channel.route {
        let word = if channel.signal.mode.value == Mode::Cw { "CW" } else { side.value.word() };
        return Some(Cell {
            text: Text::plain(word, side.span),
            role: Role::Word,
            base: Some(side.value.word().to_owned()),
        });
    }
    channel.send.as_ref()?;
    Some(tone_cell(channel.send_tone.value, channel.send_tone.span))
}

/// The tone to hear, where one is set: it is keyed, so it stands as large as the others.
pub(super) fn hear_tone(channel: &Channel) -> Option<Cell> {
    channel.hear_tone.value.is_set().then(|| tone_cell(channel.hear_tone.value, channel.hear_tone.span))
}

/// A tone as keyed, or the word that stands for none.
pub(super) fn tone_cell(tone: Tone, span: Span) -> Cell {
    // What opens a repeater on a carrier alone is, on the radio, no tone at all.
    let (words, role) = match tone {
        Tone::Off | Tone::Carrier => ("off".to_owned(), Role::Word),
        Tone::Unknown => ("unknown".to_owned(), Role::Word),
        set => (set.keyed(), Role::Tone),
    };
    Cell { text: Text::plain(words, span), role, base: Some(tone.to_string()) }
}

/// How the bits of DCS codes are sent and heard, which [`narrow`] cells do not say.
pub(super) fn senses(channel: &Channel, is_keyed: bool) -> Vec<String> {
    let sent = channel.send_tone.value.sense().filter(|_| is_keyed).map(|sense| format!("DCS {sense}"));
    let heard = channel.hear_tone.value.sense().map(|sense| format!("hear DCS {sense}"));
    sent.into_iter().chain(heard).collect()
}

/// A tone's cell where the column is narrow: what does not fit of a DCS code is said by [`senses`].
pub(super) fn narrow(cell: Cell, tone: Tone) -> Cell {
    if tone.sense().is_none() || cell.role != Role::Tone {
        return cell;
    }
    Cell { text: Text::plain(tone.keyed_short(), cell.text.span), ..cell }
}

/// The most a station may use; on a personal copy not more than the law leaves the holder's class, nor than the own radio has.
pub(super) fn power(channel: &Channel, view: &View<'_>) -> Option<Power> {
    let written = channel.power.map(|power| power.value);
    let Some(Holder::Member(member)) = view.holder() else { return written };
    let (own, limit) = (own_power(view.plan(), member, channel), view.limit(channel));
    let power = written.into_iter().chain(own).chain(limit.most).min()?;
    // A limit alone is no power that anybody has.
    if written.is_none() && own.is_none() {
        return None;
    }
    let class = member.class.as_ref().and_then(|class| view.profile().class(class.as_str()));
    let stretch = limit.stretch.filter(|_| channel.service.is_amateur());
    let limit = Option::zip(class, stretch).and_then(|(class, stretch)| class_limit(view.profile(), class, &stretch));
    Some(limit.map_or(power, |limit| power.min(limit.most.power)))
}

/// What a channel occupies on a frequency, as the checks reckon it; of a plan that was checked there is always an answer.
pub(super) fn occupied(channel: &Channel, at: Frequency, view: &View<'_>) -> Option<Stretch> {
    Transmission::heard_on(view.plan(), channel).moved(at).occupies(view.profile(), &view.tables().modes).ok()
}

/// Another service than amateur, with the holder's own call sign in it. Where one may send in it, an amateur radio may not be used.
pub(super) fn service(channel: &Channel, view: &View<'_>) -> Option<String> {
    if let Some(theirs) = heard_service(channel, view) {
        return Some(if theirs == NOT_AMATEUR { theirs } else { format!("{theirs} service") });
    }
    let what = if channel.send.is_some() { "radio only" } else { "service" };
    let call = own_call(channel, view).map(|call| format!(", your call {call}")).unwrap_or_default();
    (!channel.service.is_amateur()).then(|| format!("{} {what}{call}", service_word(channel, view)))
}

/// The call sign that the holder of a personal copy has in a channel's service, where a licence gives one.
fn own_call<'a>(channel: &Channel, view: &View<'a>) -> Option<&'a str> {
    let Some(Holder::Member(member)) = view.holder() else { return None };
    let is_of = |licence: &&Licence| licence.service.value == channel.service.value;
    channel.send.and_then(|_| member.licences.iter().find(is_of)?.call.as_ref()).map(|call| call.as_str())
}

/// A channel's service in a word: the plan's own; that of the frequency where an amateur channel is only listened to outside the
/// amateur bands.
pub(super) fn service_word(channel: &Channel, view: &View<'_>) -> String {
    if let Some(theirs) = heard_service(channel, view) {
        return theirs;
    }
    channel.service.short().to_owned()
}

/// What is said of a frequency outside the amateur bands that no table has.
const NOT_AMATEUR: &str = "not amateur";

/// Whose frequency it is where the plan names no service and nobody sends: outside the amateur bands it is not amateur.
pub(super) fn heard_service(channel: &Channel, view: &View<'_>) -> Option<String> {
    let profile = view.profile();
    let is_outside = !profile.bands.iter().any(|band| band.edges.has(channel.hear.value));
    if !channel.service.is_amateur() || channel.send.is_some() || !is_outside {
        return None;
    }
    let rows = profile.service_channels.iter().filter(|row| row.frequency == channel.hear.value);
    let mut names: Vec<&str> = rows
        .map(|row| profile.service(&row.service).map_or(row.service.as_str(), |service| service.name.as_str()))
        .collect();
    names.dedup();
    Some(if names.is_empty() { NOT_AMATEUR.to_owned() } else { names.join(" or ") })
}

/// What is said of an SSB dial: the side stands in a column.
pub(super) const VOICE: &str = "voice";

/// The mode with its width; voice on an SSB dial, where the side stands in a column, unless a width of its own is written.
pub(super) fn emission(channel: &Channel) -> String {
    let signal = &channel.signal;
    if let Some(designator) = &signal.emission {
        return format!("{} {}", signal.mode.value, designator.value);
    }
    let is_usual = !matches!(signal.width.value, WidthWord::Exact(_));
    if channel.side().is_some() && signal.mode.value == Mode::Ssb && is_usual {
        return VOICE.to_owned();
    }
    mode_words(signal, &Tables::built_in().modes)
}

/// How far from its frequency one looks for the others: `about ±20 kHz`.
pub(super) fn about(channel: &Channel) -> Option<String> {
    channel.around.map(|around| format!("about \u{b1}{}", around.value))
}

/// What else the radio is tuned to: audio on a dial, slot and group of a digital repeater, speed of packet.
pub(super) fn tuned(channel: &Channel) -> Vec<String> {
    let audio = channel.signal.audio.as_ref().map(|audio| format!("audio {} Hz", audio.as_hertz()));
    let slot = channel.time_slot.map(|slot| format!("time slot {}", slot.value));
    let group = channel.talkgroup.map(|group| format!("talkgroup {}", group.value));
    let speed = channel.speed.as_ref().map(|speed| speed.to_string());
    [about(channel), audio, slot, group, speed].into_iter().flatten().collect()
}

/// How the signal gets from station to station, in a word: nothing where a repeater or gateway is named instead.
pub(super) fn way(channel: &Channel) -> &'static str {
    match &channel.route {
        Route::Repeater(_) | Route::Direct(_) if channel.send.is_none() => "listen only",
        Route::Repeater(_) | Route::Gateway(_) => "",
        Route::Direct(_) => "direct",
        Route::Simplex => "simplex",
        Route::Dial(_) => "dial in kHz",
        // Whether a repeater stands between them, the published row does not say.
        Route::Split => "two frequencies",
        Route::ListenOnly => "listen only",
    }
}

/// Where the signal goes with all that is to be known of it, and what the plan notes of the channel.
pub(super) fn place(channel: &Channel, plan: &Plan) -> Option<Text> {
    let (words, span) = match &channel.route {
        Route::Repeater(id) => (repeater_words(plan, channel, &id.value), id.span),
        Route::Direct(id) => (output_words(plan, &id.value), id.span),
        Route::Gateway(id) => (gateway_words(plan, channel, &id.value), id.span),
        _ => (String::new(), channel.span),
    };
    let repeater = channel.repeater().and_then(|id| plan.repeaters.get(&id.value));
    let time_out = repeater.and_then(|repeater| repeater.time_out).map(|lapse| format!("time-out {}", lapse.value));
    let note = channel.note.as_ref().map(|note| note.value.to_string());
    let span = channel.note.as_ref().map_or(span, |note| note.span);
    let parts = std::iter::once(words).chain(time_out).chain(reached(channel, plan)).chain(note);
    let parts: Vec<String> = parts.filter(|part| !part.is_empty()).collect();
    (!parts.is_empty()).then(|| Text::plain(parts.join(", "), span))
}

/// Where the signal goes, a repeater or a gateway; else for whom it is, or what is heard; then what the plan notes of the channel.
pub(super) fn whither(channel: &Channel, plan: &Plan) -> Option<Text> {
    let (words, span) = match &channel.route {
        Route::Repeater(id) => (repeater_words(plan, channel, &id.value), id.span),
        Route::Direct(id) => (output_words(plan, &id.value), id.span),
        Route::Gateway(id) => (gateway_words(plan, channel, &id.value), id.span),
        _ => whom(channel),
    };
    let note = channel.note.as_ref().map(|note| note.value.to_string()).unwrap_or_default();
    let span = channel.note.as_ref().map_or(span, |note| note.span);
    let parts: Vec<&str> = [words.as_str(), note.as_str()].into_iter().filter(|part| !part.is_empty()).collect();
    (!parts.is_empty()).then(|| Text::plain(parts.join(", "), span))
}

/// Who uses a channel that goes from station to station; what it is for, where one dials by it or only listens.
fn whom(channel: &Channel) -> (String, Span) {
    let (function, assignment) = (channel.function.as_ref(), channel.assignment.as_ref());
    let is_for = channel.send.is_none() || channel.side().is_some();
    let said = if is_for { function.or(assignment) } else { assignment.or(function) };
    match (said, &channel.route) {
        (Some(said), _) => (said.value.to_string(), said.span),
        (None, Route::Split) => ("two frequencies".to_owned(), channel.span),
        (None, _) => (String::new(), channel.span),
    }
}

/// How far the frequency to send lies from the one to hear, as radios ask for it: in kilohertz without the unit, from one megahertz up
/// in megahertz. None where it is the same, or nothing is sent.
pub(super) fn shift(channel: &Channel) -> Option<String> {
    let send = channel.send.filter(|_| channel.side().is_none())?.value;
    let hertz = i64::try_from(send.as_hertz()).ok()? - i64::try_from(channel.hear.as_hertz()).ok()?;
    let sign = if hertz < 0 { '\u{2212}' } else { '+' };
    let size = hertz.abs();
    match size {
        0 => None,
        1..1_000_000 => Some(format!("{sign}{}", Decimal::print(size, 1000, 0))),
        _ => Some(format!("{sign}{} MHz", Decimal::print(size, 1_000_000, 0))),
    }
}

/// What a connection through a gateway takes.
pub(super) fn reached(channel: &Channel, plan: &Plan) -> Vec<String> {
    let Route::Gateway(id) = &channel.route else { return Vec::new() };
    let Some(gateway) = plan.gateways.get(&id.value) else { return Vec::new() };
    let via = gateway.via.as_ref().map(|via| format!("via {}", via.value));
    let needs_internet = gateway.needs_internet.value;
    via.into_iter().chain(needs_internet.then(|| "needs the internet".to_owned())).collect()
}

fn output_words(plan: &Plan, id: &Ref<Repeater>) -> String {
    let name = plan.repeaters.get(id).map(|repeater| repeater.name.as_str()).unwrap_or_default();
    format!("on the output of {name}")
}

fn repeater_words(plan: &Plan, channel: &Channel, id: &Ref<Repeater>) -> String {
    let Some(repeater) = plan.repeaters.get(id) else { return "repeater".to_owned() };
    let call = repeater.call.as_ref().map(|call| format!(" {}", call.value)).unwrap_or_default();
    let input = if repeater.input.is_none() { ", input unknown" } else { "" };
    let opens = other_tones(channel, repeater);
    let linked: Vec<&str> = networks_of(plan, channel).map(|network| network.name.as_str()).collect();
    let linked = if linked.is_empty() { String::new() } else { format!(", linked: {}", linked.join(", ")) };
    let note = repeater.note.as_ref().map(|note| format!(", {}", note.value)).unwrap_or_default();
    // The name of a repeater that the channel alone uses is the channel's own, and stands on the row.
    let is_own = repeater.id.value == channel.id.value && repeater.name.value == channel.name.value;
    let name = if is_own { "repeater" } else { repeater.name.as_str() };
    format!("{name}{call}{input}{linked}{opens}{note}")
}

/// What opens a repeater beside the tone that the row has.
fn other_tones(channel: &Channel, repeater: &Repeater) -> String {
    let others = repeater.tones.tone_in.all().filter(|tone| tone.value != channel.send_tone.value);
    let others: Vec<String> = others.map(|tone| tone.value.keyed()).collect();
    let is_said = channel.send.is_some() && repeater.tones.tone_in.all().count() > 1;
    if is_said && !others.is_empty() { format!(", opens on {} too", others.join(" or ")) } else { String::new() }
}

fn gateway_words(plan: &Plan, channel: &Channel, id: &Ref<Gateway>) -> String {
    let Some(gateway) = plan.gateways.get(id) else { return "gateway".to_owned() };
    let kind = match gateway.kind.map(|kind| kind.value) {
        Some(GatewayKind::Mailbox) => ", mailbox",
        Some(GatewayKind::Node) => ", node",
        Some(GatewayKind::InternetLink) => ", internet link",
        None => "",
    };
    format!("{} {}{kind}{}", gateway.name.value, gateway.call.value, other_frequencies(channel, gateway))
}

/// On what else a gateway is tried, before the row's own frequency and behind it: `, first 145.0500 MHz, then 7.1041 MHz`.
fn other_frequencies(channel: &Channel, gateway: &Gateway) -> String {
    let all: Vec<Frequency> = gateway.frequency.value.all().map(|one| one.value).collect();
    let own = all.iter().position(|one| *one == channel.hear.value).unwrap_or(0);
    let words = |word: &str, some: &[Frequency]| {
        let megahertz: Vec<String> = some.iter().map(|one| one.to_mhz()).collect();
        if megahertz.is_empty() { String::new() } else { format!(", {word} {} MHz", megahertz.join(", ")) }
    };
    let (before, behind) = (all.get(..own).unwrap_or_default(), all.get(own + 1..).unwrap_or_default());
    words("first", before) + &words("then", behind)
}

/// A name that is not parted at the end of a line: `TAC 1` is one word to whoever looks for it.
pub(super) fn tied(name: &str) -> String {
    name.replace(' ', "\u{a0}")
}

/// Where to go when nobody answers, and what to say of it. On a personal copy a channel that the own radios do not hear is named as one
/// to wait out, with the one after it; what leads on from such a channel is nothing to its holder but where the net goes.
pub(super) fn onward_from(channel: &Channel, view: &View<'_>) -> Option<(String, Option<String>)> {
    let member = match view.holder() {
        Some(Holder::Member(member)) => Some(member).filter(|member| hears(view.plan(), member, channel)),
        _ => None,
    };
    let steps = steps(view.plan(), channel, member);
    let first = steps.first()?;
    let more = (!first.is_heard).then(|| {
        let words: Vec<String> = steps.iter().enumerate().map(|(place, step)| step_words(place == 0, step)).collect();
        words.join("; ")
    });
    Some((first.channel.name.to_string(), more))
}

fn step_words(is_first: bool, step: &Step<'_>) -> String {
    let name = tied(step.channel.name.as_str());
    let when = match (is_first, step.after) {
        (true, _) => String::new(),
        (false, None) => "later ".to_owned(),
        (false, Some(after)) => format!("after {after} "),
    };
    let not_heard = if step.is_heard { "" } else { ": not in your radio" };
    format!("{when}{name}{not_heard}")
}

/// What is to be minded of a row: that it is not on the air, and what is warned of besides.
pub(super) fn minded(channel: &Channel, warning: Option<Text>) -> Option<Text> {
    let Some(status) = channel.status else { return warning };
    let text = Text::strong(status.value.words(), status.span);
    Some(match warning {
        Some(warning) => {
            let mut text = text.then(", ");
            text.runs.extend(warning.runs);
            text
        }
        None => text,
    })
}

/// Who may send here, in strong words, when not everybody of the team may: the lowest class that may send, when some member of
/// the plan holds a lower one; without members it speaks whenever the lowest class of the profile may not. On a personal copy
/// [`super::holding::Holding`] speaks of the holder instead.
pub(super) fn warning(channel: &Channel, view: &View<'_>) -> Option<Text> {
    channel.send.as_ref()?;
    if let Some(place) = silent_place(view) {
        let text = Text::strong("do not send", channel.span);
        return Some(text.then(format!(": nothing may be sent at {}", place.tactical.value)));
    }
    if !channel.service.is_amateur() {
        return service_warning(channel, view);
    }
    let Some(least) = view.eligibility(None).on(channel).least() else {
        return Some(Text::strong("listen only", channel.span).then(": no class may send here"));
    };
    let lowest = view.lowest_class().unwrap_or(0);
    let is_limited = rank(view, &least.id).is_some_and(|rank| rank > lowest);
    is_limited.then(|| Text::strong("listen only", channel.span).then(without(least)))
}

/// The same for a channel of another service: what some member of the team lacks, or will lack before the review.
fn service_warning(channel: &Channel, view: &View<'_>) -> Option<Text> {
    let plan = view.plan();
    let day = plan.edition.as_ref().map(|edition| edition.valid_from.value);
    if let Some(lacks) = plan.members.iter().find_map(|member| authority(plan, channel, member, day).err()) {
        return Some(Text::strong("listen only", channel.span).then(lacking_words(lacks, channel)));
    }
    let review = plan.edition.as_ref()?.review_by.value;
    let ends = plan.members.iter().filter_map(|member| authority_until(plan, channel, member, day?));
    let last = ends.min().filter(|last| *last < review)?;
    Some(Text::strong(format!("after {last} listen only"), channel.span).then(lacking_then(last, channel, view)))
}

/// What somebody will lack once the last day of authority is over: ` without a GMRS license`.
pub(super) fn lacking_then(last: Day, channel: &Channel, view: &View<'_>) -> String {
    let after = last.as_date().succ_opt().map(Day::from_date);
    let mut members = view.plan().members.iter();
    let holder = match view.holder() {
        Some(Holder::Member(member)) => Some(member),
        _ => None,
    };
    let lacks = |member| authority(view.plan(), channel, member, after).err();
    let lacks = holder.map_or_else(|| members.find_map(lacks), lacks);
    lacks.map(|lacks| lacking_words(lacks, channel)).unwrap_or_default()
}

fn lacking_words(lacks: Barred, channel: &Channel) -> String {
    let service = channel.service.short();
    let article = article(service);
    match lacks {
        Barred::Nobody => String::new(),
        Barred::NoLicence | Barred::LicenceEnded => format!(" without {article} {service} license"),
        // The row says of which service: nobody sends there with another radio.
        Barred::NoRules | Barred::NoAgreement => " without an agreement".to_owned(),
    }
}

/// What somebody lacks in another service.
pub(super) fn barred_words(barred: Barred, channel: &Channel) -> String {
    let service = &channel.service.name;
    match barred {
        Barred::NoLicence => format!("no {service} license"),
        Barred::LicenceEnded => format!("{service} license ended"),
        Barred::NoRules | Barred::NoAgreement => format!("no {service} agreement"),
        Barred::Nobody => format!("nobody sends in the {service} service"),
    }
}

fn without(class: &Class) -> String {
    format!(" without {} {} in control here", article(&class.name), class.name)
}

fn rank(view: &View<'_>, class: &str) -> Option<usize> {
    view.profile().classes.iter().position(|known| known.id == class)
}

/// How a radio is set to a channel, as words of one line: by the dial and the side where it has one, and no tone where nothing is sent.
pub(super) fn set(channel: &Channel) -> String {
    let (side, sends) = (channel.side(), channel.send.is_some());
    let told = |(key, _, value): (&'static str, Danger, Option<String>)| {
        let value = value?;
        match (key, side) {
            ("width" | "send tone" | "hear tone", Some(_)) => None,
            ("mode", Some(side)) => Some(format!("side {side}")),
            ("send", Some(_)) if sends => None,
            ("hear", Some(_)) => Some(format!("dial {} kHz", channel.hear.value.to_khz())),
            ("send tone", None) if !sends => None,
            _ => Some(format!("{key} {value}")),
        }
    };
    as_set(channel).into_iter().filter_map(told).collect::<Vec<_>>().join(", ")
}
