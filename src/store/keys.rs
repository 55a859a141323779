//! The key material: a random data key, wrapped under a key that Argon2id (RFC 9106) makes from the passphrase, or,
//! without a passphrase, under a key that lies beside it in the same file, which only the person's account may read.
//!
//! It is kept in two equal files. In bytes: `WAYFOLDK`, format 2, lock 1, memory in KiB 4, passes 4, lanes 4, generation 4,
//! salt 16, store 16, plain key 32 (zeros under a passphrase), nonce 24, wrapped key 48, checksum (CRC-32) 4. Every later
//! format keeps the first ten bytes and the checksum at the end, so that a newer one is told from a damaged one.

use argon2::Algorithm;
use argon2::Argon2;
use argon2::Params;
use argon2::Version;
use unicode_normalization::UnicodeNormalization;
use zeroize::Zeroizing;

use crate::store::StoreError;
use crate::store::seal::KEY;
use crate::store::seal::NONCE;
use crate::store::seal::Sealer;

/// The first bytes of a key file.
const MAGIC: [u8; 8] = *b"WAYFOLDK";
/// The format that this program writes.
const FORMAT: u16 = 1;
/// Bytes that the wrapped key is bound to: everything before the nonce.
const BOUND: usize = 8 + 2 + 1 + 12 + 4 + 16 + 16 + KEY;
/// Bytes in the file.
const WHOLE: usize = BOUND + NONCE + KEY + 16 + 4;

/// How a store is locked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Locked {
    /// By a passphrase.
    Passphrase,
    /// By a file with mode 0600 in the store's own place.
    KeyFile,
}

/// What opens a store. The passphrase is wiped when dropped.
pub enum Unlock {
    /// The person's passphrase.
    Passphrase(Zeroizing<String>),
    /// The key file in the store's own place.
    KeyFile,
}

/// How much work Argon2id takes, for us and for anyone who guesses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cost {
    /// Memory in KiB, 8 to 1,048,576.
    pub memory: u32,
    /// Passes over it, 1 to 64; memory times passes is at most 4 GiB.
    pub passes: u32,
    /// Lanes, 1 to 4.
    pub lanes: u32,
}

impl Cost {
    /// The second choice that RFC 9106, section 4, recommends: 64 MiB, 3 passes, 4 lanes.
    pub const STANDARD: Self = Self {
        memory: 64 << 10,
        passes: 3,
        lanes: 4,
    };

    /// Whether the numbers are within the bounds above; a file that asks for more is not followed.
    #[must_use]
    pub fn is_bounded(self) -> bool {
        (1..=4).contains(&self.lanes)
            && (1..=64).contains(&self.passes)
            && (8 * self.lanes..=1 << 20).contains(&self.memory)
            && u64::from(self.memory) * u64::from(self.passes) <= 4 << 20
    }
}

/// The bytes that must be random when key material is made.
pub(crate) struct Salts {
    pub(crate) salt: [u8; 16],
    pub(crate) plain_key: Zeroizing<[u8; KEY]>,
    pub(crate) nonce: [u8; NONCE],
}

/// Key material as read from one file, its checksum right.
#[derive(Clone)]
pub(crate) struct Wrapped {
    bytes: Zeroizing<Vec<u8>>,
    pub(crate) locked: Locked,
    pub(crate) cost: Cost,
    pub(crate) generation: u32,
    pub(crate) store: [u8; 16],
}

/// One key file.
pub(crate) enum KeyFile {
    /// It can be read.
    Good(Wrapped),
    /// A newer program wrote it.
    Newer,
    /// It is missing or damaged.
    Bad,
}

/// Wraps the data key.
pub(crate) fn wrap(
    data: &[u8; KEY],
    store: [u8; 16],
    generation: u32,
    unlock: &Unlock,
    cost: Cost,
    salts: &Salts,
) -> Result<Zeroizing<Vec<u8>>, StoreError> {
    let mut bytes = Zeroizing::new(Vec::with_capacity(WHOLE));
    let (lock, plain) = match unlock {
        Unlock::Passphrase(_) => (1, Zeroizing::new([0; KEY])),
        Unlock::KeyFile => (0, salts.plain_key.clone()),
    };
    bytes.extend_from_slice(&MAGIC);
    bytes.extend_from_slice(&FORMAT.to_be_bytes());
    bytes.push(lock);
    for number in [cost.memory, cost.passes, cost.lanes, generation] {
        bytes.extend_from_slice(&number.to_be_bytes());
    }
    bytes.extend_from_slice(&salts.salt);
    bytes.extend_from_slice(&store);
    bytes.extend_from_slice(plain.as_slice());
    let wrapping = match unlock {
        Unlock::Passphrase(passphrase) => derive(as_one_form(passphrase).as_bytes(), &salts.salt, cost)?,
        Unlock::KeyFile => plain,
    };
    let mut key = Vec::with_capacity(KEY + 16);
    key.extend_from_slice(data);
    Sealer::new(&wrapping, store)
        .close(&salts.nonce, &bytes, &mut key)
        .ok_or(StoreError::Damaged)?;
    bytes.extend_from_slice(&salts.nonce);
    bytes.extend_from_slice(&key);
    let sum = crc32fast::hash(&bytes).to_be_bytes();
    bytes.extend_from_slice(&sum);
    Ok(bytes)
}

