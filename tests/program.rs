//! The real program, run as a person or another program would run it: answers in, screen and map out.

use std::env;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;
use std::process::Output;
use std::process::Stdio;

use tempfile::TempDir;

/// One person's store in a throw-away folder, and the program beside it.
#[must_use]
pub(crate) struct Person {
    folder: TempDir,
}

impl Person {
    /// Someone who has never opened the program.
    pub(crate) fn new() -> Self {
        Self {
            folder: tempfile::tempdir().unwrap(),
        }
    }

    /// The folder of the store.
    pub(crate) fn store(&self) -> PathBuf {
        self.folder.path().join("map")
    }

    /// A folder for files that a test writes.
    pub(crate) fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// A command that runs the program on this person's store, with nothing of the machine's own surroundings.
    pub(crate) fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_wayfold"));
        command
            .env_clear()
            .env("HOME", self.folder.path())
            .env("TZ", "Pacific/Auckland")
            .env("LANG", "en_NZ.UTF-8")
            .env("WAYFOLD_STORE", self.store())
            // Where the lines that run are counted, by `scripts/coverage`.
            .envs(env::var_os("LLVM_PROFILE_FILE").map(|file| ("LLVM_PROFILE_FILE", file)))
            .args(arguments);
        command
    }

    /// Runs the program with these lines as its input.
    pub(crate) fn run(&self, arguments: &[&str], input: &str) -> Output {
        let mut child = self
            .command(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut stdin = child.stdin.take().unwrap();
        let input = input.to_owned();
        let writer = std::thread::spawn(move || {
            // The program may end before it has read everything.
            let _ = stdin.write_all(input.as_bytes());
        });
        let output = child.wait_with_output().unwrap();
        writer.join().unwrap();
        output
    }

    /// Runs it without a passphrase, expects exit code 0, and gives what it said.
    pub(crate) fn says(&self, arguments: &[&str], input: &str) -> String {
        let mut all = vec!["--no-passphrase"];
        all.extend(arguments);
        let output = self.run(&all, input);
        let said = String::from_utf8(output.stdout).unwrap();
        let errors = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(
            output.status.success(),
            "{arguments:?} ended with {:?}\n{said}\n{errors}",
            output.status
        );
        said
    }

    /// The map, as the program gives it to other programs.
    pub(crate) fn map(&self) -> serde_json::Value {
        serde_json::from_str(&self.says(&["map", "--as", "json"], "")).unwrap()
    }

    /// The words of the entries of one field.
    pub(crate) fn field(&self, field: &str) -> Vec<String> {
        let map = self.map();
        let entries = map["entries"].as_array().unwrap();
        entries
            .iter()
            .filter(|e| e["field"] == field)
            .map(|e| e["text"].as_str().unwrap().to_owned())
            .collect()
    }
}

/// Whether a test has what it needs. Where that cannot be had, `./scripts/test` says so by a variable, and only then does the
/// test have nothing to do.
pub(crate) fn has(there: bool, needed: &str, without: &str) -> bool {
    if there {
        return true;
    }
    assert!(
        std::env::var_os(without).is_some(),
        "this test needs {needed}; where there is none, set {without}=1, as ./scripts/test does"
    );
    eprintln!("This test needs {needed}, so it had nothing to do.");
    false
}

/// Whether the tests run as root: only root may look into the program's memory, or make a small disk.
pub(crate) fn is_root() -> bool {
    has(rustix::process::geteuid().is_root(), "root", "WAYFOLD_NO_ROOT")
}

/// The demo person's answers to the first sitting, one line an answer.
pub(crate) fn demo_answers() -> String {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/first-map.answers");
    std::fs::read_to_string(file).unwrap()
}
