//! The tensors that a Whisper model of given sizes must have, in one place: the converter writes exactly these, and
//! the check allows exactly these. Names and shapes are those of the ggml Whisper format.

/// The first four bytes of a ggml file.
pub(super) const MAGIC: u32 = 0x6767_6d6c;

/// Frequency bins of the spectrum that the mel filters weigh.
pub(super) const BINS: u32 = 201;

/// How the names of the two tables of positions end: one for frames of sound, one for what is written.
pub(super) const POSITIONS: &str = ".positional_embedding";

/// The sizes of a model.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Sizes {
    pub(super) vocabulary: u32,
    pub(super) audio_context: u32,
    pub(super) state: u32,
    pub(super) heads: u32,
    pub(super) audio_layers: u32,
    pub(super) text_context: u32,
    pub(super) text_layers: u32,
    pub(super) mels: u32,
    pub(super) file_type: u32,
}

/// How a tensor may be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Class {
    /// Always as f32: biases, norms, positions.
    Plain,
    /// As f16, or f32 in an f32 model: convolutions.
    Convolution,
    /// As the model's file type says: the large matrices.
    Weight,
}

/// A tensor: its name, its sizes with the fastest-running first, and its class.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Tensor {
    pub(super) name: String,
    pub(super) sizes: Vec<u32>,
    pub(super) class: Class,
}

impl Tensor {
    /// How many numbers it holds.
    pub(super) fn count(&self) -> u64 {
        self.sizes.iter().map(|size| u64::from(*size)).product()
    }
}

impl Sizes {
    /// Whether the sizes are those of a real Whisper model, so that nothing computed from them can run away.
    pub(super) fn sound(&self) -> bool {
        (51_864..=51_866).contains(&self.vocabulary)
            && self.audio_context == 1_500
            && self.text_context == 448
            && (64..=1_280).contains(&self.state)
            && self.state.is_multiple_of(64)
            && self.heads == self.state / 64
            && (1..=32).contains(&self.audio_layers)
            && (1..=32).contains(&self.text_layers)
            && matches!(self.mels, 80 | 128)
            && self.file_type / 1_000 <= 2
            && matches!(self.file_type % 1_000, 0..=3 | 7..=9)
    }

    /// Whether the model knows English only; it then has one token fewer.
    pub(super) fn english(&self) -> bool {
        self.vocabulary == 51_864
    }

    /// The file name by which models of this kind are known.
    pub(super) fn file_name(&self) -> String {
        let size = match self.audio_layers {
            4 => "tiny",
            6 => "base",
            12 => "small",
            24 => "medium",
            32 => "large",
            _ => "other",
        };
        let english = if self.english() { ".en" } else { "" };
        let kind = match self.file_type % 1_000 {
            0 => "-f32",
            2 => "-q4_0",
            3 => "-q4_1",
            7 => "-q8_0",
            8 => "-q5_0",
            9 => "-q5_1",
            _ => "",
        };
        format!("ggml-{size}{english}{kind}.bin")
    }

    /// Every tensor, in the order in which the converter writes them.
    pub(super) fn tensors(&self) -> Vec<Tensor> {
        let mut list = List(Vec::new());
        list.plain("encoder.positional_embedding", &[self.state, self.audio_context]);
        for (conv, width) in [("conv1", self.mels), ("conv2", self.state)] {
            list.add(
                format!("encoder.{conv}.weight"),
                &[3, width, self.state],
                Class::Convolution,
            );
            list.plain(&format!("encoder.{conv}.bias"), &[1, self.state]);
        }
        for layer in 0..self.audio_layers {
            self.block(&mut list, &format!("encoder.blocks.{layer}"), &["attn"]);
        }
        list.norm("encoder.ln_post", self.state);
        list.plain("decoder.positional_embedding", &[self.state, self.text_context]);
        let embedding = "decoder.token_embedding.weight".to_owned();
        list.add(embedding, &[self.state, self.vocabulary], Class::Weight);
        for layer in 0..self.text_layers {
            self.block(
                &mut list,
                &format!("decoder.blocks.{layer}"),
                &["attn", "cross_attn"],
            );
        }
        list.norm("decoder.ln", self.state);
        list.0
    }

    fn block(&self, list: &mut List, block: &str, attentions: &[&str]) {
        let wide = self.state * 4;
        for attention in attentions {
            list.norm(&format!("{block}.{attention}_ln"), self.state);
            for part in ["query", "key", "value", "out"] {
                let name = format!("{block}.{attention}.{part}");
                list.add(format!("{name}.weight"), &[self.state, self.state], Class::Weight);
                if part != "key" {
                    list.plain(&format!("{name}.bias"), &[self.state]);
                }
            }
        }
        list.norm(&format!("{block}.mlp_ln"), self.state);
        for (part, from, to) in [("mlp.0", self.state, wide), ("mlp.2", wide, self.state)] {
            list.add(format!("{block}.{part}.weight"), &[from, to], Class::Weight);
            list.plain(&format!("{block}.{part}.bias"), &[to]);
        }
    }
}

struct List(Vec<Tensor>);

impl List {
    fn add(&mut self, name: String, sizes: &[u32], class: Class) {
        self.0.push(Tensor {
            name,
            sizes: sizes.to_vec(),
            class,
        });
    }

    fn plain(&mut self, name: &str, sizes: &[u32]) {
        self.add(name.to_owned(), sizes, Class::Plain);
    }

    fn norm(&mut self, name: &str, state: u32) {
        self.plain(&format!("{name}.weight"), &[state]);
        self.plain(&format!("{name}.bias"), &[state]);
    }
}
