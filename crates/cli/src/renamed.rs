//! Words of the command line that had another name before: refused, with the new name as the hint.

use crate::arguments::Arguments;
use clap::CommandFactory as _;
use clap::builder::StyledStr;
use clap::error::{ContextKind, ContextValue, Error};

/// Commands: old name, new name.
const COMMANDS: [(&str, &str); 2] = [("seek", "search"), ("care", "maintenance")];

/// Options: old name, new name; where there are two, the one that the command has.
const OPTIONS: [(&str, &str); 16] = [
    ("--across", "--outlet-spacing"),
    ("--along", "--sprinkler-spacing"),
    ("--diameter", "--outside-diameter"),
    ("--diameter", "--wetted-diameter"),
    ("--first", "--first-outlet"),
    ("--least", "--worthwhile-gain"),
    ("--level", "--confidence-level"),
    ("--levelers", "--leveler-range"),
    ("--longest", "--longest-cycle"),
    ("--most-seasons", "--max-seasons"),
    ("--pipe", "--pipe-diameter"),
    ("--precision", "--target-precision"),
    ("--riser", "--riser-height"),
    ("--sinkage", "--slip-and-sinkage"),
    ("--spacing", "--outlet-spacing"),
    ("--travel", "--travel-per-turn"),
];

/// The error with the new name as its hint, if it is about an old one.
pub(crate) fn hinted(mut error: Error) -> Error {
    let word = |kind| match error.get(kind) {
        Some(ContextValue::String(word)) => Some(word.clone()),
        _ => None,
    };
    let command = word(ContextKind::InvalidSubcommand);
    let option = word(ContextKind::InvalidArg);
    let command = command.and_then(|old| Some((COMMANDS.iter().find(|(o, _)| *o == old)?.1, old)));
    let option = option.and_then(|given| {
        let old = given.split([' ', '=']).next().unwrap_or_default();
        let is_it = |(known, new): &&(&str, &str)| *known == old && is_here(new);
        Some((OPTIONS.iter().find(is_it)?.1, old.to_owned()))
    });
    if let Some((new, old)) = command.or(option) {
        let hint = StyledStr::from(format!("`{old}` is called `{new}` now"));
        error.insert(ContextKind::Suggested, ContextValue::StyledStrs(vec![hint]));
        for guess in [ContextKind::SuggestedArg, ContextKind::SuggestedSubcommand] {
            error.insert(guess, ContextValue::None);
        }
    }
    error
}

/// Whether the command that was asked for has this option.
fn is_here(option: &str) -> bool {
    let all = Arguments::command();
    let mut words = std::env::args_os().skip(1);
    let asked = words.find_map(|word| all.find_subcommand(word.to_str()?));
    asked.is_some_and(|command| {
        command.get_arguments().any(|one| one.get_long() == option.strip_prefix("--"))
    })
}
