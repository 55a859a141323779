//! Any text through the screen: no panic, and every finding's place on character boundaries.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    let text = String::from_utf8_lossy(bytes);
    for finding in wayfold::safety::screen(&text).findings() {
        assert!(text.get(finding.range.clone()).is_some());
    }
});
