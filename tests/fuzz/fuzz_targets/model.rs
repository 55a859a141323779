//! Runs `model_file` of the targets on any bytes.
#![no_main]

#[expect(dead_code, reason = "each target uses one of them")]
#[path = "../targets.rs"]
mod targets;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| targets::model_file(bytes));
