//! `evenfall reference`: what every entry, key and option means, printed, searched, or as a page.
//!
//! Keys come from the scenario's table, commands and options from the command line's own declaration, and
//! chapters from the project's texts: nothing is said here a second time.

use crate::arguments::{Arguments, ReferenceArguments};
use crate::failure::Failure;
use crate::terminal::{Voice, print};
use crate::whole;
use clap::builder::StyledStr;
use clap::{Arg, Command, CommandFactory as _};
use evenfall_figures::{chapters, reference_page, reference_text};
use evenfall_view::{Reference, ReferenceRow, ReferenceSection};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Prints, finds, writes or opens it.
pub(crate) fn run(options: &ReferenceArguments, voice: Voice) -> Result<(), Failure> {
    let all = reference();
    if options.page.is_none() && !options.open {
        let found = all.holding(&options.find);
        let text = match (options.find.is_empty(), found.is_empty()) {
            (true, _) => reference_text(&all),
            (false, false) => reference_text(&found),
            (false, true) => {
                let words = options.find.join(" ");
                format!("Nothing in the reference says \"{words}\". Try a shorter word.\n")
            }
        };
        return print(&text).map_err(|error| Failure::Files(format!("cannot print: {error}")));
    }
    let page = reference_page(&all)?;
    let path = match &options.page {
        Some(path) => written(path, &page)?,
        None => written(&free_path(), &page)?,
    };
    if !voice.quiet {
        let told = format!("{}\n", path.display());
        print(&told).map_err(|error| Failure::Files(format!("cannot print: {error}")))?;
    }
    if options.open
        && let Err(error) = open::that_detached(&path)
    {
        let shown = path.display();
        return Err(Failure::Files(format!(
            "cannot open a browser: {error}. Open `{shown}` yourself"
        )));
    }
    Ok(())
}

/// A name of its own for a page that is only to be looked at.
fn free_path() -> PathBuf {
    std::env::temp_dir().join(format!("evenfall-reference-{}.html", std::process::id()))
}

/// Writes the page; what is there is never replaced.
fn written(path: &Path, page: &str) -> Result<PathBuf, Failure> {
    let shown = path.display();
    whole::write_new(path, page.as_bytes()).map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => {
            Failure::Files(format!("`{shown}` is there already. Name another file, or remove it"))
        }
        _ => Failure::Files(format!("cannot write `{shown}`: {error}. Nothing is left behind")),
    })?;
    Ok(path.to_owned())
}

/// Chapters, keys and commands.
pub(crate) fn reference() -> Reference {
    let row = |row: evenfall_scenario::KeyRow| ReferenceRow {
        name: row.key,
        label: row.label,
        meaning: row.meaning,
        left_out: row.left_out,
    };
    let section = |section: evenfall_scenario::KeySection| ReferenceSection {
        name: section.name,
        label: section.label,
        about: section.about,
        rows: section.rows.into_iter().map(row).collect(),
    };
    Reference {
        chapters: chapters(),
        keys_about: evenfall_scenario::KEYS_ABOUT.to_owned(),
        keys: evenfall_scenario::reference().into_iter().map(section).collect(),
        commands: commands(),
    }
}

/// The program itself with what all commands share, then command by command.
fn commands() -> Vec<ReferenceSection> {
    let mut all = Arguments::command();
    all.build();
    let own = section("evenfall", &all, |arg| !is_help(arg));
    let shown = all.get_subcommands().filter(|one| !one.is_hide_set() && one.get_name() != "help");
    let each = shown.flat_map(|one| with_steps(&format!("evenfall {}", one.get_name()), one));
    std::iter::once(own).chain(each).collect()
}

/// A command, and the steps that it has as commands of its own.
fn with_steps(name: &str, command: &Command) -> Vec<ReferenceSection> {
    let own = section(name, command, |arg| !is_help(arg) && !arg.is_global_set());
    let steps = command.get_subcommands().filter(|one| one.get_name() != "help");
    let each = steps.flat_map(|one| with_steps(&format!("{name} {}", one.get_name()), one));
    std::iter::once(own).chain(each).collect()
}

fn is_help(arg: &Arg) -> bool {
    ["help", "version"].contains(&arg.get_id().as_str())
}

fn section(name: &str, command: &Command, is_told: impl Fn(&Arg) -> bool) -> ReferenceSection {
    let text = |text: Option<&StyledStr>| text.map(ToString::to_string).unwrap_or_default();
    let about = text(command.get_long_about().or(command.get_about()));
    let after = text(command.get_after_long_help().or(command.get_after_help()));
    let rows = command.get_arguments().filter(|arg| !arg.is_hide_set() && is_told(arg)).map(row);
    ReferenceSection {
        name: name.to_owned(),
        label: String::new(),
        about: format!("{about}\n\n{}", set_in(&after)).trim().to_owned(),
        rows: rows.collect(),
    }
}

/// A list as it is laid out in the help: every line keeps its place.
fn set_in(text: &str) -> String {
    text.lines().fold(String::new(), |text, line| text + "    " + line + "\n")
}

fn row(arg: &Arg) -> ReferenceRow {
    let values = arg.get_value_names().unwrap_or_default();
    let values: Vec<&str> = values.iter().map(clap::builder::Str::as_str).collect();
    let takes = arg.get_action().takes_values();
    let name = match arg.get_long() {
        Some(long) if takes => format!("--{long} {}", values.join(" ")),
        Some(long) => {
            arg.get_short().map_or(format!("--{long}"), |short| format!("--{long}, -{short}"))
        }
        None => format!("[{}]", values.join(" ")),
    };
    let help = arg.get_long_help().or(arg.get_help()).map(ToString::to_string).unwrap_or_default();
    let choices = if takes { arg.get_possible_values() } else { Vec::new() };
    let choices = choices.iter().filter(|choice| !choice.is_hide_set()).map(|choice| {
        let means = choice.get_help().map(|help| format!(" ({help})")).unwrap_or_default();
        format!("{}{means}", choice.get_name())
    });
    let choices = choices.collect::<Vec<_>>().join(", ");
    let choices = if choices.is_empty() { choices } else { format!(" One of {choices}.") };
    let (meaning, said) = match help.rsplit_once(" [default: ") {
        Some((meaning, rest)) => (meaning.to_owned(), rest.trim_end_matches(']').to_owned()),
        None => (help, String::new()),
    };
    let default = arg.get_default_values().iter().map(|value| value.to_string_lossy());
    let default = default.collect::<Vec<_>>().join(" ");
    ReferenceRow {
        name: name.trim().to_owned(),
        label: String::new(),
        meaning: format!("{}.{choices}", meaning.trim_end_matches('.')),
        left_out: if said.is_empty() && takes { default } else { said },
    }
}
