//! The command `evenfall`: arguments, progress, exit codes and the disk; no formulas.

mod arguments;
mod as_it_was;
mod catch;
mod clock;
mod disk;
mod drafts;
mod edges;
mod explore;
mod failure;
mod farms;
mod fit;
mod folder;
mod give;
mod inputs;
mod made_at;
mod notes;
mod on_pipe;
mod overlap;
mod pressure;
mod reading;
mod reference;
mod renamed;
mod report;
mod search;
mod season;
mod sheet;
mod size;
mod stopping;
mod stops;
mod study;
mod terminal;
mod tilt;
mod wheels;
mod whole;
mod worth;
mod written;

use arguments::{Arguments, CheckArguments, Command, SeasonArguments};
use clap::error::ErrorKind;
use clap::{ColorChoice, CommandFactory as _, FromArgMatches as _};
use failure::Failure;
use std::io::Write as _;

use std::process::ExitCode;
use terminal::{Voice, print, shown, shown_in_color};

/// Licenses of what is built in: libraries of the program and of its page, and the fonts of the pictures.
const NOTICES: [&str; 3] = [
    include_str!("../../../shared/notices.txt"),
    include_str!("../../explorer/assets/THIRD-PARTY.txt"),
    include_str!("../../../shared/fonts/LICENSE-DejaVu.txt"),
];

fn main() -> ExitCode {
    let arguments = arguments();
    let voice = Voice::new(arguments.quiet, arguments.no_color);
    let ended = run(arguments, voice);
    disk::tell_count();
    match ended {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            // If standard error is gone there is nobody left to tell.
            let text = failure.to_string();
            let is_in_color = voice.color && matches!(failure, Failure::Scenario(_));
            let text = if is_in_color { shown_in_color(&text) } else { shown(&text) };
            let _ = writeln!(std::io::stderr(), "{text}");
            ExitCode::from(failure.exit_code())
        }
    }
}

/// The command line; ends the program if it is wrong or asks for help.
fn arguments() -> Arguments {
    // Where an option is wrong the others are not read, so this one is looked for by itself.
    let plain = std::env::args_os().any(|word| word == "--no-color");
    let color = if plain { ColorChoice::Never } else { ColorChoice::Auto };
    Arguments::command()
        .color(color)
        .try_get_matches()
        .and_then(|matches| Arguments::from_arg_matches(&matches))
        .unwrap_or_else(|error| end(&renamed::hinted(no_text(error)), color))
}

/// Ends the program with what is wrong with its words, or with the help that they ask for.
fn end(error: &clap::Error, color: ColorChoice) -> ! {
    if !error.use_stderr() {
        error.exit();
    }
    let text = error.render();
    let color = color == ColorChoice::Auto && Voice::new(false, false).color;
    let text =
        if color { shown_in_color(&text.ansi().to_string()) } else { shown(&text.to_string()) };
    // If standard error is gone there is nobody left to tell.
    let _ = write!(std::io::stderr(), "{text}");
    std::process::exit(error.exit_code())
}

/// Where words are no text, which ones.
fn no_text(error: clap::Error) -> clap::Error {
    if error.kind() != ErrorKind::InvalidUtf8 {
        return error;
    }
    let words = std::env::args_os().skip(1).filter(|word| word.to_str().is_none());
    let shown = words.map(|word| {
        let shown = word.to_string_lossy().replace(char::is_control, "\u{fffd}");
        format!("`{shown}`")
    });
    let shown = shown.collect::<Vec<_>>().join(" and ");
    Arguments::command().error(
        error.kind(),
        format!(
            "{shown}: not text in UTF-8. Only names of files and folders may be other bytes; write the \
             rest as UTF-8 text"
        ),
    )
}

