//! Pages as files, read back by programs that are not ours.

use std::ffi::OsStr;
use std::path::PathBuf;
use std::process::Command;
use std::sync::LazyLock;

use wayfold::insight;
use wayfold::map::Field;
use wayfold::map::Map;
use wayfold::page;
use wayfold::page::AppointmentOptions;
use wayfold::page::Chosen;
use wayfold::page::Guidance;
use wayfold::page::Page;
use wayfold::page::Paper;
use wayfold::page::SheetOptions;
use wayfold::picture;
use wayfold::picture::Fonts;

use crate::picture_maps;

pub(crate) fn sheet(map: &Map) -> Page {
    page::sheet(
        map,
        &SheetOptions {
            date: Some(jiff::civil::date(2026, 3, 14)),
            ..SheetOptions::default()
        },
    )
}

/// The system's fonts, as the program's rim gathers them.
pub(crate) fn fonts(page: &Page) -> Fonts {
    static SYSTEM: LazyLock<fontdb::Database> = LazyLock::new(|| {
        let mut database = fontdb::Database::new();
        database.load_system_fonts();
        database
    });
    Fonts::embedded().with_system(&SYSTEM, page)
}

/// One page of each kind and size.
pub(crate) fn samples() -> Vec<(&'static str, Page)> {
    let map = picture_maps::gardener();
    let day = jiff::civil::date(2025, 10, 20);
    let appointment = AppointmentOptions {
        paper: Paper::Letter,
        date: day,
        since: jiff::civil::date(2025, 9, 20),
        chosen: None,
        question: None,
        zone: None,
    };
    vec![
        ("three", sheet(&picture_maps::three())),
        ("gardener", sheet(&map)),
        ("scripts", sheet(&picture_maps::scripts())),
        ("many-15", sheet(&picture_maps::many(15))),
        ("many-40", sheet(&picture_maps::many(40))),
        ("many-120", sheet(&picture_maps::many(120))),
        ("appointment", page::appointment(&map, &appointment)),
        ("blank", page::blank(Paper::A4, Guidance::Plain)),
        ("plainer", page::blank(Paper::Letter, Guidance::Plainer)),
        ("lookback", lookback()),
        ("loops", loops()),
    ]
}

pub(crate) fn lookback() -> Page {
    let map = picture_maps::gardener();
    let until = map.moments().last().expect("moments").at;
    let asked = insight::Asked {
        since: None,
        until,
        zone: jiff::tz::TimeZone::UTC,
    };
    let options = SheetOptions {
        date: Some(jiff::civil::date(2025, 10, 20)),
        ..SheetOptions::default()
    };
    page::lookback(&map, &insight::look_back(&map, &asked), &options)
}

pub(crate) fn loops() -> Page {
    let map = picture_maps::gardener();
    page::loops(
        &map,
        &insight::loops(&map).iter().collect::<Vec<_>>(),
        &insight::open_paths(&map),
        &SheetOptions::default(),
    )
}

/// A place of its own for one test's files.
pub(crate) fn folder(test: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR"))
        .join("picture")
        .join(test);
    std::fs::create_dir_all(&folder).expect("a folder for the test");
    folder
}

/// What a program says, which must end well.
pub(crate) fn run(program: &str, arguments: &[&OsStr]) -> String {
    let done = Command::new(program).args(arguments).output();
    let done =
        done.unwrap_or_else(|error| panic!("{program}: {error}; run ./scripts/test, which installs it"));
    let said = String::from_utf8_lossy(&done.stdout).into_owned();
    assert!(
        done.status.success(),
        "{program}: {said}{}",
        String::from_utf8_lossy(&done.stderr)
    );
    said
}

/// What a script of the pinned Python environment says.
pub(crate) fn python(script: &str, arguments: &[&OsStr]) -> String {
    crate::python::text(&format!("reference/{script}"), arguments, &[])
}

