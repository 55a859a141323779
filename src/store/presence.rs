//! What can be told of a store before any key opens it: whether there is one, and how it is locked.

use std::fs;
use std::path::Path;

use crate::store::Locked;
use crate::store::Site;
use crate::store::Store;
use crate::store::StoreError;
use crate::store::frame;
use crate::store::keys;
use crate::store::keys::KeyFile;
use crate::store::keys::Wrapped;
use crate::store::site;

impl Store {
    /// Whether a store, or what is left of one, lies at the place.
    #[must_use]
    pub fn exists(place: &Path) -> bool {
        site::KEYS.iter().any(|name| place.join(name).exists())
            || fs::read(place.join(site::JOURNAL)).is_ok_and(|bytes| frame::is_used(&bytes))
    }

    /// How the store at the place is locked; needs no key.
    ///
    /// # Errors
    /// `Missing` where there is no store, `NewerFormat`, `Damaged` where both copies of the key material are.
    pub fn how_locked(place: &Path) -> Result<Locked, StoreError> {
        let mut site = Site::at(place);
        Ok(read_keys(&mut site)?.0.locked)
    }
}

/// The newest good key file, and the other one where it is good too.
pub(crate) fn read_keys(site: &mut Site) -> Result<(Wrapped, Option<Wrapped>), StoreError> {
    let mut good = Vec::new();
    for name in site::KEYS {
        match site
            .disk
            .read(&site.place.join(name))?
            .map(|bytes| keys::read(&bytes))
        {
            Some(KeyFile::Newer) => return Err(StoreError::NewerFormat),
            Some(KeyFile::Good(wrapped)) => good.push(wrapped),
            _ => {}
        }
    }
    good.sort_by_key(|wrapped| wrapped.generation);
    match (good.pop(), good.pop()) {
        (Some(newest), other) => Ok((newest, other)),
        _ if Store::exists(&site.place) || exists_on(site)? => Err(StoreError::Damaged),
        _ => Err(StoreError::Missing),
    }
}

pub(crate) fn exists_on(site: &mut Site) -> Result<bool, StoreError> {
    for name in site::KEYS {
        if site.disk.read(&site.file(name))?.is_some() {
            return Ok(true);
        }
    }
    Ok(site
        .disk
        .read(&site.file(site::JOURNAL))?
        .is_some_and(|bytes| frame::is_used(&bytes)))
}
