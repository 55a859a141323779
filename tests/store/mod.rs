//! The store room: what is kept stays kept, and stays secret.

mod age_vectors;
mod backups;
mod basics;
mod care;
mod checking;
mod database;
mod disks;
mod durable;
mod failing;
mod faults;
mod hostile;
mod killed;
pub(crate) mod kit;
mod memory;
mod mending;
mod real_disk;
mod removal;
mod secrecy;
mod stand_ins;
mod told;
