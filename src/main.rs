//! The program `wayfold`; everything it does lives in the library.

use std::alloc::System;

use zeroizing_alloc::ZeroAlloc;

/// Wipes every piece of memory as it is given back, whoever had it: the line editor, the script reader, the standard
/// library. What is still held, or lies on the stack or in the speech library, is out of its reach.
#[global_allocator]
static MEMORY: ZeroAlloc<System> = ZeroAlloc(System);

fn main() -> std::process::ExitCode {
    wayfold::shell::run(std::env::args_os())
}
