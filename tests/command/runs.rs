//! Running the binary and looking at what it said and left.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;
use tempfile::TempDir;

/// What a run said.
#[derive(Debug)]
pub(crate) struct Ran {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Ran {
    /// Whatever happens: no panic, no color codes, as nothing here is a terminal, and no spaces
    /// that only look like spaces, as tables are searched and cut by other programs.
    #[track_caller]
    pub(crate) fn of(output: &Output) -> Self {
        let ran = Self {
            code: output.status.code(),
            out: String::from_utf8(output.stdout.clone()).unwrap(),
            err: String::from_utf8(output.stderr.clone()).unwrap(),
        };
        for text in [&ran.out, &ran.err] {
            assert!(!text.contains("panicked"), "{text}");
            assert!(!text.contains("fault in this program"), "{text}");
            assert!(!text.contains(['\u{1b}', '\u{a0}', '\u{202f}']), "{text:?}");
        }
        ran
    }

    /// The run went well; its standard output.
    #[track_caller]
    pub(crate) fn said(self) -> String {
        assert_eq!(self.code, Some(0), "{}", self.err);
        self.out
    }

    /// The run ended with `code`, said each of `words` on standard error and nothing elsewhere.
    #[track_caller]
    pub(crate) fn refused(&self, code: i32, words: &[&str]) {
        assert_eq!(self.code, Some(code), "{}", self.err);
        for word in words {
            assert!(self.err.contains(word), "no `{word}` in:\n{}", self.err);
        }
        assert_eq!(self.out, "");
    }
}

/// The command, to be run in `folder`; the color settings of whoever tests are left out.
pub(crate) fn command(folder: &Path, words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_evenfall"));
    command.args(words).current_dir(folder);
    command.env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE").env_remove("CLICOLOR");
    command
}

/// Runs the command in `folder`.
#[track_caller]
pub(crate) fn evenfall_in(folder: &Path, words: &[&str]) -> Ran {
    Ran::of(&command(folder, words).output().unwrap())
}

/// Runs the command in an empty folder, which stays empty.
#[track_caller]
pub(crate) fn evenfall(words: &[&str]) -> Ran {
    let folder = TempDir::new().unwrap();
    let ran = evenfall_in(folder.path(), words);
    assert_eq!(names(folder.path()), [""; 0], "left behind");
    ran
}

/// Names in a folder, hidden ones too, in order.
pub(crate) fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> =
        entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// All files under a folder, as paths relative to it, in order.
pub(crate) fn files(folder: &Path) -> Vec<String> {
    fn collect(root: &Path, below: &Path, found: &mut Vec<String>) {
        for name in names(&root.join(below)) {
            let path = below.join(name);
            if root.join(&path).is_dir() {
                collect(root, &path, found);
            } else {
                found.push(path.to_str().unwrap().to_owned());
            }
        }
    }
    let mut found = Vec::new();
    collect(folder, Path::new(""), &mut found);
    found
}

/// Both folders hold the same files with the same bytes.
#[track_caller]
pub(crate) fn assert_same_files(one: &Path, other: &Path) {
    assert_eq!(files(one), files(other));
    for name in files(one) {
        let same = fs::read(one.join(&name)).unwrap() == fs::read(other.join(&name)).unwrap();
        assert!(same, "`{name}` differs");
    }
}

/// A path of the project, such as `shared/scenario.schema.json`.
pub(crate) fn project(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(path)
}

/// The demo's report, run once for all tests, with what the run said.
pub(crate) fn demo_report() -> (PathBuf, &'static str) {
    static DEMO: OnceLock<(TempDir, String)> = OnceLock::new();
    let (folder, said) = DEMO.get_or_init(|| {
        let folder = TempDir::new().unwrap();
        let said = evenfall_in(folder.path(), &["--threads", "2"]).said();
        (folder, said)
    });
    (folder.path().join("evenfall-report"), said)
}
