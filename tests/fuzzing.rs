//! The fuzz targets on inputs made from good ones by a seeded generator: a sample in the normal run, many more under
//! `WAYFOLD_LONG=1`. Coverage-guided runs of the same targets need a nightly compiler; see `tests/fuzz`.

#[path = "fuzz/targets.rs"]
mod targets;

use std::fs;
use std::panic::AssertUnwindSafe;
use std::panic::catch_unwind;
use std::path::Path;
use std::path::PathBuf;

use wayfold::store;
use wayfold::store::BackupLock;
use wayfold::voice::Samples;
use wayfold::voice::wav;

use crate::store::kit;
use crate::store::kit::Dice;
use crate::voice_model;

fn home(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn read(path: &str) -> Vec<u8> {
    fs::read(home(path)).unwrap()
}

/// Good inputs for a target.
fn seeds(target: &str) -> Vec<Vec<u8>> {
    let kept = |name: &str| read(&format!("tests/data/store/format-1/{name}"));
    match target {
        "store_record" => kept("journal").chunks(400).map(<[u8]>::to_vec).collect(),
        "store_journal" => vec![kept("journal"), kept("snapshot-0")],
        "store_head" => vec![kept("head")],
        "store_key_file" => vec![kept("keys")],
        "store_lines" => vec![lines()],
        "store_backup" => vec![backup()],
        "script" => fs::read_dir(home("scripts/dialogue/flow"))
            .unwrap()
            .map(|flow| own_script(&flow.unwrap().path()))
            .collect(),
        "crisis_directory" => [
            "NZ\nen_NZ.UTF-8\nPacific/Auckland",
            "de\nde\nEurope/Berlin",
            "\nC\nUTC",
        ]
        .map(|text| text.as_bytes().to_vec())
        .to_vec(),
        "wav" => vec![
            short_wav(),
            read("tests/data/voice/lv_0870.wav")[..4_000].to_vec(),
        ],
        "model" => vec![voice_model::table(1, 26, &[4, 8], 4, 64), ready_model()],
        _ => String::from_utf8(read("demo-data/first-map.answers"))
            .unwrap()
            .lines()
            .map(|line| line.as_bytes().to_vec())
            .chain([b"I do not want to be here any more; maybe I should end it, n0t t0day".to_vec()])
            .collect(),
    }
}

fn lines() -> Vec<u8> {
    let first = b"{\"backup\":\"wayfold\",\"version\":1}\n".to_vec();
    [first, read("tests/data/store/every-event.jsonl")].concat()
}

/// A backup for the identity that the target opens it with.
fn backup() -> Vec<u8> {
    let identity: age::x25519::Identity = targets::IDENTITY.parse().unwrap();
    let lock = BackupLock::Recipients(vec![identity.to_public().to_string()]);
    store::back_up(&kit::events(0..3), &lock).unwrap()
}

/// A shipped script as someone's own file: its flow and its lines in one, under another name.
fn own_script(flow: &Path) -> Vec<u8> {
    let name = flow.file_name().unwrap();
    let words = fs::read_to_string(home("scripts/dialogue/en").join(name)).unwrap();
    let flow = fs::read_to_string(flow).unwrap();
    format!("{flow}\n{words}")
        .replacen("name = \"", "name = \"my-", 1)
        .into_bytes()
}

fn short_wav() -> Vec<u8> {
    let place = tempfile::tempdir().unwrap();
    let path = place.path().join("a.wav");
    let wave: Vec<f32> = (0_i16..400).map(|at| (f32::from(at) / 9.0).sin()).collect();
    wav::keep(&Samples::new(wave), &path).unwrap();
    fs::read(&path).unwrap()
}

/// The beginning of a ready model with the sizes of the small English one: filters, and the first words.
fn ready_model() -> Vec<u8> {
    let sizes = [51_864_u32, 1_500, 384, 6, 4, 448, 384, 6, 4, 80, 2_007, 80, 201];
    let mut bytes = b"lmgg".to_vec();
    bytes.extend(sizes.iter().flat_map(|size| size.to_le_bytes()));
    bytes.resize(bytes.len() + 80 * 201 * 4, 0);
    bytes.extend(50_256_u32.to_le_bytes());
    for word in ["!", "the", " small", " step"] {
        bytes.extend(u32::try_from(word.len()).unwrap().to_le_bytes());
        bytes.extend(word.as_bytes());
    }
    bytes
}

/// A good input with a few things done to it.
fn altered(seeds: &[Vec<u8>], dice: &mut Dice) -> Vec<u8> {
    let pick = |dice: &mut Dice, below: usize| usize::try_from(dice.roll(below as u64)).unwrap();
    let mut bytes = seeds[pick(dice, seeds.len())].clone();
    for _ in 0..=dice.roll(6) {
        let length = bytes.len();
        let at = pick(dice, length + 1);
        let end = (at + pick(dice, 40)).min(length);
        match dice.roll(8) {
            0 if at < length => bytes[at] ^= 1 << dice.roll(8),
            1 if at < length => bytes[at] = *b"\0\xff\x7f\x80 \"{["[pick(dice, 8)..].first().unwrap(),
            2 => bytes.truncate(at),
            3 => drop(bytes.drain(at..end)),
            4 => {
                let part = bytes[at..end].to_vec();
                bytes.splice(at..at, part);
            }
            5 => {
                let other = &seeds[pick(dice, seeds.len())];
                let from = pick(dice, other.len() + 1);
                let part = other[from..(from + pick(dice, 80)).min(other.len())].to_vec();
                bytes.splice(at..end, part);
            }
            6 => {
                let number = [0_u32, 1, 0x7fff_ffff, 0xffff_ffff, 0x0100_0000][pick(dice, 5)];
                let number = if dice.roll(2) == 0 {
                    number.to_be_bytes()
                } else {
                    number.to_le_bytes()
                };
                bytes.splice(at..(at + 4).min(length), number);
            }
            _ => bytes.insert(at, u8::try_from(dice.roll(256)).unwrap()),
        }
    }
    bytes
}

#[test]
fn no_altered_input_breaks_a_reader() {
    for (name, target) in targets::ALL {
        let seeds = seeds(name);
        assert!(!seeds.is_empty(), "{name}");
        // Scripts and words take milliseconds each, the rest far less.
        let trials = match name {
            "script" | "words" => kit::trials(40, 20_000),
            _ => kit::trials(400, 200_000),
        };
        let mut dice = Dice(29);
        for trial in 0..trials {
            let bytes = altered(&seeds, &mut dice);
            assert!(
                catch_unwind(AssertUnwindSafe(|| target(&bytes))).is_ok(),
                "{name}, trial {trial}: {}",
                bytes.escape_ascii()
            );
        }
    }
}

/// The seeds are what the readers are for, so that what is made from them reaches beyond the first check.
///
/// With a folder in `WAYFOLD_FUZZ_CORPUS` they are also written there, for the fuzzer to begin with.
#[test]
fn the_seeds_are_good_inputs() {
    if let Some(corpus) = std::env::var_os("WAYFOLD_FUZZ_CORPUS") {
        for (name, _) in targets::ALL {
            let folder = Path::new(&corpus).join(name);
            fs::create_dir_all(&folder).unwrap();
            for (number, seed) in seeds(name).iter().enumerate() {
                fs::write(folder.join(format!("seed-{number}")), seed).unwrap();
            }
        }
    }
    let whole = seeds("store_lines");
    assert!(store::read_lines(whole[0].as_slice()).unwrap().len() > 15);
    let key = store::BackupKey::Identity(zeroize::Zeroizing::new(targets::IDENTITY.to_owned()));
    assert_eq!(
        store::read_backup(seeds("store_backup")[0].as_slice(), &key)
            .unwrap()
            .len(),
        3
    );
    let journal = wayfold::store::parsers::journal(&seeds("store_journal")[0]);
    assert!(journal > 0 && wayfold::store::parsers::key_file(&seeds("store_key_file")[0]));
    let library = wayfold::dialogue::Library::shipped("en").unwrap();
    for seed in seeds("script") {
        let text = String::from_utf8(seed).unwrap();
        assert!(library.with("own.toml", &text).is_ok(), "{}", &text[..200]);
    }
}

/// The list that the loop above goes through, the files in the fuzzer's folder, and what its manifest builds are the same.
#[test]
fn every_target_is_built_and_run() {
    let mut files: Vec<_> = fs::read_dir(home("tests/fuzz/fuzz_targets"))
        .unwrap()
        .map(|file| {
            file.unwrap()
                .path()
                .file_stem()
                .unwrap()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    files.sort();
    let mut listed: Vec<_> = targets::ALL.iter().map(|(name, _)| (*name).to_owned()).collect();
    listed.sort();
    assert_eq!(files, listed);
    let manifest = String::from_utf8(read("tests/fuzz/Cargo.toml")).unwrap();
    for name in listed {
        assert!(manifest.contains(&format!("name = \"{name}\"")), "{name}");
    }
}
