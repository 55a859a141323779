//! A model in `CTranslate2`'s form, version 6, read where it lies: a table of named tensors over one file or several
//! parts of one. Only the table is held in memory; every number in it is checked against the file's real length.

use std::collections::HashMap;
use std::fs::File;
use std::io;
use std::io::Read;
use std::io::Seek;
use std::io::SeekFrom;
use std::path::PathBuf;

use half::f16;

use super::ModelFault;
use super::VoiceError;
use super::layout::Sizes;

/// The version that is read, and the first four bytes of such a file.
pub(super) const VERSION: u32 = 6;

/// Bounds on the table that no real model comes near.
const MOST_TENSORS: u32 = 4_096;
const LONGEST_NAME: u16 = 256;
const MOST_SIZES: u8 = 4;

/// A model's table, and the file behind it.
pub(super) struct Source {
    file: Joined,
    table: HashMap<String, Entry>,
    path: PathBuf,
}

#[derive(Clone, Debug)]
struct Entry {
    sizes: Vec<u32>,
    wide: bool,
    at: u64,
    count: u64,
}

impl Source {
    /// Opens a model and reads its table.
    pub(super) fn open(parts: &[PathBuf]) -> Result<Self, VoiceError> {
        let path = parts.first().cloned().unwrap_or_default();
        let file = Joined::open(parts)?;
        let mut source = Self {
            file,
            table: HashMap::new(),
            path,
        };
        source.read_table()?;
        Ok(source)
    }

    /// The model's sizes, from the shapes of its tensors.
    pub(super) fn sizes(&self) -> Result<Sizes, VoiceError> {
        let size = |name: &str, at: usize| -> Result<u32, VoiceError> {
            let entry = self
                .table
                .get(name)
                .ok_or_else(|| self.fault(ModelFault::Tensor))?;
            entry
                .sizes
                .get(at)
                .copied()
                .ok_or_else(|| self.fault(ModelFault::Tensor))
        };
        let layers = |side: &str| -> u32 {
            let there = |layer: &u32| {
                let name = format!("{side}/layer_{layer}/ffn/linear_0/weight");
                self.table.contains_key(&name)
            };
            // One more than is allowed, so that a model with too many is refused.
            (0..33).find(|layer| !there(layer)).unwrap_or(33)
        };
        let state = size("decoder/embeddings/weight", 1)?;
        let sizes = Sizes {
            vocabulary: size("decoder/embeddings/weight", 0)?,
            audio_context: size("encoder/position_encodings/encodings", 0)?,
            state,
            heads: state / 64,
            audio_layers: layers("encoder"),
            text_context: size("decoder/position_encodings/encodings", 0)?,
            text_layers: layers("decoder"),
            mels: size("encoder/conv1/weight", 1)?,
            file_type: 2_007,
        };
        if sizes.sound() {
            Ok(sizes)
        } else {
            Err(self.fault(ModelFault::Range))
        }
    }

    /// Reads the numbers of one part of a tensor, in blocks of at most `block` numbers. The tensor must have
    /// exactly these sizes, the slowest-running first, and be of floating-point numbers.
    pub(super) fn numbers(
        &mut self,
        name: &str,
        sizes: &[u32],
        (part, parts): (u32, u32),
        block: usize,
        mut take: impl FnMut(&[f32]) -> Result<(), VoiceError>,
    ) -> Result<(), VoiceError> {
        let entry = self.table.get(name).filter(|entry| entry.sizes == sizes).cloned();
        let entry = entry.ok_or_else(|| self.fault(ModelFault::Tensor))?;
        let width = if entry.wide { 4 } else { 2 };
        let mut left = entry.count / u64::from(parts);
        let start = entry.at + left * u64::from(part) * width;
        self.file
            .seek(SeekFrom::Start(start))
            .map_err(|error| VoiceError::file(&self.path, &error))?;
        let mut bytes = vec![0; block * 4];
        let mut numbers = Vec::with_capacity(block);
        while left > 0 {
            let now = usize::try_from(left).map_or(block, |left| left.min(block));
            let raw = &mut bytes[..now * if entry.wide { 4 } else { 2 }];
            self.file
                .read_exact(raw)
                .map_err(|_| self.fault(ModelFault::Cut))?;
            numbers.clear();
            if entry.wide {
                numbers.extend(
                    raw.as_chunks::<4>()
                        .0
                        .iter()
                        .map(|bytes| f32::from_le_bytes(*bytes)),
                );
            } else {
                numbers.extend(
                    raw.as_chunks::<2>()
                        .0
                        .iter()
                        .map(|bytes| f16::from_le_bytes(*bytes).to_f32()),
                );
            }
            take(&numbers)?;
            left -= now as u64;
        }
        Ok(())
    }

