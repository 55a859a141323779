//! Reads a ggml Whisper file from front to back as the speech library would, and allows nothing that the library
//! would have to trust: every size in range, every tensor there once with its right shape, nothing left over.

use std::collections::HashMap;
use std::fs::File;
use std::io::BufReader;
use std::io::Cursor;
use std::io::Read;
use std::io::Seek;
use std::ops::Range;
use std::path::Path;

use super::ModelFault;
use super::VoiceError;
use super::layout::BINS;
use super::layout::Class;
use super::layout::MAGIC;
use super::layout::POSITIONS;
use super::layout::Sizes;
use super::q8;

/// The longest word of a vocabulary, in bytes; real ones stay under 256.
const LONGEST_WORD: u32 = 1_024;

/// The longest name of a tensor, in bytes.
const LONGEST_NAME: u32 = 64;

/// The sizes of a file that is sound in every part but the values of its weights.
///
/// # Errors
/// `File` or `BadModel`.
pub(super) fn structure(path: &Path) -> Result<Sizes, VoiceError> {
    let file = File::open(path).map_err(|error| VoiceError::file(path, &error))?;
    let facts = file.metadata().map_err(|error| VoiceError::file(path, &error))?;
    if !facts.is_file() {
        return Err(VoiceError::model(path, ModelFault::UnknownKind));
    }
    let mut walk = Walk::from(BufReader::with_capacity(1 << 16, file), facts.len());
    walk.model().map_err(|fault| VoiceError::model(path, fault))
}

/// The tables of positions in a model in memory that is as sound as [`structure`] asks, in the order of the file.
///
/// # Errors
/// What is wrong with it.
pub(super) fn tables(model: &[u8]) -> Result<(Sizes, Vec<Table>), ModelFault> {
    let mut walk = Walk::from(Cursor::new(model), model.len() as u64);
    let sizes = walk.model()?;
    Ok((sizes, walk.tables))
}

/// Where a table of positions lies in a file, in bytes.
pub(super) struct Table {
    /// Whether it numbers the frames of sound; else it numbers what is written.
    pub(super) sound: bool,
    /// Its count of rows.
    pub(super) rows: Range<usize>,
    /// The rows themselves.
    pub(super) values: Range<usize>,
}

struct Walk<R> {
    file: R,
    length: u64,
    left: u64,
    tables: Vec<Table>,
}

impl<R: Read + Seek> Walk<R> {
    fn from(file: R, length: u64) -> Self {
        Self {
            file,
            length,
            left: length,
            tables: Vec::new(),
        }
    }

    fn model(&mut self) -> Result<Sizes, ModelFault> {
        if self.u32()? != MAGIC {
            return Err(ModelFault::UnknownKind);
        }
        let sizes = self.sizes()?;
        self.filters(&sizes)?;
        self.words(&sizes)?;
        self.tensors(&sizes)?;
        Ok(sizes)
    }

    fn sizes(&mut self) -> Result<Sizes, ModelFault> {
        let mut numbers = [0; 11];
        for number in &mut numbers {
            *number = self.u32()?;
        }
        let [
            vocabulary,
            audio_context,
            state,
            heads,
            audio_layers,
            text_context,
            text_state,
            text_heads,
            ..,
        ] = numbers;
        let [.., text_layers, mels, file_type] = numbers;
        let sizes = Sizes {
            vocabulary,
            audio_context,
            state,
            heads,
            audio_layers,
            text_context,
            text_layers,
            mels,
            file_type,
        };
        let sound = sizes.sound() && text_state == state && text_heads == heads;
        if sound { Ok(sizes) } else { Err(ModelFault::Range) }
    }

    fn filters(&mut self, sizes: &Sizes) -> Result<(), ModelFault> {
        if self.u32()? != sizes.mels || self.u32()? != BINS {
            return Err(ModelFault::Range);
        }
        for _ in 0..sizes.mels * BINS {
            if !f32::from_bits(self.u32()?).is_finite() {
                return Err(ModelFault::Range);
            }
        }
        Ok(())
    }

