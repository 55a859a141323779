"""Reads a converted speech model and its source with code of its own, and compares every number.

tensors GGML VOCABULARY MEL_FILTERS PART...   compare a whole model
blocks                                        quantise the numbers on standard input (hexadecimal f32)
"""

import struct
import sys

import numpy
from gguf import GGMLQuantizationType, quants


def source_of(parts):
    raw = b"".join(open(part, "rb").read() for part in parts)
    at = 4

    def name():
        nonlocal at
        (length,) = struct.unpack_from("<H", raw, at)
        text = raw[at + 2 : at + 1 + length].decode()
        at += 2 + length
        return text

    name()
    at += 4
    (count,) = struct.unpack_from("<I", raw, at)
    at += 4
    found = {}
    for _ in range(count):
        key, rank = name(), raw[at]
        sizes = struct.unpack_from(f"<{rank}I", raw, at + 1)
        at += 1 + 4 * rank
        kind, length = struct.unpack_from("<BI", raw, at)
        at += 5
        if kind == 4:
            found[key] = numpy.frombuffer(raw, numpy.float16, length // 2, at).reshape(sizes)
        at += length
    return found


def expected(found):
    """Every tensor by its ggml name."""
    out = {}
    state = found["decoder/embeddings/weight"].shape[1]
    norms = {"attn_ln": "self_attention", "cross_attn_ln": "attention", "mlp_ln": "ffn"}
    for side, last in (("encoder", "ln_post"), ("decoder", "ln")):
        out[f"{side}.positional_embedding"] = found[f"{side}/position_encodings/encodings"]
        out[f"{side}.{last}.weight"] = found[f"{side}/layer_norm/gamma"]
        out[f"{side}.{last}.bias"] = found[f"{side}/layer_norm/beta"]
        layer = 0
        while f"{side}/layer_{layer}/ffn/linear_0/weight" in found:
            take, put = f"{side}/layer_{layer}", f"{side}.blocks.{layer}"
            for kind in ("weight", "bias"):
                query, key, value = numpy.split(found[f"{take}/self_attention/linear_0/{kind}"], 3)
                out[f"{put}.attn.query.{kind}"], out[f"{put}.attn.value.{kind}"] = query, value
                if kind == "weight":
                    out[f"{put}.attn.key.weight"] = key
                else:
                    assert not key.any()
                out[f"{put}.attn.out.{kind}"] = found[f"{take}/self_attention/linear_1/{kind}"]
                out[f"{put}.mlp.0.{kind}"] = found[f"{take}/ffn/linear_0/{kind}"]
                out[f"{put}.mlp.2.{kind}"] = found[f"{take}/ffn/linear_1/{kind}"]
                if side == "decoder":
                    key, value = numpy.split(found[f"{take}/attention/linear_1/{kind}"], 2)
                    out[f"{put}.cross_attn.query.{kind}"] = found[f"{take}/attention/linear_0/{kind}"]
                    out[f"{put}.cross_attn.value.{kind}"] = value
                    if kind == "weight":
                        out[f"{put}.cross_attn.key.weight"] = key
                    out[f"{put}.cross_attn.out.{kind}"] = found[f"{take}/attention/linear_2/{kind}"]
            for norm, part in norms.items():
                if side == "decoder" or norm != "cross_attn_ln":
                    out[f"{put}.{norm}.weight"] = found[f"{take}/{part}/layer_norm/gamma"]
                    out[f"{put}.{norm}.bias"] = found[f"{take}/{part}/layer_norm/beta"]
            layer += 1
    for conv in ("conv1", "conv2"):
        out[f"encoder.{conv}.weight"] = found[f"encoder/{conv}/weight"]
        out[f"encoder.{conv}.bias"] = found[f"encoder/{conv}/bias"].reshape(-1, 1)
    out["decoder.token_embedding.weight"] = found["decoder/embeddings/weight"]
    assert all(part.shape[-1] in (1, 3) or state for part in out.values())
    return out


def byte_alphabet():
    plain = [*range(33, 127), *range(161, 173), *range(174, 256)]
    other = [byte for byte in range(256) if byte not in plain]
    return {chr(code): byte for code, byte in [*zip(plain, plain), *zip(range(256, 512), other)]}


def tensors(ggml, vocabulary, filters, *parts):
    raw = open(ggml, "rb").read()
    wanted = expected(source_of(parts))
    head = struct.unpack_from("<14I", raw, 0)
    at = 56
    mels, bins = head[12], head[13]
    ours = numpy.frombuffer(raw, numpy.float32, mels * bins, at).reshape(mels, bins)
    at += 4 * mels * bins
    published = numpy.load(filters)["mel_80"]
    from faster_whisper.feature_extractor import FeatureExtractor

    second = FeatureExtractor().mel_filters
    apart = max(abs(ours - published).max(), abs(ours - second).max())
    assert apart < 1e-8, apart

    (count,) = struct.unpack_from("<I", raw, at)
    at += 4
    words = []
    for _ in range(count):
        (length,) = struct.unpack_from("<I", raw, at)
        words.append(raw[at + 4 : at + 4 + length])
        at += 4 + length
    lines = open(vocabulary, encoding="utf-8").read().split("\n")
    alphabet = byte_alphabet()
    there = [bytes(alphabet[sign] for sign in line) for line in lines[: lines.index("<|endoftext|>")]]
    assert words == there, "words differ"

    seen = 0
    while at < len(raw):
        rank, length, kind = struct.unpack_from("<3I", raw, at)
        sizes = struct.unpack_from(f"<{rank}I", raw, at + 12)
        at += 12 + 4 * rank
        name = raw[at : at + length].decode()
        at += length
        right = wanted.pop(name)
        assert sizes == right.shape[::-1], (name, sizes, right.shape)
        if kind == 8:
            data = quants.quantize(right.astype(numpy.float32), GGMLQuantizationType.Q8_0).tobytes()
        else:
            data = right.astype({0: numpy.float32, 1: numpy.float16}[kind]).tobytes()
        assert raw[at : at + len(data)] == data, name
        at += len(data)
        seen += 1
    assert not wanted, sorted(wanted)
    print(f"{seen} tensors alike")
    print(f"{len(words)} words alike")
    print(f"filters alike within {apart:.1e}")


def blocks():
    numbers = numpy.array([int(word, 16) for word in sys.stdin.read().split()], numpy.uint32).view(numpy.float32)
    sys.stdout.write(quants.quantize(numbers, GGMLQuantizationType.Q8_0).tobytes().hex())


if __name__ == "__main__":
    {"tensors": tensors, "blocks": blocks}[sys.argv[1]](*sys.argv[2:])
