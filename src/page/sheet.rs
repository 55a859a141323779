//! The map as one sheet: four fields around the noticing circle, then the loops and steps that were asked for.

use std::collections::BTreeSet;

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use rustc_hash::FxHashMap;

use crate::insight;
use crate::insight::Node;
use crate::map::Entry;
use crate::map::EntryId;
use crate::map::Field;
use crate::map::Link;
use crate::map::Map;
use crate::map::Step;
use crate::map::TraceId;
use crate::map::Traced;
use crate::page::Chosen;
use crate::page::Corner;
use crate::page::Fields;
use crate::page::Item;
use crate::page::Page;
use crate::page::Paper;
use crate::page::Part;
use crate::page::Place;
use crate::page::Ring;
use crate::page::Stop;
use crate::page::Turned;
use crate::page::wording;

/// How a sheet is made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetOptions {
    /// The paper.
    pub paper: Paper,
    /// The title; `None` is "My map".
    pub title: Option<String>,
    /// The date at the top; `None` for no date.
    pub date: Option<Date>,
    /// What of the map to show; `None` is everything that is true today.
    pub chosen: Option<Chosen>,
    /// The time zone in which dates of entries are told; `None` is UTC.
    pub zone: Option<TimeZone>,
}

/// The map as a page: the four fields, or, where something of the map was chosen and some field is not in it, lists of
/// the fields that are.
#[must_use]
pub fn sheet(map: &Map, options: &SheetOptions) -> Page {
    let zone = options.zone.clone().unwrap_or(TimeZone::UTC);
    let picked = Picked::new(map, options.chosen.as_ref(), zone);
    // A field from which nothing was chosen would read, to someone else, as if there were nothing in it. So such a
    // page is no drawing of four fields, and names only what it shows.
    let whole = options.chosen.is_none() || picked.has_every_field();
    let (mut parts, turned) = if whole {
        (vec![Part::Fields(Box::new(picked.fields()))], Turned::Landscape)
    } else {
        (picked.lists(), Turned::Portrait)
    };
    let rings = picked.rings();
    if !rings.is_empty() {
        parts.push(Part::Heading(wording::loops().to_owned()));
        parts.extend(rings.into_iter().map(Part::Ring));
    }
    let steps = picked.steps();
    if !steps.is_empty() {
        parts.push(Part::Heading(wording::steps().to_owned()));
        parts.push(Part::List(steps));
    }
    Page {
        title: options
            .title
            .clone()
            .unwrap_or_else(|| wording::my_map().to_owned()),
        date: options.date,
        language: wording::language(),
        paper: options.paper,
        turned,
        parts,
    }
}

/// A map seen through a choice: nothing that was not chosen can be read from it.
pub(in crate::page) struct Picked<'m> {
    map: &'m Map,
    /// What was chosen; `None` is everything that is true today.
    chosen: Option<&'m Chosen>,
    names: BTreeSet<String>,
    zone: TimeZone,
    /// The entries in the order in which they are taught; the first is number one.
    order: Vec<&'m Entry>,
    numbers: Numbers<'m>,
    /// For each entry, how it leads to which numbers.
    joins: Joins,
}

/// The numbers of the entries that are shown.
struct Numbers<'m> {
    map: &'m Map,
    /// By where an entry is on the map; zero for one that is not shown.
    by_place: Vec<usize>,
}

impl Numbers<'_> {
    fn of(&self, id: EntryId) -> Option<usize> {
        let number = self.by_place[self.map.place(id)?];
        (number > 0).then_some(number)
    }
}

type Joins = FxHashMap<EntryId, Vec<(Link, usize)>>;

/// The joins between entries that have numbers. Looking the same is said at both ends.
fn joins(map: &Map, numbers: &Numbers) -> Joins {
    let mut joins = Joins::default();
    for one in map.links() {
        if let (Some(from), Some(to)) = (numbers.of(one.from), numbers.of(one.to)) {
            joins.entry(one.from).or_default().push((one.link, to));
            if one.link == Link::SameBehaviour {
                joins.entry(one.to).or_default().push((one.link, from));
            }
        }
    }
    joins
}

