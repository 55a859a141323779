//! What is done once, when the program is built, so that it is not done at every start.
//!
//! The safety patterns and weights are read and worked out, and written down as the program takes them up; a fault in their
//! files is a fault of the build. And the C++ library that the speech engine needs is linked into the program, where the
//! compiler has it in that form; where it is not to be had, the program is built as ever.

#[allow(
    dead_code,
    unreachable_pub,
    reason = "the program looks things up in what is only made here"
)]
#[path = "../src/safety"]
mod safety {
    pub(crate) mod ahead;
    mod bits;
    mod by_word;
    mod groups;
    mod level;
    mod lexicon;
    mod parts;
    mod patterns;
    mod people;
    mod quick;
    mod spellings;
    mod sums;
    mod wanting;
    mod weighing {
        pub(super) mod table;
    }
    mod word_list;
}

use std::env;
use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;

const LIBRARY: &str = "libstdc++.a";

fn main() {
    println!("cargo:rerun-if-changed=scripts/build.rs");
    println!("cargo:rerun-if-env-changed=CXX");
    let out = PathBuf::from(env::var_os("OUT_DIR").expect("cargo says where what is made goes"));
    write_safety(&out);
    link_library(&out);
}

fn write_safety(out: &Path) {
    let written = safety::ahead::written().unwrap_or_else(|fault| panic!("the safety files: {fault}"));
    for (name, bytes) in [
        ("sentences", written.sentences),
        ("rest", written.rest),
        ("examples", written.examples),
    ] {
        let path = out.join(name).with_extension("bin");
        fs::write(&path, bytes).unwrap_or_else(|fault| panic!("{}: {fault}", path.display()));
    }
}

fn link_library(out: &Path) {
    let wanted = env::var_os("CARGO_FEATURE_VOICE").is_some()
        && env::var("CARGO_CFG_TARGET_OS").as_deref() == Ok("linux")
        && env::var("HOST") == env::var("TARGET");
    if !wanted {
        return;
    }
    let Some(library) = library() else {
        return;
    };
    // The linker takes what it finds first, and here it finds this form alone.
    if fs::copy(&library, out.join(LIBRARY)).is_ok() {
        println!("cargo:rustc-link-search=native={}", out.display());
    }
}

/// Where the compiler keeps the library, if it does.
fn library() -> Option<PathBuf> {
    let compiler = env::var("CXX").unwrap_or_else(|_| "c++".to_owned());
    let told = Command::new(compiler)
        .arg(format!("-print-file-name={LIBRARY}"))
        .output()
        .ok()?;
    // A compiler that does not have it says the bare name.
    let path = PathBuf::from(String::from_utf8(told.stdout).ok()?.trim());
    path.is_absolute().then_some(path)
}
