//! Which published row a channel of another service uses.

use crate::plan::Channel;
use crate::tables::{Profile, ServiceChannel};

/// The row of its service that a channel uses, by its frequencies and its mode; the one that it names, or else the one that allows most
/// power, where stations of several kinds have rows of their own. None where it sends nothing, or none fits.
#[must_use]
pub fn service_row<'a>(profile: &'a Profile, channel: &'a Channel) -> Option<&'a ServiceChannel> {
    let send = channel.send?.value;
    let rows = profile.channels_of(&channel.service);
    let fitting: Vec<_> =
        rows.filter(|row| row.is_used_by(channel.hear.value, send) && has_mode(row, channel)).collect();
    let named = channel.published().map(|published| published.cite.span);
    let is_named = |row: &&&ServiceChannel| Some(row.cite.span) == named;
    // A row that does not limit power allows any.
    let allows = |row: &&ServiceChannel| (row.most.is_none(), row.most.map(|most| most.power));
    fitting.iter().find(is_named).copied().or_else(|| fitting.into_iter().rev().max_by_key(allows))
}

/// Whether a row is for a channel's mode.
#[must_use]
pub fn has_mode(row: &ServiceChannel, channel: &Channel) -> bool {
    row.modes.is_empty() || row.modes.iter().any(|known| known == channel.signal.mode.value.word())
}
