//! Every text of a page in one walk, so that no renderer can forget one.

use std::borrow::Cow;

use crate::page::Bars;
use crate::page::Corner;
use crate::page::Fields;
use crate::page::Item;
use crate::page::Page;
use crate::page::Pairs;
use crate::page::Part;
use crate::page::Ring;
use crate::page::Share;
use crate::page::Shares;
use crate::page::Stop;

impl Page {
    /// The same page with every text that a function changes in its place; what it gives back as it was stays.
    #[must_use]
    pub fn with_words(&self, change: &impl for<'t> Fn(&'t str) -> Cow<'t, str>) -> Self {
        let mut page = self.clone();
        page.each_text_mut(&mut |text| {
            if let Cow::Owned(changed) = change(text) {
                *text = changed;
            }
        });
        page
    }

    /// Shows every text to a function, in reading order.
    pub fn each_text(&self, look: &mut impl FnMut(&str)) {
        self.clone().each_text_mut(&mut |text| look(text));
    }

    fn each_text_mut(&mut self, touch: &mut impl FnMut(&mut String)) {
        touch(&mut self.title);
        for part in &mut self.parts {
            match part {
                Part::Heading(words) | Part::Text(words) => touch(words),
                Part::List(items) => items.iter_mut().for_each(|item| touch_item(item, touch)),
                Part::Lines(_) => {}
                Part::Fields(fields) => touch_fields(fields, touch),
                Part::Ring(ring) => touch_ring(ring, touch),
                Part::Bars(Bars { heading, kinds, rows }) => {
                    touch(heading);
                    for (kind, _) in kinds.iter_mut() {
                        touch(kind);
                    }
                    for (label, _) in rows.iter_mut() {
                        touch(label);
                    }
                }
                Part::Shares(Shares { heading, rows }) => {
                    touch(heading);
                    for Share { label, .. } in rows.iter_mut() {
                        touch(label);
                    }
                }
                Part::Pairs(Pairs { heading, ends, rows }) => {
                    touch(heading);
                    touch(&mut ends.0);
                    touch(&mut ends.1);
                    for (label, ..) in rows.iter_mut() {
                        touch(label);
                    }
                }
            }
        }
    }
}

fn touch_item(item: &mut Item, touch: &mut impl FnMut(&mut String)) {
    touch(&mut item.words);
    item.notes.iter_mut().for_each(touch);
}

fn touch_fields(fields: &mut Fields, touch: &mut impl FnMut(&mut String)) {
    let Fields {
        corners,
        centre,
        left,
        right,
        above,
        below,
        key,
    } = fields;
    for Corner {
        heading,
        guide,
        items,
        ..
    } in corners
    {
        touch(heading);
        touch(guide);
        for item in items.iter_mut() {
            touch_item(item, touch);
        }
    }
    [centre, left, right, above, below, key]
        .into_iter()
        .for_each(touch);
}

fn touch_ring(ring: &mut Ring, touch: &mut impl FnMut(&mut String)) {
    let Ring {
        heading,
        stops,
        notes,
        ..
    } = ring;
    touch(heading);
    for Stop { role, words, .. } in stops {
        touch(role);
        touch(words);
    }
    notes.iter_mut().for_each(touch);
}
