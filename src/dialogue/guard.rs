//! Guards: the small conditions under which a node leads one way or another, e.g. `confidence < 7 and has act`.

use crate::map::Field;
use crate::safety::Topic;

/// A condition: all of its tests hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) struct Guard(pub(in crate::dialogue) Vec<Test>);

/// One test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Test {
    /// A slot is set, or is not.
    Has { slot: String, set: bool },
    /// A safety message paused this sitting, or none did.
    Interrupted(bool),
    /// A safety message of this sitting was about this, or none was.
    Topic { topic: Topic, met: bool },
    /// A number compared. An unset slot makes every comparison false.
    Compare {
        left: Quantity,
        order: Order,
        right: i64,
    },
}

/// What can be compared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Quantity {
    Slot(String),
    Count(Counted),
    /// The latest distress that was said in this sitting.
    Distress,
    /// How far the latest distress is above the first of this sitting.
    DistressRise,
}

/// What can be counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Counted {
    Field(Field),
    Entries,
    Loops,
    Steps,
    OpenSteps,
    Moments,
}

/// How two numbers are compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::dialogue) enum Order {
    Less,
    AtMost,
    Equal,
    Unequal,
    AtLeast,
    More,
}

impl Order {
    /// Whether the comparison holds.
    pub(in crate::dialogue) fn holds(self, left: i64, right: i64) -> bool {
        match self {
            Self::Less => left < right,
            Self::AtMost => left <= right,
            Self::Equal => left == right,
            Self::Unequal => left != right,
            Self::AtLeast => left >= right,
            Self::More => left > right,
        }
    }
}

impl Guard {
    /// Reads a guard. The error is the part that is not understood.
    pub(in crate::dialogue) fn parse(text: &str) -> Result<Self, String> {
        text.split(" and ")
            .map(|part| test(part.trim()))
            .collect::<Result<_, _>>()
            .map(Self)
    }

    /// The slots that it looks at.
    pub(in crate::dialogue) fn slots(&self) -> impl Iterator<Item = &str> {
        self.0.iter().filter_map(|test| match test {
            Test::Has { slot, .. }
            | Test::Compare {
                left: Quantity::Slot(slot),
                ..
            } => Some(slot.as_str()),
            _ => None,
        })
    }

    /// The slots that are set for certain when it holds.
    pub(in crate::dialogue) fn sets(&self) -> impl Iterator<Item = &str> {
        self.0.iter().filter_map(|test| match test {
            Test::Has { slot, set: true }
            | Test::Compare {
                left: Quantity::Slot(slot),
                ..
            } => Some(slot.as_str()),
            _ => None,
        })
    }

    /// The slot that is set for certain when it does not hold.
    pub(in crate::dialogue) fn sets_otherwise(&self) -> Option<&str> {
        match self.0.as_slice() {
            [Test::Has { slot, set: false }] => Some(slot),
            _ => None,
        }
    }
}

/// Whether a text can name a slot: letters, digits, `-` and `_`, a letter first.
pub(in crate::dialogue) fn is_slot_name(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_lowercase())
        && text
            .chars()
            .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-' || c == '_')
}

/// What `count.` can stand before.
pub(in crate::dialogue) fn counted(name: &str) -> Option<Counted> {
    Some(match name {
        "matters" => Counted::Field(Field::Matters),
        "inner" => Counted::Field(Field::Inner),
        "away" => Counted::Field(Field::Away),
        "toward" => Counted::Field(Field::Toward),
        "entries" => Counted::Entries,
        "loops" => Counted::Loops,
        "steps" => Counted::Steps,
        "open-steps" => Counted::OpenSteps,
        "moments" => Counted::Moments,
        _ => return None,
    })
}

fn test(part: &str) -> Result<Test, String> {
    let wrong = || part.to_owned();
    match part.split_whitespace().collect::<Vec<_>>().as_slice() {
        ["interrupted"] => Ok(Test::Interrupted(true)),
        ["not", "interrupted"] => Ok(Test::Interrupted(false)),
        ["topic", name] => topic(name)
            .map(|topic| Test::Topic { topic, met: true })
            .ok_or_else(wrong),
        ["not", "topic", name] => topic(name)
            .map(|topic| Test::Topic { topic, met: false })
            .ok_or_else(wrong),
        ["has", slot] if is_slot_name(slot) => Ok(Test::Has {
            slot: (*slot).to_owned(),
            set: true,
        }),
        ["not", "has", slot] if is_slot_name(slot) => Ok(Test::Has {
            slot: (*slot).to_owned(),
            set: false,
        }),
        [left, order, right] => Ok(Test::Compare {
            left: quantity(left).ok_or_else(wrong)?,
            order: parse_order(order).ok_or_else(wrong)?,
            right: right.parse().map_err(|_| wrong())?,
        }),
        _ => Err(wrong()),
    }
}

fn topic(name: &str) -> Option<Topic> {
    Some(match name {
        "suicide" => Topic::Suicide,
        "self-injury" => Topic::SelfInjury,
        "overdose" => Topic::Overdose,
        "harm-to-others" => Topic::HarmToOthers,
        "abuse" => Topic::Abuse,
        "eating" => Topic::Eating,
        "psychosis" => Topic::Psychosis,
        "withdrawal" => Topic::Withdrawal,
        "perinatal" => Topic::Perinatal,
        "medical" => Topic::Medical,
        _ => return None,
    })
}

fn quantity(name: &str) -> Option<Quantity> {
    match name {
        "distress" => Some(Quantity::Distress),
        "distress.rise" => Some(Quantity::DistressRise),
        _ => match name.strip_prefix("count.") {
            Some(what) => counted(what).map(Quantity::Count),
            None => is_slot_name(name).then(|| Quantity::Slot(name.to_owned())),
        },
    }
}

fn parse_order(sign: &str) -> Option<Order> {
    Some(match sign {
        "<" => Order::Less,
        "<=" => Order::AtMost,
        "=" | "==" => Order::Equal,
        "!=" => Order::Unequal,
        ">=" => Order::AtLeast,
        ">" => Order::More,
        _ => return None,
    })
}
