//! Farms on a disk: nothing lost, nothing overwritten unknown, no way out of the folder.

use super::*;
use crate::{disk, whole};
use evenfall_explorer::FarmToKeep;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::atomic::{AtomicU64, Ordering};
use tempfile::TempDir;

/// A clock that goes on by a minute with every look.
fn a_minute_later() -> u64 {
    static NOW: AtomicU64 = AtomicU64::new(1_795_960_000_000);
    NOW.fetch_add(60_000, Ordering::SeqCst)
}

pub(super) fn farms(home: &TempDir) -> FarmsOnDisk {
    let folder = home.path().join("farms");
    FarmsOnDisk { now_ms: a_minute_later, ..FarmsOnDisk::new(folder, None) }
}

pub(super) fn windy(seed: u64, file: &str) -> String {
    format!(
        "{{ \"title\": \"t\", \"seed\": {seed}, \"wind\": {{ \"record\": {{ \"file\": \"{file}\" }} }} }}\n"
    )
}

fn wanted(scenario: &str, files: &[(&str, &str)]) -> FarmToKeep {
    let files = files.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned()));
    FarmToKeep { scenario: scenario.to_owned(), files: files.collect(), ..FarmToKeep::default() }
}

/// Keeps a new farm.
pub(super) fn begun(
    farms: &FarmsOnDisk,
    name: &str,
    scenario: &str,
    files: &[(&str, &str)],
) -> FarmKept {
    farms.keep(&FarmToKeep { name: name.to_owned(), ..wanted(scenario, files) }).unwrap()
}

/// Keeps a farm again.
pub(super) fn again(
    farms: &FarmsOnDisk,
    kept: &FarmKept,
    scenario: &str,
    files: &[(&str, &str)],
) -> Result<FarmKept, FarmFail> {
    let (farm, based_on) = (Some(kept.entry.farm.clone()), Some(kept.digest.clone()));
    farms.keep(&FarmToKeep { farm, based_on, ..wanted(scenario, files) })
}

