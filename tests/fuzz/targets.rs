//! What is fuzzed: every reader of bytes or text from outside, each with the promise that any input leaves standing. The
//! fuzzer's targets and the tests' own seeded loop both run these.

use std::fs;
use std::sync::LazyLock;

use wayfold::dialogue::Library;
use wayfold::safety;
use wayfold::safety::directory;
use wayfold::store;
use wayfold::store::parsers;
use wayfold::voice::model;
use wayfold::voice::numbers;
use wayfold::voice::split_entries;
use wayfold::voice::wav;

/// One target: its name, and what it does with any bytes.
pub(crate) type Target = (&'static str, fn(&[u8]));

/// Every target.
pub(crate) const ALL: [Target; 11] = [
    ("store_record", store_record),
    ("store_journal", store_journal),
    ("store_head", store_head),
    ("store_key_file", store_key_file),
    ("store_lines", store_lines),
    ("store_backup", store_backup),
    ("script", script),
    ("crisis_directory", crisis_directory),
    ("wav", wav_file),
    ("model", model_file),
    ("words", words),
];

/// A sealed record. Nobody without the key can make a genuine one.
pub(crate) fn store_record(bytes: &[u8]) {
    assert!(!parsers::record(bytes));
}

/// A journal; the reader itself checks that what it finds lies within the file.
pub(crate) fn store_journal(bytes: &[u8]) {
    let _ = parsers::journal(bytes);
}

/// A head. Nobody without the key can make a genuine one.
pub(crate) fn store_head(bytes: &[u8]) {
    assert!(!parsers::head(bytes));
}

/// A key file.
pub(crate) fn store_key_file(bytes: &[u8]) {
    let _ = parsers::key_file(bytes);
}

/// The lines inside a backup, and after them the screen that they are let in through.
pub(crate) fn store_lines(bytes: &[u8]) {
    for event in store::read_lines(bytes).unwrap_or_default() {
        let _ = event.let_in(&mut safety::screen);
    }
}

/// A backup as a file. Scrypt's work is bounded by the reader, but too slow to be done many times a second.
pub(crate) fn store_backup(bytes: &[u8]) {
    // The identity that the seeds are sealed for, made for this purpose.
    let key = store::BackupKey::Identity(zeroize::Zeroizing::new(IDENTITY.to_owned()));
    if !bytes.windows(6).any(|window| window == b"scrypt") {
        let _ = store::read_backup(bytes, &key);
    }
}

/// The identity of age's own published test vectors (C2SP CCTV, `x25519`).
pub(crate) const IDENTITY: &str =
    "AGE-SECRET-KEY-1EGTZVFFV20835NWYV6270LXYVK2VKNX2MMDKWYKLMGR48UAWX40Q2P2LM0";

/// A dialogue script of someone's own: faults, or a script that can be begun and saved.
pub(crate) fn script(bytes: &[u8]) {
    static LIBRARY: LazyLock<Library> =
        LazyLock::new(|| Library::shipped("en").unwrap_or_else(|faults| panic!("{} faults", faults.len())));
    let text = String::from_utf8_lossy(bytes);
    match LIBRARY.with("fuzzed.toml", &text) {
        Ok((library, name)) => {
            let state = wayfold::dialogue::State::begin(&library, &name);
            let saved = state.map(|state| state.save());
            assert!(saved.is_some_and(|saved| wayfold::dialogue::State::resume(&library, &saved).is_ok()));
        }
        Err(faults) => assert!(!faults.is_empty()),
    }
}

/// What is asked of the crisis directory: whatever a region, a locale and a time zone are called, there is help.
pub(crate) fn crisis_directory(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let (region, rest) = text.split_once('\n').unwrap_or((&text, ""));
    let (locale, zone) = rest.split_once('\n').unwrap_or((rest, ""));
    let _ = directory::country(region);
    for region in [Some(region), directory::guess(Some(locale), Some(zone))] {
        assert!(!directory::help(region, &[]).emergency.is_empty());
    }
}

/// A WAV file.
pub(crate) fn wav_file(bytes: &[u8]) {
    static PLACE: LazyLock<tempfile::TempDir> =
        LazyLock::new(|| tempfile::tempdir().unwrap_or_else(|error| panic!("{error}")));
    let path = PLACE.path().join("fuzzed.wav");
    if fs::write(&path, bytes).is_ok()
        && let Ok(samples) = wav::read(&path)
    {
        assert!(samples.as_slice().iter().all(|sample| sample.is_finite()));
    }
}

/// A speech model given to be put in place, in either form. Every size in it is met before anything is reserved for
/// it, and no file as small as these is a whole model.
pub(crate) fn model_file(bytes: &[u8]) {
    static PLACE: LazyLock<tempfile::TempDir> =
        LazyLock::new(|| tempfile::tempdir().unwrap_or_else(|error| panic!("{error}")));
    let path = PLACE.path().join("fuzzed.bin");
    if fs::write(&path, bytes).is_ok() {
        assert!(model::install(std::slice::from_ref(&path), PLACE.path()).is_err());
        assert!(model::check(&path).is_err());
    }
}

/// Words, typed or heard: every finding lies on character boundaries, and nothing is made up when they are split.
pub(crate) fn words(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    for finding in safety::screen(&text).findings() {
        assert!(text.get(finding.range.clone()).is_some());
    }
    for part in split_entries(&text) {
        assert!(part.len() <= text.len());
    }
    let _ = numbers::spoken_number(&text, 0, 10);
    let _ = numbers::spoken_numbers(&text, 10);
}
