//! The store room: what is kept stays kept, and stays secret.

mod age_vectors;
mod backups;
mod basics;
mod care;
mod disks;
mod failing;
mod faults;
mod hostile;
mod killed;
pub(crate) mod kit;
mod memory;
mod real_disk;
mod removal;
mod secrecy;
