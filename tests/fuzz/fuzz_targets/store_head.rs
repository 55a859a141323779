//! Any bytes as a store's head: no panic, bounded time and memory.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    let _ = wayfold::store::parsers::head(bytes);
});
