//! The letterforms: one family that is always there, and faces borrowed from the system for other scripts.

use std::collections::BTreeSet;
use std::sync::Arc;

use skrifa::FontRef;
use skrifa::MetadataProvider;
use skrifa::instance::LocationRef;
use skrifa::instance::Size;
use unicode_script::Script;
use unicode_script::UnicodeScript;
use unicode_segmentation::UnicodeSegmentation;

use crate::page::Page;
use crate::page::no_letters;
use crate::page::some_signs;
use crate::picture::terminal::shown;

/// The family that the program carries: Atkinson Hyperlegible Next, made for readers with low vision (SIL Open Font
/// License 1.1, its text beside the files).
pub(in crate::picture) const FAMILY: &str = "Atkinson Hyperlegible Next";
pub(in crate::picture) const REGULAR: &[u8] = include_bytes!("fonts/AtkinsonHyperlegibleNext_400Regular.ttf");
pub(in crate::picture) const BOLD: &[u8] = include_bytes!("fonts/AtkinsonHyperlegibleNext_700Bold.ttf");

/// Fonts to draw with.
#[derive(Clone)]
pub struct Fonts {
    /// Regular, bold, and then what was borrowed.
    pub(in crate::picture) faces: Vec<Face>,
}

/// One face: the bytes of its file, and which face of the file it is.
#[derive(Clone)]
pub(in crate::picture) struct Face {
    pub(in crate::picture) bytes: Arc<Vec<u8>>,
    pub(in crate::picture) index: u32,
    pub(in crate::picture) family: String,
    emoji: bool,
    /// The signs it has, in order, as ranges; looked up often, so read once.
    signs: Vec<(u32, u32)>,
}

impl Face {
    /// Opens a face; `None` when it cannot be read.
    fn new(bytes: Arc<Vec<u8>>, index: u32, family: String) -> Option<Self> {
        let font = FontRef::from_index(&bytes, index).ok()?;
        let metrics = font.metrics(Size::unscaled(), LocationRef::default());
        if metrics.units_per_em == 0 {
            return None;
        }
        let signs = signs_of(&font);
        let emoji = family.contains("Emoji");
        Some(Self {
            bytes,
            index,
            family,
            emoji,
            signs,
        })
    }

    fn has(&self, sign: char) -> bool {
        let sign = u32::from(sign);
        let after = self.signs.partition_point(|(start, _)| *start <= sign);
        after > 0 && self.signs[after - 1].1 >= sign
    }
}

/// Every sign that a face maps to a letterform, as ranges.
fn signs_of(font: &FontRef) -> Vec<(u32, u32)> {
    let mapped = font.charmap().mappings().filter(|(_, glyph)| glyph.to_u32() != 0);
    let all: BTreeSet<u32> = mapped.map(|(sign, _)| sign).collect();
    let mut ranges: Vec<(u32, u32)> = Vec::new();
    for sign in all {
        match ranges.last_mut() {
            Some((_, end)) if *end + 1 == sign => *end = sign,
            _ => ranges.push((sign, sign)),
        }
    }
    ranges
}

impl Fonts {
    /// The family that the program carries, regular and bold.
    #[must_use]
    pub fn embedded() -> Self {
        let face = |bytes: &[u8]| Face::new(Arc::new(bytes.to_vec()), 0, FAMILY.to_owned());
        Self {
            faces: [REGULAR, BOLD].into_iter().filter_map(face).collect(),
        }
    }

    /// The scripts of a page that no face here can draw, by name ("Arabic", "Emoji"), each once; empty when all can
    /// be drawn. A picture shows such signs as a short note in brackets, and its plain text keeps them.
    #[must_use]
    pub fn missing(&self, page: &Page) -> Vec<String> {
        let mut names = BTreeSet::new();
        page.each_text(&mut |text| {
            for sign in shown(text).graphemes(true) {
                if self.face_for(sign, false).is_none() {
                    names.insert(script_name(sign));
                }
            }
        });
        names.into_iter().collect()
    }

    /// Borrows the faces that a page needs and this has not, from fonts that the caller has gathered. Reads font
    /// files through the database, so it is for the program's rim to call.
    #[must_use]
    pub fn with_system(mut self, database: &fontdb::Database, page: &Page) -> Self {
        let mut wanted = Vec::new();
        page.each_text(&mut |text| {
            let text = shown(text);
            wanted.extend(
                text.graphemes(true)
                    .filter(|sign| !sign.is_ascii())
                    .map(str::to_owned),
            );
        });
        let mut given_up = BTreeSet::new();
        for sign in wanted {
            if self.face_for(&sign, false).is_none() && !given_up.contains(&sign) {
                match borrow_face(database, &sign) {
                    Some(face) => self.faces.push(face),
                    None => drop(given_up.insert(sign)),
                }
            }
        }
        self
    }

