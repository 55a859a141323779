"""Word error rate and time of the ear beside faster-whisper with the same weights (int8), clip by clip in turn.

usage: voice.py EAR MODELS [ROUNDS]     EAR is the built example voice-bench, MODELS the folder of scripts/models

Both get two threads, the same clips and the same language; loading is left out; the reference runs without its own
filter for silence, which only saves it time. The time of a clip is the least of its rounds, since other work on the
machine can only add to it.
"""

import json
import pathlib
import subprocess
import sys
import tempfile
import time

import jiwer
from faster_whisper import WhisperModel, decode_audio
from whisper_normalizer.english import EnglishTextNormalizer

DATA = pathlib.Path(__file__).resolve().parent.parent / "data" / "voice"
THREADS = 2
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


def clips(folder):
    rows = (DATA / "transcripts.tsv").read_text().splitlines()[1:]
    read = [(str(DATA / name), words) for name, words in (row.split("\t") for row in rows)]
    made = []
    for voice in ("en-gb", "en-us"):
        for at, words in enumerate(SPOKEN):
            path = f"{folder}/{voice}-{at}.wav"
            subprocess.run(["espeak-ng", "-v", voice, "-s", "145", "-w", path, words], check=True)
            made.append((path, words))
    return {"read": read, "made": made}


def errors(pairs):
    found = jiwer.process_words([plain(said) for said, _ in pairs], [plain(heard) for _, heard in pairs])
    return found.wer * 100


def main(ear, models, rounds="3"):
    models = pathlib.Path(models)
    print("model    beam  clips  ear WER %  ref WER %  ear ms  ref ms  times faster  ear peak MB")
    with tempfile.TemporaryDirectory() as folder:
        sets = clips(folder)
        for name in ("base", "tiny.en"):
            reference = WhisperModel(
                str(models / "cache" / name), device="cpu", compute_type="int8", cpu_threads=THREADS
            )
            for beam in (1, 5):
                command = [ear, str(models / f"ggml-{name}-q8_0.bin"), str(models / "ggml-silero-v6.2.0.bin")]
                child = subprocess.Popen(
                    [*command, str(beam), str(THREADS)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
                )
                for kind, pairs in sets.items():
                    ours, theirs, times = [], [], {"ear": 0.0, "ref": 0.0}
                    for path, said in pairs:
                        sound = decode_audio(path)
                        least = {"ear": 1e9, "ref": 1e9}
                        for _ in range(int(rounds)):
                            child.stdin.write(path + "\n")
                            child.stdin.flush()
                            answer = json.loads(child.stdout.readline())
                            least["ear"] = min(least["ear"], answer["took_ms"])
                            start = time.perf_counter()
                            segments, _ = reference.transcribe(sound, language="en", beam_size=beam)
                            text = "".join(segment.text for segment in segments)
                            least["ref"] = min(least["ref"], (time.perf_counter() - start) * 1000)
                        ours.append((said, answer["text"]))
                        theirs.append((said, text))
                        for side in times:
                            times[side] += least[side] / len(pairs)
                    print(
                        f"{name:8} {beam:4}  {kind:5}  {errors(ours):9.1f}  {errors(theirs):9.1f}  "
                        f"{times['ear']:6.0f}  {times['ref']:6.0f}  {times['ref'] / times['ear']:12.2f}  "
                        f"{answer['peak_kb'] / 1024:11.0f}",
                        flush=True,
                    )
                    if "-v" in sys.argv:
                        for (said, heard), (_, other) in zip(ours, theirs):
                            if plain(said) != plain(heard):
                                print(f"    {said}\n  > {heard}\n  r {other}", flush=True)
                child.stdin.close()
                child.wait()


if __name__ == "__main__":
    main(*[argument for argument in sys.argv[1:] if argument != "-v"])
