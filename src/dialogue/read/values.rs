//! The part of reading that takes single values: texts, lists, numbers, names of slots, tables.

use std::ops::Range;

use toml::de::DeTable;

use super::Reader;
use super::Value;
use super::find;
use crate::dialogue::fault::FaultKind;
use crate::dialogue::guard::is_slot_name;
use crate::dialogue::written::At;

impl Reader<'_> {
    /// A text under a key that must be there.
    pub(super) fn needed(
        &mut self,
        table: &DeTable<'_>,
        span: &Range<usize>,
        key: &'static str,
    ) -> Option<At<String>> {
        let Some(value) = find(table, key) else {
            self.fault(span.clone(), FaultKind::Missing { key });
            return None;
        };
        self.text(key, value)
    }

    /// Reports every key that is not among these.
    pub(super) fn only(&mut self, table: &DeTable<'_>, known: &[&str]) {
        for key in table.keys() {
            if !known.contains(&key.get_ref().as_ref()) {
                self.fault(
                    key.span(),
                    FaultKind::UnknownKey {
                        key: key.get_ref().to_string(),
                    },
                );
            }
        }
    }

    pub(super) fn text(&mut self, key: &str, value: &Value<'_>) -> Option<At<String>> {
        let Some(text) = value.get_ref().as_str() else {
            self.wrong(key, value, "text");
            return None;
        };
        Some(At {
            value: text.to_owned(),
            span: value.span(),
        })
    }

    pub(super) fn texts(&mut self, key: &str, value: &Value<'_>) -> Vec<At<String>> {
        let Some(array) = value.get_ref().as_array() else {
            self.wrong(key, value, "a list of texts");
            return Vec::new();
        };
        array.iter().filter_map(|one| self.text(key, one)).collect()
    }

    /// A name that lines and guards can hold: of a slot, or of the script.
    pub(super) fn slot(&mut self, key: &str, value: &Value<'_>) -> Option<At<String>> {
        let text = self.text(key, value)?;
        if is_slot_name(&text.value) {
            return Some(text);
        }
        self.wrong(key, value, "a name in small letters, digits and -");
        None
    }

    pub(super) fn slots(&mut self, key: &str, value: &Value<'_>) -> Vec<At<String>> {
        let Some(array) = value.get_ref().as_array() else {
            self.wrong(key, value, "a list of slots");
            return Vec::new();
        };
        array.iter().filter_map(|one| self.slot(key, one)).collect()
    }

    pub(super) fn number<N: TryFrom<u64>>(&mut self, key: &str, value: &Value<'_>) -> Option<N> {
        let number = value
            .get_ref()
            .as_integer()
            .and_then(|digits| u64::from_str_radix(digits.as_str(), digits.radix()).ok())
            .and_then(|number| N::try_from(number).ok());
        if number.is_none() {
            self.wrong(key, value, "a small whole number");
        }
        number
    }

    pub(super) fn flag(&mut self, key: &str, value: &Value<'_>) -> bool {
        value.get_ref().as_bool().unwrap_or_else(|| {
            self.wrong(key, value, "true or false");
            false
        })
    }

    pub(super) fn tables<'v, 't>(
        &mut self,
        key: &str,
        value: &'v Value<'t>,
    ) -> Vec<(&'v DeTable<'t>, Range<usize>)> {
        let Some(array) = value.get_ref().as_array() else {
            self.wrong(key, value, "a list of tables");
            return Vec::new();
        };
        let mut tables = Vec::new();
        for one in array {
            match one.get_ref().as_table() {
                Some(table) => tables.push((table, one.span())),
                None => self.wrong(key, one, "a table"),
            }
        }
        tables
    }
}
