//! Opening the person's store, and recording what they do.

use std::collections::HashSet;
use std::fs;
use std::path::Path;
use std::path::PathBuf;

use zeroize::Zeroizing;

use crate::map::Event;
use crate::map::EventId;
use crate::map::History;
use crate::map::Map;
use crate::map::SittingId;
use crate::map::What;
use crate::shell::anchor;
use crate::shell::arguments::Keeping;
use crate::shell::crisis;
use crate::shell::minting::Minting;
use crate::shell::phrases::phrase;
use crate::shell::terminal::Terminal;
use crate::shell::trouble::Trouble;
use crate::shell::trouble::notice_words;
use crate::store::Locked;
use crate::store::Notice;
use crate::store::Site;
use crate::store::Store;
use crate::store::StoreError;
use crate::store::Unlock;

/// How often a wrong passphrase is asked for again before the program ends.
pub(crate) const TRIES: usize = 3;

/// An open store, with everything that was recorded in it.
pub(crate) struct Kept {
    store: Store,
    history: History,
    minting: Minting,
    unkept: Vec<Event>,
    notices: Vec<Notice>,
}

impl Kept {
    pub(crate) fn new(store: Store, history: History, notices: Vec<Notice>) -> Self {
        let minting = Minting::after(history.events().next_back().map(|event| event.id));
        Self {
            store,
            history,
            minting,
            unkept: Vec::new(),
            notices,
        }
    }

    /// Notes what happened: it counts on the map at once, and reaches the disk with the next [`Self::keep`].
    pub(crate) fn note(&mut self, what: What) -> EventId {
        let event = self.minting.event(what);
        let id = event.id;
        self.history.add([event.clone()]);
        self.unkept.push(event);
        id
    }

    /// Notes a place in a sitting: here with all that was said, on the disk only with what the person has decided on.
    pub(crate) fn note_place(&mut self, whole: What, decided: What) {
        let mut event = self.minting.event(whole);
        self.history.add([event.clone()]);
        event.what = decided;
        self.unkept.push(event);
    }

    /// Removes for good what no longer counts: what was taken back, and the places of sittings that are over, which may
    /// hold words that never came onto the map. Called where a sitting stops, since it writes the whole store anew.
    pub(crate) fn tidy(&mut self) -> Result<(), Trouble> {
        self.keep()?;
        let open: HashSet<SittingId> = self.map().sittings().iter().map(|one| one.id).collect();
        let over: Vec<EventId> = self
            .history
            .events()
            .filter(|event| {
                let over = matches!(&event.what, What::SittingAt { sitting, .. } if !open.contains(sitting));
                over || self.history.is_taken_back(event.id)
            })
            .map(|event| event.id)
            .collect();
        if !over.is_empty() {
            self.store.remove(&over)?;
            self.history.forget(&over);
        }
        Ok(())
    }

    /// Keeps what was noted, all or nothing; when this returns it is safe on the disk. After an error it is still
    /// noted, and the next call tries again.
    pub(crate) fn keep(&mut self) -> Result<(), Trouble> {
        if !self.unkept.is_empty() {
            self.store.append(&self.unkept)?;
            self.unkept.clear();
        }
        Ok(())
    }

    /// Notes and keeps one thing that happened.
    pub(crate) fn record(&mut self, what: What) -> Result<EventId, Trouble> {
        let id = self.note(what);
        self.keep()?;
        Ok(id)
    }

    /// The map as it is now.
    pub(crate) fn map(&self) -> &Map {
        self.history.map()
    }

    /// Everything that was recorded.
    pub(crate) fn history(&self) -> &History {
        &self.history
    }

    /// Where new identities come from.
    pub(crate) fn minting(&mut self) -> &mut Minting {
        &mut self.minting
    }

    /// Both at once, for a step of the dialogue.
    pub(crate) fn map_and_minting(&mut self) -> (&Map, &mut Minting) {
        (self.history.map(), &mut self.minting)
    }

    /// Adds what another device recorded; gives how much of it was new here.
    pub(crate) fn merge(&mut self, events: Vec<Event>) -> Result<usize, Trouble> {
        let fresh = self.store.merge(events)?;
        let count = fresh.len();
        self.history.add(fresh);
        Ok(count)
    }

    /// Opens what the next thing kept needs, beside what the person reads.
    pub(crate) fn make_ready(&mut self) {
        self.store.make_ready();
    }

