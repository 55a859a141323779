//! The program `wayfold`; everything it does lives in the library.

fn main() -> std::process::ExitCode {
    wayfold::shell::run(std::env::args_os())
}
