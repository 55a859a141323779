//! Models: converting, checking and finding them, and files that are damaged, cut or made to harm.

use std::path::Path;
use std::path::PathBuf;

use proptest::prelude::*;
use wayfold::voice::ModelFault;
use wayfold::voice::VoiceError;
use wayfold::voice::model;

use crate::voice::models;
use crate::voice::reference;

/// The files of the two models as they come, below the folder that `scripts/models` fills.
fn sources(folder: &Path) -> [(&'static str, Vec<PathBuf>, PathBuf); 2] {
    let base = folder.join("cache/base");
    let tiny = folder.join("cache/tiny.en");
    [
        (
            "base-q8_0",
            vec![base.join("model.bin.part1"), base.join("model.bin.part2")],
            base.join("vocabulary.txt"),
        ),
        (
            "tiny.en-q8_0",
            vec![tiny.join("model.bin")],
            tiny.join("vocabulary.txt"),
        ),
    ]
}

fn fault(result: Result<model::Installed, VoiceError>) -> ModelFault {
    match result {
        Err(VoiceError::BadModel { fault, .. }) => fault,
        other => panic!("no fault of a model: {other:?}"),
    }
}

#[test]
fn every_tensor_word_and_filter_is_that_of_the_source() {
    let Some(folder) = models() else { return };
    let target = tempfile::tempdir().unwrap();
    for (name, parts, words) in sources(&folder) {
        let installed = model::install(&parts, target.path()).unwrap();
        assert_eq!((installed.name.as_str(), installed.fault), (name, None));
        let mut arguments = vec!["tensors".to_owned(), installed.path.display().to_string()];
        arguments.push(words.display().to_string());
        arguments.push(folder.join("cache/mel_filters.npz").display().to_string());
        arguments.extend(parts.iter().map(|part| part.display().to_string()));
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let answer = reference("voice_models.py", &arguments, "");
        // Counts published by the format's own converter: 167 tensors for tiny.en, 245 for base.
        let count = if name.starts_with("base") { 245 } else { 167 };
        assert_eq!(
            answer.lines().next(),
            Some(format!("{count} tensors alike").as_str()),
            "{answer}"
        );
        assert!(answer.contains("filters alike"), "{answer}");
        assert!(answer.contains("words alike"), "{answer}");
    }
    let listed = model::list(target.path()).unwrap();
    assert_eq!(
        listed.iter().map(|found| found.name.as_str()).collect::<Vec<_>>(),
        ["base-q8_0", "tiny.en-q8_0"]
    );
    let files = std::fs::read_dir(target.path()).unwrap().count();
    assert_eq!(files, 4, "two models with a checksum each, and nothing left over");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]
    #[test]
    fn blocks_are_those_of_the_reference(
        mut numbers in proptest::collection::vec(proptest::num::f32::NORMAL | proptest::num::f32::ZERO, 64..640),
        scale in -6_i32..6,
    ) {
        numbers.truncate(numbers.len() / 32 * 32);
        // Weights of a model lie in this range; the reference's own f16 scale would overflow far above it.
        for number in &mut numbers {
            *number = (*number % 1.0) * 10_f32.powi(scale).min(1e4);
        }
        let mut blocks = Vec::new();
        model::quantise(&numbers, &mut blocks);
        let text: Vec<String> = numbers.iter().map(|number| format!("{:08x}", number.to_bits())).collect();
        let answer = reference("voice_models.py", &["blocks"], &text.join(" "));
        let digits = answer.trim().as_bytes().as_chunks::<2>().0;
        let theirs = digits.iter().map(|pair| u8::from_str_radix(std::str::from_utf8(pair).unwrap(), 16).unwrap());
        prop_assert_eq!(theirs.collect::<Vec<_>>(), blocks);
    }
}

#[test]
fn a_ready_model_is_taken_as_it_is_and_a_changed_one_is_noticed() {
    let Some(folder) = models() else { return };
    let tiny = folder.join("ggml-tiny.en-q8_0.bin");
    let target = tempfile::tempdir().unwrap();
    let installed = model::install(std::slice::from_ref(&tiny), target.path()).unwrap();
    assert_eq!(
        std::fs::read(&tiny).unwrap(),
        std::fs::read(&installed.path).unwrap()
    );
    let activity = folder.join(model::ACTIVITY);
    model::install(&[activity], target.path()).unwrap();
    let found = model::find(&[target.path().to_owned()], None).unwrap();
    assert_eq!(found.model, installed.path);
    // One bit of one weight: only the checksum can tell.
    let mut bytes = std::fs::read(&installed.path).unwrap();
    let last = bytes.len() - 1;
    bytes[last] ^= 1;
    std::fs::write(&installed.path, bytes).unwrap();
    let error = model::check(&installed.path).unwrap_err();
    assert_eq!(
        error,
        VoiceError::BadModel {
            path: installed.path,
            fault: ModelFault::Checksum
        }
    );
}