/// How an entry is joined to others, as is said beside it.
fn joined(joins: &[(Link, usize)]) -> Vec<String> {
    let mut notes = Vec::new();
    for (link, says) in [
        (Link::Pulls, wording::pulls()),
        (Link::CostsLater, wording::costs_later()),
        (Link::Serves, wording::serves()),
        (Link::SameBehaviour, wording::same()),
    ] {
        let others: BTreeSet<usize> = joins
            .iter()
            .filter(|(other, _)| *other == link)
            .map(|(_, number)| *number)
            .collect();
        if !others.is_empty() {
            let list: Vec<_> = others.iter().map(usize::to_string).collect();
            notes.push(format!("{says} {}", list.join(", ")));
        }
    }
    notes
}

impl<'m> Picked<'m> {
    pub(in crate::page) fn new(map: &'m Map, chosen: Option<&'m Chosen>, zone: TimeZone) -> Self {
        let shows = |entry: &Entry| {
            chosen.map_or(entry.retired.is_none(), |chosen| {
                chosen.entries.contains(&entry.id)
            })
        };
        let mut order = Vec::with_capacity(map.entries().len());
        let mut by_place = vec![0; map.entries().len()];
        for field in Field::ALL {
            for (place, entry) in map.entries().iter().enumerate() {
                if entry.field == field && shows(entry) {
                    order.push(entry);
                    by_place[place] = order.len();
                }
            }
        }
        let numbers = Numbers { map, by_place };
        let joins = joins(map, &numbers);
        Self {
            map,
            chosen,
            names: chosen.map_or_else(BTreeSet::new, |chosen| chosen.names(map)),
            zone,
            order,
            numbers,
            joins,
        }
    }

    pub(in crate::page) fn words(&self, words: &str) -> String {
        self.chosen
            .map_or_else(|| words.to_owned(), |chosen| chosen.words(&self.names, words))
    }

    pub(in crate::page) fn entry(&self, id: EntryId) -> Option<String> {
        let number = self.numbers.of(id)?;
        Some(self.words(self.order[number - 1].words.as_str()))
    }

    pub(in crate::page) fn day(&self, at: Timestamp) -> String {
        self.zone.to_datetime(at).date().to_string()
    }

    /// The entries of one field.
    pub(in crate::page) fn items(&self, field: Field) -> Vec<Item> {
        let linked = self.has_links();
        // They stand together, since the order is that of the fields.
        let from = self.order.partition_point(|entry| entry.field < field);
        let until = self.order.partition_point(|entry| entry.field <= field);
        self.order[from..until]
            .iter()
            .enumerate()
            .map(|(at, entry)| Item {
                number: linked.then_some(from + at + 1),
                words: self.words(entry.words.as_str()),
                notes: self.notes(entry),
            })
            .collect()
    }

    fn has_links(&self) -> bool {
        !self.joins.is_empty()
    }

    fn has_dates(&self) -> bool {
        self.chosen.is_some_and(|chosen| chosen.dates)
    }

    fn shows_loop(&self, id: TraceId) -> bool {
        self.chosen.is_none_or(|chosen| chosen.loops.contains(&id))
    }

    fn notes(&self, entry: &Entry) -> Vec<String> {
        let joins = self.joins.get(&entry.id);
        let mut notes = joins.map_or_else(Vec::new, |joins| joined(joins));
        if self.has_dates() {
            notes.push(self.day(entry.added));
        }
        notes
    }

    fn fields(&self) -> Fields {
        let corner = |field| Corner {
            place: place(field),
            heading: wording::heading(field).to_owned(),
            guide: String::new(),
            items: self.items(field),
            lines: 0,
        };
        Fields {
            corners: Field::ALL.map(corner),
            centre: wording::noticing().to_owned(),
            left: wording::away().to_owned(),
            right: wording::toward().to_owned(),
            above: wording::above().to_owned(),
            below: wording::below().to_owned(),
            key: if self.has_links() {
                wording::key().to_owned()
            } else {
                String::new()
            },
        }
    }

    /// Whether something of each of the four fields was chosen.
    fn has_every_field(&self) -> bool {
        let has = |field: &Field| self.order.iter().any(|entry| entry.field == *field);
        Field::ALL.iter().all(has)
    }