/// Reads one key file, whatever its bytes are.
pub(crate) fn read(bytes: &[u8]) -> KeyFile {
    read_checked(bytes).unwrap_or(KeyFile::Bad)
}

fn read_checked(bytes: &[u8]) -> Option<KeyFile> {
    let (checked, sum) = bytes.split_last_chunk::<4>()?;
    if !bytes.starts_with(&MAGIC) || crc32fast::hash(checked).to_be_bytes() != *sum {
        return None;
    }
    let number = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?));
    if u16::from_be_bytes(bytes.get(8..10)?.try_into().ok()?) > FORMAT {
        return Some(KeyFile::Newer);
    }
    if bytes.len() != WHOLE {
        return None;
    }
    let cost = Cost {
        memory: number(11)?,
        passes: number(15)?,
        lanes: number(19)?,
    };
    let locked = match bytes[10] {
        0 => Locked::KeyFile,
        1 if cost.is_bounded() => Locked::Passphrase,
        _ => return None,
    };
    Some(KeyFile::Good(Wrapped {
        locked,
        cost,
        generation: number(23)?,
        store: bytes.get(43..59)?.try_into().ok()?,
        bytes: Zeroizing::new(bytes.to_vec()),
    }))
}

impl Wrapped {
    /// The bytes of the file.
    pub(crate) fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// Unwraps the data key.
    pub(crate) fn unwrap(&self, unlock: &Unlock) -> Result<Zeroizing<[u8; KEY]>, StoreError> {
        let salt = &self.bytes[27..43];
        let wrapping = match (self.locked, unlock) {
            (Locked::Passphrase, Unlock::Passphrase(passphrase)) => {
                derive(as_one_form(passphrase).as_bytes(), salt, self.cost)?
            }
            (Locked::KeyFile, Unlock::KeyFile) => {
                let mut plain = Zeroizing::new([0; KEY]);
                plain.copy_from_slice(&self.bytes[59..BOUND]);
                plain
            }
            _ => return Err(StoreError::OtherLock),
        };
        let wrong = match self.locked {
            Locked::Passphrase => StoreError::WrongPassphrase,
            Locked::KeyFile => StoreError::Damaged,
        };
        let (bound, rest) = self.bytes.split_at(BOUND);
        let (nonce, rest) = rest.split_first_chunk::<NONCE>().ok_or(StoreError::Damaged)?;
        let sealed = &rest[..KEY + 16];
        let text = Sealer::new(&wrapping, self.store)
            .open(nonce, bound, sealed)
            .ok_or(wrong)?;
        let mut data = Zeroizing::new([0; KEY]);
        data.copy_from_slice(&text);
        Ok(data)
    }
}

/// A passphrase as every keyboard gives it: the same letter as one sign or as letter and accent, and any space, are one
/// (RFC 8265, section 4.2: `OpaqueString`).
fn as_one_form(passphrase: &str) -> Zeroizing<String> {
    // A sign of two bytes becomes at most three times as long in this form (UAX #15): room for all of it at once.
    let mut out = Zeroizing::new(String::with_capacity(3 * passphrase.len()));
    out.extend(passphrase.nfc().map(|sign| match sign {
        '\u{a0}' | '\u{1680}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}' => ' ',
        sign => sign,
    }));
    out
}

/// Argon2id, version 0x13, without secret or associated data.
pub(crate) fn derive(passphrase: &[u8], salt: &[u8], cost: Cost) -> Result<Zeroizing<[u8; KEY]>, StoreError> {
    if !cost.is_bounded() {
        return Err(StoreError::Damaged);
    }
    let params =
        Params::new(cost.memory, cost.passes, cost.lanes, Some(KEY)).map_err(|_| StoreError::Damaged)?;
    let mut key = Zeroizing::new([0; KEY]);
    Argon2::new(Algorithm::Argon2id, Version::V0x13, params)
        .hash_password_into(passphrase, salt, key.as_mut_slice())
        .map_err(|_| StoreError::Damaged)?;
    Ok(key)
}

#[cfg(test)]
mod tests {
    use argon2::AssociatedData;
    use argon2::ParamsBuilder;

    use super::*;