    /// The face that draws one sign as a reader takes it (a letter with its marks, an emoji with its parts).
    pub(in crate::picture) fn face_for(&self, sign: &str, bold: bool) -> Option<usize> {
        let own = usize::from(bold);
        let mut order = [own].into_iter().chain(2..self.faces.len());
        if is_emoji(sign) {
            let drawn = order
                .clone()
                .find(|at| self.faces[*at].emoji && draws(&self.faces[*at], sign));
            return drawn.or_else(|| order.find(|at| draws(&self.faces[*at], sign)));
        }
        order.find(|at| draws(&self.faces[*at], sign))
    }

    /// Text as it can be drawn: signs that no face has give way to a short note that says so.
    pub(in crate::picture) fn drawable(&self, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        let mut open: Option<String> = None;
        let mut spaces = String::new();
        for sign in text.graphemes(true) {
            if sign == " " && open.is_some() {
                spaces.push(' ');
                continue;
            }
            if self.face_for(sign, false).is_some() {
                close(&mut out, &mut open, &mut spaces);
                out.push_str(sign);
                continue;
            }
            let name = script_name(sign);
            if open.as_ref().is_some_and(|last| *last != name) {
                close(&mut out, &mut open, &mut spaces);
            }
            spaces.clear();
            open = Some(name);
        }
        close(&mut out, &mut open, &mut spaces);
        out
    }
}

/// Ends a stretch of signs that cannot be drawn, with a note in its place.
fn close(out: &mut String, open: &mut Option<String>, spaces: &mut String) {
    if let Some(name) = open.take() {
        out.extend(["[", no_letters(), " ", &name, "]"]);
    }
    out.push_str(spaces);
    spaces.clear();
}

/// Whether a face has all of a sign; marks that choose a form or join have no shape of their own.
fn draws(face: &Face, sign: &str) -> bool {
    sign.chars().all(|c| is_joint(c) || face.has(c))
}

fn is_joint(c: char) -> bool {
    matches!(c, '\u{200c}' | '\u{200d}' | '\u{fe00}'..='\u{fe0f}' | '\u{e0100}'..='\u{e01ef}' | '\u{34f}')
}

fn is_emoji(sign: &str) -> bool {
    sign.contains('\u{fe0f}') || sign.chars().any(|c| matches!(c, '\u{1f000}'..='\u{1faff}'))
}

/// What a sign belongs to, for saying that it could not be drawn.
fn script_name(sign: &str) -> String {
    if is_emoji(sign) {
        return "Emoji".to_owned();
    }
    let script = sign
        .chars()
        .map(|c| c.script())
        .find(|s| !matches!(s, Script::Common | Script::Inherited));
    match script {
        Some(Script::Unknown) | None => some_signs().to_owned(),
        Some(script) => script.full_name().replace('_', " "),
    }
}

/// The best face for a sign among the system's: upright, regular, without serifs, of the script's own family.
fn borrow_face(database: &fontdb::Database, sign: &str) -> Option<Face> {
    let script = script_name(sign);
    let emoji = is_emoji(sign);
    let mut order: Vec<_> = database
        .faces()
        .filter_map(|info| {
            let family = &info.families.first()?.0;
            let family_is_emoji = family.contains("Emoji");
            let rank = (
                emoji != family_is_emoji,
                !emoji && !family.contains(&script),
                info.style != fontdb::Style::Normal,
                !family.starts_with("Noto Sans") && !family.starts_with("Noto Color"),
                ["Mono", "Serif", "UI", "Looped"]
                    .iter()
                    .any(|other| family.contains(other)),
                info.weight.0.abs_diff(400),
                info.stretch != fontdb::Stretch::Normal,
            );
            Some((rank, family.clone(), info.post_script_name.clone(), info.id))
        })
        .collect();
    order.sort();
    order.into_iter().find_map(|(_, family, _, id)| {
        database.with_face_data(id, |bytes, index| {
            let map = FontRef::from_index(bytes, index).ok()?.charmap();
            let all = sign
                .chars()
                .all(|c| is_joint(c) || map.map(c).is_some_and(|glyph| glyph.to_u32() != 0));
            if all {
                Face::new(Arc::new(bytes.to_vec()), index, family.clone())
            } else {
                None
            }
        })?
    })
}
