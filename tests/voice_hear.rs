//! The ear on real readings, on noise, on names and on long speech. Scored by the published scorer and normaliser.

use std::path::Path;
use std::path::PathBuf;
use std::process::Command;

use wayfold::voice::Ear;
use wayfold::voice::Effort;
use wayfold::voice::Hints;
use wayfold::voice::Samples;
use wayfold::voice::VoiceError;
use wayfold::voice::model;
use wayfold::voice::wav;

use crate::voice::data;
use crate::voice::models;
use crate::voice::noises;
use crate::voice::reference;

fn ear(name: &str) -> Option<Ear> {
    let folder = models().filter(|_| wayfold::voice::built())?;
    let found = model::find(&[folder], Some(Path::new(name))).unwrap();
    Some(
        Ear::load_in_background(found.model, found.activity)
            .wait()
            .unwrap(),
    )
}

fn english() -> Hints {
    Hints {
        language: Some("en".to_owned()),
        ..Hints::default()
    }
}

/// File and words of every reading.
fn readings() -> Vec<(PathBuf, String)> {
    let table = std::fs::read_to_string(data("transcripts.tsv")).unwrap();
    let lines = table.lines().skip(1).map(|line| line.split_once('\t').unwrap());
    lines
        .map(|(file, words)| (data(file), words.to_owned()))
        .collect()
}

/// Wrong words of the reference's, over all pairs of what was said and what was heard.
fn wrong_words(pairs: &[(String, String)]) -> usize {
    let lines: Vec<String> = pairs
        .iter()
        .map(|(said, heard)| format!("{said}\t{heard}\n"))
        .collect();
    reference("voice_words.py", &[], &lines.concat())
        .trim()
        .parse()
        .unwrap()
}

#[test]
fn readings_come_back_with_at_most_three_wrong_words() {
    for name in ["base", "tiny.en"] {
        let Some(mut ear) = ear(name) else { return };
        let mut pairs = Vec::new();
        for (file, said) in readings() {
            let heard = ear.hear(&wav::read(&file).unwrap(), &english()).unwrap();
            for range in &heard.doubtful {
                assert!(
                    !heard.text[range.clone()].contains(' '),
                    "a doubtful range is one word"
                );
            }
            pairs.push((said, heard.text.to_string()));
        }
        let all: usize = pairs.iter().map(|(said, _)| said.split(' ').count()).sum();
        let wrong = wrong_words(&pairs);
        assert!(wrong <= 3, "{name}: {wrong} of {all}: {pairs:?}");
    }
}

#[test]
fn nothing_is_heard_in_noise() {
    let Some(mut ear) = ear("tiny.en") else { return };
    for (name, sound) in noises() {
        let heard = ear.hear(&Samples::new(sound), &english()).unwrap();
        assert_eq!(&*heard.text, "", "{name}");
    }
    for length in [0, 1, 100, 2_000] {
        let heard = ear.hear(&Samples::new(vec![0.1; length]), &english()).unwrap();
        assert_eq!(&*heard.text, "", "{length} samples");
    }
}

#[test]
fn something_is_heard_in_every_reading_with_noise_beneath() {
    let Some(mut ear) = ear("tiny.en") else { return };
    for (file, _) in readings() {
        let clean = wav::read(&file).unwrap();
        for (name, noise) in noises()
            .iter()
            .filter(|(name, _)| ["mains hum", "fan", "faint white"].contains(name))
        {
            let mixed = clean
                .as_slice()
                .iter()
                .zip(noise.iter().cycle())
                .map(|(a, b)| a + b * 0.3)
                .collect();
            let heard = ear.hear(&Samples::new(mixed), &english()).unwrap();
            assert!(!heard.text.is_empty(), "{} over {name}", file.display());
        }
    }
}

/// Uncommon names, and a sentence for each. Invented here.
const NAMES: [(&str, &str); 8] = [
    ("Aoife", "I want to ring Aoife more often."),
    ("Thandiwe", "Thandiwe is who I lean on."),
    ("Joaquin", "I help Joaquin with his sums."),
    ("Siobhan", "I cook for Siobhan on Sundays."),
    ("Brynhild", "I argue with Brynhild at work."),
    ("Eilidh", "I miss walking with Eilidh."),
    ("Ngozi", "I wrote a card to Ngozi."),
    ("Caoimhe", "I shout at Caoimhe when I am tired."),
];

fn speak(text: &str, file: &Path) -> Samples {
    let mut command = Command::new("espeak-ng");
    command
        .args(["-v", "en-gb", "-s", "140", "-w"])
        .arg(file)
        .arg(text);
    assert!(command.status().expect("espeak-ng is installed").success());
    wav::read(file).unwrap()
}