    const SALTS: fn() -> Salts = || Salts {
        salt: [2; 16],
        plain_key: Zeroizing::new([4; KEY]),
        nonce: [3; NONCE],
    };
    const CHEAP: Cost = Cost {
        memory: 8,
        passes: 1,
        lanes: 1,
    };

    /// RFC 9106, section 5.3. It has a secret and associated data, which we do not use, so this checks the library as we
    /// build it.
    #[test]
    fn the_library_derives_as_the_rfc_says() {
        let mut builder = ParamsBuilder::new();
        builder
            .m_cost(32)
            .t_cost(3)
            .p_cost(4)
            .output_len(32)
            .data(AssociatedData::new(&[4; 12]).expect("data"));
        let params = builder.build().expect("parameters");
        let argon =
            Argon2::new_with_secret(&[3; 8], Algorithm::Argon2id, Version::V0x13, params).expect("secret");
        let mut key = [0; 32];
        argon
            .hash_password_into(&[1; 32], &[2; 16], &mut key)
            .expect("derived");
        let expected = [
            0x0d, 0x64, 0x0d, 0xf5, 0x8d, 0x78, 0x76, 0x6c, 0x08, 0xc0, 0x37, 0xa3, 0x4a, 0x8b, 0x53, 0xc9,
            0xd0, 0x1e, 0xf0, 0x45, 0x2d, 0x75, 0xb6, 0x5e, 0xb5, 0x25, 0x20, 0xe9, 0x6b, 0x01, 0xe6, 0x59,
        ];
        assert_eq!(key, expected);
    }

    /// Signs of the Unicode Character Database; the mapping of spaces is that of RFC 8265.
    #[test]
    fn a_passphrase_opens_however_the_keyboard_gives_it() {
        for (one, other) in [
            ("caf\u{e9} gate", "cafe\u{301} gate"),
            ("stone gate", "stone\u{a0}gate"),
            ("\u{ac00}", "\u{1100}\u{1161}"),
        ] {
            let unlock = |text: &str| Unlock::Passphrase(Zeroizing::new(text.to_owned()));
            let bytes = wrap(&[1; KEY], [5; 16], 0, &unlock(one), CHEAP, &SALTS()).expect("wrapped");
            let KeyFile::Good(wrapped) = read(&bytes) else {
                panic!("a key file");
            };
            assert!(wrapped.unwrap(&unlock(other)).is_ok(), "{other}");
            assert!(wrapped.unwrap(&unlock("cafe gate")).is_err());
        }
        // Case and compatible forms are told apart.
        assert_eq!(as_one_form("Gate \u{fb01}").as_str(), "Gate \u{fb01}");
    }

    #[test]
    fn a_key_file_that_asks_for_too_much_is_not_followed() {
        let unlock = Unlock::Passphrase(Zeroizing::new("gate".to_owned()));
        let good = wrap(&[1; KEY], [5; 16], 0, &unlock, CHEAP, &SALTS()).expect("wrapped");
        assert!(matches!(read(&good), KeyFile::Good(_)));
        for (at, value) in [(11, 1 << 21), (11, 7), (15, 65), (15, 0), (19, 5), (19, 0)] {
            let mut asks = good.to_vec();
            asks[at..at + 4].copy_from_slice(&u32::to_be_bytes(value));
            let end = asks.len() - 4;
            let sum = crc32fast::hash(&asks[..end]).to_be_bytes();
            asks[end..].copy_from_slice(&sum);
            assert!(matches!(read(&asks), KeyFile::Bad), "{value} at {at}");
        }
    }

    /// Both bounds that two numbers make together, from either side.
    #[test]
    fn work_is_bounded_by_memory_times_passes_and_memory_by_lanes() {
        let bounded = |memory, passes, lanes| {
            Cost {
                memory,
                passes,
                lanes,
            }
            .is_bounded()
        };
        assert!(Cost::STANDARD.is_bounded());
        for (memory, passes) in [(1 << 16, 64), (1 << 20, 4)] {
            assert!(bounded(memory, passes, 4), "{memory} KiB, {passes} passes");
            assert!(!bounded(memory + 1, passes, 4), "{memory} KiB and one");
            assert!(!bounded(memory, passes + 1, 4), "{passes} passes and one");
        }
        for lanes in 1..=4 {
            assert!(bounded(8 * lanes, 1, lanes), "{lanes} lanes");
            assert!(!bounded(8 * lanes - 1, 1, lanes), "{lanes} lanes");
        }
    }

    #[test]
    fn any_altered_byte_is_noticed_before_a_passphrase_is_asked_for() {
        let good = wrap(&[1; KEY], [5; 16], 0, &Unlock::KeyFile, CHEAP, &SALTS()).expect("wrapped");
        for at in 0..good.len() {
            let mut altered = good.to_vec();
            altered[at] ^= 1;
            assert!(matches!(read(&altered), KeyFile::Bad), "byte {at}");
        }
    }
}
