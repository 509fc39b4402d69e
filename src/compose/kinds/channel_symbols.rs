//! The channel list as QR symbols on a sheet of their own: whoever scans them has the list as text.

use crate::audience::View;
use crate::compose::block::{Block, Paragraph, Role, Section, Text};
use crate::compose::channel_list;
use crate::compose::kind::{Compose, Kind};
use crate::ground::Audience;
use crate::plan::Each;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "channel-symbols",
    title: "Channel list to scan",
    about: "the channel list as QR symbols, to be scanned as plain text",
    layout: "full",
    each: &[Each::Once, Each::Member, Each::Place],
    widest: Audience::Public,
    sections: &["scan"],
    tables: &[],
    compose: Compose::View(compose),
};

fn compose(view: &View<'_>) -> Vec<Section> {
    let mut blocks = channel_list::symbols(view);
    if blocks.is_empty() {
        let text = Text::own("The plan has no channel.");
        blocks.push(Block::Paragraph(Paragraph { text, role: Role::Body }));
    }
    vec![Section { key: "scan", title: Text::own("Channel list to scan"), blocks }]
}
