//! Runs the Python scripts that the tests and benches hold this program to, in the pinned environment that
//! `./scripts/test` makes.

// A test may fail by unwrapping in its own small functions too; not every one that includes this file needs all of it.
#![allow(clippy::unwrap_used, dead_code)]

use std::ffi::OsStr;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;
use std::process::Stdio;
use std::thread;

use serde::Serialize;
use serde::de::DeserializeOwned;

/// What a script below `tests/` prints, given what it reads. Fails the test where the script does.
pub(crate) fn printed<A: AsRef<OsStr>>(script: &str, arguments: &[A], input: &[u8]) -> Vec<u8> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let python =
        std::env::var_os("WAYFOLD_PYTHON").map_or_else(|| root.join("tests/.venv/bin/python"), PathBuf::from);
    assert!(
        python.exists(),
        "no Python at {}: run ./scripts/test, which makes it",
        python.display()
    );
    let mut child = Command::new(&python)
        .arg(root.join("tests").join(script))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    let output = thread::scope(|scope| {
        // Written beside the reading, so that neither side waits for the other with its pipe full. A script that
        // reads nothing may be gone already.
        scope.spawn(move || drop(stdin.write_all(input)));
        child.wait_with_output().unwrap()
    });
    assert!(
        output.status.success(),
        "{script} failed, its complaint stands above; if a package is missing, run ./scripts/test"
    );
    output.stdout
}

/// The same as text.
pub(crate) fn text<A: AsRef<OsStr>>(script: &str, arguments: &[A], input: &[u8]) -> String {
    String::from_utf8(printed(script, arguments, input)).unwrap()
}

/// What a script answers to a question, both in JSON.
pub(crate) fn answer<T: DeserializeOwned>(script: &str, arguments: &[&str], question: &impl Serialize) -> T {
    let question = serde_json::to_vec(question).unwrap();
    serde_json::from_slice(&printed(script, arguments, &question)).unwrap()
}
