//! Every reader of bytes in this room under one name, for the fuzz targets and the tests, which see only what is public.

use crate::store::frame;
use crate::store::head::Head;
use crate::store::keys;
use crate::store::keys::KeyFile;
use crate::store::seal::Sealer;

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

fn sealer() -> Sealer {
    Sealer::new(&[0; 32], [0; 16])
}
