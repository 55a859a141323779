//! From `CTranslate2`'s form to ggml's: every tensor by its ggml name, the large matrices in blocks of 32 with one
//! scale, in a few megabytes of memory however large the model is.

use std::io;
use std::io::Write;
use std::path::Path;

use half::f16;

use super::ModelFault;
use super::VoiceError;
use super::layout::BINS;
use super::layout::Class;
use super::layout::MAGIC;
use super::layout::Sizes;
use super::layout::Tensor;
use super::mel;
use super::q8;
use super::source::Source;

/// Numbers read at a time: a multiple of the block of 32, and of every row there is.
const BLOCK: usize = 1 << 18;

/// The longest list of words, in bytes; real ones have half a megabyte.
const LONGEST_WORDS: u64 = 4 << 20;

/// Reads the words of a model. Those from the first special one on are not written: ggml adds them itself.
pub(super) fn vocabulary(path: &Path, sizes: &Sizes) -> Result<Vec<Vec<u8>>, VoiceError> {
    use std::io::Read;
    let failed = |error: io::Error| VoiceError::file(path, &error);
    let fault = || VoiceError::model(path, ModelFault::Vocabulary);
    let mut text = String::new();
    let file = std::fs::File::open(path).map_err(failed)?;
    match file.take(LONGEST_WORDS + 1).read_to_string(&mut text) {
        Ok(read) if read as u64 > LONGEST_WORDS => return Err(fault()),
        Ok(_) => {}
        Err(error) if error.kind() == io::ErrorKind::InvalidData => return Err(fault()),
        Err(error) => return Err(failed(error)),
    }
    let words = text.split('\n').take_while(|word| *word != "<|endoftext|>");
    let words: Vec<Vec<u8>> = words.map(bytes_of).collect::<Option<_>>().ok_or_else(fault)?;
    let right = if sizes.english() { 50_256 } else { 50_257 };
    if words.len() == right {
        Ok(words)
    } else {
        Err(fault())
    }
}

/// A word's bytes. Each byte was written as one printable character (the byte alphabet of GPT-2): printable ones
/// as themselves, the 68 others as the characters from 256 on.
fn bytes_of(word: &str) -> Option<Vec<u8>> {
    word.chars()
        .map(|c| match u32::from(c) {
            code @ (33..=126 | 161..=172 | 174..=255) => u8::try_from(code).ok(),
            code @ 256..=323 => (0..=255)
                .filter(|byte| !matches!(byte, 33..=126 | 161..=172 | 174..=255))
                .nth(usize::try_from(code - 256).ok()?),
            _ => None,
        })
        .collect()
}

/// Writes a whole ggml file.
pub(super) fn write(
    mut source: Source,
    sizes: &Sizes,
    words: &[Vec<u8>],
    out: &mut dyn Write,
) -> Result<(), VoiceError> {
    head(sizes, words, out).map_err(|error| target(&error))?;
    let mut encoded = Vec::with_capacity(BLOCK * 4);
    for tensor in sizes.tensors() {
        tensor_head(&tensor, out).map_err(|error| target(&error))?;
        let (name, part) = origin(&tensor.name).ok_or_else(|| source.fault(ModelFault::Tensor))?;
        source.numbers(&name, &origin_sizes(&tensor, part.1), part, BLOCK, |numbers| {
            encoded.clear();
            match tensor.class {
                Class::Plain => encoded.extend(numbers.iter().flat_map(|number| number.to_le_bytes())),
                Class::Convolution => {
                    encoded.extend(
                        numbers
                            .iter()
                            .flat_map(|number| f16::from_f32(*number).to_le_bytes()),
                    );
                }
                Class::Weight => q8::quantise(numbers, &mut encoded),
            }
            out.write_all(&encoded).map_err(|error| target(&error))
        })?;
    }
    nothing_lost(&mut source, sizes)
}

/// The bias of the keys has no place in ggml's form, so it must be nothing.
fn nothing_lost(source: &mut Source, sizes: &Sizes) -> Result<(), VoiceError> {
    let self_attention = |side: &str, layer: u32| {
        (
            format!("{side}/layer_{layer}/self_attention/linear_0/bias"),
            (1, 3),
        )
    };
    let cross_attention = |layer: u32| (format!("decoder/layer_{layer}/attention/linear_1/bias"), (0, 2));
    let encoder = (0..sizes.audio_layers).map(|layer| self_attention("encoder", layer));
    let decoder =
        (0..sizes.text_layers).flat_map(|layer| [self_attention("decoder", layer), cross_attention(layer)]);
    for (name, (part, parts)) in encoder.chain(decoder) {
        let mut all_zero = true;
        source.numbers(&name, &[sizes.state * parts], (part, parts), BLOCK, |numbers| {
            all_zero &= numbers.iter().all(|number| *number == 0.0);
            Ok(())
        })?;
        if !all_zero {
            return Err(source.fault(ModelFault::Tensor));
        }
    }
    Ok(())
}

