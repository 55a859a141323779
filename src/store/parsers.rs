//! Every reader of bytes in this room under one name, for the fuzz targets and the tests, which see only what is public.

use std::fs;
use std::io::Read;
use std::path::Path;

use zeroize::Zeroizing;

use crate::store::BackupKey;
use crate::store::Site;
use crate::store::StoreError;
use crate::store::Unlock;
use crate::store::backup;
use crate::store::frame;
use crate::store::head::Head;
use crate::store::keys;
use crate::store::keys::KeyFile;
use crate::store::presence::read_keys;
use crate::store::records::Records;
use crate::store::rest;
use crate::store::seal::Body;
use crate::store::seal::Sealer;
use crate::store::site;

/// Reads bytes as a record; true where it is genuine.
#[must_use]
pub fn record(bytes: &[u8]) -> bool {
    sealer().open_record(bytes).is_some()
}

/// Reads bytes as a journal and returns how many records lie in it.
#[must_use]
pub fn journal(bytes: &[u8]) -> usize {
    let found = frame::read(bytes, [0; 16]);
    assert!(
        found.records.iter().all(|range| range.end <= bytes.len()),
        "a record lies within the file"
    );
    found.records.len()
}

/// Reads bytes as a head; true where one slot is genuine.
#[must_use]
pub fn head(bytes: &[u8]) -> bool {
    Head::read(bytes, &sealer()).0.is_some()
}

/// Reads bytes as a key file; true where its checksum fits.
#[must_use]
pub fn key_file(bytes: &[u8]) -> bool {
    matches!(keys::read(bytes), KeyFile::Good(_))
}

/// What an age file holds, whatever it is.
///
/// # Errors
/// As [`read_backup`](crate::store::read_backup).
pub fn age_contents(file: &[u8], key: &BackupKey) -> Result<Zeroizing<Vec<u8>>, StoreError> {
    let mut contents = Zeroizing::new(Vec::new());
    let read = backup::opened(file, key)?.read_to_end(&mut contents);
    read.map_err(|_| StoreError::BadBackup)?;
    Ok(contents)
}

/// The text of every genuine record in every file of a closed store, also of those that count no more, and the fair copy. For tests that look
/// for what must not be there.
///
/// # Errors
/// As [`Store::open`](crate::store::Store::open); the store is not opened, and nothing is mended.
pub fn texts(place: &Path, unlock: &Unlock) -> Result<Vec<Zeroizing<Vec<u8>>>, StoreError> {
    let mut site = Site::at(place);
    let wrapped = read_keys(&mut site)?.0;
    let sealer = Sealer::new(&*wrapped.unwrap(unlock)?, wrapped.store);
    let mut records: Vec<Vec<u8>> = Vec::new();
    for entry in fs::read_dir(place)? {
        let path = entry?.path();
        if path.is_file() {
            let bytes = fs::read(&path)?;
            let found = frame::read(&bytes, wrapped.store);
            records.extend(found.records.into_iter().map(|range| bytes[range].to_vec()));
        }
    }
    let rest = site.disk.read(&site.file(site::REST))?.unwrap_or_default();
    let (told, _) = Records::open(&site.file(site::RECORDS))?.all();
    records.extend(told.into_iter().map(|(_, record)| record.to_vec()));
    Ok(records
        .iter()
        .filter_map(|record| match sealer.open_record(record)?.1 {
            Body::Event(text) => Some(text),
            Body::Lost(_) | Body::Removed(..) => None,
        })
        .chain(rest::opened(rest, &sealer))
        .collect())
}

fn sealer() -> Sealer {
    Sealer::new(&[0; 32], [0; 16])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::seal::NONCE;
    use crate::store::seal::Place;

    /// Whoever looks for what breaks a reader must get past its seal.
    #[test]
    fn what_this_program_makes_is_read_and_anything_else_is_not() {
        let place = Place {
            number: 0,
            left: 0,
            before: [0; 16],
        };
        let body = Body::Event(Zeroizing::new(b"{}".to_vec()));
        let made = sealer().close_record(place, &[1; NONCE], &body).expect("sealed");
        assert!(record(&made));
        assert!(!record(&made[1..]));
        let made = Head::default().close(&sealer(), &[1; NONCE]).expect("sealed");
        assert!(head(&made));
        assert!(!head(&made[1..]));
    }
}
