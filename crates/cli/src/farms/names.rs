//! Names: those that people give, and the plain ones that folders and files get from them, which are
//! sound on every system and never lead out of their folder.

use std::collections::BTreeMap;

/// Longest name of a farm, characters.
const MOST_NAME: usize = 80;
/// Longest name of a folder.
const MOST_FOLDER: usize = 48;
/// Longest name of a file, characters.
const MOST_FILE: usize = 100;
/// Names that one system or another keeps for devices, with whatever ending.
const DEVICES: [&str; 6] = ["con", "prn", "aux", "nul", "conin$", "conout$"];
/// Names in a farm's folder that are not for files of the scenario.
const OWN: [&str; 4] = ["scenario.json", "farm.json", "versions", "thumbs.db"];

/// A farm's name as it is kept.
///
/// # Errors
/// What is wrong with it, and what to do.
pub(super) fn checked(name: &str) -> Result<String, (String, String)> {
    let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
    let letters = name.chars().count();
    if letters == 0 || name.chars().any(char::is_control) {
        return Err(("A farm needs a name.".to_owned(), "Such as “Home quarter”.".to_owned()));
    }
    if letters > MOST_NAME {
        let problem = format!("The name has {letters} characters.");
        return Err((problem, format!("At most {MOST_NAME} are allowed.")));
    }
    Ok(name)
}

/// Whether two names are the same to who reads them.
pub(super) fn same(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

fn is_device(name: &str) -> bool {
    let stem = name.split('.').next().unwrap_or_default().trim().to_lowercase();
    let numbered = |start: &str| {
        let rest = stem.strip_prefix(start).unwrap_or_default();
        rest.chars().count() == 1 && rest.chars().all(|c| c.is_ascii_digit() || "¹²³".contains(c))
    };
    DEVICES.contains(&stem.as_str()) || numbered("com") || numbered("lpt")
}

/// A folder's name from a farm's: lower-case letters of English, digits and hyphens; the true name
/// stands inside. `is_taken` tells which there are already.
pub(super) fn folder(name: &str, is_taken: &dyn Fn(&str) -> bool) -> String {
    let mut plain = String::new();
    for letter in name.to_lowercase().chars() {
        if letter.is_ascii_alphanumeric() {
            plain.push(letter);
        } else if !plain.ends_with('-') {
            plain.push('-');
        }
    }
    let short: String = plain.trim_matches('-').chars().take(MOST_FOLDER).collect();
    let short = short.trim_matches('-');
    let stem = match short {
        "" => "farm".to_owned(),
        _ if is_device(short) => format!("farm-{short}"),
        _ => short.to_owned(),
    };
    let numbered = (2_u32..).map(|number| format!("{stem}-{number}"));
    std::iter::once(stem.clone()).chain(numbered).find(|name| !is_taken(name)).unwrap_or(stem)
}

/// A file's own name without its folder, sound on every system.
pub(super) fn file(name: &str) -> String {
    let base = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let sound = |c: char| if c.is_control() || "<>:\"|?*".contains(c) { '-' } else { c };
    let plain: String = base.chars().map(sound).collect();
    let plain = plain.trim().trim_start_matches('.').trim_end_matches(['.', ' ']);
    let letters: Vec<char> = plain.chars().collect();
    // The ending says what it is; the start goes where it is too long.
    let short: String = letters[letters.len().saturating_sub(MOST_FILE)..].iter().collect();
    let short = short.trim_start().trim_start_matches('.').to_owned();
    if short.is_empty() {
        return "file".to_owned();
    }
    let is_own = OWN.contains(&short.to_lowercase().as_str());
    if is_own || is_device(&short) { format!("other-{short}") } else { short }
}

/// Whether a file of this name lies in its folder by just this name.
pub(super) fn is_plain(name: &str) -> bool {
    file(name) == name
}

/// The plain name of each of these, all different whatever the case.
pub(super) fn beside(names: &[String]) -> BTreeMap<String, String> {
    let mut taken: Vec<String> = Vec::new();
    let mut found = BTreeMap::new();
    // Those that are plain already keep their names.
    let (plain, others): (Vec<&String>, Vec<&String>) = names.iter().partition(|n| is_plain(n));
    for name in plain.into_iter().chain(others) {
        let mut own = file(name);
        while taken.contains(&own.to_lowercase()) {
            own = format!("other-{own}");
        }
        taken.push(own.to_lowercase());
        found.insert(name.clone(), own);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_names_of_folders_are_plain_on_every_system() {
        let free = |_: &str| false;
        for (name, plain) in [
            ("Home quarter", "home-quarter"),
            ("  North 40 / west ", "north-40-west"),
            ("../../etc/passwd", "etc-passwd"),
            ("C:\\Windows\\", "c-windows"),
            ("CON", "farm-con"),
            ("com1", "farm-com1"),
            ("nul.txt", "nul-txt"),
            ("Höhe 7", "h-he-7"),
            ("畑", "farm"),
            ("...", "farm"),
            ("\u{202e}x", "x"),
        ] {
            assert_eq!(folder(name, &free), plain, "{name}");
        }
        assert_eq!(folder(&"long ".repeat(40), &free).len(), 48);
        let two = |name: &str| ["farm", "farm-2"].contains(&name);
        assert_eq!(folder("畑", &two), "farm-3");
    }

    #[test]
    fn closed_names_of_files_never_lead_out_of_their_folder() {
        for (name, plain) in [
            ("wind.csv", "wind.csv"),
            ("../../data/wind.csv", "wind.csv"),
            ("C:\\maps\\edge.geojson", "edge.geojson"),
            ("..", "file"),
            ("a/..", "file"),
            (".hidden", "hidden"),
            ("Scenario.json", "other-Scenario.json"),
            ("AUX.csv", "other-AUX.csv"),
            ("COM¹.csv", "other-COM¹.csv"),
            ("a:b?.csv", "a-b-.csv"),
            ("wind.csv. ", "wind.csv"),
            ("météo.csv", "météo.csv"),
        ] {
            assert_eq!(file(name), plain, "{name}");
            assert!(is_plain(plain) && !plain.contains(['/', '\\']), "{plain}");
        }
        assert!(file(&format!("{}.csv", "é".repeat(300))).ends_with("é.csv"));
    }

    #[test]
    fn closed_files_beside_each_other_differ_whatever_the_case() {
        let names = ["a/Wind.csv", "wind.csv", "b/WIND.CSV"].map(str::to_owned);
        let found = beside(&names);
        assert_eq!(found["wind.csv"], "wind.csv");
        assert_eq!(found["a/Wind.csv"], "other-Wind.csv");
        assert_eq!(found["b/WIND.CSV"], "other-other-WIND.CSV");
    }

    #[test]
    fn closed_names_of_farms_are_kept_as_written_and_bounded() {
        assert_eq!(checked(" Höhe   7 ").unwrap(), "Höhe 7");
        assert!(checked(" ").is_err() && checked("a\u{7}").is_err());
        assert!(checked(&"x".repeat(80)).is_ok() && checked(&"x".repeat(81)).is_err());
        assert!(same("HÖHE", "höhe") && !same("a", "b"));
    }
}
