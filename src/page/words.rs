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
    /// The same page with every text that a function changes in its place; what it gives back as it was stays. A page of
    /// which nothing is changed is lent.
    #[must_use]
    pub fn with_words(&self, change: &impl for<'t> Fn(&'t str) -> Cow<'t, str>) -> Cow<'_, Self> {
        let mut changes = false;
        self.each_text(&mut |text| changes = changes || matches!(change(text), Cow::Owned(_)));
        if !changes {
            return Cow::Borrowed(self);
        }
        let mut page = self.clone();
        each_text_mut(&mut page, &mut |text| {
            if let Cow::Owned(changed) = change(text) {
                *text = changed;
            }
        });
        Cow::Owned(page)
    }

    /// Shows every text to a function, in reading order.
    pub fn each_text(&self, look: &mut impl FnMut(&str)) {
        each_text(self, &mut |text: &String| look(text));
    }
}

/// Defines the walk, once to look and once to change.
macro_rules! walk {
    ($name:ident $(, $mutable:tt)?) => {
        fn $name(page: &$($mutable)? Page, touch: &mut impl FnMut(&$($mutable)? String)) {
            touch(&$($mutable)? page.title);
            for part in &$($mutable)? page.parts {
                match part {
                    Part::Heading(words) | Part::Text(words) => touch(words),
                    Part::Lines(_) => {}
                    Part::List(items) => {
                        for Item { words, notes, .. } in items {
                            touch(words);
                            notes.into_iter().for_each(&mut *touch);
                        }
                    }
                    Part::Fields(fields) => {
                        let Fields { corners, centre, left, right, above, below, key } = &$($mutable)? **fields;
                        for Corner { heading, guide, items, .. } in corners {
                            touch(heading);
                            touch(guide);
                            for Item { words, notes, .. } in items {
                                touch(words);
                                notes.into_iter().for_each(&mut *touch);
                            }
                        }
                        [centre, left, right, above, below, key].into_iter().for_each(&mut *touch);
                    }
                    Part::Ring(Ring { heading, stops, notes, .. }) => {
                        touch(heading);
                        for Stop { role, words, .. } in stops {
                            touch(role);
                            touch(words);
                        }
                        notes.into_iter().for_each(&mut *touch);
                    }
                    Part::Bars(Bars { heading, kinds, rows }) => {
                        touch(heading);
                        for (kind, _) in kinds {
                            touch(kind);
                        }
                        for (label, _) in rows {
                            touch(label);
                        }
                    }
                    Part::Shares(Shares { heading, rows }) => {
                        touch(heading);
                        for Share { label, .. } in rows {
                            touch(label);
                        }
                    }
                    Part::Pairs(Pairs { heading, ends, rows }) => {
                        touch(heading);
                        touch(&$($mutable)? ends.0);
                        touch(&$($mutable)? ends.1);
                        for (label, ..) in rows {
                            touch(label);
                        }
                    }
                }
            }
        }
    };
}

walk!(each_text);
walk!(each_text_mut, mut);
