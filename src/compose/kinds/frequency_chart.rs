//! Each band that the plan uses as a strip: where the channels sit, what the band plan says, what the law opens to whom.

use crate::audience::View;
use crate::compose::band_strip::{band_strips, uses};
use crate::compose::block::{Block, Paragraph, Role, Section, Strip, Text};
use crate::compose::channel_words::in_order;
use crate::compose::chart_legend::legend;
use crate::compose::frequency_list::{DIALS, FREQUENCIES, by_frequency};
use crate::compose::kind::{Compose, Kind};
use crate::compose::scale::is_low;
use crate::compose::service_strip::service_strip;
use crate::ground::Audience;
use crate::plan::{Channel, Each};
use crate::tables::Band;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "frequency-chart",
    title: "Frequency chart",
    about: "each band that the plan uses to scale, with its channels, the band plan and what the law opens to whom; all channels by frequency",
    layout: "chart",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["bands", "legend", "by-frequency"],
    tables: &[&DIALS, &FREQUENCIES],
    compose: Compose::View(compose),
};

fn compose(view: &View<'_>) -> Vec<Section> {
    let channels = in_order(view.plan());
    let amateur: Vec<&Channel> = channels.iter().copied().filter(|channel| channel.service.is_amateur()).collect();
    let is_used = |band: &&Band| amateur.iter().any(|channel| uses(channel, &band.edges));
    let bands: Vec<&Band> = view.profile().bands.iter().filter(is_used).collect();
    let strips: Vec<Strip> = bands.iter().flat_map(|band| band_strips(view, band, &amateur)).collect();
    let (low, mut high): (Vec<Strip>, Vec<Strip>) = strips.into_iter().partition(|strip| is_low(strip.low));
    high.extend(service_strip(view, &channels));
    let mut sections = Vec::new();
    for strips in [low, high].into_iter().filter(|strips| !strips.is_empty()) {
        let title = if sections.is_empty() {
            "Frequency chart".to_owned()
        } else {
            format!("Frequency chart: {}", names(&strips))
        };
        sections.push(Section {
            key: "bands",
            title: Text::own(title),
            blocks: strips.into_iter().map(Strip::block).collect(),
        });
    }
    if sections.is_empty() {
        let text = Text::own("The plan has no channel.");
        let blocks = vec![Block::Paragraph(Paragraph { text, role: Role::Small })];
        sections.push(Section { key: "bands", title: Text::own("Frequency chart"), blocks });
    }
    // After the first page's strips, where there is room for it.
    sections.insert(1, Section { key: "legend", title: Text::own("How to read it"), blocks: legend(view, &bands) });
    sections.push(Section { key: "by-frequency", title: Text::own("By frequency"), blocks: by_frequency(view) });
    sections
}

/// "2 m to other services".
fn names(strips: &[Strip]) -> String {
    let mut names: Vec<String> = strips.iter().map(|strip| strip.title.words()).collect();
    names.dedup();
    match names.as_slice() {
        [only] => only.clone(),
        [first, .., last] => format!("{first} to {}", if last == "Other" { "other services" } else { last }),
        [] => String::new(),
    }
}
