//! Versions of a farm: each a folder named for its time (UTC), with the scenario and its files as they
//! were, plain to read. A version appears whole; files that did not change since the version before
//! are linked to its, where the disk can do that.
//!
//! Kept are the latest twenty, before them the last of each day (the latest ninety such days), before
//! those the last of each month, two hundred in all. What is thinned out is removed only if it is what
//! was written: a version that somebody changed or added to stays.

use super::names;
use super::state::{State, named};
use crate::disk;
use crate::whole;
use crate::written::{LIST, Written};
use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::Offset;
use std::collections::BTreeSet;
use std::io;
use std::path::{Path, PathBuf};

/// The scenario in a version.
const SCENARIO: &str = "scenario.json";
/// The note that a version was not yet put in place when the program was ended.
const UNFINISHED: &str = "unfinished";
/// How a version's folder is named.
const FORMAT: &str = "%Y-%m-%dT%H-%M-%S-%3fZ";
/// Versions that are all kept; days before them of which one is; versions in all.
const LATEST: usize = 20;
const DAYS: usize = 90;
const ALL: usize = 200;

/// The versions of one farm.
#[derive(Clone, Debug)]
pub(super) struct Versions(pub(super) PathBuf);

/// The folder's name of a time, milliseconds since 1970-01-01 UTC.
pub(super) fn word(ms: u64) -> String {
    let time = i64::try_from(ms).ok().and_then(|ms| Timestamp::from_millisecond(ms).ok());
    time.unwrap_or_default().strftime(FORMAT).to_string()
}

/// The time of a folder's name; nothing where it is no version's.
pub(super) fn time(word: &str) -> Option<u64> {
    let time = DateTime::strptime(FORMAT, word).ok()?;
    let ms = u64::try_from(Offset::UTC.to_timestamp(time).ok()?.as_millisecond()).ok()?;
    (self::word(ms) == word).then_some(ms)
}

impl Versions {
    /// Times of all versions, the latest first.
    pub(super) fn times(&self) -> io::Result<Vec<u64>> {
        let all = whole::inside(&self.0)?;
        let mut times: Vec<u64> =
            all.iter().filter(|(_, is_folder)| *is_folder).filter_map(|(n, _)| time(n)).collect();
        times.sort_unstable_by(|a, b| b.cmp(a));
        Ok(times)
    }

    fn at(&self, ms: u64) -> PathBuf {
        self.0.join(word(ms))
    }

    /// What a version holds.
    pub(super) fn read(&self, ms: u64) -> io::Result<State> {
        let folder = self.at(ms);
        let bytes = whole::read(&folder.join(SCENARIO))?.ok_or(io::ErrorKind::NotFound)?;
        let text = String::from_utf8(bytes).map_err(|_| io::ErrorKind::InvalidData)?;
        let mut state = State { text, ..State::default() };
        for name in named(&state.text).into_iter().filter(|name| names::is_plain(name)) {
            if let Some(bytes) = whole::read(&folder.join(&name))? {
                state.files.insert(name, bytes);
            }
        }
        Ok(state)
    }

    /// The latest version that holds just this, among the latest few.
    pub(super) fn latest(&self, state: &State) -> io::Result<Option<u64>> {
        for ms in self.times()?.into_iter().take(LATEST) {
            // A version that somebody damaged holds something else.
            if self.read(ms).is_ok_and(|known| known == *state) {
                return Ok(Some(ms));
            }
        }
        Ok(None)
    }

    /// Adds a version, later than all there are, and gives its time.
    pub(super) fn add(&self, state: &State, now_ms: u64) -> io::Result<u64> {
        disk::make_folders(&self.0)?;
        self.remove_dead();
        let before = self.times()?.first().copied();
        let ms = before.map_or(now_ms, |before| now_ms.max(before + 1));
        let partial = self.0.join(format!(".{}-{}", word(ms), std::process::id()));
        let made = self.fill(&partial, state, before).and_then(|()| {
            disk::sync_folder(&partial)?;
            disk::rename(&partial, &self.at(ms))?;
            disk::sync_folder(&self.0)
        });
        if made.is_err() {
            // Nothing better can be done with an error while another is being told.
            let _ = disk::remove_folder(&partial);
        }
        made.map(|()| ms)
    }

    /// Removes what a program that was ended left of a version. The folder of farms is locked while one
    /// is written, so nobody writes these.
    fn remove_dead(&self) {
        for (name, is_folder) in whole::inside(&self.0).unwrap_or_default() {
            let of = name.strip_prefix('.').and_then(|name| name.rsplit_once('-'));
            if is_folder && of.is_some_and(|(word, _)| time(word).is_some()) {
                // One too many does no harm.
                let _ = disk::remove_folder(&self.0.join(name));
            }
        }
    }

    fn fill(&self, folder: &Path, state: &State, before: Option<u64>) -> io::Result<()> {
        disk::make_folder(folder)?;
        let mut written = Written::default();
        let mut put = |name: &str, bytes: &[u8]| {
            written.add(name, bytes);
            let earlier = before.map(|ms| self.at(ms).join(name));
            let earlier = earlier.filter(|path| {
                whole::read(path).is_ok_and(|known| known.as_deref() == Some(bytes))
            });
            // Not every disk links; then it is written again.
            if earlier.is_some_and(|path| disk::link(&path, &folder.join(name)).is_ok()) {
                return Ok(());
            }
            whole::write(&folder.join(name), bytes)
        };
        put(SCENARIO, state.text.as_bytes())?;
        for (name, bytes) in &state.files {
            put(name, bytes)?;
        }
        whole::write(&folder.join(LIST), written.to_text().as_bytes())
    }

