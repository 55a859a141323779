//! What the store tests share: invented events, cheap keys, stores in throw-away places.

use std::path::Path;

use jiff::Timestamp;
use uuid::Uuid;
use wayfold::map::EntryId;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Field;
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
    let id = (0x0190_0000_0000_7000_8000_0000_0000_0000_u128) + (u128::from(number) << 80);
    Event {
        id: EventId(Uuid::from_u128(id)),
        at: Timestamp::from_second(1_760_000_000 + i64::try_from(number).expect("small") * 60)
            .expect("in range"),
        what: What::EntryAdded {
            entry: EntryId(Uuid::from_u128(id + 1)),
            field: Field::Toward,
            kind: None,
            words: safety::screen(words).into_words(),
        },
    }
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