fn run(arguments: Arguments, voice: Voice) -> Result<(), Failure> {
    if let Some(threads) = arguments.threads {
        rayon::ThreadPoolBuilder::new()
            .num_threads(usize::from(threads))
            .build_global()
            .map_err(|error| Failure::Fault(error.to_string()))?;
    }
    let command = arguments.command.unwrap_or(Command::Season(SeasonArguments::default()));
    let printed = match command {
        Command::Season(options) => return season::run(&options, voice),
        Command::Worth(options) => return worth::run(&options, voice),
        Command::Explore(options) => return explore::run(&options, voice),
        Command::Give(options) => return give::run(&options, voice),
        Command::Edges(options) => return edges::run(&options, voice),
        Command::Fit(options) => return fit::run(&options, voice),
        Command::Tilt(options) => return tilt::run(&options, voice),
        Command::Sheet(options) => return sheet::run(&options, voice),
        Command::Maintenance(options) => sheet::maintenance(&options, voice)?,
        Command::Study(options) => return study::run(&options, voice),
        Command::Search(options) => return search::run(&options, voice),
        Command::Catch(options) => return catch::run(&options, voice),
        Command::Reference(options) => return reference::run(&options, voice),
        Command::Stops(options) => stops::table(&options, voice)?,
        Command::Clock(options) => clock::table(&options, voice)?,
        Command::Pressure(options) => pressure::table(&options, voice)?,
        Command::Overlap(options) => overlap::table(&options)?,
        Command::Check(options) => check(&options, voice)?,
        Command::Methods(options) => methods(&options, voice)?,
        Command::Demo => evenfall_scenario::demo().to_owned(),
        Command::Notices => NOTICES.concat(),
        Command::Schema { log: false } => evenfall_scenario::schema(),
        Command::Schema { log: true } => evenfall_scenario::log_schema(),
        Command::Completions { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(shell, &mut Arguments::command(), "evenfall", &mut script);
            String::from_utf8_lossy(&script).into_owned()
        }
    };
    print(&printed).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}

/// What `evenfall methods` says.
fn methods(options: &CheckArguments, voice: Voice) -> Result<String, Failure> {
    let resolved = inputs::load(options.scenario.as_deref(), voice)?.resolved;
    let origin = (resolved.digest.as_str(), env!("CARGO_PKG_VERSION"));
    Ok(if options.json {
        evenfall_figures::methods_json(&resolved.scenario, origin)?
    } else {
        evenfall_figures::methods_text(&resolved.scenario, origin)
    })
}

/// What `evenfall check` says of a sound scenario: starting values, and what to look at.
fn check(options: &CheckArguments, voice: Voice) -> Result<String, Failure> {
    let loaded = inputs::load(options.scenario.as_deref(), voice)?;
    let resolved = &loaded.resolved;
    let plans = size::plans(&resolved.scenario)?;
    let plan = notes::plan_check(&loaded, plans)?;
    if options.json {
        let notes = notes::checked_notes(resolved, plan);
        return Ok(evenfall_figures::checked_json(&resolved.scenario, &notes)?);
    }
    let units = report::display_units(resolved.units);
    let plan = evenfall_figures::plan_text(&resolved.scenario, &plan, units);
    let mut lines = vec![format!("No problems in the file: {}", resolved.scenario.title)];
    lines.push(format!("Digest: {}", resolved.digest));
    lines.push(plan.trim_end().to_owned());
    lines.extend(size::told(&resolved.scenario));
    let clock = notes::clock_notices(&resolved.scenario)?;
    lines.extend(resolved.warnings.iter().chain(&clock).map(|note| format!("Note: {note}")));
    lines.push(evenfall_scenario::known_words(&resolved.inputs));
    let open = resolved.inputs.iter().filter(|input| !input.whose.is_known());
    lines.extend(open.map(|input| {
        let value =
            if input.value.is_empty() { String::new() } else { format!(": {}", input.value) };
        format!("  {} ({}){value}, {}", input.label, input.what, input.whose.word())
    }));
    if !resolved.assumptions.is_empty() {
        lines.push("Starting values and fits (not given in the scenario):".to_owned());
    }
    let assumption =
        |a: &evenfall_scenario::Assumption| format!("  {} = {}  ({})", a.what, a.value, a.why);
    lines.extend(resolved.assumptions.iter().map(assumption));
    Ok(lines.join("\n") + "\n")
}
