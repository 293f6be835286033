//! The reference: everything there is to enter and to ask for, printed, searched and as a page.

use crate::runs::evenfall_in;
use std::fs;
use tempfile::TempDir;

fn said(words: &[&str]) -> String {
    evenfall_in(TempDir::new().unwrap().path(), words).said()
}

#[test]
fn the_reference_holds_chapters_keys_and_commands() {
    let all = said(&["reference"]);
    for words in [
        "HOW TO READ THE FIGURES",
        "| part | law | status |",
        "KEYS OF A SCENARIO",
        "field.boundary",
        "  corners  Corners",
        "Left out: 2 ft: fine enough",
        "COMMANDS",
        "evenfall season",
        "  --seed N",
        "    2  a wrong command or option",
    ] {
        assert!(all.contains(words), "{words}");
    }
    let long = all.lines().filter(|line| !line.starts_with('|') && line.chars().count() > 120);
    assert_eq!(long.collect::<Vec<_>>(), Vec::<&str>::new());
}

#[test]
fn every_command_and_option_of_the_help_stands_in_the_reference() {
    let all = said(&["reference"]);
    let help = said(&["help"]);
    let commands = help.lines().skip_while(|line| *line != "Commands:").skip(1);
    let names = commands.take_while(|line| !line.is_empty());
    let names: Vec<&str> = names.filter_map(|line| line.split_whitespace().next()).collect();
    assert!(names.len() > 15, "{help}");
    for name in names.into_iter().filter(|name| *name != "help") {
        let section = format!("\nevenfall {name}\n");
        let (_, section) = all.split_once(&section).unwrap_or_else(|| panic!("{name}"));
        let section = section.split("\nevenfall ").next().unwrap();
        let help = said(&[name, "--help"]);
        let options = help.lines().filter_map(|line| line.trim_start().strip_prefix("--"));
        for option in options.filter_map(|line| line.split_whitespace().next()) {
            let shared = ["no-color", "threads"].contains(&option);
            assert!(shared || section.contains(&format!("  --{option}")), "{name} --{option}");
        }
    }
}

#[test]
fn a_word_is_found_wherever_it_stands_and_nothing_else_is_printed() {
    let found = said(&["reference", "--find", "PLUGGED"]);
    assert!(found.contains("lateral.odd_sprinklers"), "{found}");
    assert!(!found.contains("HOW TO READ THE FIGURES"), "{found}");
    let both = said(&["reference", "--find", "shift", "--find", "reach"]);
    let one = said(&["reference", "--find", "shift"]);
    assert!(!both.is_empty() && both.len() < one.len());
    let none = said(&["reference", "--find", "xylophone"]);
    assert!(none.contains("Nothing in the reference says \"xylophone\""), "{none}");
}

#[test]
fn the_page_is_written_once_and_reaches_nowhere() {
    let folder = TempDir::new().unwrap();
    evenfall_in(folder.path(), &["reference", "--page", "all.html"]).said();
    let page = fs::read_to_string(folder.path().join("all.html")).unwrap();
    assert!(page.contains("id=\"field-boundary-corners\"") && page.contains("type=\"search\""));
    // Links lead within the page, and nothing is loaded.
    for forbidden in ["src=", "href=\"http", "url(http", "@import"] {
        assert!(!page.contains(forbidden), "{forbidden}");
    }
    let again = evenfall_in(folder.path(), &["reference", "--page", "all.html"]);
    again.refused(4, &["all.html", "is there already"]);
    let both = evenfall_in(folder.path(), &["reference", "--page", "b.html", "--find", "x"]);
    both.refused(2, &["--find"]);
}
