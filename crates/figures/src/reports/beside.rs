//! The files that a scenario names, laid beside its text, so that it runs again where it lies.

use std::path::{Component, Path};

/// Takes one file of a report: its name and its bytes.
pub type Put<'a, E> = &'a mut dyn FnMut(&str, &[u8]) -> Result<(), E>;

/// Gives `put` each of the named files (name, bytes) once, under the name the scenario has for it.
/// Left out is what the scenario looks for outside the folder, and what would stand in the place of
/// `own`: the folder's other files, or folders in it.
pub(crate) fn put_beside<E>(
    named: &[(String, Vec<u8>)],
    own: &[&str],
    put: Put<'_, E>,
) -> Result<(), E> {
    for (index, (name, bytes)) in named.iter().enumerate() {
        let is_first = named[..index].iter().all(|(earlier, _)| earlier != name);
        if is_first && fits(name, own) {
            put(name, bytes)?;
        }
    }
    Ok(())
}

fn fits(name: &str, own: &[&str]) -> bool {
    let parts: Vec<_> = Path::new(name).components().collect();
    let is_inside = parts.iter().all(|part| matches!(part, Component::Normal(_)));
    let is_ours = |part: &Component<'_>| {
        own.iter().any(|own| part.as_os_str().to_string_lossy().eq_ignore_ascii_case(own))
    };
    // Elsewhere such names may lead out of the folder though they do not here.
    let is_plain = !name.contains(['\\', ':', '\0']);
    is_inside && is_plain && parts.first().is_some_and(|part| !is_ours(part))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_named_files_stay_in_the_folder_and_replace_nothing() {
        let names = [
            "wind.csv",
            "a/edge.geojson",
            "wind.csv",
            "../up.csv",
            "/etc/x.csv",
            "c:\\x.csv",
            "Report.html",
            "grids/1.csv",
            "",
            ".",
        ];
        let named: Vec<_> = names.map(|name| (name.to_owned(), name.as_bytes().to_vec())).into();
        let mut found = Vec::new();
        put_beside::<()>(&named, &["report.html", "grids"], &mut |name, bytes| {
            assert_eq!(name.as_bytes(), bytes);
            found.push(name.to_owned());
            Ok(())
        })
        .unwrap();
        assert_eq!(found, ["wind.csv", "a/edge.geojson"]);
    }
}
