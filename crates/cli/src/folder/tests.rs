//! Folders that appear whole or not at all, and what is never thrown away.

use super::*;

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

fn asked(into: &Path, replace: bool, discard_edits: bool) -> FolderArguments {
    FolderArguments { into: Some(into.to_owned()), replace, discard_edits }
}

fn begin(into: &Path, replace: bool) -> Result<Draft, Failure> {
    Draft::begin(&asked(into, replace, false), "report", MARK, &[])
}

#[test]
fn a_finished_draft_is_there_whole_and_a_dropped_one_leaves_nothing() {
    let home = tempfile::tempdir().unwrap();
    let mut draft = begin(&home.path().join("report"), false).unwrap();
    draft.write("a/b.txt", b"x").unwrap();
    drop(draft);
    assert!(names(home.path()).is_empty());
    let mut draft = begin(&home.path().join("report"), false).unwrap();
    draft.write("a/b.txt", b"x").unwrap();
    draft.finish().unwrap();
    assert_eq!(names(home.path()), ["report"]);
    assert_eq!(fs::read(home.path().join("report/a/b.txt")).unwrap(), b"x");
}

#[test]
fn what_is_no_report_is_never_replaced() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("thesis");
    fs::create_dir(&target).unwrap();
    fs::write(target.join("chapter.txt"), "years of work").unwrap();
    assert!(begin(&target, false).is_err());
    assert!(begin(&target, true).is_err());
    assert!(Draft::begin(&asked(&target, true, true), "report", MARK, &[]).is_err());
    assert_eq!(names(home.path()), ["thesis"]);
}

/// A report with a scenario beside it.
fn put(target: &Path) {
    let mut draft = begin(target, false).unwrap();
    draft.write(MARK, b"old").unwrap();
    draft.write("scenario.json", b"{}").unwrap();
    draft.finish().unwrap();
}

#[test]
fn a_report_is_replaced_only_when_asked_and_only_at_the_end() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("report");
    put(&target);
    assert!(begin(&target, false).is_err());
    let mut draft = begin(&target, true).unwrap();
    draft.write(MARK, b"new").unwrap();
    assert_eq!(fs::read(target.join(MARK)).unwrap(), b"old");
    draft.finish().unwrap();
    assert_eq!(fs::read(target.join(MARK)).unwrap(), b"new");
    assert_eq!(names(home.path()), ["report"]);
}

#[test]
fn regress_files_edited_or_added_since_are_never_replaced_unasked() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("report");
    put(&target);
    fs::write(target.join("scenario.json"), "{ mine }").unwrap();
    fs::write(target.join("photo.jpg"), "mine").unwrap();
    let refused = begin(&target, true).unwrap_err().to_string();
    for words in ["photo.jpg, scenario.json", "Nothing was changed", "--discard-edits"] {
        assert!(refused.contains(words), "{words}: {refused}");
    }
    fs::remove_file(target.join("photo.jpg")).unwrap();
    // What comes back as it is would not be lost, and so goes through.
    let known = [("scenario.json", "{ mine }")];
    let mut draft = Draft::begin(&asked(&target, true, false), "r", MARK, &known).unwrap();
    draft.write(MARK, b"new").unwrap();
    draft.write("scenario.json", b"{ mine }").unwrap();
    // Edited while the run was under way.
    fs::write(target.join("notes.txt"), "mine").unwrap();
    assert!(draft.finish().unwrap_err().to_string().contains("notes.txt"));
    assert_eq!(fs::read(target.join(MARK)).unwrap(), b"old");
    assert_eq!(names(home.path()), ["report"]);
    let draft = Draft::begin(&asked(&target, true, true), "r", MARK, &[]).unwrap();
    draft.finish().unwrap();
    // What was added is no edit.
    assert_eq!(names(&target), [LIST, "notes.txt"]);
}

#[test]
fn a_report_without_its_list_is_left_alone() {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("report");
    put(&target);
    fs::remove_file(target.join(LIST)).unwrap();
    assert!(begin(&target, true).unwrap_err().to_string().contains(LIST));
    assert!(Draft::begin(&asked(&target, true, true), "r", MARK, &[]).is_ok());
}

#[test]
fn a_folder_that_cannot_be_written_is_told_before_anything_is_computed() {
    let home = tempfile::tempdir().unwrap();
    let refused = begin(&home.path().join("no/such/report"), false).unwrap_err();
    assert_eq!(refused.exit_code(), 4);
    assert!(refused.to_string().contains("--into"), "{refused}");
}
