//! The witness outside a store's folder, by which an older copy put in the store's place is noticed. Its name is a sum
//! over the store's path, so that several stores have one each and the name says nothing.

use std::fmt::Write;
use std::fs;
use std::path::Path;
use std::path::PathBuf;

use directories::ProjectDirs;
use sha2::Digest;
use sha2::Sha256;

/// The witness of the store at this place; nothing where the platform has no place for it.
pub(crate) fn file(place: &Path) -> Option<PathBuf> {
    let folders = ProjectDirs::from("", "", "wayfold")?;
    let folder = folders.state_dir().unwrap_or_else(|| folders.data_local_dir());
    let sum = Sha256::digest(whole(place)?.as_os_str().as_encoded_bytes());
    let name = sum.iter().take(16).fold(String::new(), |mut name, byte| {
        let _ = write!(name, "{byte:02x}");
        name
    });
    Some(folder.join(name))
}

/// The same path however the place is named, and before and after it is made.
fn whole(place: &Path) -> Option<PathBuf> {
    let place = std::path::absolute(place).ok()?;
    place.ancestors().find_map(|above| {
        let found = fs::canonicalize(above).ok()?;
        let rest = place.strip_prefix(above).ok()?;
        Some(if rest.as_os_str().is_empty() {
            found
        } else {
            found.join(rest)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_has_one_path_before_and_after_it_is_made() {
        let folder = tempfile::tempdir().expect("a folder");
        let place = folder.path().join("a").join("b");
        let before = whole(&place);
        fs::create_dir_all(&place).expect("made");
        assert_eq!(whole(&place), before);
        assert_eq!(whole(&place.join("..").join("b")), before);
        assert_ne!(whole(&folder.path().join("c")), before);
    }
}
