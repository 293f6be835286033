//! Farms on the disk: each a folder with a plain `scenario.json`, the files it names, and its versions.
//!
//! ```text
//! farms/home-quarter/scenario.json, wind.csv, farm.json (its true name)
//!                   /versions/2026-11-29T14-05-33-120Z/…
//!      /put-away/…                        what was put away, whole
//!      /files-elsewhere/my-field-1f2e…/   versions of scenario files that lie elsewhere
//! ```
//!
//! Written only when somebody asks to keep (`home.rs` says how), one program at a time. A word that
//! comes from an address is never made part of a path: it is looked for among the names that are
//! there. Folders and files get plain names (`names.rs`); links are not followed.

#[cfg(test)]
mod fault_tests;
mod home;
mod names;
mod on_disk;
mod state;
#[cfg(test)]
mod tests;
mod this_file;
mod versions;

pub(crate) use on_disk::FarmsOnDisk;

use evenfall_explorer::{
    FarmEntry, FarmFail, FarmKept, FarmList, FarmOpened, FarmToKeep, FarmVersion, Farms,
};
use home::failed;
use on_disk::{moved, name_in, write_name};
use state::State;

/// Most farms that are listed.
const MOST_LISTED: usize = 500;

impl Farms for FarmsOnDisk {
    fn list(&self) -> Result<FarmList, FarmFail> {
        let mut farms = Self::entries(&self.folder)?;
        let mut put_away = Self::entries(&self.away())?;
        let listed = farms.len().min(MOST_LISTED) + put_away.len().min(MOST_LISTED);
        let more = farms.len() + put_away.len() - listed;
        farms.truncate(MOST_LISTED);
        put_away.truncate(MOST_LISTED);
        let this_file = self.this_file().map(|word| self.home(word)).transpose()?;
        let folder = self.folder.display().to_string();
        Ok(FarmList { folder, farms, put_away, this_file: this_file.map(|(_, e)| e), more })
    }

    fn open(&self, farm: &str) -> Result<FarmOpened, FarmFail> {
        let _lock = self.lock(false)?;
        self.opened(farm)
    }

    fn keep(&self, wanted: &FarmToKeep) -> Result<FarmKept, FarmFail> {
        let _lock = self.lock(true)?;
        let state = State::of(&wanted.scenario, &wanted.files);
        let Some(farm) = &wanted.farm else {
            return self.keep_new(&wanted.name, &state.beside());
        };
        let is_file = self.is_this_file(farm);
        let state = if is_file { state } else { state.beside() };
        let (home, entry) = self.home(farm)?;
        let present = home.present(is_file)?;
        // The same in another layout stays as its owner wrote it.
        let state = present.iter().find(|present| present.says_the_same(&state)).unwrap_or(&state);
        let digest = present.as_ref().map(State::digest);
        if present.as_ref() != Some(state) && digest != wanted.based_on {
            let name = &entry.name;
            return Err(FarmFail::Elsewhere(format!(
                "“{name}” was changed elsewhere meanwhile: in another tab, another program or by \
                 hand."
            )));
        }
        home.keep(present.as_ref(), state, (self.now_ms)())?;
        self.kept(farm)
    }

    fn copy(&self, farm: &str, name: &str) -> Result<FarmKept, FarmFail> {
        let _lock = self.lock(true)?;
        let (_, _, state) = self.state(farm)?;
        self.keep_new(name, &state.beside())
    }

    fn rename(&self, farm: &str, name: &str) -> Result<FarmKept, FarmFail> {
        let _lock = self.lock(true)?;
        self.own_home(farm)?;
        let name = self.free_name(name, Some(farm))?;
        write_name(&Self::find(&self.folder, farm)?, &name)?;
        self.kept(farm)
    }

    fn put_away(&self, farm: &str) -> Result<(), FarmFail> {
        let _lock = self.lock(true)?;
        self.own_home(farm)?;
        moved(&Self::find(&self.folder, farm)?, farm, &self.away()).map(|_| ())
    }

    fn take_back(&self, farm: &str) -> Result<FarmEntry, FarmFail> {
        let _lock = self.lock(true)?;
        let folder = Self::find(&self.away(), farm)?;
        self.free_name(&name_in(&folder, farm), None)?;
        let word = moved(&folder, farm, &self.folder)?;
        self.home(&word).map(|(_, entry)| entry)
    }

    fn versions(&self, farm: &str) -> Result<Vec<FarmVersion>, FarmFail> {
        let _lock = self.lock(false)?;
        let (home, _, state) = self.state(farm)?;
        let of_versions = |error| failed("read", &home.versions.0, &error);
        let present = home.versions.latest(&home::within(&state)).map_err(of_versions)?;
        let times = home.versions.times().map_err(of_versions)?;
        let one = |ms| FarmVersion {
            version: versions::word(ms),
            kept_ms: ms,
            is_present: Some(ms) == present,
        };
        Ok(times.into_iter().map(one).collect())
    }

    fn go_back(&self, farm: &str, version: &str) -> Result<FarmOpened, FarmFail> {
        let _lock = self.lock(true)?;
        let (home, _, present) = self.state(farm)?;
        let of_versions = |error| failed("read", &home.versions.0, &error);
        let times = home.versions.times().map_err(of_versions)?;
        // Looked for among those that are there: the word makes no path.
        let found = times.into_iter().find(|ms| versions::word(*ms) == version);
        let no = || FarmFail::Unknown("There is no such version any more.".to_owned());
        let mut state = home.versions.read(found.ok_or_else(no)?).map_err(of_versions)?;
        // What lies outside the folder is in no version; it is as it is now.
        let names = state::named(&state.text);
        let outside = present.files.iter().filter(|(name, _)| !names::is_plain(name));
        let outside = outside.filter(|(name, _)| names.contains(name));
        state.files.extend(outside.map(|(name, bytes)| (name.clone(), bytes.clone())));
        home.keep(Some(&present), &state, (self.now_ms)())?;
        self.opened(farm)
    }
}