    /// What was noticed when the store was opened.
    pub(crate) fn notices(&self) -> &[Notice] {
        &self.notices
    }

    /// What was noticed since, when something was kept or removed.
    pub(crate) fn noticed(&mut self) -> Vec<Notice> {
        self.store.noticed()
    }

    /// The store itself, for the commands that look after it.
    pub(crate) fn store(&mut self) -> &mut Store {
        &mut self.store
    }
}

/// The folder of the store: the one named, or the platform's place for a person's data.
pub(crate) fn place(keeping: &Keeping) -> PathBuf {
    keeping.store.clone().unwrap_or_else(|| {
        directories::ProjectDirs::from("", "", "wayfold").map_or_else(
            || PathBuf::from(".wayfold"),
            |folders| folders.data_dir().join("map"),
        )
    })
}

/// The store's place with its witness outside.
pub(crate) fn site(place: &Path) -> Site {
    let site = Site::at(place);
    match anchor::file(place) {
        Some(file) => site.anchor(&file),
        None => site,
    }
}

/// Says what was noticed about the store.
pub(crate) fn tell(terminal: &mut Terminal, notices: &[Notice]) {
    for words in notices.iter().filter_map(notice_words) {
        terminal.say(&words);
    }
}

/// Opens the store if there is one.
pub(crate) fn open(terminal: &mut Terminal, keeping: &Keeping) -> Result<Option<Kept>, Trouble> {
    let place = place(keeping);
    if !Store::exists(&place) {
        return Ok(None);
    }
    let locked = Store::how_locked(&place)?;
    let opened = match locked {
        Locked::KeyFile => Store::open_at(site(&place), &Unlock::KeyFile)?,
        Locked::Passphrase if keeping.no_passphrase => {
            return Err(Trouble::Usage("trouble.has-passphrase", String::new()));
        }
        Locked::Passphrase => unlock(terminal, keeping, &place)?,
    };
    let (store, opened) = opened;
    tell(terminal, &opened.notices);
    let mut kept = Kept::new(store, History::new(opened.events), opened.notices);
    // What a crash left to remove. Where it cannot be removed now, the end of the next sitting says so.
    let _ = kept.tidy();
    Ok(Some(kept))
}

fn unlock(
    terminal: &mut Terminal,
    keeping: &Keeping,
    place: &Path,
) -> Result<(Store, crate::store::Opened), Trouble> {
    if let Some(file) = &keeping.passphrase_file {
        return Ok(Store::open_at(
            site(place),
            &Unlock::Passphrase(passphrase_from(file)?),
        )?);
    }
    if !terminal.is_interactive() {
        return Err(Trouble::Usage("trouble.passphrase-needed", String::new()));
    }
    let mut left = TRIES;
    loop {
        let Some(passphrase) = terminal.ask_secret(&phrase("passphrase.ask")) else {
            return Err(Trouble::Interrupted);
        };
        let asked_for_help = crisis::is_asked_for(&passphrase);
        match Store::open_at(site(place), &Unlock::Passphrase(passphrase)) {
            Err(StoreError::WrongPassphrase) if asked_for_help => crisis::guessed_page(terminal),
            Err(StoreError::WrongPassphrase) if left > 1 => {
                left -= 1;
                terminal.say(&phrase("passphrase.wrong"));
            }
            other => return Ok(other?),
        }
    }
}

/// Makes a new store, locked as asked.
pub(crate) fn create(keeping: &Keeping, unlock: &Unlock) -> Result<Kept, Trouble> {
    let store = Store::create_at(site(&place(keeping)), unlock)?;
    Ok(Kept::new(store, History::default(), Vec::new()))
}

/// The passphrase in the first line of a file.
pub(crate) fn passphrase_from(file: &Path) -> Result<Zeroizing<String>, Trouble> {
    let text = fs::read_to_string(file).map_err(|error| Trouble::Read(file.to_owned(), error))?;
    let text = Zeroizing::new(text);
    // An editor's mark at the very start is no part of it: nobody could type it.
    let first = text.trim_start_matches('\u{feff}').lines().next();
    let passphrase = Zeroizing::new(first.unwrap_or_default().to_owned());
    if passphrase.is_empty() {
        return Err(Trouble::Usage(
            "trouble.no-passphrase-file",
            file.display().to_string(),
        ));
    }
    Ok(passphrase)
}
