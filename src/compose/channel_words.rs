//! What a row says of a channel: every value needed to set a radio by hand, in the words of the card.

use super::block::{Cell, Role, Text};
use super::site_words::{power_words, silent_place};
use crate::audience::{Holder, View};
use crate::ground::{Day, Frequency, Power, Span, Stretch, Tone, article};
use crate::plan::{Channel, Gateway, GatewayKind, Licence, Mode, Plan, Ref, Repeater, Route, WidthWord};
use crate::reckon::{
    Barred, Eligibility, Step, Transmission, Within, authority, authority_until, class_limit, hears, mode_words,
    networks_of, own_power, service_row, spots, steps, within,
};
use crate::tables::{Class, LawArea, Tables};

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
    channel.send.as_ref().filter(|_| silent_place(view).is_none()).map_or_else(
        || Cell { text: Text::plain("do not send", channel.span), role: Role::Word, base: Some("off".to_owned()) },
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

/// That no tone to hear is set, or that none is known, where the radio has one to set.
pub(super) fn no_hear_tone(channel: &Channel) -> Option<&'static str> {
    let has_squelch = channel.side().is_none() && matches!(channel.signal.mode.value, Mode::Fm | Mode::Data);
    match channel.hear_tone.value {
        Tone::Unknown if has_squelch => Some("hear tone unknown"),
        Tone::Off | Tone::Carrier if has_squelch => Some("hear tone off"),
        _ => None,
    }
}

/// The rest that the radio needs: emission, sideband audio, speed; power where the readers of this copy may send.
pub(super) fn set_words(channel: &Channel, view: &View<'_>, sends: bool) -> Vec<String> {
    let signal = &channel.signal;
    let mut parts = Vec::new();
    let is_keyed = channel.send.is_some() && sends;
    parts.extend(senses(channel, is_keyed));
    parts.extend(emission(channel));
    parts.extend(signal.audio.as_ref().map(|audio| format!("audio {} Hz", audio.as_hertz())));
    parts.extend(channel.time_slot.map(|slot| format!("time slot {}", slot.value)));
    parts.extend(channel.talkgroup.map(|group| format!("talkgroup {}", group.value)));
    parts.extend(channel.speed.as_ref().map(|speed| speed.to_string()));
    let sends = sends && silent_place(view).is_none();
    parts.extend(sends.then(|| power_words(power(channel, view), channel, view)).flatten());
    parts.extend(service(channel, view));
    parts
}

/// The most a station may use; on a personal copy not more than the law leaves the holder's class, nor than the own radio has.
pub(super) fn power(channel: &Channel, view: &View<'_>) -> Option<Power> {
    let written = channel.power.map(|power| power.value);
    let Some(Holder::Member(member)) = view.holder() else { return written };
    let own = own_power(view.plan(), member, channel);
    let power = written.into_iter().chain(own).chain(law_limit(channel, view)).min()?;
    // A limit alone is no power that anybody has.
    if written.is_none() && own.is_none() {
        return None;
    }
    let class = member.class.as_ref().and_then(|class| view.profile().class(class.as_str()));
    let send = channel.send.filter(|_| channel.service.is_amateur());
    let stretch = send.and_then(|send| occupied(channel, send.value, view));
    let limit = Option::zip(class, stretch).and_then(|(class, stretch)| class_limit(view.profile(), class, &stretch));
    Some(limit.map_or(power, |limit| power.min(limit.most.power)))
}

/// The most that the law leaves everybody on a channel, where people may stand.
fn law_limit(channel: &Channel, view: &View<'_>) -> Option<Power> {
    let (profile, send) = (view.profile(), channel.send?.value);
    if !channel.service.is_amateur() {
        return service_row(profile, channel)?.most.map(|most| most.power);
    }
    let (stretch, spots) = (occupied(channel, send, view)?, spots(view.plan(), channel));
    let is_there = |area: &LawArea| spots.iter().any(|spot| within(area, spot) == Within::Yes);
    let binding = profile.power_limits.iter().filter(|limit| {
        limit.classes.is_empty() && limit.edges.overlaps(&stretch) && limit.area.as_ref().is_none_or(is_there)
    });
    binding.map(|limit| limit.most.power).min()
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

/// The mode with its width; none on an SSB dial, where the tone column says the sideband, unless a width of its own is written.
pub(super) fn emission(channel: &Channel) -> Option<String> {
    let signal = &channel.signal;
    if let Some(designator) = &signal.emission {
        return Some(format!("{} {}", signal.mode.value, designator.value));
    }
    let is_usual = !matches!(signal.width.value, WidthWord::Exact(_));
    let is_plain_ssb = channel.side().is_some() && signal.mode.value == Mode::Ssb && is_usual;
    (!is_plain_ssb).then(|| mode_words(signal, &Tables::built_in().modes))
}

/// How the signal gets from station to station, in a word: nothing where a repeater or gateway is named instead.
pub(super) fn way(channel: &Channel) -> &'static str {
    match &channel.route {
        Route::Repeater(_) if channel.send.is_none() => "listen only",
        Route::Repeater(_) | Route::Gateway(_) => "",
        Route::Direct(_) => "direct",
        Route::Simplex => "simplex",
        Route::Dial(_) => "dial in kHz",
        // Whether a repeater stands between them, the published row does not say.
        Route::Split if channel.standard.is_some() => "two frequencies",
        Route::Split => "two frequencies, no repeater",
        Route::ListenOnly => "listen only",
    }
}

