//! The folder of farms: what lies in it, found by name, kept anew, moved.

use super::home::{Home, failed};
use super::names;
use super::state::State;
use super::this_file::{self, ThisFile};
use crate::disk;
use crate::whole;
use evenfall_explorer::{FarmEntry, FarmFail, FarmKept, FarmOpened};
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

/// The folder of farms that were put away.
const AWAY: &str = "put-away";
/// Names in the farms' folder that are no farms.
const RESERVED: [&str; 2] = [AWAY, this_file::ELSEWHERE];
/// How often another program that keeps something is waited for, and how long each time.
const TRIES: u32 = 50;
const PAUSE: Duration = Duration::from_millis(100);

/// Farms in a folder, and the file that the explorer was started with.
#[derive(Debug)]
pub(crate) struct FarmsOnDisk {
    pub(super) folder: PathBuf,
    pub(super) file: Option<ThisFile>,
    pub(super) now_ms: fn() -> u64,
}

/// Milliseconds since 1970-01-01 UTC by the machine's clock.
#[expect(clippy::disallowed_methods, reason = "when a farm is kept; no result holds it")]
fn by_the_clock() -> u64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    u64::try_from(since.as_millis()).unwrap_or(u64::MAX)
}

impl FarmsOnDisk {
    /// Farms in `folder`, which is made when the first is kept, and the scenario file at `file`.
    pub(crate) fn new(folder: PathBuf, file: Option<&Path>) -> Self {
        let file = file.and_then(|path| ThisFile::new(path, &folder));
        Self { folder, file, now_ms: by_the_clock }
    }

    /// The word for the file that the explorer was started with, where it is kept too.
    pub(crate) fn this_file(&self) -> Option<&str> {
        self.file.as_ref().map(|file| file.word.as_str())
    }

    /// Whether a word stands for that file.
    pub(super) fn is_this_file(&self, farm: &str) -> bool {
        self.this_file() == Some(farm)
    }

    pub(super) fn away(&self) -> PathBuf {
        self.folder.join(AWAY)
    }

    /// Waits until no other program writes. Whoever only reads makes no folder.
    pub(super) fn lock(&self, is_writing: bool) -> Result<Option<File>, FarmFail> {
        let folder = &self.folder;
        if is_writing {
            disk::make_folders(folder).map_err(|error| failed("make", folder, &error))?;
        } else if !folder.is_dir() {
            return Ok(None);
        }
        let path = folder.join(".lock");
        let open = File::options().create(true).append(true).open(&path);
        let file = match open {
            // What may only be read is read all the same.
            Err(_) if !is_writing => return Ok(None),
            other => other.map_err(|error| failed("write", &path, &error))?,
        };
        for _ in 0..TRIES {
            match file.try_lock() {
                Ok(()) => return Ok(Some(file)),
                Err(fs::TryLockError::WouldBlock) => std::thread::sleep(PAUSE),
                // Some disks of networks know no locks.
                Err(fs::TryLockError::Error(_)) => return Ok(None),
            }
        }
        Err(FarmFail::Disk("Another program keeps farms at this moment. Try again.".to_owned()))
    }

    /// Folders of farms below `folder`.
    fn folders(folder: &Path) -> Result<Vec<String>, FarmFail> {
        let all = whole::inside(folder).map_err(|error| failed("read", folder, &error))?;
        let is_farm = |(name, is_folder): &(String, bool)| {
            *is_folder
                && !name.starts_with('.')
                && !RESERVED.contains(&name.as_str())
                && folder.join(name).join("scenario.json").is_file()
        };
        Ok(all.into_iter().filter(is_farm).map(|(name, _)| name).collect())
    }

    /// The folder of a farm: found among those that are there, never made from the word.
    pub(super) fn find(folder: &Path, farm: &str) -> Result<PathBuf, FarmFail> {
        let found = Self::folders(folder)?.into_iter().find(|name| name == farm);
        found.map(|name| folder.join(name)).ok_or_else(|| {
            FarmFail::Unknown("There is no such farm. It may have been put away or moved.".into())
        })
    }

    /// Where a farm, or the file of the start, lies.
    pub(super) fn home(&self, farm: &str) -> Result<(Home, FarmEntry), FarmFail> {
        if let Some(file) = self.file.as_ref().filter(|file| file.word == farm) {
            return Ok((file.home(), entry(farm, &file.name(), &file.home())?));
        }
        let folder = Self::find(&self.folder, farm)?;
        let home = Home::in_folder(&folder);
        let entry = entry(farm, &name_in(&folder, farm), &home)?;
        Ok((home, entry))
    }

    /// The same for what only a farm of its own can have done to it.
    pub(super) fn own_home(&self, farm: &str) -> Result<(Home, FarmEntry), FarmFail> {
        if self.is_this_file(farm) {
            return Err(FarmFail::Refused(
                "The file that the explorer was started with stays where it is.".to_owned(),
                "Keep it as a farm first.".to_owned(),
            ));
        }
        self.home(farm)
    }