fn read(home: &TempDir, path: &str) -> String {
    fs::read_to_string(home.path().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn names_in(folder: &Path) -> Vec<String> {
    whole::inside(folder).unwrap().into_iter().map(|(name, _)| name).collect()
}

#[test]
fn a_farm_is_a_plain_folder_and_is_found_again_by_its_true_name() {
    let home = TempDir::new().unwrap();
    assert_eq!(farms(&home).list().unwrap().farms, []);
    assert!(!home.path().join("farms").exists(), "a look makes no folder");
    let text = windy(1, "wind.csv");
    let kept = begun(&farms(&home), " Höhe  7 ", &text, &[("wind.csv", "a\r\n"), ("other", "x")]);
    assert_eq!((kept.entry.farm.as_str(), kept.entry.name.as_str()), ("h-he-7", "Höhe 7"));
    assert_eq!(read(&home, "farms/h-he-7/scenario.json"), text);
    assert_eq!(read(&home, "farms/h-he-7/wind.csv"), "a\r\n");
    let folder = home.path().join("farms/h-he-7");
    assert_eq!(names_in(&folder), ["farm.json", "scenario.json", "versions", "wind.csv"]);
    // Another program, another day.
    let found = farms(&home).list().unwrap().farms;
    assert_eq!(found, std::slice::from_ref(&kept.entry));
    let opened = farms(&home).open("h-he-7").unwrap();
    assert_eq!((opened.scenario, opened.kept), (text, kept));
    assert_eq!(opened.files, BTreeMap::from([("wind.csv".to_owned(), "a\r\n".to_owned())]));
}

#[test]
fn each_keep_leaves_a_version_and_going_back_keeps_the_present_one() {
    let home = TempDir::new().unwrap();
    let farms = farms(&home);
    let first = begun(&farms, "A", &windy(1, "wind.csv"), &[("wind.csv", "one")]);
    let second = again(&farms, &first, &windy(2, "wind.csv"), &[("wind.csv", "two")]).unwrap();
    // The same again is no new version.
    assert_eq!(
        again(&farms, &second, &windy(2, "wind.csv"), &[("wind.csv", "two")]),
        Ok(second.clone())
    );
    let versions = farms.versions("a").unwrap();
    assert_eq!(versions.iter().map(|v| v.is_present).collect::<Vec<_>>(), [true, false]);
    assert_eq!(Some(versions[0].kept_ms), second.entry.kept_ms);
    let back = farms.go_back("a", &versions[1].version).unwrap();
    assert_eq!((back.scenario, back.files["wind.csv"].as_str()), (windy(1, "wind.csv"), "one"));
    assert_eq!(read(&home, "farms/a/wind.csv"), "one");
    assert_eq!(farms.versions("a").unwrap().len(), 3);
    let forward = farms.versions("a").unwrap()[1].version.clone();
    assert_eq!(farms.go_back("a", &forward).unwrap().scenario, windy(2, "wind.csv"));
    assert!(matches!(farms.go_back("a", "../../x"), Err(FarmFail::Unknown(_))));
}

#[test]
fn what_was_kept_elsewhere_meanwhile_is_never_overwritten() {
    let home = TempDir::new().unwrap();
    let farms = farms(&home);
    let first = begun(&farms, "A", "{ \"seed\": 1 }", &[]);
    again(&farms, &first, "{ \"seed\": 2 }", &[]).unwrap();
    let refused = again(&farms, &first, "{ \"seed\": 3 }", &[]);
    assert!(matches!(refused, Err(FarmFail::Elsewhere(_))), "{refused:?}");
    let unknown = FarmKept { digest: String::new(), ..first.clone() };
    assert!(again(&farms, &unknown, "{ \"seed\": 3 }", &[]).is_err());
    // Who arrives at the same by another way disturbs nobody.
    assert!(again(&farms, &first, "{ \"seed\": 2 }", &[]).is_ok());
    // Changed by hand: told, and after opening kept as a version.
    let path = home.path().join("farms/a/scenario.json");
    fs::write(&path, "{ \"seed\": 9 }").unwrap();
    assert!(matches!(again(&farms, &first, "{ \"seed\": 3 }", &[]), Err(FarmFail::Elsewhere(_))));
    let opened = farms.open("a").unwrap();
    again(&farms, &opened.kept, "{ \"seed\": 4 }", &[]).unwrap();
    let versions = farms.versions("a").unwrap();
    assert_eq!(versions.len(), 4);
    assert_eq!(farms.go_back("a", &versions[1].version).unwrap().scenario, "{ \"seed\": 9 }");
}

#[test]
fn a_keep_that_the_disk_does_not_take_leaves_all_as_it_was() {
    let home = TempDir::new().unwrap();
    let farms = farms(&home);
    let kept = begun(&farms, "A", &windy(1, "wind.csv"), &[("wind.csv", "one")]);
    let folder = home.path().join("farms/a");
    // Making the first file aside takes three steps, and then comes the second.
    for step in [0, 3] {
        disk::arm(step, false);
        let refused = again(&farms, &kept, &windy(2, "wind.csv"), &[("wind.csv", "two")]);
        assert!(disk::disarm() && matches!(refused, Err(FarmFail::Disk(_))), "{refused:?}");
        assert_eq!(farms.open("a").unwrap().kept, kept);
        assert_eq!(names_in(&folder), ["farm.json", "scenario.json", "versions", "wind.csv"]);
        assert_eq!(farms.versions("a").unwrap().len(), 1);
    }
    // Neither is a new farm half there.
    fs::write(home.path().join("farms/b"), "mine").unwrap();
    let file_in_the_way = begun(&farms, "B", "{}", &[]);
    assert_eq!(file_in_the_way.entry.farm, "b-2");
    assert_eq!(read(&home, "farms/b"), "mine");
}

#[test]
fn a_keep_that_was_cut_off_is_finished_at_the_next_look() {
    let home = TempDir::new().unwrap();
    let farms = farms(&home);
    let first = begun(&farms, "A", &windy(1, "wind.csv"), &[("wind.csv", "one")]);
    let (farm, _) = farms.home("a").unwrap();
    // The new version and its note are written, one of its files has its name: then the power goes.
    let state = State::of(&windy(2, "wind.csv"), &wanted("", &[("wind.csv", "two")]).files);
    let ms = farm.versions.add(&state, a_minute_later()).unwrap();
    farm.versions.begin(ms).unwrap();
    fs::write(home.path().join("farms/a/wind.csv"), "two").unwrap();
    let opened = farms.open("a").unwrap();
    assert_eq!((opened.scenario, opened.files["wind.csv"].as_str()), (windy(2, "wind.csv"), "two"));
    assert_eq!(read(&home, "farms/a/scenario.json"), windy(2, "wind.csv"));
    assert!(again(&farms, &opened.kept, &windy(3, "wind.csv"), &[("wind.csv", "two")]).is_ok());
    // Where it cannot be put in place, what was kept is shown all the same.
    let ms = farm.versions.add(&state, a_minute_later()).unwrap();
    farm.versions.begin(ms).unwrap();
    fs::remove_file(home.path().join("farms/a/scenario.json")).unwrap();
    fs::write(home.path().join("farms/a/wind.csv"), "three").unwrap();
    let hurdle = format!("farms/a/.wind.csv.aside-{}", std::process::id());
    fs::create_dir(home.path().join(&hurdle)).unwrap();
    fs::write(home.path().join("farms/a/scenario.json"), "{}").unwrap();
    assert_eq!(farms.open("a").unwrap().scenario, windy(2, "wind.csv"));
    assert_ne!(farms.open("a").unwrap().kept, first);
}

#[test]
fn names_lead_nowhere_else_and_collide_with_nothing() {
    let home = TempDir::new().unwrap();
    let farms = farms(&home);
    for name in ["../../out", "put-away", "files elsewhere", "CON", "畑", "烟", "a/b"] {
        begun(&farms, name, "{}", &[]);
    }
    let found = names_in(&home.path().join("farms"));
    let expected =
        [".lock", "a-b", "farm", "farm-2", "farm-con", "files-elsewhere-2", "out", "put-away-2"];
    assert_eq!(found, expected);
    assert_eq!(names_in(home.path()), ["farms"]);
    let refused = farms.keep(&FarmToKeep { name: "A/B".to_owned(), ..wanted("{}", &[]) });
    assert!(matches!(refused, Err(FarmFail::Refused(..))), "{refused:?}");
    for word in ["..", ".", "", "out/../a-b", "put-away", "a-b/versions", ".lock", "/etc"] {
        assert!(matches!(farms.open(word), Err(FarmFail::Unknown(_))), "{word}");
        assert!(farms.put_away(word).is_err() && farms.rename(word, "Z").is_err());
    }
    // Files come beside the scenario, whatever they were called.
    let text = windy(1, "../../../escaped.csv");
    let kept = begun(&farms, "Files", &text, &[("../../../escaped.csv", "in")]);
    assert_eq!(read(&home, "farms/files/escaped.csv"), "in");
    assert!(kept.missing.is_empty());
    // A scenario that was put there by hand reads nothing outside.
    fs::write(home.path().join("secret.csv"), "secret").unwrap();
    fs::write(home.path().join("farms/files/scenario.json"), windy(1, "../../secret.csv")).unwrap();
    let opened = farms.open("files").unwrap();
    assert!(opened.files.is_empty());
    assert_eq!(opened.kept.missing, ["../../secret.csv"]);
}

#[cfg(unix)]
#[test]
fn links_are_not_followed() {
    let home = TempDir::new().unwrap();
    let farms = farms(&home);
    begun(&farms, "A", "{}", &[]);
    fs::create_dir(home.path().join("elsewhere")).unwrap();
    fs::write(home.path().join("elsewhere/scenario.json"), "{ \"secret\": 1 }").unwrap();
    let link = |from: &str, to: &str| {
        std::os::unix::fs::symlink(home.path().join(from), home.path().join(to)).unwrap();
    };
    link("elsewhere", "farms/linked");
    link("elsewhere/scenario.json", "farms/a/wind.csv");
    assert_eq!(farms.list().unwrap().farms.len(), 1);
    fs::write(home.path().join("farms/a/scenario.json"), windy(1, "wind.csv")).unwrap();
    let opened = farms.open("a").unwrap();
    assert!(opened.files.is_empty(), "{opened:?}");
}

#[test]
fn a_file_of_the_farmers_own_is_not_replaced() {
    let home = TempDir::new().unwrap();
    let farms = farms(&home);
    let kept = begun(&farms, "A", "{}", &[]);
    fs::write(home.path().join("farms/a/wind.csv"), "my notes").unwrap();
    let refused = again(&farms, &kept, &windy(1, "wind.csv"), &[("wind.csv", "one")]);
    assert!(matches!(refused, Err(FarmFail::Refused(..))), "{refused:?}");
    assert_eq!(read(&home, "farms/a/wind.csv"), "my notes");
    // What was kept and is no longer named goes, for a version has it; what was changed stays.
    let kept = again(&farms, &kept, &windy(1, "b.csv"), &[("b.csv", "b")]).unwrap();
    let kept = again(&farms, &kept, "{}", &[]).unwrap();
    assert!(!home.path().join("farms/a/b.csv").exists());
    assert_eq!(read(&home, "farms/a/wind.csv"), "my notes");
    assert_eq!(kept.missing, [""; 0]);
}

#[test]
fn farms_are_copied_renamed_put_away_and_taken_back() {
    let home = TempDir::new().unwrap();
    let farms = farms(&home);
    begun(&farms, "A", &windy(1, "wind.csv"), &[("wind.csv", "one")]);
    let copy = farms.copy("a", "B").unwrap();
    assert_eq!(copy.entry.farm, "b");
    assert_eq!(read(&home, "farms/b/wind.csv"), "one");
    assert_eq!(farms.rename("b", "West 40").unwrap().entry.name, "West 40");
    assert!(matches!(farms.rename("b", "a"), Err(FarmFail::Refused(..))));
    assert_eq!(farms.rename("b", "west 40").unwrap().entry.name, "west 40");
    farms.put_away("a").unwrap();
    begun(&farms, "A", "{}", &[]);
    farms.put_away("a").unwrap();
    let list = farms.list().unwrap();
    assert_eq!(list.farms.len(), 1);
    let away: Vec<&str> = list.put_away.iter().map(|one| one.farm.as_str()).collect();
    assert_eq!(away, ["a-2", "a"]);
    assert_eq!(farms.take_back("a").unwrap().farm, "a");
    assert!(matches!(farms.take_back("a-2"), Err(FarmFail::Refused(..))));
    assert_eq!(farms.open("a").unwrap().files.len(), 1);
}

#[test]
fn the_file_of_the_start_is_kept_where_it_lies_and_its_versions_elsewhere() {
    let home = TempDir::new().unwrap();
    let beside = home.path().join("beside");
    fs::create_dir(&beside).unwrap();
    let path = beside.join("my-field.json");
    fs::write(home.path().join("wind.csv"), "far").unwrap();
    fs::write(beside.join("near.csv"), "near").unwrap();
    let text = |seed: u64| {
        format!(
            "{{ \"seed\": {seed}, \"a\": {{ \"file\": \"../wind.csv\" }}, \"b\": {{ \"file\": \"near.csv\" }} }}\n"
        )
    };
    fs::write(&path, text(1)).unwrap();
    let farms = FarmsOnDisk {
        now_ms: a_minute_later,
        ..FarmsOnDisk::new(home.path().join("farms"), Some(&path))
    };
    let this_file = farms.this_file().unwrap().to_owned();
    let opened = farms.open(&this_file).unwrap();
    assert_eq!((opened.kept.entry.name.as_str(), opened.files.len()), ("my-field.json", 2));
    let both = [("../wind.csv", "far"), ("near.csv", "nearer")];
    let kept = again(&farms, &opened.kept, &text(2), &both).unwrap();
    assert_eq!(read(&home, "beside/my-field.json"), text(2));
    assert_eq!(read(&home, "beside/near.csv"), "nearer");
    // Nothing else beside it, nothing written outside.
    assert_eq!(names_in(&beside), ["my-field.json", "near.csv"]);
    // Laid out otherwise it is the same, and stays as it was written.
    let flat = text(2).replace([' ', '\n'], "");
    assert_eq!(again(&farms, &kept, &flat, &both), Ok(kept.clone()));
    assert_eq!(read(&home, "beside/my-field.json"), text(2));
    let changed = [("../wind.csv", "changed"), ("near.csv", "nearer")];
    let refused = again(&farms, &kept, &text(2), &changed);
    assert!(matches!(refused, Err(FarmFail::Refused(..))), "{refused:?}");
    assert_eq!(read(&home, "wind.csv"), "far");
    let versions = farms.versions(&this_file).unwrap();
    assert_eq!(versions.len(), 2);
    let back = farms.go_back(&this_file, &versions[1].version).unwrap();
    assert_eq!((back.scenario, back.files["../wind.csv"].as_str()), (text(1), "far"));
    assert_eq!(read(&home, "beside/near.csv"), "near");
    assert!(farms.put_away(&this_file).is_err() && farms.rename(&this_file, "x").is_err());
    assert_eq!(farms.copy(&this_file, "Mine").unwrap().entry.farm, "mine");
    assert_eq!(read(&home, "farms/mine/wind.csv"), "far");
}
