//! Asks the Python reference scripts, a whole batch in one process.

use std::io::Write;
use std::path::PathBuf;
use std::process::Command;
use std::process::Stdio;

use serde::Serialize;
use serde::de::DeserializeOwned;

/// Runs a script of `tests/reference` with the question on its standard input.
pub(crate) fn ask<A: DeserializeOwned>(script: &str, task: &[&str], question: &impl Serialize) -> A {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let python =
        std::env::var_os("WAYFOLD_PYTHON").map_or_else(|| root.join("tests/.venv/bin/python"), PathBuf::from);
    assert!(
        python.exists(),
        "the Python references are not set up: run ./scripts/test, which makes them"
    );
    let mut child = Command::new(python)
        .arg(root.join("tests/reference").join(script))
        .args(task)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let text = serde_json::to_string(question).unwrap();
    child.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "{script} {task:?} failed");
    serde_json::from_slice(&output.stdout).unwrap()
}

/// One task of `insight_reference.py`: an answer for each question.
pub(crate) fn answers<Q: Serialize, A: DeserializeOwned>(task: &str, questions: &[Q]) -> Vec<A> {
    let answers: Vec<A> = ask("insight_reference.py", &[task], &questions);
    assert_eq!(answers.len(), questions.len());
    answers
}

/// Whether two figures agree to within rounding.
pub(crate) fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * (1.0 + a.abs().max(b.abs()))
}
