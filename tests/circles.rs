//! No circle of files: what a file takes from another never leads back to it; and the rooms of the
//! core stand in DEVELOPERS.md in the order of what they take from one another.
//!
//! Read textually, good enough for this house: `use crate::…`, `use super::…`, paths written inline,
//! and names of child modules before `::`. A parent that takes from its child (`pub use` too) while
//! the child takes from the parent is a circle of two. Files of tests and test modules are left out.

use evenfall_tests::{project_files, root};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io;

/// Per crate, circles that are still to be opened; none may be added.
const CRATES: [(&str, usize); 7] = [
    ("core", 0),
    ("scenario", 0),
    ("view", 0),
    ("figures", 0),
    ("study", 0),
    ("explorer", 0),
    ("cli", 0),
];

type Module = Vec<String>;

/// The source of every module of a crate, without comments and test modules.
fn modules(name: &str) -> io::Result<BTreeMap<Module, String>> {
    let folder = format!("crates/{name}/src/");
    let mut all = BTreeMap::new();
    for file in project_files()? {
        let Some(path) = file.strip_prefix(&folder).and_then(|path| path.strip_suffix(".rs"))
        else {
            continue;
        };
        let is_test =
            path.ends_with("tests") || path.starts_with("tests/") || path.contains("/tests/");
        if is_test || path == "main" {
            continue;
        }
        let mut module: Module = path.split('/').map(str::to_owned).collect();
        if module.last().is_some_and(|last| last == "mod" || last == "lib") {
            module.pop();
        }
        let text = fs::read_to_string(root().join(&file))?;
        let code: Vec<&str> =
            text.lines().map(|line| line.split("//").next().unwrap_or("")).collect();
        let code = code.join("\n");
        let end = code.find("mod tests {").unwrap_or(code.len());
        all.insert(module, code[..end].to_owned());
    }
    Ok(all)
}

/// The paths of a `use`, braces opened: `a::{b, c::d}` gives `a::b` and `a::c::d`.
fn opened(tree: &str) -> Vec<String> {
    let tree = tree.trim();
    let Some(start) = tree.find('{') else {
        return vec![tree.split(" as ").next().unwrap_or("").trim().to_owned()];
    };
    let (before, inside) = (
        &tree[..start],
        &tree[start + 1..tree.rfind('}').filter(|end| *end > start).unwrap_or(tree.len())],
    );
    let (mut depth, mut part, mut parts) = (0, String::new(), Vec::new());
    for letter in inside.chars() {
        depth += match letter {
            '{' => 1,
            '}' => -1,
            _ => 0,
        };
        if letter == ',' && depth == 0 {
            parts.push(std::mem::take(&mut part));
        } else {
            part.push(letter);
        }
    }
    parts.push(part);
    let parts = parts.iter().filter(|part| !part.trim().is_empty());
    parts.flat_map(|part| opened(part)).map(|path| format!("{before}{path}")).collect()
}

fn is_of_path(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_' || letter == ':'
}

/// Every path in the code: those of `use`, and what is written inline.
fn paths(code: &str) -> Vec<String> {
    let mut rest = String::new();
    let mut found = Vec::new();
    for statement in code.split_inclusive(';') {
        let trimmed = statement.trim_end_matches(';');
        let is_tree = |tree: &str| {
            let known = |letter: char| {
                is_of_path(letter) || letter.is_whitespace() || "{},*".contains(letter)
            };
            tree.chars().all(known) && tree.matches('{').count() == tree.matches('}').count()
        };
        let at = trimmed
            .rfind("use ")
            .filter(|at| !trimmed[..*at].ends_with(is_of_path) && is_tree(&trimmed[*at + 4..]));
        match at {
            Some(at) => found.extend(opened(&trimmed[at + 4..])),
            None => rest.push_str(statement),
        }
    }
    let inline = rest.split(|letter: char| !is_of_path(letter));
    found.extend(inline.filter(|word| word.contains("::")).map(str::to_owned));
    found
}

/// The module that a path written in `from` leads to, if it is one of the crate's.
fn target(path: &str, from: &Module, all: &BTreeMap<Module, String>) -> Option<Module> {
    let mut words = path.split("::").map(|word| word.trim().to_owned()).peekable();
    let mut place: Module = match words.peek()?.as_str() {
        "crate" => Vec::new(),
        "self" | "super" => from.clone(),
        first => {
            let child: Module = from.iter().cloned().chain([first.to_owned()]).collect();
            return all.contains_key(&child).then_some(child).filter(|_| path.contains("::"));
        }
    };
    for word in words {
        match word.as_str() {
            "crate" | "self" => {}
            "super" => drop(place.pop()),
            _ => place.push(word),
        }
    }
    while !place.is_empty() && !all.contains_key(&place) {
        place.pop();
    }
    (all.contains_key(&place) && place != *from).then_some(place)
}

