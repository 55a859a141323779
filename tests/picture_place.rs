//! Where things stand on paper, read back from the PDF by poppler: nothing off the paper, nothing over anything else.

use wayfold::page;
use wayfold::page::AppointmentOptions;
use wayfold::page::Paper;
use wayfold::picture;
use wayfold::picture::Fonts;

use crate::picture_files::folder;
use crate::picture_files::fonts;
use crate::picture_files::run;
use crate::picture_files::samples;
use crate::picture_maps;

/// A word on a side, in points.
struct Placed {
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
    word: String,
}

/// The sides of a PDF: width, height, words.
fn sides(pdf: &std::path::Path) -> Vec<(f64, f64, Vec<Placed>)> {
    let said = run("pdftotext", &["-bbox".as_ref(), pdf.as_ref(), "-".as_ref()]);
    // The form is XHTML; its document type would make a strict parser look for more, so it is cut off.
    let body = &said[said.find("<html").expect("XHTML")..];
    let tree = roxmltree::Document::parse(body).expect("well-formed");
    let number = |node: roxmltree::Node, name: &str| -> f64 {
        node.attribute(name).expect("a place").parse().expect("a number")
    };
    let pages = tree
        .descendants()
        .filter(|node| node.has_tag_name(("http://www.w3.org/1999/xhtml", "page")));
    pages
        .map(|side| {
            let words = side
                .children()
                .filter(roxmltree::Node::is_element)
                // Emoji are drawn as pictures, of which poppler only knows the box of the largest.
                .filter(|word| !word.text().unwrap_or_default().contains(['🌱', '👩', '🌾']))
                .map(|word| Placed {
                    left: number(word, "xMin"),
                    top: number(word, "yMin"),
                    right: number(word, "xMax"),
                    bottom: number(word, "yMax"),
                    word: word.text().unwrap_or_default().to_owned(),
                })
                .collect();
            (number(side, "width"), number(side, "height"), words)
        })
        .collect()
}

/// Whether two words lie over each other. Poppler's boxes reach from the font's highest to its lowest sign, which
/// lines may share; the middle half of each is what the eye takes as the word.
fn over(one: &Placed, two: &Placed) -> bool {
    let middle = |word: &Placed| {
        let quarter = (word.bottom - word.top) / 4.0;
        (word.top + quarter, word.bottom - quarter)
    };
    let ((top, bottom), (other_top, other_bottom)) = (middle(one), middle(two));
    let across = one.right.min(two.right) - one.left.max(two.left);
    let down = bottom.min(other_bottom) - top.max(other_top);
    across > 0.5 && down > 0.0
}

#[test]
fn nothing_is_cut_and_nothing_lies_over_anything() {
    let folder = folder("place");
    for (name, page) in samples() {
        let path = folder.join(name).with_extension("pdf");
        std::fs::write(&path, picture::pdf(&page, &fonts(&page)).unwrap()).unwrap();
        let sides = sides(&path);
        assert!(!sides.is_empty());
        for (width, height, words) in sides {
            assert!(!words.is_empty(), "{name} has an empty side");
            for (at, word) in words.iter().enumerate() {
                // 8 mm is the white that home printers need; the widest margin common to them, no source.
                let white = 8.0 * 72.0 / 25.4;
                let inside = word.left >= white && word.right <= width - white;
                assert!(
                    inside && word.top >= white / 2.0 && word.bottom <= height - white / 2.0,
                    "{name}: {} is off the paper",
                    word.word
                );
                for other in &words[at + 1..] {
                    assert!(
                        !over(word, other),
                        "{name}: {} lies over {}",
                        word.word,
                        other.word
                    );
                }
            }
        }
    }
}

#[test]
fn a_page_for_an_appointment_is_one_page() {
    let folder = folder("appointment");
    for (name, map) in [
        ("gardener", picture_maps::gardener()),
        ("many", picture_maps::many(120)),
    ] {
        for paper in [Paper::A4, Paper::Letter] {
            let options = AppointmentOptions {
                paper,
                date: jiff::civil::date(2025, 10, 20),
                since: jiff::civil::date(2025, 9, 20),
                chosen: None,
                question: Some("What could I try when the phone is already in my hand?".to_owned()),
                zone: None,
            };
            let page = page::appointment(&map, &options);
            let path = folder.join(format!("{name}-{paper:?}.pdf"));
            std::fs::write(&path, picture::pdf(&page, &Fonts::embedded()).unwrap()).unwrap();
            let sides = sides(&path);
            assert_eq!(sides.len(), 1, "{name}");
            let wanted = match paper {
                Paper::A4 => (595.3, 841.9),
                Paper::Letter => (612.0, 792.0),
            };
            assert!((sides[0].0 - wanted.0).abs() < 0.1 && (sides[0].1 - wanted.1).abs() < 0.1);
        }
    }
}
