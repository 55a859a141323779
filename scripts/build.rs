//! Links the C++ library that the speech engine needs into the program, where the compiler has it in that form, so that it
//! is not found and joined anew at every start. Where it is not to be had, the program is built as ever.

use std::env;
use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;

const LIBRARY: &str = "libstdc++.a";

fn main() {
    println!("cargo:rerun-if-changed=scripts/build.rs");
    println!("cargo:rerun-if-env-changed=CXX");
    let wanted = env::var_os("CARGO_FEATURE_VOICE").is_some()
        && env::var("CARGO_CFG_TARGET_OS").as_deref() == Ok("linux")
        && env::var("HOST") == env::var("TARGET");
    if !wanted {
        return;
    }
    let (Some(library), Some(out)) = (library(), env::var_os("OUT_DIR")) else {
        return;
    };
    // The linker takes what it finds first, and here it finds this form alone.
    if fs::copy(&library, Path::new(&out).join(LIBRARY)).is_ok() {
        println!("cargo:rustc-link-search=native={}", Path::new(&out).display());
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
