//! Keeps events: sealed, checked, never lost.
//!
//! A store is a directory. `records/` is the database (sled), `journal` holds every record once more in another form,
//! `head` says how many there are, `rest` that both lie in good order, with a fair copy of all events, `keys` and `keys.copy` hold the wrapped key, and
//! `snapshot-N` are older journals; `journal.damaged` is there only after a loss. Every record is sealed, numbered and
//! chained to the one before. After a close in good order the fair copy alone is read; else, and before anything is believed
//! that does not fit, the copies are put side by side and each is mended from the other.
//!
//! Sealing and reading of bytes is pure; the disk, the clock and randomness come in at the rim: `site`, `disk`,
//! `records` and `store`.

mod agreed;
mod backup;
mod care;
mod chance;
mod contents;
mod disk;
mod error;
mod fair_copy;
mod frame;
mod guard;
mod head;
mod keys;
#[doc(hidden)]
pub mod parsers;
mod presence;
mod reconcile;
mod records;
mod removal;
mod rest;
mod seal;
mod settle;
mod site;
#[expect(clippy::module_inception, reason = "the noun is the room's own")]
mod store;

pub use backup::BackupKey;
pub use backup::BackupLock;
pub use backup::back_up;
pub use backup::back_up_with;
pub use backup::export;
pub use backup::is_lines;
pub use backup::is_sealed;
pub use backup::read_backup;
pub use backup::read_lines;
pub use backup::seal_file;
pub use care::Checked;
pub use disk::Disk;
pub use disk::RealDisk;
pub use error::Notice;
pub use error::Part;
pub use error::StoreError;
pub use guard::Guarded;
pub use guard::guard_memory;
pub use keys::Cost;
pub use keys::Locked;
pub use keys::Unlock;
pub use site::Site;
pub use store::Opened;
pub use store::Store;
