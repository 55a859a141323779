//! The nouns of the map: its four fields, the kinds of entries, the ways they are joined, and their identities.

use serde::Deserialize;
use serde::Serialize;
use uuid::Uuid;

macro_rules! identity {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub Uuid);
    };
}

identity!(
    /// The identity of an event: a version 7 UUID (RFC 9562), so that sorting by it sorts by time.
    EventId
);
identity!(
    /// The identity of an entry.
    EntryId
);
identity!(
    /// The identity of a moment.
    MomentId
);
identity!(
    /// The identity of a small step.
    StepId
);
identity!(
    /// The identity of a traced loop.
    TraceId
);
identity!(
    /// The identity of one sitting with a script.
    SittingId
);
identity!(
    /// The identity of a person or line that the person added to their own crisis list.
    OwnLineId
);

/// One of the four fields of the map.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Field {
    /// Who and what matters.
    Matters,
    /// What shows up inside and gets in the way.
    Inner,
    /// Away moves.
    Away,
    /// Toward moves.
    Toward,
}

impl Field {
    /// All four, in the order in which they are taught.
    pub const ALL: [Self; 4] = [Self::Matters, Self::Inner, Self::Away, Self::Toward];
}

/// What sort of entry it is, within its field.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Someone who matters, living or not, easy or hard.
    Person,
    /// A quality to stand for.
    Quality,
    /// Something to do that matters.
    Activity,
    /// A thought; one that pulls a person off course is a hook.
    Thought,
    /// A feeling.
    Feeling,
    /// Something felt in the body.
    Body,
    /// A pull to act.
    Urge,
    /// A memory.
    Memory,
}

/// How one entry is joined to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Link {
    /// From an inner entry to the away move it pulls toward.
    Pulls,
    /// From an away move to the inner entry it costs later.
    CostsLater,
    /// From a toward move to what it serves.
    Serves,
    /// Between an away move and a toward move that look the same from outside.
    SameBehaviour,
}

/// Which way a moment went, as the person judged it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// Toward what matters.
    Toward,
    /// Away from what showed up.
    Away,
    /// Some of each.
    Both,
    /// The person is not sure.
    NotSure,
}

/// How a small step went.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mark {
    /// It was done.
    Done,
    /// Part of it was done.
    Partly,
    /// Not yet.
    NotYet,
    /// The person let it go.
    LetGo,
}