/// Where the signal goes, a repeater or a gateway, and what the plan notes of the channel.
pub(super) fn place(channel: &Channel, plan: &Plan) -> Option<Text> {
    let (words, span) = match &channel.route {
        Route::Repeater(id) => (repeater_words(plan, channel, &id.value), id.span),
        Route::Direct(id) => (output_words(plan, &id.value), id.span),
        Route::Gateway(id) => (gateway_words(plan, &id.value), id.span),
        _ => (String::new(), channel.span),
    };
    let note = channel.note.as_ref().map(|note| note.value.to_string()).unwrap_or_default();
    let span = channel.note.as_ref().map_or(span, |note| note.span);
    let parts: Vec<&str> = [words.as_str(), note.as_str()].into_iter().filter(|part| !part.is_empty()).collect();
    (!parts.is_empty()).then(|| Text::plain(parts.join(", "), span))
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
    let time_out = repeater.time_out.as_ref().map(|lapse| format!(", time-out {}", lapse.value)).unwrap_or_default();
    let note = repeater.note.as_ref().map(|note| format!(", {}", note.value)).unwrap_or_default();
    format!("{}{call}{input}{linked}{opens}{time_out}{note}", repeater.name.value)
}

/// What opens a repeater beside the tone that the row has.
fn other_tones(channel: &Channel, repeater: &Repeater) -> String {
    let others = repeater.tones.tone_in.all().filter(|tone| tone.value != channel.send_tone.value);
    let others: Vec<String> = others.map(|tone| tone.value.keyed()).collect();
    let is_said = channel.send.is_some() && repeater.tones.tone_in.all().count() > 1;
    if is_said && !others.is_empty() { format!(", opens on {} too", others.join(" or ")) } else { String::new() }
}

fn gateway_words(plan: &Plan, id: &Ref<Gateway>) -> String {
    let Some(gateway) = plan.gateways.get(id) else { return "gateway".to_owned() };
    let via = gateway.via.as_ref().map(|via| format!(", connect via {}", via.value)).unwrap_or_default();
    let kind = match gateway.kind.map(|kind| kind.value) {
        Some(GatewayKind::Mailbox) => ", mailbox",
        Some(GatewayKind::Node) => ", node",
        Some(GatewayKind::InternetLink) => ", internet link",
        None => "",
    };
    let internet = if gateway.needs_internet.value { ", needs the internet" } else { "" };
    format!("{} {}{kind}{via}{internet}", gateway.name.value, gateway.call.value)
}

/// A name that is not parted at the end of a line: `TAC 1` is one word to whoever looks for it.
pub(super) fn tied(name: &str) -> String {
    name.replace(' ', "\u{a0}")
}

/// What to do when nobody answers. On a personal copy a channel that the own radios do not hear is named as one to wait out; what
/// leads on from such a channel is nothing to its holder but where the net goes.
pub(super) fn lost(channel: &Channel, view: &View<'_>) -> Option<Text> {
    let next = channel.next.as_ref()?;
    let member = match view.holder() {
        Some(Holder::Member(member)) => Some(member).filter(|member| hears(view.plan(), member, channel)),
        _ => None,
    };
    let steps = steps(view.plan(), channel, member);
    let words: Vec<String> = steps.iter().enumerate().map(|(index, step)| step_words(index == 0, step)).collect();
    (!words.is_empty()).then(|| Text::plain(words.join("; "), next.span))
}

fn step_words(is_first: bool, step: &Step<'_>) -> String {
    let name = tied(step.channel.name.as_str());
    let when = match (is_first, step.after) {
        (true, None) => "no answer".to_owned(),
        (true, Some(after)) => format!("no answer {after}"),
        (false, None) => "later".to_owned(),
        (false, Some(after)) => format!("after {after}"),
    };
    if step.is_heard { format!("{when}: {name}") } else { format!("{when}, net moves to {name}: not in your radio") }
}

/// What the channel is for and who uses it.
pub(super) fn function(channel: &Channel) -> Option<Text> {
    let parts: Vec<_> = [&channel.function, &channel.assignment].into_iter().flatten().collect();
    let span = parts.last()?.span;
    // What "Shelters" use for "Shelters" is said once.
    let mut words: Vec<_> = parts.iter().map(|part| part.as_str()).collect();
    words.dedup();
    Some(Text::plain(words.join(", "), span))
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
    let (tables, profile, plan) = (view.tables(), view.profile(), view.plan());
    let Some(least) = (Eligibility { tables, profile, plan, day: None }).on(channel).least() else {
        return Some(Text::strong("listen only", channel.span).then(": no class may send here"));
    };
    let classes = view.plan().members.iter().filter_map(|member| member.class.as_ref());
    let lowest = classes.filter_map(|class| rank(view, class.as_str())).min().unwrap_or(0);
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
    let service = &channel.service.name;
    let article = article(service);
    match lacks {
        Barred::Nobody => String::new(),
        Barred::NoLicence | Barred::LicenceEnded => format!(" without {article} {service} license"),
        Barred::NoRules | Barred::NoAgreement => format!(" without {article} {service} agreement"),
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
