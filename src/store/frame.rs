//! The journal's form: a heading, then one frame for each batch of records, each with a marker, its length and a
//! checksum (CRC-32), so that a batch is there whole or not at all, and damage in one frame does not reach the next.
//!
//! The file is always filled up with zeros to a multiple of 64 KiB: writing into room that is there already is durable
//! sooner than letting a file grow, and the disk is less likely to be full at the wrong moment.
//!
//! In bytes: heading `WAYFOLDJ`, format 2, store 16, checksum 4. A frame: marker 8, length of its body 4, body, checksum
//! of marker, length and body 4. A body: for each record its length 4, then the record. Numbers are big-endian.

use std::ops::Range;

/// The first bytes of a journal.
const MAGIC: [u8; 8] = *b"WAYFOLDJ";
/// The first bytes of a frame: chosen at random once, so that a frame can be found again after damage.
const MARKER: [u8; 8] = [0xf3, 0x1d, 0x9c, 0x06, 0xb7, 0xe8, 0x52, 0xa9];
/// The format that this program writes.
const FORMAT: u16 = 1;
/// Bytes in the heading.
pub(crate) const HEADING: usize = 30;
/// Bytes in a frame beside its body.
const AROUND: usize = 16;

/// The file is a multiple of this long.
const STEP: usize = 64 << 10;

/// What a journal's bytes hold.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Found {
    /// Where each record lies, in the order of the file.
    pub(crate) records: Vec<Range<usize>>,
    /// Where the last whole frame ends.
    pub(crate) end: usize,
    /// Whether the heading is whole and belongs to the store.
    pub(crate) heading: bool,
    /// Whether there are bytes between or inside frames that fit nothing.
    pub(crate) broken: bool,
    /// Whether the file ends in a frame that is not whole.
    pub(crate) torn: bool,
}

impl Found {
    /// Whether the file is exactly as this program leaves it.
    pub(crate) fn is_whole(&self) -> bool {
        self.heading && !self.broken && !self.torn
    }
}

/// The heading of a store's journal.
pub(crate) fn heading(store: [u8; 16]) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(HEADING);
    bytes.extend_from_slice(&MAGIC);
    bytes.extend_from_slice(&FORMAT.to_be_bytes());
    bytes.extend_from_slice(&store);
    bytes.extend_from_slice(&crc32fast::hash(&bytes).to_be_bytes());
    bytes
}

/// One batch as a frame; nothing where it is too large for one.
pub(crate) fn frame<'a>(records: impl Iterator<Item = &'a [u8]>) -> Option<Vec<u8>> {
    let mut bytes = Vec::new();
    bytes.extend_from_slice(&MARKER);
    bytes.extend_from_slice(&[0; 4]);
    for record in records {
        bytes.extend_from_slice(&u32::try_from(record.len()).ok()?.to_be_bytes());
        bytes.extend_from_slice(record);
    }
    let body = u32::try_from(bytes.len() - 12).ok()?;
    bytes[8..12].copy_from_slice(&body.to_be_bytes());
    bytes.extend_from_slice(&crc32fast::hash(&bytes).to_be_bytes());
    Some(bytes)
}

/// Reads a journal, whatever its bytes are: what is whole is found, also behind damage.
pub(crate) fn read(bytes: &[u8], store: [u8; 16]) -> Found {
    let mut found = Found {
        heading: bytes.starts_with(&heading(store)),
        ..Found::default()
    };
    let mut at = if found.heading { HEADING } else { 0 };
    let mut tries = bytes.len().saturating_mul(16);
    while at < bytes.len() {
        if let Some(body) = whole(bytes, at) {
            let end = body.end + 4;
            if !split(bytes, body, &mut found.records) {
                found.broken = true;
            }
            at = end;
            continue;
        }
        if bytes[at..].iter().all(|&byte| byte == 0) {
            break;
        }
        // Each try costs a checksum over what the frame claims to be. A file made of false markers must not cost more
        // than reading it some times over.
        let next = (at + 1..bytes.len()).find(|&next| {
            let Some(rest) = claimed(bytes, next).filter(|rest| rest.len() <= tries) else {
                return false;
            };
            tries -= rest.len();
            whole(bytes, next).is_some()
        });
        if let Some(next) = next {
            found.broken = true;
            at = next;
        } else {
            found.torn = true;
            break;
        }
    }
    found.end = at;
    found.torn |= !bytes.len().is_multiple_of(STEP);
    found
}

/// Fills bytes that are to be written at an offset up to where the file may end.
pub(crate) fn fill_up(at: u64, bytes: &mut Vec<u8>) {
    let end = usize::try_from(at).unwrap_or(0) + bytes.len();
    bytes.resize(bytes.len() + end.next_multiple_of(STEP) - end, 0);
}

/// Whether a journal holds, or held, anything beside its heading.
pub(crate) fn is_used(bytes: &[u8]) -> bool {
    bytes.iter().skip(HEADING).any(|&byte| byte != 0)
}

/// The bytes that a frame at `at` claims, where there is a marker and the file is long enough.
fn claimed(bytes: &[u8], at: usize) -> Option<&[u8]> {
    let rest = bytes.get(at..)?;
    if !rest.starts_with(&MARKER) {
        return None;
    }
    let length = u32::from_be_bytes(rest.get(8..12)?.try_into().ok()?) as usize;
    rest.get(..length.checked_add(AROUND)?)
}

/// The body of the frame that starts at `at`, where its checksum fits.
fn whole(bytes: &[u8], at: usize) -> Option<Range<usize>> {
    let (checked, sum) = claimed(bytes, at)?.split_last_chunk::<4>()?;
    (crc32fast::hash(checked).to_be_bytes() == *sum).then(|| at + 12..at + checked.len())
}

/// Takes a body apart into its records; false where the lengths do not fit.
fn split(bytes: &[u8], body: Range<usize>, records: &mut Vec<Range<usize>>) -> bool {
    let mut at = body.start;
    while at < body.end {
        let Some(length) = bytes.get(at..at + 4).and_then(|length| length.try_into().ok()) else {
            return false;
        };
        let end = at + 4 + u32::from_be_bytes(length) as usize;
        if end > body.end {
            return false;
        }
        records.push(at + 4..end);
        at = end;
    }
    true
}