#[test]
fn a_cut_or_longer_model_is_refused_and_nothing_is_left_behind() {
    let Some(folder) = models() else { return };
    let target = tempfile::tempdir().unwrap();
    let file = target.path().join("given.bin");
    let tiny = std::fs::read(folder.join("ggml-tiny.en-q8_0.bin")).unwrap();
    for cut in [4, 47, 60_000, 500_000, tiny.len() / 2, tiny.len() - 1] {
        std::fs::write(&file, &tiny[..cut]).unwrap();
        assert_eq!(
            fault(model::install(std::slice::from_ref(&file), target.path())),
            ModelFault::Cut,
            "{cut}"
        );
    }
    let longer = [tiny.as_slice(), &[0]].concat();
    std::fs::write(&file, longer).unwrap();
    assert_eq!(
        fault(model::install(std::slice::from_ref(&file), target.path())),
        ModelFault::Trailing
    );
    let [(_, base, words), _] = sources(&folder);
    let half = vec![base[0].clone(), words];
    assert_eq!(fault(model::install(&half, target.path())), ModelFault::Cut);
    assert_eq!(
        std::fs::read_dir(target.path()).unwrap().count(),
        1,
        "only the given file"
    );
}

#[test]
fn every_size_in_a_header_is_checked() {
    let Some(folder) = models() else { return };
    let target = tempfile::tempdir().unwrap();
    let file = target.path().join("given.bin");
    let tiny = std::fs::read(folder.join("ggml-tiny.en-q8_0.bin")).unwrap();
    for field in 1..14 {
        for value in [0, 1, 0x7fff_ffff, u32::MAX] {
            let mut bytes = tiny.clone();
            bytes[field * 4..field * 4 + 4].copy_from_slice(&value.to_le_bytes());
            std::fs::write(&file, &bytes).unwrap();
            let error = model::check(&file).unwrap_err();
            assert!(
                matches!(error, VoiceError::BadModel { .. }),
                "field {field} as {value}: {error:?}"
            );
        }
    }
}

/// A table in the form of the models' source, with one tensor of any shape and any claimed length.
pub(crate) fn table(count: u32, name_length: u16, sizes: &[u32], kind: u8, claimed: u32) -> Vec<u8> {
    let mut bytes = 6_u32.to_le_bytes().to_vec();
    bytes.extend(12_u16.to_le_bytes());
    bytes.extend(b"WhisperSpec\0");
    bytes.extend(3_u32.to_le_bytes());
    bytes.extend(count.to_le_bytes());
    bytes.extend(name_length.to_le_bytes());
    bytes.extend(b"decoder/embeddings/weight\0");
    bytes.push(u8::try_from(sizes.len()).unwrap());
    bytes.extend(sizes.iter().flat_map(|size| size.to_le_bytes()));
    bytes.push(kind);
    bytes.extend(claimed.to_le_bytes());
    bytes.extend([0; 64]);
    bytes
}

#[test]
fn a_hostile_table_is_refused_before_anything_is_reserved() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("model.bin");
    let huge = u32::MAX;
    for (bytes, expected) in [
        (table(huge, 26, &[51_864, 384], 4, 64), ModelFault::Range),
        (table(1, 26, &[51_864, 384], 4, huge), ModelFault::Cut),
        (table(1, 26, &[huge, huge, huge, huge], 4, 64), ModelFault::Range),
        (table(1, 26, &[51_864, 384], 4, 64), ModelFault::Tensor),
        (table(1, u16::MAX, &[51_864, 384], 4, 64), ModelFault::Range),
        (table(1, 26, &[4, 8], 4, 64), ModelFault::Tensor),
    ] {
        std::fs::write(&file, bytes).unwrap();
        assert_eq!(
            fault(model::install(std::slice::from_ref(&file), folder.path())),
            expected
        );
    }
    std::fs::write(&file, b"not a model").unwrap();
    assert_eq!(
        fault(model::install(std::slice::from_ref(&file), folder.path())),
        ModelFault::UnknownKind
    );
    assert_eq!(fault(model::install(&[], folder.path())), ModelFault::UnknownKind);
}

proptest! {
    #[test]
    fn no_bytes_make_it_panic(mut bytes in proptest::collection::vec(any::<u8>(), 0..400), kind in 0_usize..3) {
        let heads: [&[u8]; 3] = [b"lmgg", &table(1, 26, &[2], 4, 4)[..30], b""];
        bytes.splice(0..0, heads[kind].iter().copied());
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("model.bin");
        std::fs::write(&file, bytes).unwrap();
        prop_assert!(model::install(&[file], folder.path()).is_err());
    }
}

#[test]
fn a_missing_model_names_the_folders_and_a_name_leaves_none_of_them() {
    let folder = tempfile::tempdir().unwrap();
    let looked = vec![folder.path().to_owned(), folder.path().join("not-there")];
    let none = VoiceError::NoModel {
        looked: looked.clone(),
    };
    assert_eq!(model::find(&looked, None), Err(none.clone()));
    assert_eq!(model::find(&looked, Some(Path::new("base"))), Err(none.clone()));
    assert_eq!(
        model::find(&looked[..1], Some(Path::new("../../etc"))),
        Err(VoiceError::NoModel {
            looked: looked[..1].to_vec()
        })
    );
    std::fs::write(folder.path().join("ggml-tiny.en-q8_0.bin"), b"x").unwrap();
    assert_eq!(
        model::find(&looked, None),
        Err(VoiceError::NoActivityModel {
            looked: looked.clone()
        })
    );
    assert_eq!(model::list(&looked[1]), Ok(Vec::new()));
    let listed = model::list(&looked[0]).unwrap();
    assert_eq!(listed[0].fault, Some(ModelFault::Cut));
}