/// An error while writing; [`super::write`] knows the file's name and puts it in.
fn target(error: &io::Error) -> VoiceError {
    VoiceError::file(Path::new(""), error)
}

fn head(sizes: &Sizes, words: &[Vec<u8>], out: &mut dyn Write) -> io::Result<()> {
    let state = sizes.state;
    let numbers = [
        MAGIC,
        sizes.vocabulary,
        sizes.audio_context,
        state,
        sizes.heads,
        sizes.audio_layers,
        sizes.text_context,
        state,
        sizes.heads,
        sizes.text_layers,
        sizes.mels,
        sizes.file_type,
        sizes.mels,
        BINS,
    ];
    for number in numbers {
        out.write_all(&number.to_le_bytes())?;
    }
    for weight in mel::filters(sizes.mels) {
        out.write_all(&weight.to_le_bytes())?;
    }
    out.write_all(&length(words.len()).to_le_bytes())?;
    for word in words {
        out.write_all(&length(word.len()).to_le_bytes())?;
        out.write_all(word)?;
    }
    Ok(())
}

fn tensor_head(tensor: &Tensor, out: &mut dyn Write) -> io::Result<()> {
    let kind: u32 = match tensor.class {
        Class::Plain => 0,
        Class::Convolution => 1,
        Class::Weight => 8,
    };
    let numbers = [length(tensor.sizes.len()), length(tensor.name.len()), kind];
    for number in numbers.iter().chain(&tensor.sizes) {
        out.write_all(&number.to_le_bytes())?;
    }
    out.write_all(tensor.name.as_bytes())
}

/// Lengths here are bounded far below what a u32 holds.
fn length(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}

/// The name of the tensor that a ggml tensor comes from, and which part of it.
fn origin(name: &str) -> Option<(String, (u32, u32))> {
    const WHOLE: (u32, u32) = (0, 1);
    let (name, kind) = name.rsplit_once('.')?;
    let norm = if kind == "weight" { "gamma" } else { "beta" };
    let plain = match (name, kind) {
        ("encoder" | "decoder", "positional_embedding") => format!("{name}/position_encodings/encodings"),
        ("encoder.conv1" | "encoder.conv2", _) => format!("{}/{kind}", name.replace('.', "/")),
        ("encoder.ln_post", _) => format!("encoder/layer_norm/{norm}"),
        ("decoder.ln", _) => format!("decoder/layer_norm/{norm}"),
        ("decoder.token_embedding", _) => "decoder/embeddings/weight".to_owned(),
        _ => return layer_origin(name, kind, norm),
    };
    Some((plain, WHOLE))
}

fn layer_origin(name: &str, kind: &str, norm: &str) -> Option<(String, (u32, u32))> {
    let (side, rest) = name.split_once(".blocks.")?;
    let (layer, rest) = rest.split_once('.')?;
    let (place, part) = match rest {
        "attn_ln" => (format!("self_attention/layer_norm/{norm}"), (0, 1)),
        "cross_attn_ln" => (format!("attention/layer_norm/{norm}"), (0, 1)),
        "mlp_ln" => (format!("ffn/layer_norm/{norm}"), (0, 1)),
        "mlp.0" => (format!("ffn/linear_0/{kind}"), (0, 1)),
        "mlp.2" => (format!("ffn/linear_1/{kind}"), (0, 1)),
        "attn.query" => (format!("self_attention/linear_0/{kind}"), (0, 3)),
        "attn.key" => (format!("self_attention/linear_0/{kind}"), (1, 3)),
        "attn.value" => (format!("self_attention/linear_0/{kind}"), (2, 3)),
        "attn.out" => (format!("self_attention/linear_1/{kind}"), (0, 1)),
        "cross_attn.query" => (format!("attention/linear_0/{kind}"), (0, 1)),
        "cross_attn.key" => (format!("attention/linear_1/{kind}"), (0, 2)),
        "cross_attn.value" => (format!("attention/linear_1/{kind}"), (1, 2)),
        "cross_attn.out" => (format!("attention/linear_2/{kind}"), (0, 1)),
        _ => return None,
    };
    Some((format!("{side}/layer_{layer}/{place}"), part))
}

/// The sizes of the tensor it comes from: the slowest-running first, several parts of it one after another, and
/// without the one that ggml adds to a convolution's bias.
fn origin_sizes(tensor: &Tensor, parts: u32) -> Vec<u32> {
    let mut sizes: Vec<u32> = tensor.sizes.iter().rev().copied().collect();
    if sizes.len() == 2 && sizes[1] == 1 {
        sizes.pop();
    }
    sizes[0] *= parts;
    sizes
}
