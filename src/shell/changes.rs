//! Two dates of a map side by side, in words: a page of lists, without a verdict on any of it.

use crate::insight::Differences;
use crate::insight::Tie;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Link;
use crate::map::Map;
use crate::map::Mark;
use crate::map::StepId;
use crate::page::Item;
use crate::page::Page;
use crate::page::Paper;
use crate::page::Part;
use crate::page::Turned;
use crate::shell::phrases::filled;
use crate::shell::phrases::phrase;

/// What differs between two maps, as a page. `since` names the earlier one in its title.
pub(crate) fn page(earlier: &Map, later: &Map, found: &Differences, since: &str) -> Page {
    let mut parts = Vec::new();
    let words = |map: &Map, id: EntryId| {
        map.entry(id)
            .or_else(|| earlier.entry(id))
            .map(|entry| entry.words.as_str().to_owned())
            .unwrap_or_default()
    };
    let field_of = |map: &Map, id: EntryId| map.entry(id).map(|entry| field(entry.field)).unwrap_or_default();
    let came = found
        .came
        .iter()
        .map(|id| item(words(later, *id), field_of(later, *id)));
    list(&mut parts, "changes.came", came);
    let went = found
        .went
        .iter()
        .map(|id| item(words(earlier, *id), field_of(earlier, *id)));
    list(&mut parts, "changes.went", went);
    let changed = found.changed.iter().map(|id| {
        item(
            words(later, *id),
            filled("changes.before", &[("words", &words(earlier, *id))]),
        )
    });
    list(&mut parts, "changes.changed", changed);
    let moved = found.moved.iter().map(|moved| {
        let (from, to) = (field(moved.from), field(moved.to));
        item(
            words(later, moved.entry),
            filled("changes.from-to", &[("from", &from), ("to", &to)]),
        )
    });
    list(&mut parts, "changes.moved", moved);
    let tie = |tie: &Tie| {
        let link = match tie.link {
            Link::Pulls => "changes.pulls",
            Link::CostsLater => "changes.costs-later",
            Link::Serves => "changes.serves",
            Link::SameBehaviour => "changes.same",
        };
        Item {
            words: filled(
                link,
                &[("from", &words(later, tie.from)), ("to", &words(later, tie.to))],
            ),
            ..Item::default()
        }
    };
    list(&mut parts, "changes.joined", found.joined.iter().map(tie));
    list(&mut parts, "changes.parted", found.parted.iter().map(tie));
    let act = |id: StepId| {
        let step = later.steps().iter().find(|step| step.id == id);
        step.map(|step| step.act.as_str().to_owned()).unwrap_or_default()
    };
    list(
        &mut parts,
        "changes.steps",
        found.steps_came.iter().map(|id| Item {
            words: act(*id),
            ..Item::default()
        }),
    );
    let marked = found
        .steps_marked
        .iter()
        .map(|one| item(act(one.step), mark(one.to)));
    list(&mut parts, "changes.marked", marked);
    if parts.is_empty() {
        parts.push(Part::Text(phrase("changes.none")));
    }
    Page {
        title: filled("changes.title", &[("day", since)]),
        date: None,
        language: crate::language::spoken().tag(),
        paper: Paper::default(),
        turned: Turned::Portrait,
        parts,
    }
}

fn item(words: String, note: String) -> Item {
    Item {
        number: None,
        words,
        notes: vec![note],
    }
}

fn list(parts: &mut Vec<Part>, heading: &str, items: impl Iterator<Item = Item>) {
    let items: Vec<_> = items.collect();
    if !items.is_empty() {
        parts.push(Part::Heading(phrase(heading)));
        parts.push(Part::List(items));
    }
}

/// A field in the words of the map.
pub(crate) fn field(field: Field) -> String {
    phrase(match field {
        Field::Matters => "changes.matters",
        Field::Inner => "changes.inner",
        Field::Away => "changes.away",
        Field::Toward => "changes.toward",
    })
}

/// How a step went, in words.
pub(crate) fn mark(mark: Mark) -> String {
    phrase(match mark {
        Mark::Done => "steps.done",
        Mark::Partly => "steps.partly",
        Mark::NotYet => "steps.not-yet",
        Mark::LetGo => "steps.let-go",
    })
}