/// The words of a text, without the spaces between them.
fn squeezed(text: &str) -> String {
    text.chars().filter(|sign| !sign.is_whitespace()).collect()
}

#[test]
fn a_pdf_is_whole_and_carries_its_fonts() {
    let folder = folder("pdf");
    for (name, page) in samples() {
        let path = folder.join(name).with_extension("pdf");
        std::fs::write(&path, picture::pdf(&page, &fonts(&page)).unwrap()).unwrap();
        run("qpdf", &["--check".as_ref(), path.as_ref()]);
        let listed = run("pdffonts", &[path.as_ref()]);
        let rows: Vec<_> = listed.lines().skip(2).collect();
        assert!(!rows.is_empty(), "{name} has no fonts");
        for row in rows {
            // From the right: generation, object, has Unicode, is a subset, is embedded.
            let cells: Vec<_> = row.split_whitespace().rev().collect();
            assert_eq!((cells[4], cells[2]), ("yes", "yes"), "{name}: {row}");
        }
        let info = run("pdfinfo", &[path.as_ref()]);
        assert!(info.contains("Tagged:          yes"), "{name}: {info}");
        for personal in ["Author:", "Creator:", "Producer:", "Keywords:"] {
            assert!(!info.contains(personal), "{name}: {info}");
        }
    }
}

#[test]
fn a_pdf_gives_every_entry_in_reading_order() {
    let folder = folder("order");
    // The taught order of the fields, and within a field the order in which entries came.
    for (name, map) in [
        ("gardener", picture_maps::gardener()),
        ("forty", plain_entries(40)),
        ("all", plain_entries(120)),
    ] {
        let page = sheet(&map);
        let path = folder.join(name).with_extension("pdf");
        std::fs::write(&path, picture::pdf(&page, &Fonts::embedded()).unwrap()).unwrap();
        let text = squeezed(&run("pdftotext", &["-raw".as_ref(), path.as_ref(), "-".as_ref()]));
        let mut from = 0;
        for field in Field::ALL {
            for entry in map.field(field) {
                let words = squeezed(entry.words.as_str());
                // An entry that went on to a second side comes after all fields of the first.
                let found = text[from..].find(&words).map(|at| from + at);
                if name == "all" {
                    assert!(text.contains(&words), "{words}");
                } else {
                    from = found.unwrap_or_else(|| panic!("{name}: {words} is out of order")) + words.len();
                }
            }
        }
        let tree = run("pdfinfo", &["-struct".as_ref(), path.as_ref()]);
        for kind in ["H1", "H2", "L ", "LI", "LBody", "Figure"] {
            assert!(tree.contains(kind), "{name} has no {kind}");
        }
    }
}

/// Entries in Latin letters only, each different, some of two lines.
fn plain_entries(count: usize) -> Map {
    let mut drawn = picture_maps::Drawn::default();
    for at in 0..count {
        let more = if at % 4 == 0 {
            " and stay a while with whatever comes up in the quiet afterwards"
        } else {
            ""
        };
        drawn.entry(
            Field::ALL[at % 4],
            None,
            &format!("entry {at} of the sheet{more}"),
        );
    }
    drawn.map()
}

#[test]
fn other_programs_open_what_is_drawn() {
    let folder = folder("open");
    for (name, page) in samples() {
        let fonts = fonts(&page);
        let write = |ending: &str, bytes: &[u8]| {
            std::fs::write(folder.join(name).with_extension(ending), bytes).unwrap();
        };
        write("svg", picture::svg(&page, &fonts).as_bytes());
        write("png", &picture::png(&page, &fonts, 1.0).unwrap());
        write("pdf", &picture::pdf(&page, &fonts).unwrap());
        write("md", picture::markdown(&page).as_bytes());
        write("txt", picture::plain(&page).as_bytes());
    }
    // The script parses each SVG as XML, opens each PNG with Pillow, and compares the words of each Markdown, read by
    // a CommonMark parser, with those of the plain text. What a program can check of PDF/UA-1 is checked too.
    let said = python("picture_read.py", &[folder.as_ref()]);
    assert_eq!(said.trim(), format!("{} read", samples().len()), "{said}");
}

