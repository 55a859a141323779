//! The head: how many records there are and where their chain ends, sealed, in a file of its own. It is what notices
//! that both copies of the newest records are gone.
//!
//! The file has two slots, written in turn, so that a write cut off by a crash leaves the other. A slot, in bytes:
//! nonce 24, then sealed: turn 8, count 8, last seal 16, how the store was closed 1 (0 not, 1 with a sum, 2 with a
//! statement of rest too), sum of the database's files 8, snapshots made 8, day of the last one 8, generation of the
//! keys 4; then the seal 16.

use crate::store::seal::NONCE;
use crate::store::seal::Sealer;
use crate::store::seal::TAG;
use crate::store::seal::Tag;

/// Bytes of plain text in a slot.
const PLAIN: usize = 8 + 8 + TAG + 9 + 8 + 8 + 4;
/// Bytes in a slot.
pub(crate) const SLOT: usize = NONCE + PLAIN + TAG;
/// What the seal of a head is bound to beside the store.
const LABEL: &[u8; 16] = b"wayfold head   1";

/// The state of a store in a few numbers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Head {
    /// Counts the writes of the head itself.
    pub(crate) turn: u64,
    /// How many records there are.
    pub(crate) count: u64,
    /// The seal of the last record.
    pub(crate) last: Tag,
    /// The sum of the database's files, taken when it was closed; nothing while it is open.
    pub(crate) sum: Option<u64>,
    /// Whether the good order of both copies was stated too (see [`super::rest`]); only beside a sum.
    pub(crate) stated: bool,
    /// How many snapshots have been made.
    pub(crate) snapshots: u64,
    /// The day of the newest record in the last snapshot, counted from 1970.
    pub(crate) snapshot_day: i64,
    /// Counts the changes of the key material.
    pub(crate) keys: u32,
}

impl Head {
    /// Where in the file this turn's slot lies.
    pub(crate) fn offset(&self) -> u64 {
        (self.turn % 2) * SLOT as u64
    }

    /// This head as a sealed slot.
    pub(crate) fn close(&self, sealer: &Sealer, nonce: &[u8; NONCE]) -> Option<Vec<u8>> {
        let mut text = Vec::with_capacity(PLAIN + TAG);
        text.extend_from_slice(&self.turn.to_be_bytes());
        text.extend_from_slice(&self.count.to_be_bytes());
        text.extend_from_slice(&self.last);
        text.push(match self.sum {
            None => 0,
            Some(_) if self.stated => 2,
            Some(_) => 1,
        });
        text.extend_from_slice(&self.sum.unwrap_or_default().to_be_bytes());
        text.extend_from_slice(&self.snapshots.to_be_bytes());
        text.extend_from_slice(&self.snapshot_day.to_be_bytes());
        text.extend_from_slice(&self.keys.to_be_bytes());
        sealer.close(nonce, &sealer.label(LABEL), &mut text)?;
        Some([nonce.as_slice(), &text].concat())
    }

    /// The newest head in a file, and whether both slots were whole.
    pub(crate) fn read(bytes: &[u8], sealer: &Sealer) -> (Option<Self>, bool) {
        let halves = [bytes.get(..SLOT), bytes.get(SLOT..2 * SLOT)];
        let found = halves.map(|half| half.and_then(|half| Self::open(half, sealer)));
        // Two whole slots that are not one turn apart were never written like this: one of them is older.
        let follow = matches!(found, [Some(even), Some(odd)] if even.turn.abs_diff(odd.turn) == 1);
        let newest = found.into_iter().flatten().max_by_key(|head| head.turn);
        (newest, follow && bytes.len() == 2 * SLOT)
    }

    fn open(slot: &[u8], sealer: &Sealer) -> Option<Self> {
        let (nonce, rest) = slot.split_first_chunk::<NONCE>()?;
        let text = sealer.open(nonce, &sealer.label(LABEL), rest)?;
        let eight = |at: usize| text.get(at..at + 8)?.try_into().ok().map(u64::from_be_bytes);
        Some(Self {
            turn: eight(0)?,
            count: eight(8)?,
            last: text.get(16..16 + TAG)?.try_into().ok()?,
            sum: (*text.get(32)? > 0).then_some(eight(33)?),
            stated: *text.get(32)? == 2,
            snapshots: eight(41)?,
            snapshot_day: eight(49)?.cast_signed(),
            keys: u32::from_be_bytes(text.get(57..PLAIN)?.try_into().ok()?),
        })
    }
}
