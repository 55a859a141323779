//! age's own published test vectors, through the reader of our backups: what must open opens to the published contents,
//! and what must not is refused, each with the error that fits.

use std::fs;
use std::path::Path;
use std::path::PathBuf;

use sha2::Digest;
use sha2::Sha256;
use wayfold::store::BackupKey;
use wayfold::store::StoreError;
use wayfold::store::parsers;
use zeroize::Zeroizing;

use super::kit;

/// Accepted by the crate although the test kit refuses them: stanzas as age wrote them before its first version was
/// published. What is sealed in them is still authenticated.
const LENIENT: [&str; 2] = ["stanza_missing_body", "stanza_missing_final_line"];

/// One vector.
struct Vector {
    name: String,
    expect: String,
    payload: Option<String>,
    key: BackupKey,
    file: Vec<u8>,
}

fn vector(path: &Path) -> Vector {
    let bytes = fs::read(path).expect("read");
    let end = bytes.windows(2).position(|two| two == b"\n\n").expect("a head");
    let head = std::str::from_utf8(&bytes[..end]).expect("text");
    let all = |name: &str| -> Vec<&str> {
        let lines = head.lines();
        lines
            .filter_map(|line| line.strip_prefix(name)?.strip_prefix(": "))
            .collect()
    };
    let secret = |lines: Vec<&str>| Zeroizing::new(lines.join("\n"));
    let key = if all("identity").is_empty() {
        BackupKey::Passphrase(secret(all("passphrase")))
    } else {
        BackupKey::Identity(secret(all("identity")))
    };
    let file = match all("compressed").first() {
        Some(_) => kit::python("store_inflate.py", &[path.to_str().expect("a name")]),
        None => bytes[end + 2..].to_vec(),
    };
    Vector {
        name: path.file_name().expect("a name").to_string_lossy().into_owned(),
        expect: all("expect").concat(),
        payload: all("payload").first().map(|hash| (*hash).to_owned()),
        key,
        file,
    }
}

#[test]
fn every_published_vector_opens_or_is_refused_as_it_should_be() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/store/age");
    let files = fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").path());
    let paths: Vec<PathBuf> = files.filter(|path| !path.ends_with("README.md")).collect();
    assert_eq!(paths.len(), 92);
    let (mut opened, mut refused) = (0, 0);
    for path in paths {
        let Vector {
            name,
            expect,
            payload,
            key,
            file,
        } = vector(&path);
        let outcome = parsers::age_contents(&file, &key);
        let fits = match (&outcome, expect.as_str()) {
            (Ok(contents), "success") => {
                let hash: String = Sha256::digest(contents)
                    .iter()
                    .map(|byte| format!("{byte:02x}"))
                    .collect();
                payload == Some(hash)
            }
            (Ok(_), "header failure") => LENIENT.contains(&name.as_str()),
            (Err(error), "no match") => *error == StoreError::WrongPassphrase,
            (Err(error), "header failure") => {
                matches!(error, StoreError::BadBackup | StoreError::BackupTooCostly)
            }
            (Err(error), "HMAC failure" | "payload failure") => *error == StoreError::BadBackup,
            _ => false,
        };
        assert!(
            fits,
            "{name}: expected {expect}, got {:?}",
            outcome.map(|contents| contents.len())
        );
        *(if outcome.is_ok() {
            &mut opened
        } else {
            &mut refused
        }) += 1;
    }
    assert!(
        opened >= 10 && refused >= 60,
        "{opened} opened, {refused} refused"
    );
}