    fn words(&mut self, sizes: &Sizes) -> Result<(), ModelFault> {
        let count = self.u32()?;
        if !(50_256..=sizes.vocabulary).contains(&count) {
            return Err(ModelFault::Vocabulary);
        }
        for _ in 0..count {
            let length = self.u32()?;
            if length > LONGEST_WORD {
                return Err(ModelFault::Vocabulary);
            }
            self.skip(u64::from(length))?;
        }
        Ok(())
    }

    fn tensors(&mut self, sizes: &Sizes) -> Result<(), ModelFault> {
        let mut wanted: HashMap<String, _> = sizes
            .tensors()
            .into_iter()
            .map(|tensor| (tensor.name.clone(), tensor))
            .collect();
        while !wanted.is_empty() {
            let (rank, length, kind) = (self.u32()?, self.u32()?, self.u32()?);
            if !(1..=3).contains(&rank) || length > LONGEST_NAME {
                return Err(ModelFault::Tensor);
            }
            let shape_at = self.at();
            let shape = (0..rank).map(|_| self.u32()).collect::<Result<Vec<_>, _>>()?;
            let mut name = vec![0; length as usize];
            self.fill(&mut name)?;
            let name = String::from_utf8(name).map_err(|_| ModelFault::Tensor)?;
            let tensor = wanted.remove(&name).ok_or(ModelFault::Tensor)?;
            let right = match tensor.class {
                Class::Plain => 0,
                Class::Convolution => u32::from(!sizes.file_type.is_multiple_of(1_000)),
                Class::Weight => weight_kind(sizes.file_type % 1_000).ok_or(ModelFault::Range)?,
            };
            if shape != tensor.sizes || kind != right {
                return Err(ModelFault::Tensor);
            }
            let values_at = self.at();
            self.skip(length_of(kind, tensor.count()).ok_or(ModelFault::Tensor)?)?;
            if name.ends_with(POSITIONS) {
                self.tables.push(Table {
                    sound: name.starts_with("encoder"),
                    rows: shape_at + 4..shape_at + 8,
                    values: values_at..self.at(),
                });
            }
        }
        if self.left == 0 {
            Ok(())
        } else {
            Err(ModelFault::Trailing)
        }
    }

    /// How far it came; a model in memory is never longer than memory.
    fn at(&self) -> usize {
        usize::try_from(self.length - self.left).unwrap_or(usize::MAX)
    }

    fn u32(&mut self) -> Result<u32, ModelFault> {
        let mut bytes = [0; 4];
        self.fill(&mut bytes)?;
        Ok(u32::from_le_bytes(bytes))
    }

    fn fill(&mut self, bytes: &mut [u8]) -> Result<(), ModelFault> {
        self.left = self.left.checked_sub(bytes.len() as u64).ok_or(ModelFault::Cut)?;
        self.file.read_exact(bytes).map_err(|_| ModelFault::Cut)
    }

    fn skip(&mut self, bytes: u64) -> Result<(), ModelFault> {
        self.left = self.left.checked_sub(bytes).ok_or(ModelFault::Cut)?;
        let step = i64::try_from(bytes).map_err(|_| ModelFault::Cut)?;
        self.file.seek_relative(step).map_err(|_| ModelFault::Cut)
    }
}

/// The kind of the large matrices in a file of this type.
fn weight_kind(file_type: u32) -> Option<u32> {
    match file_type {
        0 => Some(0),
        1 => Some(1),
        2 => Some(2),
        3 => Some(3),
        7 => Some(8),
        8 => Some(6),
        9 => Some(7),
        _ => None,
    }
}

/// Bytes of so many numbers of a kind. The blocks are ggml's: 32 numbers with a scale, and in the kinds that end in
/// `_1` a lowest value too.
fn length_of(kind: u32, count: u64) -> Option<u64> {
    let (numbers, bytes) = match kind {
        0 => (1, 4),
        1 => (1, 2),
        2 => (32, 18),
        3 => (32, 20),
        6 => (32, 22),
        7 => (32, 24),
        8 => (q8::BLOCK as u64, q8::BLOCK_BYTES as u64),
        _ => return None,
    };
    count.is_multiple_of(numbers).then(|| count / numbers * bytes)
}
