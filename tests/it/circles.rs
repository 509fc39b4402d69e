//! Inside a floor modules import each other in one direction: what two of them need of each other stands in a third.

use super::floors::{code, src};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// A module by its place: `typeset`, `blocks`.
type Module = Vec<String>;

/// Records refer to each other as what they stand for does: a repeater to its place, a place to its channels.
const AS_THEY_REFER: [&str; 2] = ["plan", "records"];

/// What each module says, without tests and comments.
fn modules() -> BTreeMap<Module, String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let module = |path: &Path| -> Module {
        let inside = path.strip_prefix(&root).unwrap().with_extension("");
        let parts = inside.components().map(|part| part.as_os_str().to_str().unwrap().to_owned());
        parts.filter(|part| part != "mod").collect()
    };
    let without_comments = |text: &str| -> String {
        code(text).lines().map(|line| line.split("//").next().unwrap().to_owned() + "\n").collect()
    };
    let all = src().into_iter().map(|(path, text)| (module(&path), without_comments(&text)));
    all.filter(|(module, _)| !module.iter().any(|part| part == "tests")).collect()
}

/// The paths of a `use`: `a::{b, c::d as e}` is two.
fn expanded(tree: &str) -> Vec<Module> {
    let tree = tree.trim();
    let Some((before, inside)) = tree.split_once('{') else {
        let path = tree.split(" as ").next().unwrap();
        return vec![path.split("::").map(|part| part.trim().to_owned()).filter(|part| !part.is_empty()).collect()];
    };
    let inside = inside.trim_end().trim_end_matches('}');
    let mut depth = 0;
    let parts = inside.split(|c| {
        depth += i32::from(c == '{') - i32::from(c == '}');
        c == ',' && depth == 0
    });
    let parts = parts.filter(|part| !part.trim().is_empty());
    parts.flat_map(|part| expanded(&format!("{before}{}", part.trim()))).collect()
}

/// What a text imports, and what it names by its whole path.
fn paths(text: &str) -> Vec<Module> {
    let is_of_path = |c: char| c.is_ascii_alphanumeric() || "_:$".contains(c);
    let mut paths = Vec::new();
    for statement in text.split(';') {
        let used =
            statement.split_once("use ").filter(|(before, _)| before.is_empty() || before.ends_with([' ', '\n']));
        paths.extend(used.into_iter().flat_map(|(_, tree)| expanded(tree)));
        let words = used.map_or(statement, |(before, _)| before).split(|c| !is_of_path(c));
        paths.extend(words.filter(|word| word.contains("::")).flat_map(expanded));
    }
    paths
}

struct Graph {
    modules: BTreeMap<Module, String>,
    /// Which module a name is from that another offers as its own.
    offered: BTreeMap<(Module, String), Module>,
}

impl Graph {
    fn of(modules: BTreeMap<Module, String>) -> Self {
        let mut graph = Self { modules, offered: BTreeMap::new() };
        let mut offered = BTreeMap::new();
        for (module, text) in &graph.modules {
            for path in paths(text).into_iter().filter(|path| !["crate", "super", "std"].contains(&path[0].as_str())) {
                let from = graph.named(module, &path);
                if let Some(from) = from.filter(|from| from.len() > module.len() && from.starts_with(module)) {
                    offered.insert((module.clone(), path.last().unwrap().clone()), from);
                }
            }
        }
        graph.offered = offered;
        graph
    }

    /// The module that a path in another leads to. None where it leads out of the program.
    fn named(&self, within: &Module, path: &Module) -> Option<Module> {
        let mut at = within.clone();
        let mut is_found = false;
        for (index, part) in path.iter().enumerate() {
            match part.as_str() {
                "self" => {}
                "crate" => at.clear(),
                "super" => drop(at.pop()),
                name => {
                    let inner: Module = at.iter().cloned().chain([name.to_owned()]).collect();
                    let offered = self.offered.get(&(at.clone(), name.to_owned()));
                    if self.modules.contains_key(&inner) {
                        at = inner;
                    } else if let Some(from) = offered {
                        at.clone_from(from);
                    } else if index == 0 {
                        return None;
                    } else {
                        break;
                    }
                }
            }
            is_found = true;
        }
        is_found.then_some(at)
    }

    /// What a module imports of its own floor; what it holds itself, and what holds it, is no import.
    fn imports(&self, module: &Module) -> BTreeSet<Module> {
        let named = paths(&self.modules[module]).into_iter().filter_map(|path| self.named(module, &path));
        named
            .filter(|other| {
                let is_own = other.starts_with(module) || module.starts_with(other);
                let refers = |module: &Module| module.starts_with(&AS_THEY_REFER.map(str::to_owned));
                !is_own && other.first() == module.first() && !(refers(module) && refers(other))
            })
            .collect()
    }

    /// A way from a module back to itself.
    fn circle(&self, from: &Module) -> Option<Vec<Module>> {
        let mut ways = vec![vec![from.clone()]];
        let mut seen = BTreeSet::new();
        while let Some(way) = ways.pop() {
            for next in self.imports(way.last().unwrap()) {
                let longer: Vec<Module> = way.iter().cloned().chain([next.clone()]).collect();
                if next == *from {
                    return Some(longer);
                }
                if seen.insert(next) {
                    ways.push(longer);
                }
            }
        }
        None
    }

    fn circles(&self) -> Vec<String> {
        let shown =
            |circle: Vec<Module>| circle.iter().map(|module| module.join("::")).collect::<Vec<_>>().join(" -> ");
        self.modules.keys().filter_map(|module| self.circle(module)).map(shown).collect()
    }
}

#[test]
fn modules_of_a_floor_import_each_other_in_one_direction() {
    let graph = Graph::of(modules());
    assert!(graph.modules.len() > 300, "{} modules", graph.modules.len());
    let imports: usize = graph.modules.keys().map(|module| graph.imports(module).len()).sum();
    assert!(imports > 500, "{imports} imports");
    assert_eq!(graph.circles(), Vec::<String>::new());
}

#[test]
fn a_circle_is_found_through_what_a_module_offers_and_through_whole_paths() {
    let texts = [
        ("a", "mod one;\nmod two;\npub use one::{First, Other as Another};"),
        ("a::one", "use super::two::{self, inner::Deep};\nstruct First;"),
        ("a::two", "mod inner;\nfn f(first: crate::a::First) {}"),
        ("a::two::inner", "pub struct Deep;"),
        ("b", "use crate::a::First;"),
    ];
    let module = |name: &str| name.split("::").map(str::to_owned).collect::<Module>();
    let of = |texts: &[(&str, &str)]| {
        Graph::of(texts.iter().map(|(name, text)| (module(name), (*text).to_owned())).collect())
    };
    assert_eq!(of(&texts).circles(), ["a::one -> a::two -> a::one", "a::two -> a::one -> a::two"]);
    let mut parted = texts;
    parted[2].1 = "mod inner;";
    assert_eq!(of(&parted).circles(), Vec::<String>::new());
}
