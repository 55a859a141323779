//! The seal: every record is closed with XChaCha20-Poly1305 (draft-irtf-cfrg-xchacha-03) under the data key, bound to
//! the store it belongs to, to its number, to what is left of its batch, and to the seal of the record before it.
//!
//! So a record cannot be read, altered, moved, or put into another store unnoticed. Nonces come in as values; at 24
//! random bytes each, two records never share one in practice.
//!
//! A sealed record, in bytes: number 8, left in batch 4, seal of the record before 16, nonce 24, sealed text, seal 16.
//! Numbers are big-endian. Before sealing, text is filled up to a multiple of 64 bytes, so that its length tells little.

use chacha20poly1305::KeyInit;
use chacha20poly1305::XChaCha20Poly1305;
use chacha20poly1305::aead::AeadInOut;
use zeroize::Zeroizing;

/// Bytes in a nonce.
pub(crate) const NONCE: usize = 24;
/// Bytes in a seal, the authentication tag.
pub(crate) const TAG: usize = 16;
/// Bytes in a key.
pub(crate) const KEY: usize = 32;
/// Bytes before the sealed text of a record.
const LEAD: usize = 8 + 4 + TAG + NONCE;
/// Text is filled up to a multiple of this.
const FILL: usize = 64;
/// The longest text of one record, in bytes.
pub(crate) const LONGEST: usize = 16 << 20;

/// The seal of a record, which the next one repeats.
pub(crate) type Tag = [u8; TAG];

/// A key that seals and opens. Wiped from memory when dropped.
pub(crate) struct Sealer {
    cipher: XChaCha20Poly1305,
    store: [u8; 16],
}

/// What a record says about its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Place {
    /// Its number, counted from 0.
    pub(crate) number: u64,
    /// How many records of the same batch follow it.
    pub(crate) left: u32,
    /// The seal of the record before it; zeros for the first.
    pub(crate) before: Tag,
}

/// The text of a record.
pub(crate) enum Body {
    /// An event, as JSON.
    Event(Zeroizing<Vec<u8>>),
    /// A stand-in for a record that was lost, with the seal that the lost one had, where it is known.
    Lost(Option<Tag>),
    /// What stands where the person had an event removed: the seal that its record had, and the event's identity.
    Removed(Tag, [u8; 16]),
}

impl Sealer {
    /// Takes the key, and the identity of the store that everything is bound to.
    pub(crate) fn new(key: &[u8; KEY], store: [u8; 16]) -> Self {
        Self {
            cipher: XChaCha20Poly1305::new(key.into()),
            store,
        }
    }

    /// Seals `text` in place and appends the seal. `bound` is authenticated but not hidden.
    pub(crate) fn close(&self, nonce: &[u8; NONCE], bound: &[u8], text: &mut Vec<u8>) -> Option<()> {
        self.cipher.encrypt_in_place(nonce.into(), bound, text).ok()
    }

    /// Opens what [`Sealer::close`] made.
    pub(crate) fn open(
        &self,
        nonce: &[u8; NONCE],
        bound: &[u8],
        sealed: &[u8],
    ) -> Option<Zeroizing<Vec<u8>>> {
        self.open_in_place(nonce, bound, Zeroizing::new(sealed.to_vec()))
    }

    /// The same, where the sealed bytes are needed no more.
    pub(crate) fn open_in_place(
        &self,
        nonce: &[u8; NONCE],
        bound: &[u8],
        mut sealed: Zeroizing<Vec<u8>>,
    ) -> Option<Zeroizing<Vec<u8>>> {
        self.cipher
            .decrypt_in_place(nonce.into(), bound, &mut *sealed)
            .ok()?;
        Some(sealed)
    }

    /// Seals a record; nothing where it is too long.
    pub(crate) fn close_record(&self, place: Place, nonce: &[u8; NONCE], body: &Body) -> Option<Vec<u8>> {
        let plain = match body {
            Body::Event(json) => json.len() + 1,
            Body::Lost(_) => 2 + TAG,
            Body::Removed(_, id) => 1 + TAG + id.len(),
        };
        if plain > LONGEST {
            return None;
        }
        let filled = plain.next_multiple_of(FILL);
        // Room for everything at once: a vector that grew would leave plain text behind in freed memory.
        let mut text = Vec::with_capacity(filled + TAG);
        match body {
            Body::Event(json) => {
                text.push(0);
                text.extend_from_slice(json);
            }
            Body::Lost(tag) => {
                text.push(1);
                text.push(u8::from(tag.is_some()));
                text.extend_from_slice(&tag.unwrap_or_default());
            }
            Body::Removed(tag, id) => {
                text.push(2);
                text.extend_from_slice(tag);
                text.extend_from_slice(id);
            }
        }
        text.resize(filled, b' ');
        self.close(nonce, &self.bound(place), &mut text)?;
        let mut record = Vec::with_capacity(LEAD + text.len());
        record.extend_from_slice(&place.number.to_be_bytes());
        record.extend_from_slice(&place.left.to_be_bytes());
        record.extend_from_slice(&place.before);
        record.extend_from_slice(nonce);
        record.extend_from_slice(&text);
        Some(record)
    }

