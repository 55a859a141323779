//! The rooms' one-way order: a later room may know earlier ones, and only those that the table allows.

use std::fs;
use std::path::Path;
use std::path::PathBuf;

/// Who may use whom. `shell` may use all.
const MAY_USE: [(&str, &[&str]); 10] = [
    ("voice", &[]),
    ("safety", &[]),
    ("language", &[]),
    ("map", &["safety"]),
    ("coach", &["map"]),
    ("dialogue", &["safety", "language", "map", "coach"]),
    ("store", &["map"]),
    ("insight", &["map"]),
    ("page", &["language", "map", "insight"]),
    ("picture", &["page"]),
];

pub(crate) fn files_below(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files_below(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
    found
}

/// Every room named by `crate::room` in a file, comments left aside.
fn rooms_named(text: &str) -> Vec<String> {
    text.lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .flat_map(|line| line.split("crate::").skip(1))
        .map(|rest| rest.chars().take_while(char::is_ascii_alphanumeric).collect())
        .collect()
}

#[test]
fn no_room_uses_a_later_one() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut breaches = Vec::new();
    let mut read = 0;
    for (room, may_use) in MAY_USE {
        for file in files_below(&source.join(room)) {
            read += 1;
            for used in rooms_named(&fs::read_to_string(&file).unwrap()) {
                if used != room && !may_use.contains(&used.as_str()) {
                    breaches.push(format!("{} uses {used}", file.display()));
                }
            }
        }
    }
    assert!(read >= 9, "read only {read} files");
    assert!(breaches.is_empty(), "{breaches:#?}");
}

#[test]
fn a_breach_would_be_seen() {
    assert_eq!(
        rooms_named("use crate::store::Store;\n// crate::shell\nlet x = crate::map::Map::default();"),
        ["store", "map"]
    );
}

#[test]
fn no_source_file_speaks_to_a_network() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let forbidden = ["std::net", "TcpStream", "UdpSocket", "TcpListener"];
    for file in files_below(&source) {
        let text = fs::read_to_string(&file).unwrap();
        for word in forbidden {
            assert!(!text.contains(word), "{} names {word}", file.display());
        }
    }
}