fn reached(from: &Module, edges: &BTreeMap<Module, BTreeSet<Module>>) -> BTreeSet<Module> {
    let (mut seen, mut open) = (BTreeSet::new(), vec![from.clone()]);
    while let Some(module) = open.pop() {
        for next in edges.get(&module).into_iter().flatten() {
            if seen.insert(next.clone()) {
                open.push(next.clone());
            }
        }
    }
    seen
}

/// Per module, the modules that it takes from.
fn edges(all: &BTreeMap<Module, String>) -> BTreeMap<Module, BTreeSet<Module>> {
    let of = |(module, code): (&Module, &String)| {
        let to = paths(code).iter().filter_map(|path| target(path, module, all)).collect();
        (module.clone(), to)
    };
    all.iter().map(of).collect()
}

/// The circles of a crate, each as the names of its modules.
fn circles(name: &str) -> io::Result<BTreeSet<BTreeSet<String>>> {
    let all = modules(name)?;
    assert!(all.len() > 3, "{name}: only {} files", all.len());
    let edges = edges(&all);
    let from: BTreeMap<&Module, BTreeSet<Module>> =
        all.keys().map(|module| (module, reached(module, &edges))).collect();
    let of = |module: &Module| -> BTreeSet<String> {
        let both = from[module].iter().filter(|other| from[*other].contains(module));
        both.map(|module| module.join("::")).collect()
    };
    Ok(all.keys().map(of).filter(|circle| circle.len() > 1).collect())
}

#[test]
fn what_a_file_takes_from_another_never_leads_back() {
    for (name, known) in CRATES {
        let found = circles(name).unwrap();
        assert!(found.len() <= known, "{name}: {} circles, {known} known: {found:#?}", found.len());
    }
}

/// The rooms of the core as DEVELOPERS.md lists them: a top file or folder, not what is inside one.
fn rooms() -> io::Result<Vec<String>> {
    let papers = fs::read_to_string(root().join("DEVELOPERS.md"))?;
    let section = papers.split("### Rooms of the core, in import order").nth(1).unwrap_or("");
    let section = section.split("\n### ").next().unwrap_or("");
    let room = |word: &str| {
        let path = word.strip_prefix("crates/core/src/")?;
        let name = path.strip_suffix("/mod.rs").or_else(|| path.strip_suffix(".rs"))?;
        (!name.contains('/')).then(|| name.to_owned())
    };
    Ok(section.split('`').skip(1).step_by(2).filter_map(room).collect())
}

#[test]
fn every_room_of_the_core_is_listed_once_and_takes_only_from_those_above_it() {
    let all = modules("core").unwrap();
    let there: Vec<&String> = all
        .keys()
        .filter_map(|module| module.first())
        .collect::<BTreeSet<_>>()
        .into_iter()
        .collect();
    let rooms = rooms().unwrap();
    let mut listed: Vec<&String> = rooms.iter().collect();
    listed.sort();
    assert_eq!(listed, there, "listed in DEVELOPERS.md, and what there is");
    let place = |module: &Module| rooms.iter().position(|room| Some(room) == module.first());
    for (module, taken) in edges(&all) {
        for from in taken {
            let is_below = !module.is_empty() && place(&from) > place(&module);
            let (taker, giver) = (module.join("::"), from.join("::"));
            assert!(!is_below, "{taker} takes from {giver}, which stands below it");
        }
    }
}

#[test]
fn a_parent_and_a_child_that_take_from_each_other_are_found() {
    let all: BTreeMap<Module, String> = [
        (vec!["a".to_owned()], "mod b;\npub use b::Thing;".to_owned()),
        (vec!["a".to_owned(), "b".to_owned()], "use super::{Other, c::{d}};".to_owned()),
    ]
    .into();
    let child = vec!["a".to_owned(), "b".to_owned()];
    let parent = vec!["a".to_owned()];
    assert_eq!(target("b::Thing", &parent, &all), Some(child.clone()));
    let up = paths(&all[&child]);
    assert_eq!(up, ["super::Other", "super::c::d"]);
    assert_eq!(target(&up[0], &child, &all), Some(parent));
}
