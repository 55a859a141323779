//! Asks the Python reference scripts, a whole batch in one process.

use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::python;

/// Runs a script of `tests/reference` with the question on its standard input.
pub(crate) fn ask<A: DeserializeOwned>(script: &str, task: &[&str], question: &impl Serialize) -> A {
    python::answer(&format!("reference/{script}"), task, question)
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