    /// Opens a record; nothing where it is not genuine.
    pub(crate) fn open_record(&self, record: &[u8]) -> Option<(Place, Body)> {
        let place = place(record)?;
        let nonce = record.get(LEAD - NONCE..LEAD)?.try_into().ok()?;
        let mut text = self.open(nonce, &self.bound(place), record.get(LEAD..)?)?;
        match *text.first()? {
            0 => {
                text.remove(0);
                Some((place, Body::Event(text)))
            }
            1 => {
                let tag = text.get(2..2 + TAG)?.try_into().ok()?;
                Some((place, Body::Lost((*text.get(1)? == 1).then_some(tag))))
            }
            2 => {
                let (tag, rest) = text.get(1..)?.split_first_chunk::<TAG>()?;
                Some((place, Body::Removed(*tag, *rest.first_chunk()?)))
            }
            _ => None,
        }
    }

    fn bound(&self, place: Place) -> [u8; 60] {
        let mut bound = [0; 60];
        bound[..16].copy_from_slice(b"wayfold record 1");
        bound[16..32].copy_from_slice(&self.store);
        bound[32..40].copy_from_slice(&place.number.to_be_bytes());
        bound[40..44].copy_from_slice(&place.left.to_be_bytes());
        bound[44..].copy_from_slice(&place.before);
        bound
    }

    /// What else than a record this store binds: a label of 16 bytes and the store's identity.
    pub(crate) fn label(&self, label: &[u8; 16]) -> [u8; 32] {
        let mut bound = [0; 32];
        bound[..16].copy_from_slice(label);
        bound[16..].copy_from_slice(&self.store);
        bound
    }
}

/// Where a record says it belongs, unchecked; nothing where it is too short to be one.
pub(crate) fn place(record: &[u8]) -> Option<Place> {
    if record.len() < LEAD + FILL + TAG {
        return None;
    }
    Some(Place {
        number: u64::from_be_bytes(record.get(..8)?.try_into().ok()?),
        left: u32::from_be_bytes(record.get(8..12)?.try_into().ok()?),
        before: record.get(12..12 + TAG)?.try_into().ok()?,
    })
}

/// The seal of a record: its last bytes.
pub(crate) fn tag(record: &[u8]) -> Tag {
    record.last_chunk().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bytes(hex: &str) -> Vec<u8> {
        (0..hex.len())
            .step_by(2)
            .map(|at| u8::from_str_radix(&hex[at..at + 2], 16).expect("hex"))
            .collect()
    }

    /// draft-irtf-cfrg-xchacha-03, appendix A.3.1.
    #[test]
    fn seals_as_the_draft_says() {
        let text =
            b"Ladies and Gentlemen of the class of '99: If I could offer you only one tip for the future, \
            sunscreen would be it.";
        let key: [u8; KEY] = std::array::from_fn(|at| 0x80 + u8::try_from(at).expect("small"));
        let nonce: [u8; NONCE] = std::array::from_fn(|at| 0x40 + u8::try_from(at).expect("small"));
        let bound = bytes("50515253c0c1c2c3c4c5c6c7");
        let mut closed = text.to_vec();
        let sealer = Sealer::new(&key, [0; 16]);
        sealer.close(&nonce, &bound, &mut closed).expect("sealed");
        let expected = bytes(
            "bd6d179d3e83d43b9576579493c0e939572a1700252bfaccbed2902c21396cbb731c7f1b0b4aa6440bf3a82f4eda7e39ae64c6708c54c216\
             cb96b72e1213b4522f8c9ba40db5d945b11b69b982c1bb9e3f3fac2bc369488f76b2383565d3fff921f9664c97637da9768812f615c68b13\
             b52ec0875924c1c7987947deafd8780acf49",
        );
        assert_eq!(closed, expected);
        assert_eq!(
            sealer.open(&nonce, &bound, &closed).expect("opened").as_slice(),
            text
        );
    }

    #[test]
    fn a_record_opens_only_whole_in_its_place_and_in_its_store() {
        let sealer = Sealer::new(&[7; KEY], [1; 16]);
        let place = Place {
            number: 5,
            left: 2,
            before: [9; TAG],
        };
        let body = Body::Event(Zeroizing::new(b"{}".to_vec()));
        let record = sealer.close_record(place, &[3; NONCE], &body).expect("sealed");
        assert!(
            sealer
                .open_record(&record)
                .is_some_and(|(found, _)| found == place)
        );
        assert!(Sealer::new(&[7; KEY], [2; 16]).open_record(&record).is_none());
        for at in 0..record.len() {
            let mut altered = record.clone();
            altered[at] ^= 0x10;
            assert!(sealer.open_record(&altered).is_none(), "byte {at}");
            assert!(sealer.open_record(&record[..at]).is_none(), "cut to {at}");
        }
    }
}
