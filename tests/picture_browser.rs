//! The SVG as a browser draws it, beside our own PNG. A browser is a large thing to bring, so this runs in the long
//! tests only.

use std::ffi::OsStr;

use wayfold::picture;

use crate::picture_files::folder;
use crate::picture_files::fonts;
use crate::picture_files::python;
use crate::picture_files::run;
use crate::picture_files::samples;

/// Mean difference in grey levels, and the share of dots in percent that differ clearly.
fn difference(one: &OsStr, two: &OsStr) -> (f64, f64) {
    let said = python("picture_compare.py", &[one, two]);
    let mut numbers = said
        .split_whitespace()
        .map(|number| number.parse().expect("a number"));
    (
        numbers.next().expect("the mean"),
        numbers.next().expect("the share"),
    )
}

#[test]
fn a_browser_draws_the_same_picture() {
    if std::env::var_os("WAYFOLD_LONG").is_none() {
        return;
    }
    let folder = folder("browser");
    let mut shots = Vec::new();
    for (name, page) in samples() {
        let fonts = fonts(&page);
        let (svg, png) = (
            folder.join(name).with_extension("svg"),
            folder.join(name).with_extension("png"),
        );
        std::fs::write(&svg, picture::svg(&page, &fonts)).unwrap();
        let bytes = picture::png(&page, &fonts, 1.0).unwrap();
        // The first chunk of a PNG is its header: width and height stand at bytes 16 and 20 (ISO/IEC 15948, 11.2.2).
        let number = |at: usize| u32::from_be_bytes(bytes[at..at + 4].try_into().unwrap());
        let size = format!("--window-size={},{}", number(16), number(20));
        std::fs::write(&png, &bytes).unwrap();
        let shot = folder.join(format!("{name}-browser.png"));
        let to = format!("--screenshot={}", shot.display());
        let mut arguments = vec!["--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars"];
        arguments.extend(["--force-device-scale-factor=1", &size, &to]);
        let mut arguments: Vec<&OsStr> = arguments.into_iter().map(OsStr::new).collect();
        arguments.push(svg.as_os_str());
        run("chromium", &arguments);
        let (mean, far) = difference(png.as_os_str(), shot.as_os_str());
        assert!(mean < 1.5 && far < 0.05, "{name}: mean {mean}, far {far} %");
        shots.push(shot);
    }
    // Two different pages must not pass as the same, or the comparison says nothing.
    let (mean, far) = difference(shots[0].as_os_str(), shots[2].as_os_str());
    assert!(
        mean > 1.5 && far > 0.05,
        "different pages: mean {mean}, far {far} %"
    );
}
