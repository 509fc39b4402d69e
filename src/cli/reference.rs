//! Every key of a format, from its JSON Schema: what `explain` prints of keys.

use serde_json::{Map, Value as Json};

/// A table with its keys.
pub struct ReferenceTable {
    /// What it is called: `channel`, `contact`.
    pub name: String,
    /// How it is written, and where: `[[channel]]`, or `contact` in `[[place]]`.
    pub heading: String,
    /// What it is.
    pub about: String,
    /// Its keys, in order.
    pub keys: Vec<ReferenceKey>,
}

/// A key of a table.
pub struct ReferenceKey {
    /// As written.
    pub name: String,
    /// What it takes, in words, with its unit.
    pub takes: String,
    /// Whether it must be there.
    pub is_must: bool,
    /// What holds when it is left out.
    pub left_out: Option<String>,
    /// One that is taken, as TOML.
    pub example: String,
    /// What it says.
    pub meaning: String,
}

/// The tables of a format, what stands at the top of a file first.
pub fn tables(schema: &Json) -> Vec<ReferenceTable> {
    let format = ReferenceFormat { schema };
    let top = properties(schema);
    let is_table = |node: &Json| format.table_of(node).is_some();
    let mut tables = Vec::new();
    if top.iter().any(|(_, node)| !is_table(node)) {
        let heading = format!("The top of a file: {}", text(schema, "title"));
        let keys = top.iter().filter(|(_, node)| !is_table(node)).map(|(name, node)| format.key(name, node, schema));
        tables.push(ReferenceTable {
            name: text(schema, "title"),
            heading,
            about: about(schema),
            keys: keys.collect(),
        });
    }
    for (name, node) in format.defs().filter(|(_, node)| node.get("properties").is_some()) {
        let keys = properties(node).iter().map(|(key, inner)| format.key(key, inner, node));
        tables.push(ReferenceTable {
            name: name.clone(),
            heading: format.heading(name),
            about: about(node),
            keys: keys.collect(),
        });
    }
    // As the format lists its records; what stands inside others follows them.
    let place =
        |table: &ReferenceTable| top.keys().position(|key| *key == table.name || table.heading.starts_with("The top"));
    tables.sort_by_key(|table| place(table).unwrap_or(usize::MAX));
    tables
}

/// A schema with what it refers to.
#[derive(Clone, Copy)]
struct ReferenceFormat<'a> {
    schema: &'a Json,
}

impl<'a> ReferenceFormat<'a> {
    fn defs(self) -> impl Iterator<Item = (&'a String, &'a Json)> {
        self.schema.get("$defs").and_then(Json::as_object).into_iter().flatten()
    }

    /// What a node refers to, by name.
    fn referred(self, node: &Json) -> Option<(&'a str, &'a Json)> {
        let name = node.get("$ref")?.as_str()?.rsplit('/').next()?;
        self.defs().find(|(own, _)| *own == name).map(|(own, node)| (own.as_str(), node))
    }

    /// The table that stands under a key, alone or in a list.
    fn table_of(self, node: &Json) -> Option<(&'a str, &'a Json)> {
        let inner = innermost(node);
        self.referred(inner).filter(|(_, node)| node.get("properties").is_some())
    }

    fn key(self, name: &str, node: &Json, table: &Json) -> ReferenceKey {
        let described = text(node, "description");
        let (meaning, left_out) = parted(&described);
        let musts = table.get("required").and_then(Json::as_array);
        ReferenceKey {
            name: name.to_owned(),
            takes: self.takes(node),
            is_must: musts.is_some_and(|musts| musts.iter().any(|must| must == name)),
            left_out,
            example: self.example(node).map(|example| toml(&example)).unwrap_or_default(),
            meaning,
        }
    }

    fn takes(self, node: &Json) -> String {
        if let Some(items) = node.get("items") {
            return format!("a list of which each is {}", self.takes(items));
        }
        match self.referred(node) {
            Some((name, table)) if table.get("properties").is_some() => format!("a table, see `{name}`"),
            Some((_, value)) if words(value).is_empty() => text(value, "description"),
            Some((_, value)) => value_of(value),
            None => value_of(node),
        }
    }

    /// One that is taken: as the key says it, else as its type does, else made of what must be there.
    fn example(self, node: &Json) -> Option<Json> {
        if let Some(own) = node.get("examples").and_then(|all| all.get(0)) {
            return Some(own.clone());
        }
        if let Some(items) = node.get("items") {
            return Some(Json::Array(vec![self.example(items)?]));
        }
        match node.get("type").and_then(Json::as_str) {
            Some("boolean") => return Some(Json::Bool(true)),
            Some("integer") => return node.get("minimum").cloned(),
            _ => {}
        }
        if let Some(word) = words(node).first() {
            return Some(Json::from(*word));
        }
        if let Some((name, referred)) = self.referred(node) {
            let id = name.strip_suffix("-id").and_then(|kind| self.defs().find(|(own, _)| *own == kind));
            return self.example(id.and_then(|(_, record)| properties(record).get("id")).unwrap_or(referred));
        }
        let keys = node.get("properties")?.as_object()?;
        let is_must = |key: &&String| {
            let musts = node.get("required").and_then(Json::as_array);
            musts.is_some_and(|musts| musts.iter().any(|must| must == key.as_str()))
        };
        let musts: Vec<&String> = keys.keys().filter(is_must).collect();
        let shown = if musts.is_empty() { keys.keys().take(1).collect() } else { musts };
        let example = |key: &String| Some((key.clone(), self.example(keys.get(key)?)?));
        Some(Json::Object(shown.into_iter().filter_map(example).collect::<Map<_, _>>()))
    }