    /// Notes that a version is about to be put in place.
    pub(super) fn begin(&self, ms: u64) -> io::Result<()> {
        whole::write(&self.0.join(UNFINISHED), word(ms).as_bytes())
    }

    /// Notes that it is in place.
    pub(super) fn end(&self) -> io::Result<()> {
        match disk::remove(&self.0.join(UNFINISHED)) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
            _ => disk::sync_folder(&self.0),
        }
    }

    /// The version that was not yet put in place when the program was ended.
    pub(super) fn unfinished(&self) -> io::Result<Option<u64>> {
        let note = whole::read(&self.0.join(UNFINISHED))?;
        let ms = note.and_then(|bytes| time(String::from_utf8(bytes).ok()?.trim()));
        Ok(ms.filter(|ms| self.at(*ms).is_dir()))
    }

    /// Thins them out. What cannot be removed stays; the next keep tries again.
    pub(super) fn thin(&self) -> io::Result<()> {
        for ms in to_thin(&self.times()?) {
            let folder = self.at(ms);
            let Ok(Some(list)) = whole::read(&folder.join(LIST)) else { continue };
            let written = Written::of_text(&String::from_utf8_lossy(&list));
            if written.edited(&folder, &|_, _| false)?.is_empty() {
                disk::remove_folder(&folder)?;
            }
        }
        Ok(())
    }
}

/// Which of these times, the latest first, are thinned out.
fn to_thin(times: &[u64]) -> Vec<u64> {
    let (mut days, mut months) = (BTreeSet::new(), BTreeSet::new());
    let mut stays = 0;
    let mut goes = |(index, ms): (usize, &u64)| {
        let word = word(*ms);
        let is_kept = index < LATEST
            || (days.len() < DAYS && days.insert(word[..10].to_owned()))
            || (days.len() >= DAYS
                && !days.contains(&word[..10])
                && months.insert(word[..7].to_owned()));
        let is_kept = is_kept && stays < ALL;
        stays += usize::from(is_kept);
        (!is_kept).then_some(*ms)
    };
    times.iter().enumerate().filter_map(&mut goes).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    const DAY_MS: u64 = 86_400_000;

    #[test]
    fn closed_a_time_is_a_plain_name_and_back() {
        let ms = 1_795_961_133_120;
        assert_eq!(word(ms), "2026-11-29T14-05-33-120Z");
        assert_eq!(time(&word(ms)), Some(ms));
        for other in ["versions", "2026-11-29", "2026-11-29T14-05-33-120Z ", "..", ""] {
            assert_eq!(time(other), None, "{other}");
        }
    }

    #[test]
    fn closed_the_latest_twenty_stay_and_one_a_day_and_a_month_before() {
        // Three keeps a day for four hundred days, the latest first.
        let from = 20_000 * DAY_MS;
        let times: Vec<u64> = (0..1200).rev().map(|n| from + n * DAY_MS / 3).collect();
        let gone: BTreeSet<u64> = to_thin(&times).into_iter().collect();
        let left: Vec<u64> = times.iter().copied().filter(|ms| !gone.contains(ms)).collect();
        assert_eq!(left[..20], times[..20]);
        let days: Vec<u64> = left[20..110].iter().map(|ms| ms / DAY_MS).collect();
        assert!(days.windows(2).all(|two| two[0] == two[1] + 1), "{days:?}");
        // The last of each day stays.
        assert!(left[21..110].iter().all(|ms| ms % DAY_MS == 2 * DAY_MS / 3));
        let months = left.len() - 110;
        assert!((9..=12).contains(&months), "{months}");
        // Thinned again, nothing more goes but what has grown older.
        assert_eq!(to_thin(&left), [0_u64; 0]);
        let many: Vec<u64> = (0..30_000).rev().map(|n| n * DAY_MS / 2).collect();
        assert_eq!(many.len() - to_thin(&many).len(), ALL);
    }

    #[test]
    fn invariant_a_version_that_somebody_changed_is_never_removed() {
        let home = tempfile::tempdir().unwrap();
        let versions = Versions(home.path().join("versions"));
        let state = |n: u64| State { text: format!("{{ \"seed\": {n} }}"), ..State::default() };
        for n in 0..23 {
            assert_eq!(versions.add(&state(n), 1_000 + n).unwrap(), 1_000 + n);
        }
        fs::write(versions.at(1_000).join("notes.txt"), "mine").unwrap();
        fs::create_dir(home.path().join("versions/1999 by hand")).unwrap();
        versions.thin().unwrap();
        // Of the three oldest the latest stays for its day; one of the others holds a note.
        let left = versions.times().unwrap();
        assert_eq!((left.len(), left[20], left[21]), (22, 1_002, 1_000));
        assert!(home.path().join("versions/1999 by hand").is_dir());
        assert_eq!(versions.read(1_000).unwrap(), state(0));
        // A clock that goes back does not mix up their order.
        assert_eq!(versions.add(&state(99), 5).unwrap(), 1_023);
        assert_eq!(versions.latest(&state(99)).unwrap(), Some(1_023));
    }
}
