//! The map on a screen, as a person would see it.

use expect_test::expect_file;
use unicode_width::UnicodeWidthStr;
use wayfold::picture::terminal;
use wayfold::picture::terminal::Screen;
use wayfold::picture::terminal::shown;

use crate::picture_files::sheet;
use crate::picture_maps;

fn screen(columns: usize) -> Screen {
    Screen {
        columns,
        unicode: true,
        colour: false,
        plain: false,
    }
}

#[test]
fn the_map_at_five_widths() {
    let page = sheet(&picture_maps::gardener());
    for (columns, name) in [(40, "040"), (60, "060"), (80, "080"), (120, "120"), (200, "200")] {
        expect_file![format!("data/picture/map-{name}.txt")]
            .assert_eq(&terminal::draw(&page, &screen(columns)));
    }
    let ascii = Screen {
        unicode: false,
        ..screen(80)
    };
    expect_file!["data/picture/map-080-ascii.txt"].assert_eq(&terminal::draw(&page, &ascii));
    let plain = Screen {
        plain: true,
        ..screen(80)
    };
    expect_file!["data/picture/map-080-plain.txt"].assert_eq(&terminal::draw(&page, &plain));
}

#[test]
fn a_look_back_at_three_widths() {
    let page = crate::picture_files::lookback();
    for (columns, name) in [(40, "040"), (80, "080"), (120, "120")] {
        expect_file![format!("data/picture/lookback-{name}.txt")]
            .assert_eq(&terminal::draw(&page, &screen(columns)));
    }
    let ascii = Screen {
        unicode: false,
        ..screen(80)
    };
    expect_file!["data/picture/lookback-080-ascii.txt"].assert_eq(&terminal::draw(&page, &ascii));
    let plain = Screen {
        plain: true,
        ..screen(80)
    };
    expect_file!["data/picture/lookback-080-plain.txt"].assert_eq(&terminal::draw(&page, &plain));
}

#[test]
fn the_loops_at_one_width() {
    let page = crate::picture_files::loops();
    expect_file!["data/picture/loops-080.txt"].assert_eq(&terminal::draw(&page, &screen(80)));
}

#[test]
fn no_line_is_wider_than_the_screen() {
    let maps = [
        picture_maps::gardener(),
        picture_maps::scripts(),
        picture_maps::many(120),
    ];
    let others = [crate::picture_files::lookback(), crate::picture_files::loops()];
    for page in maps.iter().map(sheet).chain(others) {
        // From the narrowest that is drawn for.
        for columns in 20..=200 {
            for unicode in [true, false] {
                for line in terminal::draw(
                    &page,
                    &Screen {
                        unicode,
                        ..screen(columns)
                    },
                )
                .lines()
                {
                    assert!(line.width() <= columns, "{} columns at {columns}", line.width());
                }
            }
        }
    }
}

#[test]
fn a_screen_without_box_drawing_gets_ascii_only() {
    let page = sheet(&picture_maps::gardener());
    for plain in [true, false] {
        let text = terminal::draw(
            &page,
            &Screen {
                unicode: false,
                plain,
                ..screen(80)
            },
        );
        assert!(text.is_ascii());
    }
    let read_aloud = terminal::draw(
        &page,
        &Screen {
            plain: true,
            ..screen(80)
        },
    );
    assert!(
        !read_aloud
            .chars()
            .any(|sign| matches!(sign, '\u{2500}'..='\u{25ff}' | '|'))
    );
}

#[test]
fn control_signs_are_shown_and_never_obeyed() {
    // The caret forms are those of `cat -v` (GNU coreutils); 0x9b is CSI of ECMA-48, which is ESC [ in seven bits.
    for (given, expected) in [
        ("a\u{1b}[31mb", "a^[[31mb"),
        ("bell\u{7}", "bell^G"),
        ("\u{9b}2J", "^[[2J"),
        ("del\u{7f}", "del^?"),
        ("one\r\ntwo\tthree", "one two three"),
        ("\u{202e}evil\u{202c}\u{2066}x\u{2069}", "evilx"),
        ("fam\u{200b}ily\u{feff}", "family"),
        ("👩🏽\u{200d}🌾", "👩🏽\u{200d}🌾"),
    ] {
        assert_eq!(shown(given), expected);
    }
    for sign in (0..=0xa0_u32).filter_map(char::from_u32) {
        let safe = shown(&format!("a{sign}b"));
        assert!(!safe.chars().any(char::is_control), "{:x}", u32::from(sign));
    }
}

#[test]
fn colour_only_repeats_what_words_say() {
    let page = sheet(&picture_maps::gardener());
    let dyed = terminal::draw(
        &page,
        &Screen {
            colour: true,
            ..screen(80)
        },
    );
    let bare = regex::Regex::new("\u{1b}\\[[0-9;]*m")
        .unwrap()
        .replace_all(&dyed, "")
        .into_owned();
    assert_ne!(dyed, bare);
    assert_eq!(bare, terminal::draw(&page, &screen(80)));
}
