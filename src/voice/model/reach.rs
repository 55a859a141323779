//! A model in memory, cut to what the ear will ever reach. The library sets aside and fills memory for every position
//! that a model numbers, in sound and in writing, and a model numbers far more than one short utterance has. So the
//! file is read once, the very bytes that were checked are the ones that are used, and the positions beyond the
//! ear's reach are left out of them.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use sha2::Digest;
use sha2::Sha256;

use super::ModelFault;
use super::VoiceError;
use super::check;
use super::checksum_beside;
use super::digits;

/// Where the head of a file holds how many frames of sound the model numbers.
const SOUND_AT: usize = 8;

/// Where it holds how many tokens it numbers.
const WRITING_AT: usize = 24;

/// How far an ear reaches; at most as far as the model does.
#[derive(Clone, Copy, Debug)]
pub(in crate::voice) struct Reach {
    /// Frames of sound.
    pub(in crate::voice) sound: u32,
    /// Tokens: half for what is told to it, half for what is heard.
    pub(in crate::voice) writing: u32,
}

/// A model, checked as [`super::check()`] does, that numbers no more than this.
///
/// # Errors
/// `File` or `BadModel`.
pub(in crate::voice) fn load(path: &Path, reach: Reach) -> Result<Vec<u8>, VoiceError> {
    // First where it lies, so that no endless file is read into memory.
    check::structure(path)?;
    let failed = |error: std::io::Error| VoiceError::file(path, &error);
    let bad = |fault| VoiceError::model(path, fault);
    let file = File::open(path).map_err(failed)?;
    let length = file.metadata().map_err(failed)?.len();
    let mut model = Vec::new();
    let room = usize::try_from(length).map_err(|_| bad(ModelFault::Range))?;
    model.try_reserve_exact(room).map_err(|_| VoiceError::Engine)?;
    file.take(length).read_to_end(&mut model).map_err(failed)?;
    let (sizes, mut tables) = check::tables(&model).map_err(bad)?;
    if checksum_beside(path).is_some_and(|sum| sum != digits(Sha256::new_with_prefix(&model))) {
        return Err(bad(ModelFault::Checksum));
    }
    // From the back, so that what was found before still lies where it was found.
    tables.sort_by_key(|table| std::cmp::Reverse(table.values.start));
    for table in tables {
        let (at, rows, all) = if table.sound {
            (SOUND_AT, reach.sound, sizes.audio_context)
        } else {
            (WRITING_AT, reach.writing, sizes.text_context)
        };
        let rows = rows.min(all);
        let kept = table.values.len() / all as usize * rows as usize;
        model.drain(table.values.start + kept..table.values.end);
        model[table.rows].copy_from_slice(&rows.to_le_bytes());
        model[at..at + 4].copy_from_slice(&rows.to_le_bytes());
    }
    Ok(model)
}
