//! Installs a speech model from its files: the last step of `scripts/models` until the program's own command is there,
//! and of the tests.
//!
//! Arguments: `FOLDER FILE...`.

use std::io::Write;
use std::path::PathBuf;

fn main() {
    let mut arguments = std::env::args_os().skip(1).map(PathBuf::from);
    let folder = arguments.next().expect("FOLDER FILE...");
    let files: Vec<PathBuf> = arguments.collect();
    let installed = wayfold::voice::model::install(&files, &folder).expect("a sound model");
    writeln!(std::io::stdout(), "{}\t{}", installed.name, installed.bytes).expect("standard output");
}