    /// How a table is written, wherever it stands.
    fn heading(self, name: &str) -> String {
        let is_here = |(_, node): &(&String, &Json)| self.table_of(node).is_some_and(|(own, _)| own == name);
        let by_itself = properties(self.schema).iter().filter(is_here).map(|(key, node)| match node.get("items") {
            Some(_) => format!("[[{key}]]"),
            None => format!("[{key}]"),
        });
        let inside = self.defs().flat_map(|(holder, node)| {
            let keys = properties(node).iter().filter(is_here);
            keys.map(move |(key, _)| format!("`{key}` in `{holder}`"))
        });
        let places: Vec<String> = by_itself.chain(inside).collect();
        match places.as_slice() {
            [first, second, rest @ ..] if rest.len() > MORE => format!("{first}, {second} and {} more", rest.len()),
            places => places.join(", "),
        }
    }
}

/// As many places of a table beside its first two are named each.
const MORE: usize = 3;

/// What a value is that is described where it stands.
fn value_of(node: &Json) -> String {
    let words = words(node);
    if !words.is_empty() {
        return format!("one of {}", words.join(", "));
    }
    let limit = |key: &str| node.get(key).and_then(Json::as_u64).unwrap_or_default();
    match node.get("type").and_then(Json::as_str) {
        Some("boolean") => "true or false".to_owned(),
        Some("integer") => format!("a whole number from {} to {}", limit("minimum"), limit("maximum")),
        Some("object") => "a table of texts".to_owned(),
        _ => "text".to_owned(),
    }
}

/// What stands in a list, and in lists of lists.
fn innermost(node: &Json) -> &Json {
    node.get("items").map_or(node, innermost)
}

fn properties(node: &Json) -> &Map<String, Json> {
    static NONE: std::sync::LazyLock<Map<String, Json>> = std::sync::LazyLock::new(Map::new);
    node.get("properties").and_then(Json::as_object).unwrap_or(&NONE)
}

fn text(node: &Json, key: &str) -> String {
    node.get(key).and_then(Json::as_str).unwrap_or_default().to_owned()
}

/// What a table is, without the header that its doc begins with.
fn about(node: &Json) -> String {
    let doc = text(node, "description");
    match doc.split_once("]`: ") {
        Some((_, about)) if doc.starts_with('`') => about.to_owned(),
        _ => doc,
    }
}

/// The words of a closed list.
fn words(node: &Json) -> Vec<&str> {
    let listed = node.get("enum").and_then(Json::as_array).into_iter().flatten().filter_map(Json::as_str);
    let ways = node.get("oneOf").and_then(Json::as_array).into_iter().flatten();
    listed.chain(ways.filter_map(|way| way.get("const")?.as_str())).collect()
}

/// A doc as meaning and as what holds when the key is left out; the example goes, which is shown by itself.
fn parted(doc: &str) -> (String, Option<String>) {
    let doc = match doc.split_once(", as `").and_then(|(before, rest)| Some((before, rest.split_once('`')?.1))) {
        Some((before, after)) => format!("{before}{after}"),
        None => doc.to_owned(),
    };
    let Some((before, after)) = doc.split_once(" when left out") else { return (doc, None) };
    let start = before.rfind("; ").or_else(|| before.rfind(". "));
    let (kept, left_out) = before.split_at(start.unwrap_or(0));
    let after = after.trim_start_matches('.');
    let kept = if kept.is_empty() { String::new() } else { format!("{kept}.") };
    (format!("{kept}{after}"), Some(left_out.trim_matches([';', '.', ',', ' ']).to_owned()))
}

/// A value as TOML.
fn toml(value: &Json) -> String {
    let all = |items: Vec<String>| items.join(", ");
    match value {
        Json::String(text) if is_day(text) => text.clone(),
        Json::Array(items) => format!("[{}]", all(items.iter().map(toml).collect())),
        Json::Object(keys) => {
            format!("{{ {} }}", all(keys.iter().map(|(key, value)| format!("{key} = {}", toml(value))).collect()))
        }
        other => other.to_string(),
    }
}

fn is_day(text: &str) -> bool {
    text.len() == 10
        && text.split('-').map(str::len).eq([4, 2, 2])
        && text.bytes().all(|b| b == b'-' || b.is_ascii_digit())
}
