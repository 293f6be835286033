//! Farms that are kept by name, as the explorer asks for them. This crate knows no disk: whoever
//! starts the explorer brings what keeps them ([`Farms`]), or nothing, and then none are kept.
//!
//! A farm is a scenario with the texts of the files that it names. It has a plain word by which
//! addresses call it (`farm`), and the name that its owner gave it. What is kept has a digest; who
//! keeps it again says on which digest that was based, so that nothing that was kept meanwhile is
//! overwritten unknown. Each keep leaves a version to go back to.

use std::collections::BTreeMap;
use std::fmt::Debug;

/// A farm in a list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FarmEntry {
    /// The word by which addresses call it.
    pub farm: String,
    /// The name that its owner gave it.
    pub name: String,
    /// When it was kept last, milliseconds since 1970-01-01 UTC; nothing where that is not known.
    pub kept_ms: Option<u64>,
}

/// What is kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FarmList {
    /// Where, as its owner finds it.
    pub folder: String,
    /// Those in use, the latest first.
    pub farms: Vec<FarmEntry>,
    /// Those put away, the latest first.
    pub put_away: Vec<FarmEntry>,
    /// The file that the explorer was started with, where it is kept too.
    pub this_file: Option<FarmEntry>,
    /// How many more there are than are listed.
    pub more: usize,
}

/// What was kept, and is the present state of a farm.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FarmKept {
    /// Which farm, and when.
    pub entry: FarmEntry,
    /// Digest of the scenario and its files.
    pub digest: String,
    /// Files that the scenario names and that are not kept with it.
    pub missing: Vec<String>,
}

/// A farm as it is opened.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FarmOpened {
    /// What is told of it.
    pub kept: FarmKept,
    /// Text of the scenario.
    pub scenario: String,
    /// Texts of the files that it names, by that name.
    pub files: BTreeMap<String, String>,
}

/// What is to be kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FarmToKeep {
    /// The farm that it is; a new one where none is named.
    pub farm: Option<String>,
    /// Name of a new farm.
    pub name: String,
    /// Text of the scenario.
    pub scenario: String,
    /// Texts of the files that it names, by that name.
    pub files: BTreeMap<String, String>,
    /// Digest of what it was made from; needed where the farm is there already.
    pub based_on: Option<String>,
}

/// A version to go back to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FarmVersion {
    /// The word by which addresses call it.
    pub version: String,
    /// When it was kept, milliseconds since 1970-01-01 UTC.
    pub kept_ms: u64,
    /// Whether it is what the farm holds now.
    pub is_present: bool,
}

/// Why a farm cannot be had or kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FarmFail {
    /// There is no such farm or version.
    Unknown(String),
    /// It was kept meanwhile from elsewhere; nothing was written.
    Elsewhere(String),
    /// It may not be so: what is wrong, and what to do.
    Refused(String, String),
    /// The disk does not give or take it; what was there is still there.
    Disk(String),
}

/// Who keeps farms.
pub trait Farms: Send + Sync + Debug {
    /// What is kept.
    ///
    /// # Errors
    /// If the disk does not tell.
    fn list(&self) -> Result<FarmList, FarmFail>;

    /// A farm as it is kept now.
    ///
    /// # Errors
    /// If there is none or the disk does not give it.
    fn open(&self, farm: &str) -> Result<FarmOpened, FarmFail>;

    /// Keeps a farm anew or again; either all of it is kept or what was there stays.
    ///
    /// # Errors
    /// If it was kept from elsewhere meanwhile, its name is taken, or the disk does not take it.
    fn keep(&self, wanted: &FarmToKeep) -> Result<FarmKept, FarmFail>;

    /// Keeps what a farm holds under another name too.
    ///
    /// # Errors
    /// As for [`Farms::open`] and [`Farms::keep`].
    fn copy(&self, farm: &str, name: &str) -> Result<FarmKept, FarmFail>;

    /// Gives a farm another name.
    ///
    /// # Errors
    /// If there is none, the name is taken, or the disk does not take it.
    fn rename(&self, farm: &str, name: &str) -> Result<FarmKept, FarmFail>;

    /// Puts a farm away: out of the list, with all its versions.
    ///
    /// # Errors
    /// If there is none or the disk does not take it.
    fn put_away(&self, farm: &str) -> Result<(), FarmFail>;

    /// Takes a farm that was put away back into the list, and says how it is called there.
    ///
    /// # Errors
    /// If there is none or the disk does not take it.
    fn take_back(&self, farm: &str) -> Result<FarmEntry, FarmFail>;

    /// Versions of a farm, the latest first.
    ///
    /// # Errors
    /// If there is no such farm or the disk does not tell.
    fn versions(&self, farm: &str) -> Result<Vec<FarmVersion>, FarmFail>;

    /// Puts a version in place of what a farm holds, which stays as a version.
    ///
    /// # Errors
    /// If there is none or the disk does not take it.
    fn go_back(&self, farm: &str, version: &str) -> Result<FarmOpened, FarmFail>;
}
