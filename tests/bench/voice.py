"""Word error rate and time of the ear beside faster-whisper with the same weights (int8), clip by clip in turn.

usage: voice.py EAR MODELS [--rounds N] [--threads N] [--quick] [--words]
EAR is the built example voice-bench, MODELS the folder of scripts/models.

Both get the same threads, the same clips and the same language; loading is left out; the reference runs without its
own filter for silence, which only saves it time. The time of a clip is the least of its rounds, since other work on
the machine can only add to it. Processor time is printed too: with one thread it says which is faster even where
other work keeps the machine busy. --quick takes a few made clips only; --words prints what was heard wrongly.
"""

import argparse
import json
import os
import pathlib
import subprocess
import tempfile
import time

import jiwer
from faster_whisper import WhisperModel, decode_audio
from whisper_normalizer.english import EnglishTextNormalizer

DATA = pathlib.Path(__file__).resolve().parent.parent / "data" / "voice"
SPOKEN = [
    "I want to be a steady friend to my sister, also when her shifts are long.",
    "On Tuesday evenings I would like to paint in the kitchen again.",
    "A tight chest comes up, and the thought that I will be found out.",
    "I put the letters in the drawer and turn on the radio instead.",
    "My father, the allotment, and being fair with my neighbours.",
    "When the phone rings I let it ring until it stops.",
    "I could walk to the station with my brother before work.",
    "It matters to me that the children can tell me anything.",
    "I say yes to every extra shift and then lie awake.",
    "There is a heavy feeling in my stomach on Sunday nights.",
]
plain = EnglishTextNormalizer()


def clips(folder, quick):
    rows = (DATA / "transcripts.tsv").read_text().splitlines()[1:]
    read = [(str(DATA / name), words) for name, words in (row.split("\t") for row in rows)]
    made = []
    for voice in ("en-gb",) if quick else ("en-gb", "en-us"):
        for at, words in enumerate(SPOKEN[:4] if quick else SPOKEN):
            path = f"{folder}/{voice}-{at}.wav"
            subprocess.run(["espeak-ng", "-v", voice, "-s", "145", "-w", path, words], check=True)
            made.append((path, words))
    return {"read": read, "made": made}


def errors(pairs):
    found = jiwer.process_words([plain(said) for said, _ in pairs], [plain(heard) for _, heard in pairs])
    return found.wer * 100


def processor_ms(process):
    """User and system time of another process so far."""
    fields = pathlib.Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) * 1000 / os.sysconf("SC_CLK_TCK")


def main(ear, models, rounds, threads, quick, words):
    print(f"{threads} threads, {rounds} rounds")
    print("model    beam  clips  ear WER %  ref WER %  ear ms  ref ms  faster  ear cpu ms  ref cpu ms  faster  peak MB")
    with tempfile.TemporaryDirectory() as folder:
        sets = clips(folder, quick)
        for name in ("base", "tiny.en"):
            reference = WhisperModel(
                str(models / "cache" / name), device="cpu", compute_type="int8", cpu_threads=threads
            )
            for beam in (1, 5):
                command = [ear, str(models / f"ggml-{name}-q8_0.bin"), str(models / "ggml-silero-v6.2.0.bin")]
                child = subprocess.Popen(
                    [*command, str(beam), str(threads)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
                )
                for kind, pairs in sets.items():
                    ours, theirs, times = [], [], dict.fromkeys(("ear", "ref", "ear cpu", "ref cpu"), 0.0)
                    for path, said in pairs:
                        sound = decode_audio(path)
                        least = dict.fromkeys(times, 1e9)
                        for _ in range(rounds):
                            begun = processor_ms(child.pid)
                            child.stdin.write(path + "\n")
                            child.stdin.flush()
                            answer = json.loads(child.stdout.readline())
                            least["ear"] = min(least["ear"], answer["took_ms"])
                            least["ear cpu"] = min(least["ear cpu"], processor_ms(child.pid) - begun)
                            start, begun = time.perf_counter(), time.process_time()
                            segments, _ = reference.transcribe(sound, language="en", beam_size=beam)
                            text = "".join(segment.text for segment in segments)
                            least["ref"] = min(least["ref"], (time.perf_counter() - start) * 1000)
                            least["ref cpu"] = min(least["ref cpu"], (time.process_time() - begun) * 1000)
                        ours.append((said, answer["text"]))
                        theirs.append((said, text))
                        for side in times:
                            times[side] += least[side] / len(pairs)
                    print(
                        f"{name:8} {beam:4}  {kind:5}  {errors(ours):9.1f}  {errors(theirs):9.1f}  "
                        f"{times['ear']:6.0f}  {times['ref']:6.0f}  {times['ref'] / times['ear']:6.2f}  "
                        f"{times['ear cpu']:10.0f}  {times['ref cpu']:10.0f}  "
                        f"{times['ref cpu'] / times['ear cpu']:6.2f}  {answer['peak_kb'] / 1024:7.0f}",
                        flush=True,
                    )
                    if words:
                        for (said, heard), (_, other) in zip(ours, theirs):
                            if plain(said) != plain(heard):
                                print(f"    {said}\n  > {heard}\n  r {other}", flush=True)
                child.stdin.close()
                child.wait()


if __name__ == "__main__":
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("ear")
    asked.add_argument("models", type=pathlib.Path)
    asked.add_argument("--rounds", type=int, default=3)
    asked.add_argument("--threads", type=int, default=2)
    asked.add_argument("--quick", action="store_true")
    asked.add_argument("--words", action="store_true")
    main(**vars(asked.parse_args()))
