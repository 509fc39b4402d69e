//! How plans name a service: by the id of a row of their profile.

use super::Tables;
use super::profile::Profile;
use super::rules::SERVICE_UNKNOWN;
use super::service::Service;
use crate::ground::{At, Finding, Span};
use crate::source::{Node, Reading, Schemas, SettledBy, Value, Written, meant, respelled};
use serde_json::{Value as Json, json};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A service as a plan names it: one of its profile's.
impl Written for Arc<Service> {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let (Value::Text(text) | Value::Field(text)) = &node.value else {
            node.refuse("a word", of);
            return None;
        };
        let profile = of.habits.profile::<Profile>()?;
        let id = respelled(text, &profile.service_ids()).unwrap_or(text);
        let named = profile.service(text).or_else(|| profile.service(id)).cloned();
        if named.is_none() {
            of.found.push(unknown(text, node.span, profile));
        }
        named
    }

    fn schema(schemas: &mut Schemas) -> Json {
        schemas.named("Service", |_| {
            let profiles = &Tables::built_in().profiles;
            let ids: BTreeSet<&str> =
                profiles.iter().flat_map(|profile| &profile.services).map(|service| service.id.as_str()).collect();
            json!({ "type": "string", "description": "A service of the profile, by its id.", "examples": ids })
        })
    }
}

fn unknown(text: &str, at: Span, profile: &Profile) -> Finding {
    let ids = profile.service_ids();
    let what = format!("the profile {} has no service \"{text}\"", profile.id);
    let finding = Finding::new(&SERVICE_UNKNOWN, at, what).label("no service of this profile");
    let plain = |word: &str| word.trim().to_lowercase().replace(['_', ' '], "-");
    let typed = plain(text);
    let is_meant = |service: &Arc<Service>| service.also.iter().chain([&service.name]).any(|word| plain(word) == typed);
    let sure = profile.services.iter().find(|service| is_meant(service)).map(|service| (service.id.as_str(), true));
    let list = format!("its services: {}", ids.join(", "));
    match sure.or_else(|| meant("service", text, &ids)) {
        Some((id, true)) => finding.note(list).help(format!("write \"{id}\"")).fix(at, format!("\"{id}\"")),
        Some((id, false)) => finding.note(list).did_you_mean(id),
        None => finding.help(format!("write one of: {}", ids.join(", "))),
    }
}

/// The service of who names none: the amateur service of the profile.
pub struct OfAmateur;

impl SettledBy<OfAmateur> for At<Arc<Service>> {
    fn settle(written: Option<Self>, _: OfAmateur, of: &mut Reading<'_>) -> Option<Self> {
        written.or_else(|| Some(Self::new(Arc::clone(&of.habits.profile::<Profile>()?.amateur), of.span)))
    }
}
