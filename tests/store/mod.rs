//! The store room: what is kept stays kept, and stays secret.

mod basics;
mod disks;
mod failing;
mod faults;
mod kit;