#[test]
fn names_from_the_map_come_back_more_often_and_leak_nowhere() {
    let Some(mut ear) = ear("base") else { return };
    let folder = tempfile::tempdir().unwrap();
    let hints = Hints {
        names: NAMES.iter().map(|(name, _)| (*name).to_owned()).collect(),
        ..english()
    };
    let (mut with, mut without) = (0, 0);
    for (at, (name, sentence)) in NAMES.iter().enumerate() {
        let samples = speak(sentence, &folder.path().join(format!("{at}.wav")));
        with += usize::from(ear.hear(&samples, &hints).unwrap().text.contains(name));
        without += usize::from(ear.hear(&samples, &english()).unwrap().text.contains(name));
    }
    assert!(
        with >= 6 && without <= 2,
        "{with} of 8 with the names, {without} without"
    );
    for (file, _) in readings() {
        let heard = ear.hear(&wav::read(&file).unwrap(), &hints).unwrap();
        for (name, _) in NAMES {
            assert!(!heard.text.contains(name), "{name} leaked into {}", &*heard.text);
        }
    }
}

#[test]
fn long_speech_is_heard_whole_and_in_order() {
    let Some(mut ear) = ear("tiny.en") else { return };
    let readings = readings();
    let mut sound = Vec::new();
    let mut said = Vec::new();
    for (file, words) in readings.iter().cycle().take(12) {
        sound.extend_from_slice(wav::read(file).unwrap().as_slice());
        sound.resize(sound.len() + 16_000, 0.0);
        said.push(words.as_str());
    }
    let samples = Samples::new(sound);
    assert!(samples.seconds() > 60.0);
    let heard = ear.hear(&samples, &english()).unwrap();
    let all = said.join(" ").split(' ').count();
    let wrong = wrong_words(&[(said.join(" "), heard.text.to_string())]);
    assert!(wrong * 20 <= all, "{wrong} of {all}: {}", &*heard.text);
}

/// The most memory that hearing may ever hold, in kilobytes: 240 million bytes.
#[cfg(target_os = "linux")]
const MOST_MEMORY: u64 = 240_000_000 / 1024;

/// Readings, and silence up to five minutes, which is the longest that is listened to at once.
#[cfg(target_os = "linux")]
#[test]
fn five_minutes_are_heard_in_little_memory() {
    let Some(folder) = models() else { return };
    let mut sound = Vec::new();
    for (file, _) in readings() {
        sound.extend_from_slice(wav::read(&file).unwrap().as_slice());
        sound.resize(sound.len() + 16_000, 0.0);
    }
    sound.resize(300 * 16_000, 0.0);
    let recordings = tempfile::tempdir().unwrap();
    let file = recordings.path().join("long.wav");
    wav::keep(&Samples::new(sound), &file).unwrap();
    let mut command = Command::new(env!("CARGO_BIN_EXE_wayfold"));
    command
        .args(["try", "voice", "--model", "base"])
        .arg(&file)
        .env("WAYFOLD_MODELS", folder);
    let mut program = command.stdout(std::process::Stdio::piped()).spawn().unwrap();
    let mut most = 0;
    while program.try_wait().unwrap().is_none() {
        most = most.max(most_memory(program.id()).unwrap_or(0));
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    let heard = String::from_utf8(program.wait_with_output().unwrap().stdout).unwrap();
    assert!(heard.contains("made amiable himself"), "{heard}");
    assert!((1..=MOST_MEMORY).contains(&most), "{most} kB");
}

/// The most memory that a process has held so far, in kilobytes.
#[cfg(target_os = "linux")]
fn most_memory(process: u32) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.trim().strip_suffix(" kB")?.parse().ok()
}

#[test]
fn what_takes_too_long_is_given_up_and_the_ear_goes_on() {
    let Some(mut ear) = ear("tiny.en") else { return };
    let (file, said) = readings().pop().unwrap();
    let samples = wav::read(&file).unwrap();
    let given_up = Effort {
        bound: std::time::Duration::ZERO,
        ..Effort::default()
    };
    ear.set_effort(given_up);
    assert_eq!(
        ear.hear(&samples, &english()).unwrap_err(),
        VoiceError::TookTooLong
    );
    ear.set_effort(Effort::default());
    let heard = ear.hear(&samples, &english()).unwrap();
    assert_eq!(
        wrong_words(&[(said, heard.text.to_string())]),
        0,
        "{}",
        &*heard.text
    );
}

#[test]
fn a_sample_that_is_no_number_is_an_error() {
    let Some(mut ear) = ear("tiny.en") else { return };
    let error = ear
        .hear(&Samples::new(vec![f32::INFINITY; 20_000]), &english())
        .unwrap_err();
    assert_eq!(error, VoiceError::NotFinite);
}