    /// The error of this file.
    pub(super) fn fault(&self, fault: ModelFault) -> VoiceError {
        VoiceError::model(&self.path, fault)
    }

    fn read_table(&mut self) -> Result<(), VoiceError> {
        if self.u32()? != VERSION {
            return Err(self.fault(ModelFault::UnknownKind));
        }
        if self.name()? != "WhisperSpec" {
            return Err(self.fault(ModelFault::UnknownKind));
        }
        let _revision = self.u32()?;
        let count = self.u32()?;
        if count > MOST_TENSORS {
            return Err(self.fault(ModelFault::Range));
        }
        for _ in 0..count {
            let name = self.name()?;
            let rank = self.bytes::<1>()?[0];
            if rank > MOST_SIZES {
                return Err(self.fault(ModelFault::Range));
            }
            let sizes = (0..rank).map(|_| self.u32()).collect::<Result<Vec<_>, _>>()?;
            let kind = self.bytes::<1>()?[0];
            let bytes = u64::from(self.u32()?);
            let at = self.file.at;
            if bytes > self.file.length - at {
                return Err(self.fault(ModelFault::Cut));
            }
            self.file.at += bytes;
            let wide = match kind {
                0 => true,
                4 => false,
                // Whole numbers are settings that the sizes already say; a tensor of them cannot be read.
                _ => continue,
            };
            let numbers = sizes
                .iter()
                .try_fold(1_u64, |all, size| all.checked_mul(u64::from(*size)));
            let count = numbers.ok_or_else(|| self.fault(ModelFault::Range))?;
            if count.checked_mul(if wide { 4 } else { 2 }) != Some(bytes) {
                return Err(self.fault(ModelFault::Tensor));
            }
            if self
                .table
                .insert(
                    name,
                    Entry {
                        sizes,
                        wide,
                        at,
                        count,
                    },
                )
                .is_some()
            {
                return Err(self.fault(ModelFault::Tensor));
            }
        }
        Ok(())
    }

    fn bytes<const N: usize>(&mut self) -> Result<[u8; N], VoiceError> {
        let mut bytes = [0; N];
        self.file
            .read_exact(&mut bytes)
            .map_err(|_| self.fault(ModelFault::Cut))?;
        Ok(bytes)
    }

    fn u32(&mut self) -> Result<u32, VoiceError> {
        self.bytes().map(u32::from_le_bytes)
    }

    /// A name: its length with the closing zero, and its bytes.
    fn name(&mut self) -> Result<String, VoiceError> {
        let length = u16::from_le_bytes(self.bytes()?);
        if !(1..=LONGEST_NAME).contains(&length) {
            return Err(self.fault(ModelFault::Range));
        }
        let mut bytes = vec![0; usize::from(length)];
        self.file
            .read_exact(&mut bytes)
            .map_err(|_| self.fault(ModelFault::Cut))?;
        if bytes.pop() != Some(0) {
            return Err(self.fault(ModelFault::Range));
        }
        String::from_utf8(bytes).map_err(|_| self.fault(ModelFault::Range))
    }
}

/// Several files read as one.
struct Joined {
    parts: Vec<(File, u64)>,
    at: u64,
    length: u64,
    // The part that was read last and where, so that reading on needs no seek.
    here: Option<(usize, u64)>,
}

impl Joined {
    fn open(paths: &[PathBuf]) -> Result<Self, VoiceError> {
        let mut parts = Vec::with_capacity(paths.len());
        for path in paths {
            let file = File::open(path).map_err(|error| VoiceError::file(path, &error))?;
            let length = file
                .metadata()
                .map_err(|error| VoiceError::file(path, &error))?
                .len();
            parts.push((file, length));
        }
        let length = parts.iter().map(|(_, length)| length).sum();
        Ok(Self {
            parts,
            at: 0,
            length,
            here: None,
        })
    }
}

impl Read for Joined {
    fn read(&mut self, out: &mut [u8]) -> io::Result<usize> {
        let mut from = 0;
        for (index, (file, length)) in self.parts.iter_mut().enumerate() {
            if self.at < from + *length {
                let inside = self.at - from;
                if self.here != Some((index, inside)) {
                    file.seek(SeekFrom::Start(inside))?;
                }
                let most = usize::try_from(*length - inside).map_or(out.len(), |left| left.min(out.len()));
                let read = file.read(&mut out[..most])?;
                self.at += read as u64;
                self.here = Some((index, inside + read as u64));
                return Ok(read);
            }
            from += *length;
        }
        Ok(0)
    }
}

impl Seek for Joined {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        let SeekFrom::Start(at) = to else {
            return Err(io::ErrorKind::Unsupported.into());
        };
        self.at = at;
        Ok(at)
    }
}