#[test]
fn the_same_page_gives_the_same_bytes() {
    for (name, page) in samples() {
        let fonts = fonts(&page);
        assert!(
            picture::pdf(&page, &fonts) == picture::pdf(&page, &fonts),
            "{name} as PDF"
        );
        assert!(
            picture::svg(&page, &fonts) == picture::svg(&page, &fonts),
            "{name} as SVG"
        );
        assert!(
            picture::png(&page, &fonts, 0.5) == picture::png(&page, &fonts, 0.5),
            "{name} as PNG"
        );
    }
}

#[test]
fn signs_without_letters_are_named() {
    let mut drawn = picture_maps::Drawn::default();
    drawn.entry(Field::Matters, None, "माँ के साथ चाय");
    drawn.entry(Field::Toward, None, "walk 🌱 home");
    let page = sheet(&drawn.map());
    let fonts = Fonts::embedded();
    assert_eq!(fonts.missing(&page), ["Devanagari", "Emoji"]);
    let path = folder("missing").join("missing.pdf");
    std::fs::write(&path, picture::pdf(&page, &fonts).unwrap()).unwrap();
    let text = run("pdftotext", &["-raw".as_ref(), path.as_ref(), "-".as_ref()]);
    assert!(text.contains("[no letters for Devanagari]"), "{text}");
    assert!(text.contains("walk [no letters for Emoji] home"), "{text}");
    let svg = picture::svg(&page, &fonts);
    assert!(svg.contains("चाय") && svg.contains('🌱'));
    assert!(picture::plain(&page).contains("माँ के साथ चाय"));
}

#[test]
fn a_picture_that_would_be_too_large_is_refused() {
    let page = sheet(&picture_maps::three());
    assert_eq!(
        picture::png(&page, &Fonts::embedded(), 1000.0),
        Err(picture::PictureError::TooLarge)
    );
    assert_eq!(
        picture::png(&page, &Fonts::embedded(), f32::NAN),
        Err(picture::PictureError::TooLarge)
    );
}

#[test]
fn a_shared_pdf_holds_only_what_was_chosen() {
    let map = picture_maps::gardener();
    for field in Field::ALL {
        // Initials stand for names, so that the one name in the map must not be found in any of the files.
        let entries = map.field(field).map(|entry| entry.id).collect();
        let chosen = Chosen {
            entries,
            initials: true,
            ..Chosen::default()
        };
        let page = page::sheet(
            &map,
            &SheetOptions {
                chosen: Some(chosen),
                ..SheetOptions::default()
            },
        );
        let path = folder("share").join(format!("{field:?}.pdf"));
        std::fs::write(&path, picture::pdf(&page, &Fonts::embedded()).unwrap()).unwrap();
        let text = squeezed(&run("pdftotext", &["-raw".as_ref(), path.as_ref(), "-".as_ref()]));
        // Metadata and structure hold words too, so the file is searched unpacked as well.
        let open = path.with_extension("open.pdf");
        run(
            "qpdf",
            &[
                "--qdf".as_ref(),
                "--object-streams=disable".as_ref(),
                path.as_ref(),
                open.as_ref(),
            ],
        );
        let raw = String::from_utf8_lossy(&std::fs::read(&open).unwrap()).into_owned();
        for entry in map.entries() {
            let words = squeezed(entry.words.as_str());
            if words.contains("Ines") {
                assert!(!text.contains("Ines") && !raw.contains("Ines"), "a name stayed");
            } else {
                assert_eq!(text.contains(&words), entry.field == field, "{words}");
                assert!(
                    entry.field == field || !raw.contains(entry.words.as_str()),
                    "{words}"
                );
            }
        }
    }
}
