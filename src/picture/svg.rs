//! Sides of paper as one SVG document. Words stay words: they can be searched, copied and read aloud.

use std::fmt::Write;

use crate::page::Block;
use crate::page::Ink;
use crate::page::Leaf;
use crate::page::Mark;
use crate::page::Page;
use crate::page::Role;
use crate::picture::Fonts;
use crate::picture::fonts::BOLD;
use crate::picture::fonts::FAMILY;
use crate::picture::fonts::REGULAR;
use crate::picture::shape::Shaper;

/// Space between sides, in millimetres.
const BETWEEN: f32 = 6.0;
/// One point in millimetres.
const POINT: f32 = 25.4 / 72.0;

/// Writes the document. `carry_fonts` puts the program's own family into the file, for viewers that do not have it.
pub(in crate::picture) fn write(
    page: &Page,
    leaves: &[Leaf],
    shaper: &Shaper,
    fonts: &Fonts,
    carry_fonts: bool,
) -> String {
    let width = leaves.iter().map(|leaf| leaf.width).fold(0.0, f32::max);
    let height: f32 = leaves.iter().map(|leaf| leaf.height + BETWEEN).sum::<f32>() - BETWEEN;
    let mut out = String::new();
    let (w, h) = (number(width), number(height));
    let _ = write!(
        out,
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" xml:lang=\"{}\" \
         width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" role=\"document\">\n<title>{}</title>\n",
        page.language,
        escaped(&page.title),
    );
    if carry_fonts {
        let face = |weight: u16, bytes: &[u8]| {
            format!(
                "@font-face{{font-family:\"{FAMILY}\";font-weight:{weight};src:url(data:font/ttf;base64,{})}}",
                base64(bytes)
            )
        };
        let _ = writeln!(out, "<style>{}{}</style>", face(400, REGULAR), face(700, BOLD));
    }
    let mut top = 0.0;
    for leaf in leaves {
        let _ = writeln!(out, "<g transform=\"translate(0 {})\">", number(top));
        let (w, h) = (number(leaf.width), number(leaf.height));
        let _ = writeln!(
            out,
            "<rect width=\"{w}\" height=\"{h}\" fill=\"{}\"/>",
            hex(Ink::Paper)
        );
        for block in &leaf.blocks {
            write_block(&mut out, block, shaper, fonts);
        }
        out.push_str("</g>\n");
        top += leaf.height + BETWEEN;
    }
    out.push_str("</svg>\n");
    out
}

fn write_block(out: &mut String, block: &Block, shaper: &Shaper, fonts: &Fonts) {
    match &block.role {
        Role::Backdrop | Role::Foot => out.push_str("<g aria-hidden=\"true\">\n"),
        Role::Title => out.push_str("<g role=\"heading\" aria-level=\"1\">\n"),
        Role::Heading => out.push_str("<g role=\"heading\" aria-level=\"2\">\n"),
        Role::Text => out.push_str("<g>\n"),
        Role::Entry => out.push_str("<g role=\"listitem\">\n"),
        Role::Figure(alt) => {
            let _ = writeln!(out, "<g role=\"img\" aria-label=\"{}\">", escaped(alt));
        }
    }
    for mark in &block.marks {
        write_mark(out, mark, shaper, fonts);
    }
    out.push_str("</g>\n");
}

fn write_mark(out: &mut String, mark: &Mark, shaper: &Shaper, fonts: &Fonts) {
    match mark {
        Mark::Text {
            x,
            y,
            size,
            bold,
            ink,
            words,
            rtl,
        } => {
            let unit = size * POINT;
            let _ = write!(
                out,
                "<text y=\"{}\" font-size=\"{}\" fill=\"{}\"{}>",
                number(*y),
                number(unit),
                hex(*ink),
                if *bold { " font-weight=\"700\"" } else { "" },
            );
            write_runs(out, (*x, unit), words, *bold, *rtl, shaper, fonts);
            out.push_str("</text>\n");
        }
        Mark::Path {
            points,
            closed,
            fill,
            stroke,
        } => {
            let mut at = points.iter();
            if let Some((x, y)) = at.next() {
                let _ = write!(out, "<path d=\"M{} {}", number(*x), number(*y));
            }
            for (x, y) in at {
                let _ = write!(out, "L{} {}", number(*x), number(*y));
            }
            let _ = writeln!(
                out,
                "{}\"{}/>",
                if *closed { "Z" } else { "" },
                look(*fill, *stroke)
            );
        }
        Mark::Circle {
            at,
            radius,
            fill,
            stroke,
        } => {
            let (x, y, r) = (number(at.0), number(at.1), number(*radius));
            let _ = writeln!(
                out,
                "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"{}/>",
                look(*fill, *stroke)
            );
        }
    }
}

/// The runs of a line, each at its place, written in the order in which they are read.
fn write_runs(
    out: &mut String,
    (x, unit): (f32, f32),
    words: &str,
    bold: bool,
    rtl: bool,
    shaper: &Shaper,
    fonts: &Fonts,
) {
    let words = words.trim_end();
    let mut place = x;
    let mut runs: Vec<_> = shaper
        .runs(words, bold, rtl)
        .into_iter()
        .map(|run| {
            let at = place;
            place += run.width * unit;
            (at, run)
        })
        .collect();
    runs.sort_by_key(|(_, run)| run.range.start);
    for (at, run) in runs {
        let family = &fonts.faces[run.face].family;
        let _ = write!(
            out,
            "<tspan x=\"{}\" font-family=\"{}{}\">{}</tspan>",
            number(at),
            escaped(&format!("'{}'", family.replace('\'', ""))),
            if family == FAMILY {
                ", 'Atkinson Hyperlegible', sans-serif"
            } else {
                ", sans-serif"
            },
            // Marks at both ends keep a run that runs left whole, brackets and all, in a viewer that starts at the left.
            if run.rtl {
                format!("\u{200f}{}\u{200f}", escaped(&words[run.range]))
            } else {
                escaped(&words[run.range])
            },
        );
    }
}

fn look(fill: Option<Ink>, stroke: Option<(Ink, f32)>) -> String {
    let fill = fill.map_or_else(|| "none".to_owned(), hex);
    match stroke {
        Some((ink, width)) => {
            let (ink, width) = (hex(ink), number(width));
            format!(
                " fill=\"{fill}\" stroke=\"{ink}\" stroke-width=\"{width}\" stroke-linecap=\"round\" \
                 stroke-linejoin=\"round\""
            )
        }
        None => format!(" fill=\"{fill}\""),
    }
}

fn hex(ink: Ink) -> String {
    let [red, green, blue] = ink.rgb();
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// A length with three decimals at most, which is a thousandth of a millimetre.
fn number(value: f32) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Text for XML: signs with a meaning of their own written as references.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            other => out.push(other),
        }
    }
    out
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let all = u32::from(three[0]) << 16
            | u32::from(*three.get(1).unwrap_or(&0)) << 8
            | u32::from(*three.get(2).unwrap_or(&0));
        for at in 0..4 {
            let sign = SIGNS[(all >> (18 - 6 * at)) as usize & 63];
            out.push(if at > three.len() { '=' } else { char::from(sign) });
        }
    }
    out
}
