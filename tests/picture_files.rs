//! Pages as files, read back by programs that are not ours.

use std::path::PathBuf;
use std::process::Command;

use wayfold::map::Map;
use wayfold::page;
use wayfold::page::Page;
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
    let mut database = fontdb::Database::new();
    database.load_system_fonts();
    Fonts::embedded().with_system(&database, page)
}

fn samples() -> Vec<(&'static str, Page)> {
    vec![
        ("three", sheet(&picture_maps::three())),
        ("gardener", sheet(&picture_maps::gardener())),
        ("scripts", sheet(&picture_maps::scripts())),
        ("many-15", sheet(&picture_maps::many(15))),
        ("many-40", sheet(&picture_maps::many(40))),
        ("many-120", sheet(&picture_maps::many(120))),
    ]
}

fn folder() -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("picture");
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

#[test]
fn every_sample_becomes_files_that_other_programs_accept() {
    let folder = folder();
    for (name, page) in samples() {
        let fonts = fonts(&page);
        let pdf = picture::pdf(&page, &fonts).unwrap();
        let path = folder.join(name).with_extension("pdf");
        std::fs::write(&path, &pdf).unwrap();
        let check = Command::new("qpdf")
            .arg("--check")
            .arg(&path)
            .output()
            .expect("qpdf is installed");
        assert!(
            check.status.success(),
            "{name}: {}",
            String::from_utf8_lossy(&check.stdout)
        );
        std::fs::write(
            folder.join(name).with_extension("svg"),
            picture::svg(&page, &fonts),
        )
        .unwrap();
        std::fs::write(
            folder.join(name).with_extension("png"),
            picture::png(&page, &fonts, 1.0).unwrap(),
        )
        .unwrap();
    }
}
