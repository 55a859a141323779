//! Two hundred planted sentences: none of them is to be found in any file that the store writes.

use std::fs;

use tempfile::tempdir;
use wayfold::store;
use wayfold::store::BackupLock;
use wayfold::store::Site;
use wayfold::store::Store;
use wayfold::store::Unlock;
use zeroize::Zeroizing;

use super::kit;

fn planted(number: u64) -> String {
    format!(
        "planted {number}: {} told the lighthouse keeper nothing about it",
        number.wrapping_mul(0x9e37_79b9_7f4a_7c15)
    )
}

fn found_in(bytes: &[u8]) -> Option<u64> {
    // Sixteen bytes of a sentence are enough to be found; the number makes each one its own.
    (0..200).find(|&number| {
        let sentence = planted(number);
        let wide: Vec<u8> = sentence.encode_utf16().flat_map(u16::to_le_bytes).collect();
        [&sentence.as_bytes()[..24], &wide[..48]]
            .iter()
            .any(|part| bytes.windows(part.len()).any(|here| here == *part))
    })
}

#[test]
fn no_file_holds_a_planted_sentence() {
    let place = tempdir().expect("a place");
    let inside = place.path().join("store");
    let site = || {
        Site::at(&inside)
            .anchor(&place.path().join("anchor"))
            .cost(kit::CHEAP)
    };
    let events: Vec<_> = (0..200)
        .map(|number| kit::worded_on(number, number / 50, &planted(number)))
        .collect();
    let unlock = kit::passphrase("planted 0: a passphrase");
    let mut kept = Store::create_at(site(), &unlock).expect("made");
    for (index, some) in events.chunks(20).enumerate() {
        kept.append(some).expect("kept");
        if index % 3 == 2 {
            drop(kept);
            kept = Store::open_at(site(), &unlock).expect("opened").0;
        }
    }
    kept.change_lock(&Unlock::KeyFile).expect("changed");
    kept.change_lock(&kit::passphrase("planted 1: a passphrase"))
        .expect("changed");
    drop(kept);
    // Damage, so that the files which mending writes are looked at too.
    fs::remove_dir_all(inside.join("records")).expect("removed");
    let mut journal = fs::read(inside.join("journal")).expect("read");
    let middle = journal.len() / 2;
    journal[middle] ^= 1;
    fs::write(inside.join("journal"), journal).expect("written");
    let (_kept, opened) =
        Store::open_at(site(), &kit::passphrase("planted 1: a passphrase")).expect("opened");
    assert_ne!(opened.notices, []);
    let lock = BackupLock::Passphrase(Zeroizing::new("planted 2: a passphrase".to_owned()));
    let backup = store::back_up_with(&events, &lock, 2).expect("backed up");
    fs::write(place.path().join("backup.age"), &backup).expect("written");

    let files = kit::files(place.path());
    assert!(files.len() >= 10, "{files:?}");
    for file in files {
        let name = file.file_name().expect("a name").as_encoded_bytes().to_vec();
        assert_eq!(found_in(&name), None, "in the name of {}", file.display());
        assert_eq!(
            found_in(&fs::read(&file).expect("read")),
            None,
            "in {}",
            file.display()
        );
    }
    let mut plain = Vec::new();
    store::export(&events, &mut plain).expect("exported");
    assert_eq!(found_in(&plain), Some(0), "the search itself finds what is there");
    assert!(
        !format!("{opened:?}").contains("lighthouse"),
        "what is shown for debugging holds words"
    );
}

#[cfg(unix)]
#[test]
fn every_file_is_for_the_persons_account_only() {
    use std::os::unix::fs::PermissionsExt;
    let place = tempdir().expect("a place");
    let inside = place.path().join("store");
    kit::filled(&inside, 3);
    drop(kit::open(&inside));
    assert_eq!(
        fs::metadata(&inside).expect("there").permissions().mode() & 0o777,
        0o700
    );
    for name in ["keys", "keys.copy", "journal", "head", "snapshot-0"] {
        assert_eq!(
            fs::metadata(inside.join(name)).expect(name).permissions().mode() & 0o777,
            0o600,
            "{name}"
        );
    }
}