    /// The fields below each other, without those from which nothing was chosen.
    fn lists(&self) -> Vec<Part> {
        let mut parts = Vec::new();
        for field in Field::ALL {
            let items = self.items(field);
            if !items.is_empty() {
                parts.push(Part::Heading(wording::heading(field).to_owned()));
                parts.push(Part::List(items));
            }
        }
        if self.has_links() {
            parts.push(Part::Text(wording::key().to_owned()));
        }
        parts
    }

    /// The chosen loops whose ends are chosen too.
    pub(in crate::page) fn rings(&self) -> Vec<Ring> {
        let loops = self.map.loops().iter().filter(|one| self.shows_loop(one.id));
        loops.filter_map(|one| self.ring(one)).collect()
    }

    fn ring(&self, one: &Traced) -> Option<Ring> {
        let closes = one.back_to == Some(one.hook);
        let back = one
            .back_to
            .filter(|back| !closes && self.numbers.of(*back).is_some());
        let notes = one
            .matters
            .iter()
            .map(|words| wording::matters_in_it(&self.words(words.as_str())))
            .collect();
        Some(Ring {
            heading: String::new(),
            stops: self.stops(&insight::places_of(one, back), &[one.away], closes)?,
            closes,
            notes,
        })
    }

    /// The stops of a ring, of which these are the away moves; `None` when one of them was not chosen.
    pub(in crate::page) fn stops(
        &self,
        nodes: &[Node],
        moves: &[EntryId],
        closes: bool,
    ) -> Option<Vec<Stop>> {
        let mut stops: Vec<Stop> = nodes
            .iter()
            .map(|node| self.stop(*node, moves))
            .collect::<Option<_>>()?;
        // What an open path feeds in the end is told like any inner entry, but it is where the path leads and not its
        // hook.
        let end = stops.last_mut().filter(|stop| !closes && !stop.away);
        if let (Some(end), Some(Node::Entry(_))) = (end, nodes.last()) {
            wording::then().clone_into(&mut end.role);
        }
        Some(stops)
    }

    fn stop(&self, node: Node, moves: &[EntryId]) -> Option<Stop> {
        let traced = |id: TraceId| {
            let mut loops = self.map.loops().iter();
            loops.find(|one| one.id == id && self.shows_loop(id))
        };
        let (role, words, away) = match node {
            Node::Entry(id) if moves.contains(&id) => (wording::away_move(), self.entry(id)?, true),
            Node::Entry(id) => (wording::hook(), self.entry(id)?, false),
            Node::Relief(id) => {
                let relief = traced(id)?.relief.as_ref()?;
                (wording::relief(), self.words(relief.as_str()), false)
            }
            Node::Cost(id) => {
                let cost = traced(id)?.cost.as_ref()?;
                (wording::cost(), self.words(cost.as_str()), true)
            }
        };
        Some(Stop {
            role: role.to_owned(),
            words,
            away,
        })
    }

    /// The chosen steps, each as one line.
    pub(in crate::page) fn steps(&self) -> Vec<Item> {
        let shows = |one: &&Step| self.chosen.is_none_or(|chosen| chosen.steps.contains(&one.id));
        let steps = self.map.steps().iter().filter(shows);
        steps.map(|one| self.step(one)).collect()
    }

    fn step(&self, one: &Step) -> Item {
        let act = self.words(one.act.as_str());
        let words = match &one.when {
            Some(when) => wording::if_then(&self.words(when.as_str()), &act),
            None => act,
        };
        let mut notes: Vec<String> = Vec::new();
        let serves: Vec<_> = one.serves.iter().filter_map(|id| self.entry(*id)).collect();
        if !serves.is_empty() {
            notes.push(wording::for_what(&serves.join(", ")));
        }
        if let Some((at, mark)) = one.mark {
            notes.push(if self.has_dates() {
                format!("{}, {}", wording::mark(mark), self.day(at))
            } else {
                wording::mark(mark).to_owned()
            });
        }
        Item {
            number: None,
            words,
            notes,
        }
    }
}

pub(in crate::page) fn place(field: Field) -> Place {
    match field {
        Field::Matters => Place::Matters,
        Field::Inner => Place::Inner,
        Field::Away => Place::Away,
        Field::Toward => Place::Toward,
    }
}