    pub(super) fn entries(folder: &Path) -> Result<Vec<FarmEntry>, FarmFail> {
        let one = |farm: String| {
            let folder = folder.join(&farm);
            entry(&farm, &name_in(&folder, &farm), &Home::in_folder(&folder))
        };
        let all = Self::folders(folder)?.into_iter().map(one);
        let mut all = all.collect::<Result<Vec<_>, _>>()?;
        all.sort_by(|a, b| b.kept_ms.cmp(&a.kept_ms).then_with(|| a.name.cmp(&b.name)));
        Ok(all)
    }

    /// A name that no other farm has; `but` is the farm that is to get it.
    pub(super) fn free_name(&self, name: &str, but: Option<&str>) -> Result<String, FarmFail> {
        let name = names::checked(name).map_err(|(what, hint)| FarmFail::Refused(what, hint))?;
        let is_other = |one: &FarmEntry| Some(one.farm.as_str()) != but;
        let all = Self::entries(&self.folder)?;
        if all.iter().any(|one| is_other(one) && names::same(&one.name, &name)) {
            let problem = format!("There is a farm called “{name}” already.");
            return Err(FarmFail::Refused(problem, "Give this one another name.".to_owned()));
        }
        Ok(name)
    }

    /// Keeps a state as a new farm.
    pub(super) fn keep_new(&self, name: &str, state: &State) -> Result<FarmKept, FarmFail> {
        let name = self.free_name(name, None)?;
        let is_taken = |word: &str| {
            RESERVED.contains(&word)
                || self.is_this_file(word)
                || self.folder.join(word).symlink_metadata().is_ok()
        };
        let farm = names::folder(&name, &is_taken);
        let folder = self.folder.join(&farm);
        disk::make_folder(&folder).map_err(|error| failed("make", &folder, &error))?;
        let home = Home::in_folder(&folder);
        let kept = write_name(&folder, &name)
            .and_then(|()| home.keep(None, state, (self.now_ms)()))
            .and_then(|_| self.kept(&farm));
        if kept.is_err() {
            // The folder was made for this alone.
            let _ = disk::remove_folder(&folder);
        }
        kept
    }

    pub(super) fn kept(&self, farm: &str) -> Result<FarmKept, FarmFail> {
        self.opened(farm).map(|opened| opened.kept)
    }

    pub(super) fn state(&self, farm: &str) -> Result<(Home, FarmEntry, State), FarmFail> {
        let (home, entry) = self.home(farm)?;
        let state = home.present(self.is_this_file(farm))?;
        let gone = || FarmFail::Unknown(format!("“{}” is not there any more.", entry.name));
        let state = state.ok_or_else(gone)?;
        Ok((home, entry, state))
    }

    pub(super) fn opened(&self, farm: &str) -> Result<FarmOpened, FarmFail> {
        let (_, entry, state) = self.state(farm)?;
        let digest = state.digest();
        let texts = |(name, bytes)| Some((name, String::from_utf8(bytes).ok()?));
        let missing = state.missing();
        let files: std::collections::BTreeMap<_, _> =
            state.files.into_iter().filter_map(texts).collect();
        let kept = FarmKept { entry, digest, missing };
        Ok(FarmOpened { kept, scenario: state.text, files })
    }
}

fn entry(farm: &str, name: &str, home: &Home) -> Result<FarmEntry, FarmFail> {
    let times = home.versions.times();
    let times = times.map_err(|error| failed("read", &home.versions.0, &error))?;
    let (farm, name) = (farm.to_owned(), name.to_owned());
    Ok(FarmEntry { farm, name, kept_ms: times.first().copied() })
}

/// The name that its owner gave a farm; its folder's where none is told.
pub(super) fn name_in(folder: &Path, farm: &str) -> String {
    let text = whole::read(&folder.join("farm.json")).ok().flatten().unwrap_or_default();
    let told: serde_json::Value = serde_json::from_slice(&text).unwrap_or_default();
    let name = told["name"].as_str().and_then(|name| names::checked(name).ok());
    name.unwrap_or_else(|| farm.to_owned())
}

pub(super) fn write_name(folder: &Path, name: &str) -> Result<(), FarmFail> {
    let path = folder.join("farm.json");
    let text = format!("{:#}\n", serde_json::json!({ "evenfall_farm": 1, "name": name }));
    whole::write(&path, text.as_bytes()).map_err(|error| failed("write", &path, &error))
}

/// Moves a farm's folder to a free name below `to`, and gives that.
pub(super) fn moved(folder: &Path, farm: &str, to: &Path) -> Result<String, FarmFail> {
    let work = || -> io::Result<String> {
        disk::make_folders(to)?;
        let is_taken =
            |word: &str| RESERVED.contains(&word) || to.join(word).symlink_metadata().is_ok();
        let word = if is_taken(farm) { names::folder(farm, &is_taken) } else { farm.to_owned() };
        disk::rename_new(folder, &to.join(&word))?;
        disk::sync_folder(to)?;
        folder.parent().map_or(Ok(()), disk::sync_folder)?;
        Ok(word)
    };
    work().map_err(|error| failed("move", folder, &error))
}
