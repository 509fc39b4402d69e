//! The keys that the program's own JSON schema names.

use serde_json::Value as Json;

/// A key of the format: its path, and the words that may stand there where the format lists them.
pub struct Key {
    pub path: Vec<String>,
    pub words: Vec<String>,
}

impl Key {
    pub fn name(&self) -> String {
        self.path.join(".")
    }
}

/// Every key that holds a value, in the order of the schema.
pub fn keys(schema: &Json) -> Vec<Key> {
    let mut keys = Vec::new();
    walk(schema, schema, &[], &mut keys);
    keys
}

fn walk(root: &Json, node: &Json, path: &[String], keys: &mut Vec<Key>) {
    let node = settled(root, node);
    if let Some(items) = node.get("items") {
        return walk(root, items, path, keys);
    }
    let Some(properties) = node.get("properties").and_then(Json::as_object) else { return };
    for (name, inner) in properties {
        // One table reads like another, whatever its records are.
        if inner["$ref"] == "#/$defs/table" && name != "channels" {
            continue;
        }
        // What counts by default is used as what it stands for.
        if path.is_empty() && name == "defaults" {
            continue;
        }
        let path: Vec<String> = path.iter().cloned().chain([name.clone()]).collect();
        let before = keys.len();
        walk(root, inner, &path, keys);
        // What has keys inside it is used through them.
        if keys.len() == before {
            keys.push(Key { path, words: words(root, inner) });
        }
    }
}

/// Past references and the alternative of null.
fn settled<'a>(root: &'a Json, node: &'a Json) -> &'a Json {
    if let Some(name) = node.get("$ref").and_then(Json::as_str) {
        return settled(root, root.pointer(name.trim_start_matches('#')).unwrap());
    }
    match node.get("anyOf").and_then(Json::as_array) {
        Some(ways) => settled(root, ways.iter().find(|way| way.get("type") != Some(&Json::from("null"))).unwrap()),
        None => node,
    }
}

fn words(root: &Json, node: &Json) -> Vec<String> {
    let node = settled(root, node);
    if let Some(items) = node.get("items") {
        return words(root, items);
    }
    let text = |json: &Json| json.as_str().map(str::to_owned);
    let listed = node.get("enum").and_then(Json::as_array).into_iter().flatten().filter_map(text);
    let ways = node.get("oneOf").and_then(Json::as_array).into_iter().flatten();
    listed.chain(ways.filter_map(|way| way.get("const").and_then(text))).collect()
}
