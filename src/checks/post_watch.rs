//! What a shift at a post lacks on the channels of its nets, as several rules tell it.

use crate::ground::{Day, Span, listed};
use crate::plan::{Channel, Duty, Member, Net, Post};

/// Somebody on duty, and the day for which is asked whether the law lets them send.
pub(super) type Present<'a> = (&'a Member, Day);

/// A post with the same people.
pub(super) struct PostWatch<'a> {
    /// The post.
    pub post: &'a Post,
    /// Who stands it, and on which day that begins.
    pub members: Vec<Present<'a>>,
    /// Their duties.
    pub duties: Vec<&'a Duty>,
    /// `2026-12-05 06:00 to 18:00`, more than once where the same people come again.
    pub when: String,
    /// Channels on which the law lets none of them send, though it lets others of the net.
    pub silent: Vec<Need<'a>>,
    /// Channels for which none of them has a radio.
    pub unequipped: Vec<Need<'a>>,
    /// The primary channels of the nets worked at once, where their radios are fewer; and on how many they work.
    pub crowded: Option<(Vec<Need<'a>>, usize)>,
}

/// A channel that a post needs for one of its nets.
#[derive(Clone, Copy)]
pub(super) struct Need<'a> {
    /// The channel.
    pub channel: &'a Channel,
    /// The net.
    pub net: &'a Net,
    /// Where the plan says so.
    pub at: Span,
}

impl PostWatch<'_> {
    /// The people's names.
    pub(super) fn names(&self) -> String {
        listed(&self.members.iter().map(|(member, _)| member.name.as_str()).collect::<Vec<_>>())
    }
}

/// `CMD 1, TAC 1 of Command net`.
pub(super) fn named(needs: &[Need<'_>]) -> String {
    let channels: Vec<&str> = needs.iter().map(|need| need.channel.name.as_str()).collect();
    let nets: Vec<&str> = nets_of(needs).iter().map(|net| net.name.as_str()).collect();
    format!("{} of {}", listed(&channels), listed(&nets))
}

/// The nets that need them, each once.
pub(super) fn nets_of<'a>(needs: &[Need<'a>]) -> Vec<&'a Net> {
    let mut nets: Vec<&Net> = Vec::new();
    for need in needs {
        if nets.iter().all(|net| net.id.value != need.net.id.value) {
            nets.push(need.net);
        }
    }
    nets
}
