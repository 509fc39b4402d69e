//! How plans name a standard channel: by the name that it has in their profile.

use super::profile::Profile;
use super::rules::STANDARD_UNKNOWN;
use super::standard::{Standard, Standards, compared, standards_of};
use crate::ground::{Finding, nearest};
use crate::source::{Node, Reading, Schemas, Value, Written};
use serde_json::{Value as Json, json};
use std::sync::Arc;

impl Profile {
    /// The channel that somebody means who writes this name: a frequency's name has its service before it, as `marine 16`.
    #[must_use]
    pub fn standard(&self, written: &str) -> Option<&Arc<Standard>> {
        self.all_standards().get(&compared(written))
    }

    /// All standard channels, by their names.
    pub fn standards(&self) -> impl Iterator<Item = &Arc<Standard>> {
        self.all_standards().values()
    }

    fn all_standards(&self) -> &Standards {
        self.standards.get_or_init(|| standards_of(&self.rows, &self.amateur))
    }

    /// The names nearest to what somebody wrote, the nearest first: three at most.
    fn near_standards(&self, written: &str) -> Vec<&str> {
        let (typed, all) = (compared(written), self.all_standards());
        let mut near: Vec<&str> = Vec::new();
        while near.len() < NEAR {
            let rest = all.iter().filter(|(_, standard)| !near.contains(&standard.name.as_str()));
            let Some(known_as) = nearest(&typed, rest.map(|(known_as, _)| known_as.as_str())) else { break };
            near.extend(all.get(known_as).map(|standard| standard.name.as_str()));
        }
        near
    }
}

/// How many names are proposed: chosen by eye.
const NEAR: usize = 3;

/// A channel as a plan names it: one of its profile's.
impl Written for Arc<Standard> {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let (Value::Text(text) | Value::Field(text)) = &node.value else {
            node.refuse("the name of a channel", of);
            return None;
        };
        let profile = of.habits.profile::<Profile>()?;
        let named = profile.standard(text).cloned();
        if named.is_none() {
            let what = format!("the profile {} has no channel \"{text}\"", profile.id);
            let finding = Finding::new(&STANDARD_UNKNOWN, node.span, what).label("no channel of this profile");
            of.found.push(match profile.near_standards(text).as_slice() {
                [] => {
                    let example = profile.standards().next().map_or("...", |standard| standard.name.as_str());
                    finding
                        .help(format!("write a name as the profile has it, as \"{example}\", or leave `standard` out"))
                }
                [one] => finding.did_you_mean(one),
                near => finding.help(format!("did you mean one of these: {}?", near.join(", "))),
            });
        }
        named
    }

    fn schema(schemas: &mut Schemas) -> Json {
        schemas.named("Standard", |_| {
            json!({
                "type": "string",
                "description": "A channel that the profile publishes, by its name.",
                "examples": ["VTAC11", "calling 146.520"],
            })
        })
    }
}
