//! Rows that have keys alike: those are written once, and under `each` what every one has of its own.
//!
//! ```toml
//! [[service-channel]]
//! service = "frs"
//! width = "12.5 kHz"
//! source = "47 CFR 95.563, 95.567, 95.573"
//! confidence = "second-hand"
//! each = [
//!     { name = "FRS 1", frequency = "462.5625 MHz", erp = "2 W" },
//!     { name = "FRS 8", frequency = "467.5625 MHz", erp = "0.5 W" },
//! ]
//! ```

use super::row::ROW;
use crate::ground::caps::ROW_BYTES_SHARED;
use crate::ground::{Findings, Refusal};
use crate::source::{Key, Node, Reading, Value};

/// The key that the rows stand under.
const EACH: &str = "each";

/// Makes of a profile what it would be with each of its rows written in full: the keys of all, then its own. A group whose rows cannot
/// be made is left out and reported.
pub(super) fn spread(root: &mut Node, found: &mut Findings) {
    let Value::Table(entries) = &mut root.value else { return };
    let mut room = ROW_BYTES_SHARED.most;
    for (_, kind) in entries {
        if let Value::List(groups) = &mut kind.value {
            for group in std::mem::take(groups) {
                match group.get(EACH) {
                    Some(_) => groups.extend(rows(group, &mut room, found)),
                    None => groups.push(group),
                }
            }
        }
    }
}

/// The rows of a group.
fn rows(group: Node, room: &mut u64, found: &mut Findings) -> Vec<Node> {
    let Value::Table(mut of_all) = group.value else { return Vec::new() };
    let Some(at) = of_all.iter().position(|(key, _)| key.text == EACH) else { return Vec::new() };
    let (_, each) = of_all.remove(at);
    let mut refuse = |refusal| {
        Reading::alone(ROW, group.span, found, |of| of.refuse(each.span, refusal));
        Vec::new()
    };
    let kind = each.kind();
    let Value::List(own) = each.value else {
        return refuse(Refusal::new(format!("{kind} stands where a list of tables is wanted")));
    };
    if own.is_empty() {
        let refusal = Refusal::new("this group has no rows, and what it says of all changes nothing");
        return refuse(refusal.help("write its rows between the brackets, or leave the group out"));
    }
    let length =
        |(key, node): &(Key, Node)| key.text.len() as u64 + u64::from(node.span.end.saturating_sub(node.span.start));
    let repeated = of_all.iter().map(length).sum::<u64>().saturating_mul(own.len() as u64);
    let Some(left) = room.checked_sub(repeated) else {
        let most = ROW_BYTES_SHARED.most;
        let what =
            format!("the rows of this group repeat {repeated} bytes of it; all groups of a profile may repeat {most}");
        return refuse(Refusal::new(what).help("write shorter texts, or fewer rows"));
    };
    *room = left;
    let row = |own: Node| match own.value {
        Value::Table(own_keys) => {
            Node { value: Value::Table(of_all.iter().cloned().chain(own_keys).collect()), span: own.span }
        }
        // What is no table is told of as any other row that is none.
        _ => own,
    };
    own.into_iter().map(row).collect()
}
