//! What the store tests share: invented events, cheap keys, stores in throw-away places.

use std::fs;
use std::ops::Range;
use std::path::Path;
use std::path::PathBuf;

use jiff::Timestamp;
use uuid::Uuid;
use wayfold::map::EntryId;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Field;
use wayfold::map::Outside;
use wayfold::map::What;
use wayfold::safety;
use wayfold::store::Cost;
use wayfold::store::Opened;
use wayfold::store::Site;
use wayfold::store::Store;
use wayfold::store::Unlock;
use zeroize::Zeroizing;

/// The least work that the stored parameters may ask for, so that tests of other things do not wait for it.
pub(crate) const CHEAP: Cost = Cost {
    memory: 8,
    passes: 1,
    lanes: 1,
};

/// An invented entry; the same number always gives the same event.
pub(crate) fn event(number: u64) -> Event {
    worded(
        number,
        &format!("mend the garden gate with Ondine, part {number}"),
    )
}

/// An invented entry with these words.
pub(crate) fn worded(number: u64, words: &str) -> Event {
    worded_on(number, 0, words)
}

/// An invented entry with these words, some days later.
pub(crate) fn worded_on(number: u64, days: u64, words: &str) -> Event {
    let id = 0x0190_0000_0000_7000_8000_0000_0000_0000_u128 + (u128::from(number) << 80);
    let seconds = i64::try_from(number * 60 + days * 86_400).expect("small");
    Event {
        id: EventId(Uuid::from_u128(id)),
        at: Timestamp::from_second(1_760_000_000 + seconds).expect("in range"),
        what: What::EntryAdded {
            entry: EntryId(Uuid::from_u128(id + 1)),
            field: Field::Toward,
            kind: None,
            words: safety::screen(words).into_words(),
        },
    }
}

/// Events from outside after the screen.
pub(crate) fn let_in(outside: Vec<Outside>) -> Vec<Event> {
    outside
        .into_iter()
        .map(|one| one.let_in(&mut safety::screen))
        .collect()
}

/// The number that an event was made with.
pub(crate) fn number(event: &Event) -> u64 {
    let first = 0x0190_0000_0000_7000_8000_0000_0000_0000_u128;
    u64::try_from((event.id.0.as_u128() - first) >> 80).expect("small")
}

/// Events with these numbers.
pub(crate) fn events(numbers: std::ops::Range<u64>) -> Vec<Event> {
    numbers.map(event).collect()
}

pub(crate) fn passphrase(text: &str) -> Unlock {
    Unlock::Passphrase(Zeroizing::new(text.to_owned()))
}

/// A store without a passphrase that holds the first `count` events, one a batch, closed again.
pub(crate) fn filled(place: &Path, count: u64) {
    let mut store = Store::create(place, &Unlock::KeyFile).expect("made");
    for number in 0..count {
        store.append(&[event(number)]).expect("kept");
    }
}

/// Opens a store without a passphrase.
pub(crate) fn open(place: &Path) -> (Store, Opened) {
    Store::open_at(Site::at(place), &Unlock::KeyFile).expect("opened")
}

/// Where the frames of a journal lie, one a batch: behind the heading of 30 bytes, each as long as it says.
pub(crate) fn frames(journal: &[u8]) -> Vec<Range<usize>> {
    let mut frames = Vec::new();
    let mut at = 30;
    while journal.get(at..at + 8).is_some_and(|marker| marker != [0; 8]) {
        let body = u32::from_be_bytes(journal[at + 8..at + 12].try_into().expect("four bytes"));
        let end = at + usize::try_from(body).expect("small") + 16;
        frames.push(at..end);
        at = end;
    }
    frames
}

/// How many trials a campaign makes: a sample in the normal run, all of them under `WAYFOLD_LONG=1`.
pub(crate) fn trials(sample: u64, all: u64) -> u64 {
    if std::env::var_os("WAYFOLD_LONG").is_some_and(|long| long == "1") {
        all
    } else {
        sample
    }
}

/// A small generator of numbers that are the same in every run: `SplitMix64`.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn roll(&mut self, below: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ (mixed >> 31)) % below.max(1)
    }
}

/// Every file below a directory, in a fixed order.
pub(crate) fn files(directory: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(directory).expect("a directory") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            found.extend(files(&path));
        } else {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// Copies a directory with everything in it.
pub(crate) fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("made");
    for entry in fs::read_dir(from).expect("a directory") {
        let path = entry.expect("an entry").path();
        let target = to.join(path.file_name().expect("a name"));
        if path.is_dir() {
            copy(&path, &target);
        } else {
            fs::copy(&path, &target).expect("copied");
        }
    }
}

/// Runs one of the reference scripts in the pinned Python and returns what it prints.
pub(crate) fn python(script: &str, arguments: &[&str]) -> Vec<u8> {
    crate::python::printed(&format!("reference/{script}"), arguments, &[])
}
