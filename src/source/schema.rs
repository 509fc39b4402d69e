//! JSON Schema of what can be written, gathered from the declarations.

use serde_json::{Map, Value as Json, json};

/// Schemas of records and values, each described once and referred to by its name.
#[derive(Default)]
pub struct Schemas {
    named: Map<String, Json>,
}

impl Schemas {
    /// Refers to the schema of this name; makes it where there is none yet.
    pub fn named(&mut self, name: &str, make: impl FnOnce(&mut Self) -> Json) -> Json {
        if !self.named.contains_key(name) {
            // Holds the place: a record may refer to itself.
            self.named.insert(name.to_owned(), Json::Null);
            let schema = make(self);
            self.named.insert(name.to_owned(), schema);
        }
        json!({ "$ref": format!("#/$defs/{name}") })
    }

    /// Says that a key of a record need not be there after all.
    pub fn unrequire(&mut self, name: &str, key: &str) {
        let required = self.named.get_mut(name).and_then(|schema| schema.get_mut("required")?.as_array_mut());
        required.into_iter().for_each(|required| required.retain(|own| own != key));
    }

    /// A value that is written as text.
    pub fn text(&mut self, name: &str, what: &str, example: &str) -> Json {
        self.named(name, |_| json!({ "type": "string", "description": what, "examples": [example] }))
    }

    /// A closed list of words, each with its meaning.
    pub fn words(&mut self, name: &str, doc: &[&str], words: &[(&str, &[&str])]) -> Json {
        self.named(name, |_| {
            let word =
                |(word, doc): &(&str, &[&str])| json!({ "type": "string", "const": word, "description": prose(doc) });
            json!({ "oneOf": words.iter().map(word).collect::<Vec<_>>(), "description": prose(doc) })
        })
    }
}

/// The keys of one table.
#[derive(Default)]
pub struct KeySchemas {
    properties: Map<String, Json>,
    required: Vec<String>,
}

impl KeySchemas {
    /// A key with its meaning. What its doc says after "as" in backticks is an example of its value,
    /// or of one in its list.
    pub fn key(&mut self, key: &str, doc: &[&str], mut schema: Json) {
        let meaning = prose(doc);
        if let Some(schema) = schema.as_object_mut() {
            if let Some(text) = example_in(&meaning) {
                let is_list = schema.get("type").and_then(Json::as_str) == Some("array");
                // A number, a list or a table is as it is, all else is text.
                let example = serde_json::from_str(text).unwrap_or_else(|_| Json::from(text));
                let example = if is_list && !example.is_array() { json!([example]) } else { example };
                schema.insert("examples".to_owned(), json!([example]));
            }
            schema.insert("description".to_owned(), meaning.into());
        }
        self.properties.insert(key.to_owned(), schema);
    }

    /// Says that a key must be there.
    pub fn require(&mut self, key: &str) {
        self.required.push(key.to_owned());
    }

    /// The schema of a whole file, with what it refers to.
    #[must_use]
    pub fn into_document(self, title: &str, doc: &[&str], schemas: Schemas) -> Json {
        json!({
            "$schema": "https://json-schema.org/draft/2020-12/schema",
            "title": title,
            "type": "object",
            "additionalProperties": false,
            "properties": self.properties,
            "description": prose(doc),
            "$defs": schemas.named,
        })
    }

    /// The schema of the table.
    #[must_use]
    pub fn into_table(self, doc: &[&str]) -> Json {
        json!({
            "type": "object",
            "additionalProperties": false,
            "properties": self.properties,
            "required": self.required,
            "description": prose(doc),
        })
    }
}

/// The example that a meaning gives: "as `CMD 1`".
fn example_in(meaning: &str) -> Option<&str> {
    meaning.split_once("as `")?.1.split_once('`').map(|(example, _)| example)
}

/// Doc lines as running text.
fn prose(lines: &[&str]) -> String {
    lines.iter().map(|line| line.trim()).collect::<Vec<_>>().join(" ")
}
